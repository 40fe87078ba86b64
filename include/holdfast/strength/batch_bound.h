/* A bound for parts of any batch, from pulls of several.
 *
 * One batch does not speak for the next: where a share of the variance lies between batches, more parts of one batch make a bound that
 * ignores them worse, not better. The batch bound rests on the batch means. With b batches of n_i parts, N in all, on ln load:
 *
 *     m̃ = b/Σ(1/n_i)     x̄ = mean of the batch means     v = their variance (b − 1)     W = mean square within, e = N − b degrees
 *     S² = v + (1 − 1/m̃)·W        R = max(0, (F·m̃·v/W − 1)/m̃), F the η quantile of F(e, b − 1)        ρ = R/(1 + R)
 *     A = ρ + (1 − ρ)/m̃           f = 1/(A²/(b − 1) + ((1 − 1/m̃)(1 − ρ))²/e)                           n° = b/A
 *     bound = exp(x̄ − k·√(S² + h²/8)),   k = t′(C; f, z_P·√n°)/√n°
 *
 * ρ is the largest share between batches that the pulls do not contradict, 1 where W = 0 or every batch is one part. One-way random effects
 * after Mee and Owen (1983, from memory); η = 0.85, 0.80, 0.75 at confidence 0.95, 0.90, 0.75.
 * Never the only bound: it holds for lognormal parts, and the lower of it and the Weibull bound that ignores batches for the three laws
 * (docs/coverage.md). Open pulls: not proven, refused. */
#ifndef HOLDFAST_STRENGTH_BATCH_BOUND_H
#define HOLDFAST_STRENGTH_BATCH_BOUND_H

#include <stddef.h>
#include "holdfast/strength/bound.h"

typedef struct hf_batch_bound {
    hf_bound_reason
        reason; /* HF_REASON_NONE: there is a bound. Else too_few (batches), open_observations, one_value, range, numeric */
    double content, confidence;
    size_t batches, parts;                  /* b, N; parts without a stated batch are not among them */
    double mean_parts;                      /* m̃ */
    double mean;                            /* x̄ */
    double between, within;                 /* v, W */
    double degrees_within;                  /* e */
    double f_quantile;                      /* F; NaN where it is not needed */
    double variance_ratio;                  /* R; INFINITY where ρ = 1 */
    double between_share;                   /* ρ */
    double degrees_of_freedom, effective_n; /* f, n° */
    double s, h, allowance; /* S; step size on the same scale; h²·allowance is added to S² */
    double k;
    double value; /* load; NaN when there is none */
} hf_batch_bound;

/* On the scale that the values are in: value = x̄ − k·√(S² + h²/8), no exponential. y[i] is of batch[i] in 0 … batches − 1, every batch
 * has a part. HF_OK, or HF_RANGE/HF_NO_RESULT/HF_NUMERIC with the reason, HF_MEMORY. */
hf_status hf_batch_bound_values(const double *y, const int *batch, size_t count, double h, double content,
                                double confidence, hf_batch_bound *out);

/* The bound of a sample, on ln load, from the parts with a stated batch; load in *out. */
hf_status hf_batch_bound_of(hf_sample sample, double content, double confidence, hf_batch_bound *out);

/* The same from what the formulas use: {b, N}, m̃, x̄, v, W and h are read from *out, the rest is filled. For simulations; no allocation. */
hf_status hf_batch_bound_solve(double content, double confidence, hf_batch_bound *out);

/* η of a confidence: through the values above, straight between them, 0.90 at 0.99, and held beyond the ends. */
double hf_batch_share_confidence(double confidence);

/* The largest content at which the bound is at least `load`, 0 < load; as hf_bound_content_at. */
hf_status hf_batch_bound_content_at(const hf_batch_bound *batch, double load, double confidence,
                                    double *content);

/* One batch only, and the standard deviation τ of ln load between batches stated from elsewhere: `without` is the bound that ignores batches, as far
 * below x̄, the mean of ln load, as one's own parts ask for; the next batch may lie (z_P + z_C)·τ lower still, and the two add up as the squares do:
 *     exp(x̄ − √((x̄ − ln without)² + ((z_P + z_C)·τ)²))
 * By the bound of whatever law leads, so that it keeps its promise for parts of that law (docs/coverage.md). Loads above 0, τ ≥ 0, `without` at most
 * exp x̄: HF_RANGE otherwise. *reach: what stands under the root. */
double hf_between_factor(double content, double confidence); /* z_P + z_C */
hf_status hf_one_batch_bound(double mean, double without, double tau, double content, double confidence,
                             double *reach, double *value);

/* Mean of ln load at the middles. HF_NO_RESULT with open pulls or none, HF_RANGE for a load that is not above 0, HF_MEMORY. */
hf_status hf_mean_log_load(hf_sample sample, double *mean);

#endif
