/* A bound with a scatter known from earlier parts of the kind.
 *
 * One part shows no scatter at all, and three show it poorly. Where parts of the kind were pulled before, their scatter may be stated,
 * with its source; a few new pulls then give the strength, the earlier ones most of the scatter. How much the earlier ones are worth is
 * told by their degrees of freedom ν (parts less one, of one earlier design). One rule serves every ν, on ln load, whatever the law:
 *
 *     ζ   = max(z_P, −(ln(−ln P) + γ)·√6/π)           the farther of the normal and the Weibull quantile, in standard deviations
 *     ν_e = 2/(2/ν + 2.4/N)                           N earlier parts; a Weibull's scatter is worth less than a normal's
 *     d   = (n − 1)/2.2                               what the scatter of the n own parts is worth
 *     s²  = (ν_e·s₀² + d·s_own²)/(ν_e + d)
 *     k   = t′(C; ν_e + d, ζ·√n)/√n                   t′ the C quantile of the noncentral t
 *     bound = exp(mean − k·√(s² + h²/8))
 *
 * For C below 0.90, for one part alone far into the tail, and from six parts on, k is taken at a somewhat higher confidence
 * (hf_scatter_confidence): without it the promise falls short. The weights hand over to the own scatter, part by part, by n and ν
 * alone. From the number of parts at which Weibull parts that scatter as stated get as much from their own bound, that one leads
 * (hf_scatter_hands_over): a number that no pull moves.
 *
 * A scatter that is only *assumed* has no degrees of freedom. It goes with the mean of the loads held (no step can make that wrong)
 * and the lower of the normal and the Weibull bound of known scatter. No stated scatter gives more than it would if it were assumed.
 *
 * The stated scatter is always confronted with the pulls (hf_scatter_confront): where they scatter too much for it, it must not be
 * used. That is a caution and no protection: one part cannot contradict, and few seldom do. */
#ifndef HOLDFAST_STRENGTH_STATED_SCATTER_H
#define HOLDFAST_STRENGTH_STATED_SCATTER_H

#include "holdfast/strength/bound.h"

/* As the rule takes it: from one earlier design ν_e, from several ν₀ (scatter_library.h). */
typedef struct hf_past_scatter {
    double s0;      /* standard deviation of ln load, > 0 */
    double degrees; /* what it is worth, > 0; fractions are meant */
    bool several;   /* pooled from designs that may scatter differently */
} hf_past_scatter;

/* As a person states it, for one kind of part. */
typedef struct hf_stated_scatter {
    double cv;                 /* standard deviation over mean, of load, 0 < cv ≤ 1 */
    double degrees_of_freedom; /* > 0; INFINITY: assumed */
    hf_past_scatter
        pooled; /* of earlier designs, where these are stated one by one; degrees 0: they are not */
} hf_stated_scatter;

/* s on the family's working scale for a mean load: cv·mean (normal), √ln(1 + cv²) (lognormal), 1/β with the β whose coefficient of
 * variation is cv (Weibull). NaN when it cannot be. */
double hf_stated_spread(const hf_family *family, double cv, double mean);

/* s₀ of a stated cv: the standard deviation of ln load of the Weibull law with that cv. Of the three laws it has the largest; with the
 * lognormal's √ln(1 + cv²) Weibull parts would break the promise. NaN outside (0, 1]. */
double hf_scatter_of_cv(double cv);
/* And back. NaN where s is not above 0 or the cv would be above 1. */
double hf_cv_of_scatter(double s);

/* ν_e of ν pooled degrees of freedom from so many earlier designs (≥ 1; 1 where it is not known): N = ν + designs. */
double hf_scatter_degrees(double degrees_of_freedom, double designs);

/* What the rule takes of a stated scatter with degrees of freedom: that of the earlier designs, else of one design with this cv. */
hf_past_scatter hf_past_scatter_of(hf_stated_scatter scatter);

/* ζ of a content, 0.5 < P < 1. */
double hf_scatter_quantile(double content);

/* The confidence at which k is taken so that the bound keeps `confidence` with n parts: 0.035 more below 0.90 (never above 0.90); for
 * one part above a content of 0.95, beside several designs, 0.20 standard deviations more; from six parts on 0.04·ln(n/4.5) standard
 * deviations more, at most 0.2326·z (settled by the coverage study). */
double hf_scatter_confidence(bool several, double content, double confidence, size_t n);

/* k for n parts of which all failed, and for n parts of which some did not (their scatter is then left out: d = 0). They do not depend on
 * the pulls; simulations take them once. */
typedef struct hf_scatter_factors {
    size_t n;
    double k, k_open;
    double confidence_used;
} hf_scatter_factors;

hf_status hf_scatter_factors_of(hf_past_scatter past, size_t n, double content, double confidence,
                                hf_scatter_factors *out);

/* The rule. A run-out counts with the load it held. Always fills *out (family: the lognormal, for its scale; `scatter` filled); refuses with
 * HF_REASON_TOO_FEW without parts, HF_REASON_OPEN_OBSERVATIONS for a first-rung failure. factors may be NULL. */
hf_status hf_bound_past_scatter(hf_sample sample, hf_past_scatter past, const hf_scatter_factors *factors,
                                double content, double confidence, hf_bound *out);

/* The bound by a stated scatter, assumed or not; never above what the same scatter would give if it were assumed and the steps taken at
 * their middles. factors as above, of hf_past_scatter_of(scatter). */
hf_status hf_bound_stated_scatter(hf_sample sample, hf_stated_scatter scatter,
                                  const hf_scatter_factors *factors, double content, double confidence,
                                  hf_bound *out);

/* The least number of parts, at most `most`, from which their own Weibull bound leads: where their scatter of ln load is s₀, it lies no lower
 * than the rule's,
 *
 *     (w(n) − γ)·√6/π ≤ k(n),
 *
 * exact readings. Hangs on the content, the confidence and ν alone. 0: none, and none for a scatter that is assumed. */
size_t hf_scatter_hands_over(hf_stated_scatter scatter, double content, double confidence, size_t most);

/* As hf_bound_content_at, by the stated scatter. */
hf_status hf_stated_scatter_content_at(hf_sample sample, hf_stated_scatter scatter, double load,
                                       double confidence, double *content);

/* Whether the pulls contradict it. */
typedef struct hf_scatter_confrontation {
    bool available; /* two parts or more */
    size_t parts;   /* n */
    double statistic; /* the least Σ(y − ȳ)²/s₀² that the steps and open pulls leave possible, y = ln load */
    double critical;     /* its 95 % point: χ²(n − 1), or (n − 1)·F(n − 1, ν) */
    double significance; /* chance of as much or more if the scatter is as stated */
    bool contradicted;   /* statistic > critical */
} hf_scatter_confrontation;

/* degrees: ν, or INFINITY. */
hf_scatter_confrontation hf_scatter_confront(hf_sample sample, double s0, double degrees);
hf_scatter_confrontation hf_stated_scatter_confront(hf_sample sample, hf_stated_scatter scatter);

#endif
