/* The ladders of the coverage study: loads around a law whose mean is known. */
#ifndef HF_PLANNING_RUNGS_H
#define HF_PLANNING_RUNGS_H

#include "holdfast/base/arena.h"
#include "holdfast/planning/coverage.h"
#include "planning/bench.h"

/* Loads in the arena, or {NULL, 0, …} for continuous readings. HF_RANGE when there would be none or more than HF_BENCH_MOST_LOADS. */
hf_status hf_rungs_of(hf_arena *arena, const hf_coverage_cell *cell, const hf_guess *law,
                      hf_bench_ladder *out);

#endif
