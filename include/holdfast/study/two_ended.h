/* What parts with a fitting at each end say about one fitting.
 *
 * A part with two breaks at the weaker one: read as one fitting, its strength comes out too low. So each end is taken for itself: the
 * broken one failed in that step, the other is stronger than what was last held, and each belongs to its own design. */
#ifndef HOLDFAST_STUDY_TWO_ENDED_H
#define HOLDFAST_STUDY_TWO_ENDED_H

#include <stddef.h>
#include "holdfast/strength/bound.h"

enum { HF_IN_A_ROW = 4 };

/* What parts with this fitting at one end or both say about one fitting. */
typedef struct hf_comparison_ends {
    size_t pulls, ends;   /* two-ended parts that hold this fitting, and how many such fittings they hold */
    size_t broke, whole;  /* of those fittings */
    const hf_bound *rows; /* bound of 1 … HF_IN_A_ROW fittings in a row, all of one law */
    double median,
        spread; /* lognormal fit of one fitting: N and standard deviation of ln load; NaN without a fit */
    double naive_median,
        naive_spread; /* the same with each part read as if it were one fitting: what that would claim; NaN without a fit,
                                          or where no part has this fitting at both ends */
} hf_comparison_ends;

#endif
