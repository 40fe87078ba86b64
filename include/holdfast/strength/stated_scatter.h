/* A bound from one, two or three parts, with a scatter known from elsewhere.
 *
 * One part shows no scatter at all. If the same kind of part was pulled often before, its scatter may be stated, with its
 * source; then even one pull gives a bound, as good as that statement. Scatter that is assumed, or pooled over more than 20
 * degrees of freedom, goes with the mean of the loads held (no step can make that wrong); scatter of fewer degrees of freedom goes
 * through the one formula with its own factor. */
#ifndef HOLDFAST_STRENGTH_STATED_SCATTER_H
#define HOLDFAST_STRENGTH_STATED_SCATTER_H

#include "holdfast/strength/bound.h"

typedef struct hf_stated_scatter {
    double cv;                 /* standard deviation over mean, 0 < cv ≤ 1 */
    double degrees_of_freedom; /* > 0; INFINITY: assumed */
} hf_stated_scatter;

/* s on the family's working scale for a mean load: cv·mean (normal), √ln(1 + cv²) (lognormal), 1/β with the β whose coefficient of
 * variation is cv (Weibull). NaN when it cannot be. */
double hf_stated_spread(const hf_family *family, double cv, double mean);

/* k = t′(C; ν, z_P·√n)/√n; for ν = ∞ z_P + z_C/√n. n ≥ 1. */
hf_status hf_stated_factor(size_t n, double degrees_of_freedom, double content, double confidence, double *k);

/* The bound. Run-outs count with the load they held. Always fills *out; refuses with HF_REASON_TOO_FEW without parts (Weibull: without
 * failures), with HF_REASON_OPEN_OBSERVATIONS for a first-rung failure (on a log scale,
 * and on any with ν ≤ 20), with HF_REASON_SHAPE_NOT_KNOWN for the Weibull with ν ≤ 20. */
hf_status hf_bound_stated_scatter(const hf_family *family, hf_sample sample, hf_stated_scatter scatter,
                                  double content, double confidence, hf_bound *out);

#endif
