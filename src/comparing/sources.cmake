holdfast_room(comparing RANK 3 USES base numeric strength SOURCES
  group.c contrast.c contrast_stated.c power.c welch_power.c
  relabel.c relabel_core.c common_rungs.c relabel_power.c
  studentized_range.c ranking.c outlasts.c rank_sum.c spread.c sign_test.c
  maximize.c log_likelihood.c open_compare.c open_welch.c
  conditional_draws.c quantile_difference.c modes.c two_ended.c survival_curve.c)
