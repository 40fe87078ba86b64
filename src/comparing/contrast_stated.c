/* Stated scatter: the mean of n pulls lies between the mean of their lower and of their upper ends, whatever the ladder. */
#include "holdfast/comparing/contrast.h"

#include <math.h>
#include "comparing/welch.h"
#include "holdfast/comparing/power.h"
#include "holdfast/numeric/special.h"

typedef struct mean_range {
    double low, mid, high; /* mean ln load by lower ends, mids, upper ends */
} mean_range;

static mean_range mean_range_of(hf_sample sample) {
    mean_range out = {0, 0, 0};
    double n = (double)sample.count;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double low = log(item->lower), high = log(hf_observation_upper(item));
        out.low += low / n;
        out.high += high / n;
    }
    if (isfinite(out.low) && isfinite(out.high))
        out.mid = 0.5 * (out.low + out.high);
    else
        out.mid = isfinite(out.low) ? out.low : out.high;
    return out;
}

/* Satterthwaite for variances of stated degrees of freedom, which may be infinite. */
static double degrees_of_freedom_of(double part_a, double nu_a, double part_b, double nu_b) {
    double sum = part_a + part_b, spread = 0;
    if (isfinite(nu_a)) spread += part_a * part_a / nu_a;
    if (isfinite(nu_b)) spread += part_b * part_b / nu_b;
    return spread > 0 ? sum * sum / spread : INFINITY;
}

/* p of the nearest allowed difference; the same-within tests use the farthest. */
static void fill_tests(double low, double high, hf_contrast *out) {
    double nearest = low > 0 ? low : high < 0 ? high : 0, nu = out->degrees_of_freedom;
    out->t = nearest / out->standard_error;
    out->p = fmin(1, 2 * hf_t_upper(fabs(out->t), nu));
    double half = hf_t_quantile_upper(0.5 * out->level, nu) * out->standard_error;
    out->ratio = exp(out->difference);
    out->low = exp(low - half);
    out->high = exp(high + half);
    if (!(out->same_within > 0)) return;
    double margin = log1p(out->same_within);
    out->p_not_lower = hf_t_upper((margin + low) / out->standard_error, nu);
    out->p_not_higher = hf_t_upper((margin - high) / out->standard_error, nu);
    out->p_same = fmax(out->p_not_lower, out->p_not_higher);
}

/* Of ln load. */
static double variance_of(hf_stated_scatter scatter) {
    double s0 = scatter.pooled.s0;
    return scatter.pooled.degrees > 0 ? s0 * s0 : log1p(scatter.cv * scatter.cv);
}

static bool stated(hf_stated_scatter scatter) {
    return scatter.cv > 0 && scatter.cv <= 1 && scatter.degrees_of_freedom > 0;
}

hf_status hf_contrast_stated(hf_sample a, hf_sample b, hf_stated_scatter scatter_a,
                             hf_stated_scatter scatter_b, const hf_contrast_options *options,
                             hf_contrast *out) {
    hf_contrast_options filled = options ? *options : (hf_contrast_options){0};
    hf_contrast_clear(out);
    if (!hf_contrast_options_fill(&filled)) return hf_contrast_refuse(out, HF_CONTRAST_RANGE);
    out->level = filled.level;
    out->same_within = filled.same_within;
    out->power = filled.power;
    if (!stated(scatter_a) || !stated(scatter_b)) return hf_contrast_refuse(out, HF_CONTRAST_NOT_STATED);
    if (a.count < 1 || b.count < 1) return hf_contrast_refuse(out, HF_CONTRAST_ONE_PART);
    mean_range mean_a = mean_range_of(a), mean_b = mean_range_of(b);
    double part_a = variance_of(scatter_a) / (double)a.count;
    double part_b = variance_of(scatter_b) / (double)b.count;
    out->difference = mean_a.mid - mean_b.mid;
    if (!isfinite(out->difference)) return hf_contrast_refuse(out, HF_CONTRAST_OPEN_OBSERVATIONS);
    out->standard_error = sqrt(part_a + part_b);
    out->degrees_of_freedom =
        degrees_of_freedom_of(part_a, scatter_a.degrees_of_freedom, part_b, scatter_b.degrees_of_freedom);
    fill_tests(mean_a.low - mean_b.high, mean_a.high - mean_b.low, out);
    out->available = true;
    return HF_OK;
}
