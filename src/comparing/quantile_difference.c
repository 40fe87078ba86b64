#include "holdfast/comparing/quantile_difference.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/vector.h"

enum { USUAL_DRAWS = 40000 };

/* Draws of the quantile on the working scale into out. Each design has its own seed, so that their draws are independent. */
static hf_status draw_quantiles(hf_arena *arena, const hf_family *family, hf_sample sample, double content,
                                uint64_t seed, size_t draws, double *out) {
    double *s = HF_ARENA_NEW_ARRAY(arena, double, draws), z = family->quantile_upper(content);
    if (!s) return HF_MEMORY;
    hf_status status = hf_conditional_draws(family, sample, seed, draws, out, s);
    for (size_t i = 0; status == HF_OK && i < draws; i++) out[i] += z * s[i];
    return status;
}

/* Middle and interval of values, which are reordered. */
static void summary_of(double *values, size_t count, double level, double *middle, double *low,
                       double *high) {
    size_t tail = (size_t)(0.5 * level * (double)count);
    *middle = hf_vector_select(values, count, count / 2);
    *low = hf_vector_select(values, count, tail);
    *high = hf_vector_select(values, count, count - 1 - tail);
}

static double share_p(const double *a, const double *b, size_t count) {
    double above = 0, least = 1 / (double)count;
    for (size_t i = 0; i < count; i++) above += a[i] > b[i] ? 1 : a[i] == b[i] ? 0.5 : 0;
    double share = fmin(above, (double)count - above) * least;
    return fmin(1, fmax(least, 2 * share));
}

hf_status hf_quantile_difference_of(hf_arena *arena, const hf_family *family, hf_sample a, hf_sample b,
                                    double content, double level, uint64_t seed, size_t draws,
                                    hf_quantile_difference *out) {
    size_t count = draws ? draws : USUAL_DRAWS;
    double low, high;
    memset(out, 0, sizeof *out);
    if (!(content >= 0.5 && content < 1) || !(level > 0 && level < 1) || count < 100) return HF_RANGE;
    double *x = HF_ARENA_NEW_ARRAY(arena, double, count), *y = HF_ARENA_NEW_ARRAY(arena, double, count);
    double *work = HF_ARENA_NEW_ARRAY(arena, double, count);
    if (!x || !y || !work) return HF_MEMORY;
    hf_status status = draw_quantiles(arena, family, a, content, seed, count, x);
    if (status == HF_OK) status = draw_quantiles(arena, family, b, content, ~seed, count, y);
    if (status != HF_OK) return status;
    out->family = family;
    out->content = content;
    out->level = level;
    out->draws = count;
    out->p = share_p(x, y, count);
    out->ratio = out->ratio_low = out->ratio_high = NAN;
    if (family->log_scale) {
        for (size_t i = 0; i < count; i++) work[i] = x[i] - y[i];
        summary_of(work, count, level, &out->ratio, &out->ratio_low, &out->ratio_high);
        out->ratio = exp(out->ratio);
        out->ratio_low = exp(out->ratio_low);
        out->ratio_high = exp(out->ratio_high);
    }
    for (size_t i = 0; i < count; i++) work[i] = hf_family_load(family, x[i]) - hf_family_load(family, y[i]);
    summary_of(work, count, level, &out->difference, &out->difference_low, &out->difference_high);
    summary_of(x, count, level, &out->quantile_a, &low, &high);
    summary_of(y, count, level, &out->quantile_b, &low, &high);
    out->quantile_a = hf_family_load(family, out->quantile_a);
    out->quantile_b = hf_family_load(family, out->quantile_b);
    return HF_OK;
}
