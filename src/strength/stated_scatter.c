#include "holdfast/strength/stated_scatter.h"

#include <math.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"
#include "strength/assumed_scatter.h"
#include "strength/content_search.h"
#include "strength/mids.h"
#include "strength/open_bound.h"
#include "strength/weibull.h"

/* Settled by the coverage study: what a Weibull's scatter is worth beside a normal's, and what the confidence needs. */
static const double worth_of_own = 2.2, worth_of_past = 2.4;
static const double low_confidence = 0.90, more_confidence = 0.035;
static const double many_parts = 4.5, a_part_more = 0.04, most_more = 0.2326;
enum { FROM_PARTS = 6 };
static const double one_part_content = 0.95,
                    one_part_more = 0.20; /* above that content, where designs differ much */
static const double lowest_content = 0.75;
/* A scatter known better than this is taken as known so well: k differs by less than 1e-11 of itself. */
static const double most_degrees = 1e12;

double hf_stated_spread(const hf_family *family, double cv, double mean) {
    if (!(cv > 0 && cv <= 1)) return NAN;
    return family->log_scale ? family->spread_of_cv(cv) : cv * mean / family->deviation_z;
}

double hf_scatter_of_cv(double cv) {
    return HF_PI / sqrt(6.0) * hf_stated_spread(&hf_family_weibull, cv, 1);
}

double hf_scatter_degrees(double degrees_of_freedom, double designs) {
    return 2 / (2 / degrees_of_freedom + worth_of_past / (degrees_of_freedom + designs));
}

double hf_cv_of_scatter(double s) {
    double inverse = s * sqrt(6.0) / HF_PI; /* 1 over the shape */
    double cv = hf_weibull_cv(inverse);
    return cv <= 1 ? cv : NAN;
}

hf_past_scatter hf_past_scatter_of(hf_stated_scatter scatter) {
    if (scatter.pooled.degrees > 0) return scatter.pooled;
    return (hf_past_scatter){hf_scatter_of_cv(scatter.cv), hf_scatter_degrees(scatter.degrees_of_freedom, 1),
                             false};
}

double hf_scatter_quantile(double content) {
    double weibull = -(hf_sev_quantile_upper(content) + HF_EULER) * sqrt(6.0) / HF_PI;
    return fmax(hf_normal_quantile_lower(content), weibull);
}

double hf_scatter_confidence(bool several, double content, double confidence, size_t n) {
    double used = confidence;
    if (confidence < low_confidence) used = fmin(confidence + more_confidence, low_confidence);
    if (several && n == 1 && content > one_part_content)
        return hf_normal_lower(hf_normal_quantile_lower(used) + one_part_more);
    if (n < FROM_PARTS) return used;
    double z = hf_normal_quantile_lower(used);
    return hf_normal_lower(z + fmin(a_part_more * log((double)n / many_parts), most_more * z));
}

static double own_degrees(size_t n) {
    return ((double)n - 1) / worth_of_own;
}

hf_status hf_scatter_factors_of(hf_past_scatter past, size_t n, double content, double confidence,
                                hf_scatter_factors *out) {
    if (n < 1 || !(past.s0 > 0 && past.degrees > 0)) return HF_RANGE;
    double root = sqrt((double)n), shift = hf_scatter_quantile(content) * root, t, t_open;
    out->n = n;
    out->confidence_used = hf_scatter_confidence(past.several, content, confidence, n);
    hf_status status = hf_noncentral_t_quantile(out->confidence_used,
                                                fmin(past.degrees + own_degrees(n), most_degrees), shift, &t);
    if (status == HF_OK)
        status =
            hf_noncentral_t_quantile(out->confidence_used, fmin(past.degrees, most_degrees), shift, &t_open);
    if (status != HF_OK) return status;
    out->k = t / root;
    out->k_open = t_open / root;
    return HF_OK;
}

/* m − w·σ beside mean − k·s₀, where mean = m − γ·σ and s₀ = σ·π/√6. */
static bool own_takes_less(hf_past_scatter past, size_t n, double content, double confidence) {
    hf_scatter_factors rule;
    double w, error;
    return hf_scatter_factors_of(past, n, content, confidence, &rule) == HF_OK &&
           hf_weibull_factor(n, content, confidence, &w, &error) == HF_OK &&
           (w - HF_EULER) * sqrt(6.0) / HF_PI <= rule.k;
}

