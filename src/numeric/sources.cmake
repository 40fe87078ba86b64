holdfast_room(numeric RANK 1 USES base LIBRARIES PkgConfig::GSL ${HOLDFAST_OPENMP} SOURCES
  library.c
  normal.c
  gamma.c
  beta.c
  quantile.c
  noncentral_t.c
  noncentral_t_far.c
  random.c
  random_binomial.c
  parallel.c
  vector.c
  vector_order.c
  solve.c)
