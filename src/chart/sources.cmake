holdfast_room(chart RANK 7 USES base load document campaign strength comparing planning study words SOURCES
  chart.c chart_text.c chart_scale.c chart_axis.c chart_mark.c chart_label.c chart_card.c chart_so_far.c chart_tag.c chart_pulls.c chart_pulls_rows.c chart_steps.c chart_bound.c
  chart_ladder.c chart_step.c chart_probability.c chart_ratios.c chart_league.c chart_modes.c document_chart.c)
