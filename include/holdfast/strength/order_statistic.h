/* Statements that lean on no strength law.
 *
 * With enough parts the weakest ones speak for themselves: if 29 of 29 parts held a load, at least 90 % of
 * all parts hold it, with 95 % confidence, whatever their law. With fewer parts Hanson and Koopmans (1964)
 * stretch the gap between the smallest and a middle value; that needs only that ln F is concave. And parts that all held prove a share by
 * their number alone. */
#ifndef HOLDFAST_STRENGTH_ORDER_STATISTIC_H
#define HOLDFAST_STRENGTH_ORDER_STATISTIC_H

#include <stddef.h>
#include "holdfast/strength/bound.h"

/* Largest r with P(Bin(n, 1 − content) ≥ r) ≥ confidence; 0 when there is none (C07). 0 < content < 1. */
size_t hf_order_statistic_rank(size_t n, double content, double confidence);

/* Bound from the rank-th smallest lower end; open-above parts count with the load they held. A first-rung failure
 * counts with lower end 0 (or its tare). HF_NO_RESULT with HF_REASON_TOO_FEW when n is too small. */
hf_status hf_bound_order_statistic(hf_sample sample, double content, double confidence, hf_bound *out);

/* Rank of the upper value of the Hanson–Koopmans bound for n = 2 … 28 (MIL-HDBK-17-1F table 8.5.14, from memory); 0 outside. */
size_t hf_hanson_koopmans_rank(size_t n);

/* k of x(r)·[x(1)/x(r)]^k (C08): solves P(U(r)·[U(1)/U(r)]^k ≤ 1 − content) = confidence. 2 ≤ r ≤ n.
 * HF_RANGE outside, or when the bound would need no extrapolation (k ≤ 1). Relative error 1e-9. */
hf_status hf_hanson_koopmans_factor(size_t n, size_t r, double content, double confidence, double *k);

/* The bound with the lower end of the smallest and the upper end of the r-th value. Not with first-rung failures or when open observations
 * hide the r smallest. HF_NO_RESULT with a reason otherwise. */
hf_status hf_bound_hanson_koopmans(hf_sample sample, double content, double confidence, hf_bound *out);

/* Least number of parts so that, with at most `failures` failing, at least `content` hold with `confidence` (C21). */
size_t hf_success_run_parts(double content, double confidence, size_t failures);

/* Content that n parts without failure prove: (1 − confidence)^(1/n). n ≥ 1. */
double hf_success_run_content(size_t n, double confidence);

#endif
