#include "holdfast/comparing/group.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/numeric/vector.h"

static const double step_allowance = 1.0 / 8;

hf_group hf_group_from_summary(size_t n, double mean, double s, double h) {
    double spread = n > 1 ? s : NAN;
    return (hf_group){n, mean, spread, h, spread * spread + h * h * step_allowance, NULL, NULL};
}

/* Summing equal values leaves a rounding error that would pass for scatter. */
static bool all_equal(const double *y, size_t n) {
    for (size_t i = 1; i < n; i++)
        if (y[i] != y[0]) return false;
    return true;
}

hf_group hf_group_from_mids(const double *y, size_t n, double h) {
    double mean = y[0], s = 0;
    if (!all_equal(y, n)) hf_vector_mean_sd(y, n, &mean, &s);
    hf_group group = hf_group_from_summary(n, mean, s, h);
    group.y = y;
    return group;
}

hf_status hf_group_of(hf_arena *arena, hf_sample sample, hf_group *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    double squares = 0;
    *out = (hf_group){0};
    if (sample.count == 0 || counts.above + counts.below > 0) return HF_NO_RESULT;
    double *y = HF_ARENA_NEW_ARRAY(arena, double, sample.count);
    double *width = HF_ARENA_NEW_ARRAY(arena, double, sample.count);
    if (!y || !width) return HF_MEMORY;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (!(item->lower > 0 && item->upper >= item->lower && isfinite(item->upper))) return HF_RANGE;
        double low = log(item->lower), high = log(item->upper);
        y[i] = 0.5 * (low + high);
        if (item->kind == HF_INTERVAL_EXACT) continue;
        width[i] = (high - low) * (item->dropped ? 2 : 1);
        squares += width[i] * width[i];
    }
    *out = hf_group_from_mids(y, sample.count, counts.closed ? sqrt(squares / (double)counts.closed) : 0);
    out->width = width;
    return HF_OK;
}
