/* Known scatter: the normal bound m − (z_P + z_C/√n)·cv·m, and the Weibull bound of known shape β, by 2Σ(x/η)^β ~ χ²(2d). */
#include "strength/assumed_scatter.h"

#include <math.h>
#include "holdfast/numeric/special.h"
#include "strength/open_bound.h"

/* The load that a pull counts with. A run-out counts with what it held: that only lowers the bound. */
static double load_of(const hf_observation *item, bool at_middles) {
    bool closed = item->kind == HF_INTERVAL_CLOSED || item->kind == HF_INTERVAL_EXACT;
    return at_middles && closed ? 0.5 * (item->lower + item->upper) : item->lower;
}

static void with_normal(hf_sample sample, double cv, bool at_middles, hf_bound *out) {
    double sum = 0, size = (double)sample.count;
    for (size_t i = 0; i < sample.count; i++) sum += load_of(&sample.items[i], at_middles);
    out->family = &hf_family_normal;
    out->m = sum / size;
    out->s = hf_stated_spread(out->family, cv, out->m);
    out->h = at_middles ? hf_sample_step(sample) : 0;
    out->k = hf_normal_quantile_lower(out->content) + hf_normal_quantile_lower(out->confidence) / sqrt(size);
    out->allowance = hf_bound_allowance(NULL, out->content, out->k);
    out->method = HF_BOUND_STATED_SCATTER;
    out->value = hf_bound_value(out->family, out->m, out->s, out->h, out->k, out->allowance);
}

/* The sum is scaled by the largest load, which keeps the power in range. */
static bool with_weibull(hf_sample sample, double cv, bool at_middles, hf_bound *out) {
    double top = 0, sum = 0, failed = 0;
    for (size_t i = 0; i < sample.count; i++) {
        top = fmax(top, load_of(&sample.items[i], at_middles));
        failed += sample.items[i].kind != HF_INTERVAL_ABOVE;
    }
    out->family = &hf_family_weibull;
    out->s = hf_stated_spread(out->family, cv, 1);
    if (failed < 1 || !(top > 0) || !(out->s > 0)) return false;
    for (size_t i = 0; i < sample.count; i++)
        sum += pow(load_of(&sample.items[i], at_middles) / top, 1 / out->s);
    double scale = 2 * sum / hf_chi2_quantile_lower(out->confidence, 2 * failed);
    out->m = log(top) + out->s * log(sum / failed);
    double limit = log(top) + out->s * (log(scale) + out->family->quantile_upper(out->content));
    out->k = (out->m - limit) / out->s;
    out->h = 0;
    out->method = HF_BOUND_STATED_SCATTER;
    out->value = exp(limit);
    return true;
}

hf_status hf_bound_assumed_scatter(hf_sample sample, double cv, bool at_middles, hf_bound *out) {
    out->scatter.at_middles = at_middles;
    hf_bound weibull = *out;
    if (sample.count == 0) return hf_bound_refuse(out, HF_REASON_TOO_FEW);
    if (!(cv > 0 && cv <= 1)) return hf_bound_refuse(out, HF_REASON_RANGE);
    with_normal(sample, cv, at_middles, out);
    out->n = weibull.n = sample.count;
    if (!(out->m > 0)) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    if (with_weibull(sample, cv, at_middles, &weibull) && weibull.value < out->value) *out = weibull;
    return HF_OK;
}
