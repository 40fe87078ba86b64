/* Arithmetic on arrays, the same bits on every vector width.
 *
 * The loops are compiled several times (128, 256, 512 bit) and the processor picks; no fused operations and no reordering, so
 * every width gives the same result. Sums run over 8 fixed lanes and are then added in a fixed order. */
#ifndef HOLDFAST_NUMERIC_VECTOR_H
#define HOLDFAST_NUMERIC_VECTOR_H

#include <stddef.h>

void hf_vector_exp(const double *x, double *out,
                   size_t count); /* ≤ 1 ulp-ish: 2e-16 relative; overflow → inf, underflow → 0 */
void hf_vector_log(const double *x, double *out, size_t count); /* 2e-16 relative; 0 → −inf; negative → NaN */
void hf_vector_normal_lower(const double *z, double *out, size_t count); /* 1e-14 relative for z > −37 */
void hf_vector_normal_quantile(const double *p, double *out,
                               size_t count); /* 1e-14 relative to max(|z|, 1e-8) */
double hf_vector_sum(const double *x, size_t count);
void hf_vector_mean_sd(const double *x, size_t count, double *mean,
                       double *sd);           /* two passes; sd with n − 1 */
void hf_vector_sort(double *x, size_t count); /* ascending, NaN not allowed */
/* The k-th smallest (from 0) of x; reorders x. */
double hf_vector_select(double *x, size_t count, size_t k);

#endif
