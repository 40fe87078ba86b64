/* Ranks instead of loads.
 *
 * The rank-sum test (Wilcoxon; Mann & Whitney) looks only at which pull beat which. It supposes that the two
 * groups differ by a shift alone; the Hodges–Lehmann estimate is that shift, the middle of all differences between a pull of A and
 * one of B. Exact for groups without ties, otherwise by the normal approximation with tie and continuity correction. */
#ifndef HOLDFAST_COMPARING_RANK_SUM_H
#define HOLDFAST_COMPARING_RANK_SUM_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"

typedef struct hf_rank_sum {
    double w;         /* pairs in which A is larger, ties counted half */
    bool exact;       /* no ties and at most 50 a group */
    double p;         /* two-sided */
    double p_greater; /* one-sided, A larger */
    double shift;     /* Hodges–Lehmann, A − B */
    double low,
        high; /* its interval at 1 − level, from the ordered differences; infinite where n is too small */
} hf_rank_sum;

/* Values on any common scale, n ≥ 1 each, any order. HF_RANGE, HF_MEMORY. */
hf_status hf_rank_sum_of(hf_arena *arena, const double *a, size_t n_a, const double *b, size_t n_b,
                         double level, hf_rank_sum *out);

#endif
