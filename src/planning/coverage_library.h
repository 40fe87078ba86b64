/* A design that counts on the scatter of earlier ones, on the bench of the coverage study. */
#ifndef HF_PLANNING_COVERAGE_LIBRARY_H
#define HF_PLANNING_COVERAGE_LIBRARY_H

#include "holdfast/base/arena.h"
#include "holdfast/planning/coverage.h"
#include "holdfast/planning/guess.h"
#include "holdfast/strength/scatter_library.h"

/* Room of one worker. */
typedef struct hf_coverage_library {
    hf_earlier_scatter *earlier; /* past_designs */
    double *y;                   /* the larger of n and past_parts */
    hf_observation *items;       /* n */
} hf_coverage_library;

/* HF_RANGE where the cell cannot be simulated so. */
hf_status hf_coverage_library_check(const hf_coverage_cell *cell);
hf_status hf_coverage_library_start(hf_arena *arena, const hf_coverage_cell *cell, hf_coverage_library *out);

/* One sample of so many: earlier designs, then the new one, and its bound as the assessment would take it; counted. */
void hf_coverage_library_count(const hf_coverage_cell *cell, const hf_guess *law, hf_random *random,
                               hf_coverage_library *room, double margin_unit, hf_coverage_counts *out);

#endif
