#include <math.h>
#include <stdint.h>
#include "comparing/open_compare_private.h"
#include "holdfast/base/memory.h"
#include "holdfast/comparing/power.h"
#include "holdfast/numeric/special.h"

typedef struct open_group {
    double m, s, h;
    double share;    /* (se(m̂)/ŝ)² : 1/n for whole normal data */
    double finished; /* d */
} open_group;

/* The sample with every closed step at its mid. */
static double put_at_mids(const hf_family *family, hf_sample sample, hf_observation *out) {
    double squares = 0, closed = 0;
    for (size_t i = 0; i < sample.count; i++) {
        out[i] = sample.items[i];
        if (out[i].kind != HF_INTERVAL_CLOSED) continue;
        double low = hf_family_working(family, out[i].lower), high = hf_family_working(family, out[i].upper);
        double width = (high - low) * (out[i].dropped ? 2 : 1),
               load = hf_family_load(family, 0.5 * (low + high));
        out[i] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, out[i].batch};
        squares += width * width;
        closed++;
    }
    return closed > 0 ? sqrt(squares / closed) : 0;
}

static hf_status describe(const hf_family *family, hf_sample sample, open_group *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_fit fit;
    if (counts.exact + counts.closed < 2) return HF_NO_RESULT;
    if (sample.count > SIZE_MAX / sizeof(hf_observation)) return HF_MEMORY;
    hf_observation *items = hf_memory_take(sample.count, sizeof *items);
    if (!items) return HF_MEMORY;
    out->h = put_at_mids(family, sample, items);
    hf_status status = hf_fit_maximum(family, (hf_sample){items, sample.count}, &fit);
    hf_memory_free(items);
    if (status != HF_OK) return status;
    out->finished = (double)(counts.exact + counts.closed);
    out->m = fit.m;
    out->s = fit.s * sqrt(out->finished / (out->finished - 1));
    out->share = fit.se_m * fit.se_m / (fit.s * fit.s);
    return HF_OK;
}

/* variance·share as variance over 1/share parts, so that the one rule for degrees of freedom serves; its n − 1 must be d − 1. */
static double degrees_of_freedom_of(double part_a, double d_a, double part_b, double d_b) {
    hf_power_setup setup = {d_a, d_b, part_a * d_a, part_b * d_b, 0.05, false};
    return hf_power_degrees_of_freedom(&setup);
}

hf_status hf_open_compare_welch(const hf_family *family, hf_sample a, hf_sample b,
                                const hf_open_compare_options *options, hf_open_compare *out) {
    double level = options && options->level != 0 ? options->level : 0.05;
    open_group group_a, group_b;
    hf_open_compare_clear(out, false);
    if (!family->log_scale) return hf_open_compare_refuse(out, HF_NO_RESULT, "not_log_scale");
    if (!(level > 0 && level < 1)) return hf_open_compare_refuse(out, HF_NO_RESULT, "range");
    hf_sample_counts counts_a = hf_sample_count(a), counts_b = hf_sample_count(b);
    if (counts_a.exact + counts_a.closed < 2 || counts_b.exact + counts_b.closed < 2)
        return hf_open_compare_refuse(out, HF_NO_RESULT, "too_few");
    hf_status status = describe(family, a, &group_a);
    if (status == HF_OK) status = describe(family, b, &group_b);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK)
        return hf_open_compare_refuse(out, status, status == HF_NUMERIC ? "numeric" : "no_maximum");
    double part_a = (group_a.s * group_a.s + 0.125 * group_a.h * group_a.h) * group_a.share;
    double part_b = (group_b.s * group_b.s + 0.125 * group_b.h * group_b.h) * group_b.share;
    double error = sqrt(part_a + part_b);
    out->m_a = group_a.m;
    out->m_b = group_b.m;
    out->s_a = group_a.s;
    out->s_b = group_b.s;
    out->difference = out->m_a - out->m_b;
    out->statistic = out->difference / error;
    out->degrees_of_freedom = degrees_of_freedom_of(part_a, group_a.finished, part_b, group_b.finished);
    out->p = fmin(1, 2 * hf_t_upper(fabs(out->statistic), out->degrees_of_freedom));
    double half = hf_t_quantile_upper(0.5 * level, out->degrees_of_freedom) * error;
    out->ratio = exp(out->difference);
    out->low = exp(out->difference - half);
    out->high = exp(out->difference + half);
    out->available = true;
    return HF_OK;
}

hf_status hf_open_compare_of(hf_sample a, hf_sample b, double level, hf_open_compare *out) {
    const hf_family *family = &hf_family_lognormal;
    hf_open_compare_options common = {true, level}, own = {false, level};
    hf_open_compare carried;
    hf_status status = hf_open_compare_likelihood(family, a, b, &common, out);
    if (status == HF_OK || status == HF_MEMORY) return status;
    if (hf_open_compare_welch(family, a, b, &own, &carried) == HF_MEMORY) return HF_MEMORY;
    if (!carried.available) return status;
    *out = carried;
    return HF_OK;
}
