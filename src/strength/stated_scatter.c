#include "holdfast/strength/stated_scatter.h"

#include <math.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "strength/mids.h"
#include "strength/open_bound.h"

static const double many_degrees = 20;

static double weibull_cv_excess(double log_shape, void *context) {
    double inverse = exp(-log_shape), cv = *(const double *)context;
    return expm1(hf_log_gamma(1 + 2 * inverse) - 2 * hf_log_gamma(1 + inverse)) - cv * cv;
}

double hf_stated_spread(const hf_family *family, double cv, double mean) {
    double log_shape;
    if (!(cv > 0 && cv <= 1)) return NAN;
    if (!family->log_scale) return cv * mean;
    if (!family->has_shape) return sqrt(log1p(cv * cv));
    if (hf_solve_root(weibull_cv_excess, &cv, log(0.5), log(1e7), 1e-14, 1e-14, &log_shape) != HF_OK)
        return NAN;
    return exp(-log_shape);
}

hf_status hf_stated_factor(size_t n, double degrees_of_freedom, double content, double confidence,
                           double *k) {
    double root = sqrt((double)n), z = hf_normal_quantile_lower(content), t;
    if (n < 1 || !(degrees_of_freedom > 0)) return HF_RANGE;
    if (isinf(degrees_of_freedom)) {
        *k = z + hf_normal_quantile_lower(confidence) / root;
        return HF_OK;
    }
    hf_status status = hf_noncentral_t_quantile(confidence, degrees_of_freedom, z * root, &t);
    if (status == HF_OK) *k = t / root;
    return status;
}

static double mean_of_lower_ends(const hf_family *family, hf_sample sample) {
    double sum = 0;
    for (size_t i = 0; i < sample.count; i++) sum += hf_family_working(family, sample.items[i].lower);
    return sum / (double)sample.count;
}

/* Known shape: 2Σ(x/η)^β is chi-square with 2d degrees of freedom. The sum is scaled by the largest load. */
static hf_status with_known_shape(const hf_family *family, hf_sample sample, hf_bound *out) {
    double top = 0, sum = 0, failed = 0, shape = 1 / out->s;
    for (size_t i = 0; i < sample.count; i++) {
        top = fmax(top, sample.items[i].lower);
        failed += sample.items[i].kind != HF_OBSERVED_ABOVE;
    }
    if (failed < 1) return hf_bound_refuse(out, HF_REASON_TOO_FEW);
    if (!(top > 0)) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    for (size_t i = 0; i < sample.count; i++) sum += pow(sample.items[i].lower / top, shape);
    double scale = 2 * sum / hf_chi2_quantile_lower(out->confidence, 2 * failed);
    out->m = log(top) + log(sum / failed) / shape;
    double limit = log(top) + log(scale) / shape + family->quantile_upper(out->content) / shape;
    out->k = (out->m - limit) / out->s;
    out->value = exp(limit);
    return HF_OK;
}

static hf_status with_lower_ends(const hf_family *family, hf_sample sample, hf_bound *out) {
    out->m = mean_of_lower_ends(family, sample);
    if (!isfinite(out->m)) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    out->value = hf_bound_value(family, out->m, out->s, 0, out->k, out->allowance);
    return HF_OK;
}

static hf_status with_mids(const hf_family *family, hf_sample sample, hf_bound *out) {
    hf_mids mids;
    double sum = 0;
    if (hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < mids.count; i++) sum += mids.y[i];
    /* A run-out counts with the load it held: that only lowers the mean, and the spread is not taken from these pulls. */
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_OBSERVED_ABOVE)
            sum += hf_family_working(family, sample.items[i].lower);
    out->m = sum / (double)sample.count;
    out->h = mids.h;
    out->allowance = hf_bound_allowance(NULL, out->content, out->confidence, out->k);
    out->value = hf_bound_value(family, out->m, out->s, out->h, out->k, out->allowance);
    hf_mids_free(&mids);
    return HF_OK;
}

hf_status hf_bound_stated_scatter(const hf_family *family, hf_sample sample, hf_stated_scatter scatter,
                                  double content, double confidence, hf_bound *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    bool known = scatter.degrees_of_freedom > many_degrees;
    hf_bound_clear(out, family, content, confidence);
    out->n = sample.count;
    out->h = 0;
    if (sample.count == 0) return hf_bound_refuse(out, HF_REASON_TOO_FEW);
    if (hf_bound_range(content, confidence, !known && counts.closed > 0) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_STEP_RANGE);
    double mean = 0;
    for (size_t i = 0; i < sample.count; i++) mean += sample.items[i].lower / (double)sample.count;
    out->s = hf_stated_spread(family, scatter.cv, mean);
    if (!(out->s > 0)) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    out->method = HF_BOUND_STATED_SCATTER;
    if (family->has_shape) {
        /* A shape is either known or not; pooled over few degrees of freedom there is no proven factor for it. */
        return known ? with_known_shape(family, sample, out)
                     : hf_bound_refuse(out, HF_REASON_SHAPE_NOT_KNOWN);
    }
    if (hf_stated_factor(sample.count, scatter.degrees_of_freedom, content, confidence, &out->k) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_NUMERIC);
    if (known) return with_lower_ends(family, sample, out);
    if (counts.below > 0) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    return with_mids(family, sample, out);
}
