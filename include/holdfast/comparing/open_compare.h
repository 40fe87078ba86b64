/* Comparing when some pulls did not end in a failure.
 *
 * A part still whole when the weights ran out is not a failure at that load, and leaving it out would punish the stronger
 * design. Here every pull enters a likelihood for what it is: a value, a step, "stronger than", "weaker than". The
 * two designs get their own location and either a common or their own scatter; twice the log-likelihood lost by forcing
 * the locations together measures the difference. */
#ifndef HOLDFAST_COMPARING_OPEN_COMPARE_H
#define HOLDFAST_COMPARING_OPEN_COMPARE_H

#include <stdbool.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/observation.h"

typedef struct hf_open_compare_options {
    bool common_spread; /* one s for both; false: each its own */
    double level;       /* 0 means 0.05 */
} hf_open_compare_options;

typedef struct hf_open_compare {
    bool available;
    const char *reason; /* when not: "too_few", "no_maximum", "not_log_scale", "range", "numeric" */
    bool common_spread;
    double m_a, m_b, s_a, s_b; /* ln scale */
    double
        difference; /* m_a − m_b; ±INFINITY where a design never failed or broke wholly at its first load; NaN, as the four before it,
                                  where the likelihood only levels out, so that no one ratio is the likeliest */
    double ratio, low,
        high; /* exp of it: ratio of medians (lognormal) or scales (Weibull); profile-likelihood interval,
                                  0 or INFINITY where the likelihood never falls far enough */
    double statistic;          /* 2·(log-likelihood free − together) */
    double degrees_of_freedom; /* ν of the small-sample reference */
    double
        p; /* t = √(ν·(e^{statistic/(ν+2)} − 1)) on ν degrees of freedom: exact for whole normal data with a common s */
    double
        p_chi2; /* the large-sample reference, chi-square with 1 degree of freedom; too small for few parts */
    double log_likelihood, log_likelihood_together;
} hf_open_compare;

/* Measured at level 0.05 without a difference (lognormal, last rung at 70 or 40 % of the first design's parts, steps 0.5 SD, n 5:5, 10:10, 5:10, 3:10;
 * docs/coverage.md): p with common s 0.01–0.04 for equal scatter; where scatters are 1:3 apart 0.03–0.12, and up to 0.16 where 3 parts scatter three
 * times as much as 10; p with separate s 0.00–0.02, Welch carried over 0.00–0.03, both often without an answer; p_chi2 0.08–0.14 for equal
 * n, hence never the verdict. */

/* Likelihood-ratio comparison; family on the log scale. ν = d − 2 for a common s, Welch–Satterthwaite from the fits (d − 1 each) for separate
 * ones, d failures. Needs two failures a group for separate s, three in all and one a group for a common one. Always fills *out; HF_OK,
 * HF_NO_RESULT or HF_NUMERIC with out->reason, HF_MEMORY. */
hf_status hf_open_compare_likelihood(const hf_family *family, hf_sample a, hf_sample b,
                                     const hf_open_compare_options *options, hf_open_compare *out);

/* Welch's test carried over to open pulls: closed steps at their mids, open ones as they are; m̂ and ŝ by maximum likelihood,
 * variance (ŝ²·d/(d − 1) + h²/8)·(se(m̂)/ŝ)², d − 1 degrees of freedom, d finished pulls. Without open pulls and for the lognormal it is the contrast
 * of contrast.h. Fills difference, ratio, interval, statistic (t), ν and p; log-likelihoods and p_chi2 are NaN. */
hf_status hf_open_compare_welch(const hf_family *family, hf_sample a, hf_sample b,
                                const hf_open_compare_options *options, hf_open_compare *out);

/* The way `compare` takes open pulls: the lognormal likelihood with one scatter for both (out->common_spread); where it has no maximum, Welch
 * carried over. out->reason is that of the likelihood when neither answers. */
hf_status hf_open_compare_of(hf_sample a, hf_sample b, double level, hf_open_compare *out);

/* ln likelihood of a sample on the working scale of `family` at (m, s), densities in working units. NaN unless s > 0. */
double hf_log_likelihood_at(const hf_family *family, hf_sample sample, double m, double s);

#endif