size_t hf_scatter_hands_over(hf_stated_scatter scatter, double content, double confidence, size_t most) {
    hf_past_scatter past = hf_past_scatter_of(scatter);
    size_t fewer = 1, enough = most;
    if (isinf(scatter.degrees_of_freedom) || !own_takes_less(past, most, content, confidence)) return 0;
    while (enough - fewer > 1) {
        size_t middle = fewer + (enough - fewer) / 2;
        if (own_takes_less(past, middle, content, confidence))
            enough = middle;
        else
            fewer = middle;
    }
    return enough;
}

/* Mean and own scatter of ln load. Where not every part failed, those that did are the weaker ones: their scatter is left out. */
static hf_status look(hf_sample sample, hf_past_scatter past, hf_bound *out) {
    const hf_family *family = out->family;
    hf_mids mids;
    double sum = 0, m, s = 0;
    if (hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < mids.count; i++) sum += mids.y[i];
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_ABOVE)
            sum += hf_family_working(family, sample.items[i].lower);
    out->m = sum / (double)sample.count;
    out->h = mids.h;
    bool whole = mids.count == sample.count;
    if (whole && mids.count >= 2) (void)family->estimate(mids.y, mids.count, &m, &s);
    hf_mids_free(&mids);
    double d = whole ? own_degrees(sample.count) : 0;
    out->scatter.stated = past.s0;
    out->scatter.own = s;
    out->scatter.degrees = past.degrees;
    out->scatter.own_degrees = d;
    out->s = sqrt((past.degrees * past.s0 * past.s0 + d * s * s) / (past.degrees + d));
    return HF_OK;
}

hf_status hf_bound_past_scatter(hf_sample sample, hf_past_scatter past, const hf_scatter_factors *factors,
                                double content, double confidence, hf_bound *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_scatter_factors made;
    hf_bound_clear(out, &hf_family_lognormal, content, confidence);
    out->n = sample.count;
    if (sample.count == 0) return hf_bound_refuse(out, HF_REASON_TOO_FEW);
    if (hf_bound_range(content, confidence, counts.closed > 0) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_STEP_RANGE);
    if (counts.below > 0) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    if (!factors) {
        if (hf_scatter_factors_of(past, sample.count, content, confidence, &made) != HF_OK)
            return hf_bound_refuse(out, HF_REASON_NUMERIC);
        factors = &made;
    }
    if (look(sample, past, out) != HF_OK) return HF_MEMORY;
    out->scatter.confidence_used = factors->confidence_used;
    out->k = counts.above > 0 ? factors->k_open : factors->k;
    out->allowance = hf_bound_allowance(NULL, content, out->k);
    out->method = HF_BOUND_STATED_SCATTER;
    out->value = hf_bound_value(out->family, out->m, out->s, out->h, out->k, out->allowance);
    return HF_OK;
}

hf_status hf_bound_stated_scatter(hf_sample sample, hf_stated_scatter scatter,
                                  const hf_scatter_factors *factors, double content, double confidence,
                                  hf_bound *out) {
    hf_bound assumed;
    bool known = isinf(scatter.degrees_of_freedom);
    hf_bound_clear(out, known ? NULL : &hf_family_lognormal, content, confidence);
    out->n = sample.count;
    if (hf_bound_range(content, confidence, false) != HF_OK) return hf_bound_refuse(out, HF_REASON_RANGE);
    if (known) return hf_bound_assumed_scatter(sample, scatter.cv, false, out);
    assumed = *out;
    hf_status status =
        hf_bound_past_scatter(sample, hf_past_scatter_of(scatter), factors, content, confidence, out);
    if (status != HF_OK) return status;
    if (hf_bound_assumed_scatter(sample, scatter.cv, true, &assumed) == HF_OK && assumed.value < out->value)
        *out = assumed;
    return HF_OK;
}

typedef struct content_search {
    hf_sample sample;
    hf_stated_scatter scatter;
    double load, confidence;
} content_search;

/* Positive while the bound at this content still lies above the load. The unknown is ln(−ln P). */
static double content_excess(double q, void *context) {
    const content_search *search = context;
    hf_bound bound;
    (void)hf_bound_stated_scatter(search->sample, search->scatter, NULL, exp(-exp(q)), search->confidence,
                                  &bound);
    return bound.value - search->load;
}

hf_status hf_stated_scatter_content_at(hf_sample sample, hf_stated_scatter scatter, double load,
                                       double confidence, double *content) {
    content_search search = {sample, scatter, load, confidence};
    bool stepped = hf_sample_step(sample) > 0;
    double lowest = stepped && confidence < 0.90 ? 0.90 : lowest_content;
    return hf_content_search(content_excess, &search, lowest, content);
}
