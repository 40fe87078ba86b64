holdfast_room(strength RANK 2 USES base numeric SOURCES
  observation.c family.c normal.c lognormal.c weibull.c fit.c factor.c weibull_table.c bound.c
  order_statistic.c fit_test.c trade.c working_load.c)
