holdfast_room(numeric RANK 1 USES base LIBRARIES PkgConfig::GSL ${HOLDFAST_OPENMP} SOURCES
  special.c noncentral_t.c random.c parallel.c vector.c solve.c)
