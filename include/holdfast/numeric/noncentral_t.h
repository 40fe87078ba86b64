/* The noncentral t distribution.
 *
 * Draw n values from a normal law, form (√n·(mean − m)/σ + δ) / (s/σ): that ratio follows the noncentral t
 * with n − 1 degrees of freedom and noncentrality δ. It tells how far below the sample mean a bound must lie so
 * that it is right with a chosen confidence. No library in reach has it to full precision (R's is wrong in the 4th figure beyond δ = 37), so
 * it is computed here: P(T ≤ t) = E[Φ(t·W − δ)], W = √(χ²_ν/ν), by the trapezoidal rule in ln W, which converges
 * exponentially; the upper tail is summed by itself. Where δ² > 20 000·ν and δ > 500 it is E[P(W < (Z + δ)/t)] instead, summed
 * over Z: the work is bounded for every argument. Relative accuracy 1e-10 over ν 0.5…1e12, whole or not, any δ (checked to 1e9), for tails above 1e-280. */
#ifndef HOLDFAST_NUMERIC_NONCENTRAL_T_H
#define HOLDFAST_NUMERIC_NONCENTRAL_T_H

#include "holdfast/base/status.h"

/* P(T ≤ t) and P(T > t), 0.5 ≤ ν ≤ 1e12, any finite t and δ. NaN outside. */
double hf_noncentral_t_lower(double t, double nu, double delta);
double hf_noncentral_t_upper(double t, double nu, double delta);

/* t with P(T ≤ t) = p, 0 < p < 1, relative error ≤ 1e-10 in t (absolute 1e-10 near t = 0). HF_RANGE for arguments outside, HF_NUMERIC
 * when the root does not settle. */
hf_status hf_noncentral_t_quantile(double p, double nu, double delta, double *out);

#endif
