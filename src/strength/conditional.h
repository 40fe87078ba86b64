/* The bound when some pulls are open: exact conditional inference (Fraser 1979; Lawless 1978).
 *
 * Given the data, the quantile q has the distribution it gets from the prior density 1/s on (m, s), closed
 * pulls at their middles counted as exact and open ones through their survival or distribution term. L is its lower
 * 1 − C quantile, and k = (m̂ − L)/s′ makes the one formula apply. */
#ifndef HF_STRENGTH_CONDITIONAL_H
#define HF_STRENGTH_CONDITIONAL_H

#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

struct hf_open_data {
    const double *y; /* exact or middle values, working scale */
    size_t count;
    const double *above; /* whole at these */
    size_t above_count;
    const double *below; /* broke at or below these */
    size_t below_count;
};

/* m̂, s′ and L on the working scale. Needs two or more y that are not all equal. HF_NUMERIC when the
 * quadrature does not settle, HF_NO_RESULT when the likelihood has no maximum. */
hf_status hf_conditional_bound(const hf_family *family, const hf_open_data *data, double content,
                               double confidence, double *m, double *s, double *limit);

/* The same limit for the Weibull law by one dimension; target is the lower tail 1 − C, m and s the estimates. HF_RANGE when the `below` values
 * are too many, or so unlikely that the terms would cancel. */
hf_status hf_weibull_limit(const hf_open_data *data, double content, double target, double m, double s,
                           double *limit);

/* The Weibull law's `location` (family.h): W is −ln of a gamma number with as many degrees as there are values. */
double hf_weibull_location(const hf_open_data *data, double s, double *log_mass);

/* ML estimates on the working scale. */
hf_status hf_working_fit(const hf_family *family, const hf_open_data *data, double *m, double *s);

/* x with P(q ≤ x) = target by Newton's method on ln of the tail (the tail is nearly a power of the distance), kept inside a shrinking
 * bracket. excess gives P(q ≤ x) − target, density its slope; start = {target, first x, scale}. */
typedef double (*hf_tail_excess)(const void *context, double x, double target);
typedef double (*hf_tail_density)(const void *context, double x);
hf_status hf_solve_tail(hf_tail_excess excess, hf_tail_density density, const void *context,
                        const double start[3], double *out);

#endif
