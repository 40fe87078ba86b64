/* The studentised range: the widest gap among several means.
 *
 * When the best and the worst of k designs are picked after the pulls, their difference is larger than
 * that of two designs named beforehand. The range of k standard normal values over an independent √(χ²_ν/ν) says by how
 * much. P(Q > q) = ∫ f(s) {1 − W(q·s)} ds, 1 − W(w) = k ∫ φ(z) {Φ(z)^(k−1) − [Φ(z) − Φ(z − w)]^(k−1)} dz, both by the
 * trapezoidal rule, which converges exponentially here. Relative accuracy 1e-9 in both tails down to 1e-12, k 2…60, ν ≥ 1. */
#ifndef HOLDFAST_COMPARING_STUDENTIZED_RANGE_H
#define HOLDFAST_COMPARING_STUDENTIZED_RANGE_H

#include <stddef.h>
#include "holdfast/base/status.h"

/* P(Q > q), q ≥ 0, groups ≥ 2, degrees of freedom ν ≥ 1 (INFINITY: known scatter). NaN outside. */
double hf_studentized_range_upper(double q, size_t groups, double nu);

/* q with P(Q > q) = p, 1e-12 ≤ p < 1. HF_RANGE outside, HF_NUMERIC when the root does not settle. */
hf_status hf_studentized_range_quantile_upper(double p, size_t groups, double nu, double *out);

#endif
