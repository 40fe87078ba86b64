/* The chance that a part of A outlasts a part of B.
 *
 * A higher mean is one thing; what a user picks from the box is one part of each. P(A > B) + P(A = B)/2 is the
 * share of all pairs of pulls in which A held more, ties counted half. Brunner and Munzel (2000) give its interval and the
 * test that it is one half, without asking for equal scatter or a bell shape. */
#ifndef HOLDFAST_COMPARING_OUTLASTS_H
#define HOLDFAST_COMPARING_OUTLASTS_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"

typedef struct hf_outlasts {
    double chance; /* P(A > B) + P(A = B)/2 */
    bool
        separated; /* every pull of one group beats every pull of the other (or all tie): no interval, no p */
    double statistic, degrees_of_freedom,
        p; /* t reference, two-sided; positive when A is stronger; NaN when separated */
    double low,
        high; /* interval of the chance, taken on the logit scale so that it stays within 0 … 1; NaN when separated */
} hf_outlasts;

/* From values of any monotone scale, n ≥ 2 each, any order. HF_RANGE for fewer or a level outside (0, 1), HF_MEMORY. */
hf_status hf_outlasts_of(hf_arena *arena, const double *a, size_t n_a, const double *b, size_t n_b,
                         double level, hf_outlasts *out);

#endif
