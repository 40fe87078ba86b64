/* Roots, minima and integrals of one variable.
 *
 * Brent's methods on a bracket and adaptive Gauss–Kronrod quadrature; each says how it stopped. */
#ifndef HOLDFAST_NUMERIC_SOLVE_H
#define HOLDFAST_NUMERIC_SOLVE_H

#include <stddef.h>
#include "holdfast/base/status.h"

typedef double (*hf_function)(double x, void *context);

/* x in [low, high] with function(x) = 0 where the signs differ at the ends (or one end is a root), to
 * |high − low| ≤ absolute + relative·|x|. HF_RANGE without a sign change, HF_NUMERIC after 200 steps or on NaN. */
hf_status hf_solve_root(hf_function function, void *context, double low, double high, double absolute,
                        double relative, double *out);

/* ∫ function over [low, high] (either may be infinite) to the wanted relative (or absolute) error. *error_estimate may be NULL. */
hf_status hf_integrate(hf_function function, void *context, double low, double high, double absolute,
                       double relative, double *out, double *error_estimate);

/* Gauss–Legendre nodes and weights on [−1, 1], n = 1 … 200, accurate to 1e-15. Pure. */
void hf_gauss_legendre(size_t n, double *nodes, double *weights);

#endif
