/* Parts of several batches on the bench of the coverage study. */
#ifndef HF_PLANNING_COVERAGE_BATCHES_H
#define HF_PLANNING_COVERAGE_BATCHES_H

#include "holdfast/planning/coverage.h"
#include "planning/bench.h"

/* Standard draws of the law for all rows. Skewed batches: normal scores √share·batch + √(1 − share)·part, taken to the law by its
 * distribution; else a part of the law, √(1 − share) as wide, is moved by √share·deviation·batch on ln load. */
void hf_coverage_batch_fill(const hf_coverage_cell *cell, const hf_bench *bench, hf_random *random,
                            hf_bench_lanes *lanes);

/* z that the share `content` of all parts exceeds, for parts of any batch. NaN when it cannot be had. */
double hf_coverage_batch_quantile(const hf_coverage_cell *cell, const hf_family *law);

/* The lower of the batch bound and the rule's own bound (or the batch bound alone), working scale; NaN where neither is. */
void hf_coverage_batch_bounds(const hf_coverage_cell *cell, const hf_bench *bench, hf_bench_lanes *lanes,
                              double out[HF_LANES]);

#endif
