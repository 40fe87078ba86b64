holdfast_room(report RANK 6 USES base load campaign strength comparing planning study SOURCES
  format.c document.c render_text.c render_markdown.c assess_document.c assess_tables.c compare_document.c compare_tables.c compare_json.c small_reports.c plan_document.c plan_json.c plan_small.c plan_words.c html.c sheet.c
  sum.c sum_words.c caution_words.c
  chart.c chart_scale.c chart_axis.c chart_mark.c chart_label.c chart_pulls.c chart_steps.c chart_bound.c chart_ladder.c chart_step.c
  json_common.c assess_json.c)
