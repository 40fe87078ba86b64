include(HoldfastPages)
holdfast_pages(report/notebook_pages.h report/notebook_pages about.md tools.md tools.py pulls.md pulls.py laws.md laws.py
  bounds.md factors.py bounds.py comparing.md comparing.py outside.md outside.py)
holdfast_room(report RANK 6 USES base load campaign strength comparing planning study SOURCES
  format.c document.c document_chart.c render_html.c html_style.c html_table.c handover_document.c handover_design.c handover_comparison.c handover_conditions.c handover_pulls.c pulls_grid.c handover_method.c render_text.c markdown.c render_markdown.c assess_document.c assess_answer.c assess_next.c assess_words.c assess_cautions.c assess_tables.c assess_fits.c compare_document.c compare_tables.c compare_json.c small_reports.c plan_document.c plan_json.c plan_small.c plan_words.c html.c sheet.c sheet_day.c sheet_style.c
  sum.c sum_words.c caution_words.c
  notebook.c notebook_cells.c notebook_markdown.c notebook_python.c notebook_results.c notebook_numbers.c
  chart.c chart_text.c chart_scale.c chart_axis.c chart_mark.c chart_label.c chart_pulls.c chart_pulls_rows.c chart_steps.c chart_bound.c chart_ladder.c chart_step.c chart_probability.c chart_ratios.c chart_league.c chart_modes.c
  json_common.c assess_json.c)
