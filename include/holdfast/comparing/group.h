/* A group of pulls, ready to be compared.
 *
 * Two designs are compared on the log scale: a difference of ln loads is a ratio of loads, and the same
 * percentage counts the same at 200 N and at 2 kN. Each finished pull enters with the middle of its step on that
 * scale. A stepped pull hides where in the step the part let go, so the group's variance gets the step
 * allowance, s² + h²/8, just as in the bound; without it an interval that claims 95 % covers 81 % at worst.
 * Parts of one batch are alike in what their batch brings, so that they do not count as so many looks at the design. Where the batches are known, each
 * counts once, with the mean of its parts: then the scatter between batches is in the variance of these means. */
#ifndef HOLDFAST_COMPARING_GROUP_H
#define HOLDFAST_COMPARING_GROUP_H

#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

typedef struct hf_group {
    size_t n;
    double mean; /* of ln load: exp(mean) is the geometric mean */
    double s;    /* n − 1 standard deviation of the mids; NaN for one part */
    double h;    /* root mean square of the closed ln widths (dropped ones doubled); 0 when all are exact */
    double variance;     /* s² + h²/8; NaN for one part */
    const double *y;     /* n mids (ln load), any order; NULL for a group made of summary figures */
    const double *width; /* n ln widths, 0 for exact readings; NULL when not known singly */
} hf_group;

/* From a sample of exact and closed pulls with positive loads, arrays in `arena`. HF_NO_RESULT with an empty
 * sample or with open observations (see open_compare.h for those), HF_RANGE for a load that is not positive, HF_MEMORY. */
hf_status hf_group_of(hf_arena *arena, hf_sample sample, hf_group *out);

/* The same of the means of the batches: n batches, their scatter, and h/√m̃ of the parts, m̃ the harmonic mean of the numbers of parts; widths are not
 * known. HF_NO_RESULT also with fewer than two batches or a part of none. */
hf_status hf_group_of_batches(hf_arena *arena, hf_sample sample, hf_group *out);

/* From the means of n batches, whose parts have the step size h; inverse: Σ 1/parts over the batches. As hf_group_from_mids. */
hf_group hf_group_from_batch_means(const double *mean, size_t n, double h, double inverse);

/* From mids on the ln scale, n ≥ 1, and a step size h ≥ 0. Borrows y. Allocates nothing. */
hf_group hf_group_from_mids(const double *y, size_t n, double h);

/* From figures alone: n parts with this mean, deviation and step size of ln load. */
hf_group hf_group_from_summary(size_t n, double mean, double s, double h);

#endif
