/* What a coarse step costs.
 *
 * A stepped pull hides where in the step the part let go. The bound pays for that with a wider scatter and the step
 * allowance: its distance from the middle grows by a factor. The same growth would come from pulling fewer parts without
 * steps, so the price can also be said in parts: "margin × 1.12, like losing 0.7 of 5 parts". */
#ifndef HOLDFAST_PLANNING_STEP_PRICE_H
#define HOLDFAST_PLANNING_STEP_PRICE_H

#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

typedef struct hf_step_price {
    double ratio;          /* expected k·√(s² + A·h²) with steps over k·s without; A of bound.h */
    double standard_error; /* of ratio; 0 when exact */
    double
        parts_lost; /* n minus the number of parts without steps that has the same expected margin; NaN when that would be below 2 */
} hf_step_price;

/* n ≥ 2 parts, step h > 0 in s of the family's working scale (for the normal and lognormal the standard deviation there), content and
 * confidence of the bound (they matter for parts_lost). A: the family's step allowance.
 * Normal and lognormal: E√((1 + h²/12)χ²/ν + A·h²)/E√(χ²/ν), ν = n − 1, by quadrature. Weibull: simulated with the ladder at random places, fixed seed. HF_RANGE outside (n ≤ 1000, h ≤ 20), HF_MEMORY. */
hf_status hf_step_price_of(const hf_family *family, size_t n, double h, double content, double confidence,
                           hf_step_price *out);

/* The ratio alone, which takes a third of the time. */
hf_status hf_step_ratio_of(const hf_family *family, size_t n, double h, double content, double confidence,
                           double *ratio);

#endif
