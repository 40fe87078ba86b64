/* How many parts the relabeling test needs.
 *
 * The relabeling test pays for its few assumptions with a coarse scale of p values: below four against four it can
 * never reach a two-sided 5 %. Its power is simulated on normal ln loads with the t test on the same samples as a control, whose
 * power is known exactly, so that a few thousand samples settle it. */
#ifndef HOLDFAST_COMPARING_RELABEL_POWER_H
#define HOLDFAST_COMPARING_RELABEL_POWER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"

typedef struct hf_relabel_plan {
    double effect; /* difference in standard deviations of ln load, > 0 */
    double power, level;
    bool one_sided;
    uint64_t seed;
    size_t replicates; /* samples; 0 means 2000 */
} hf_relabel_plan;

/* Power with n parts a design, n ≥ 2, and its standard error. HF_RANGE outside, HF_MEMORY. */
hf_status hf_relabel_power(const hf_relabel_plan *plan, size_t n, double *power, double *standard_error);

/* The least n that reaches the power (n_permutation), *power_reached what it has there. From 40 parts on it is the n of the t test: there the
 * powers differ by less than the simulation can see. HF_RANGE outside, HF_NO_RESULT when it would
 * pass `limit`. */
hf_status hf_relabel_parts(const hf_relabel_plan *plan, size_t limit, size_t *n, double *power_reached);

#endif
