#include "holdfast/comparing/group.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/sample.h"

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

hf_group hf_group_from_batch_means(const double *mean, size_t n, double h, double inverse) {
    return hf_group_from_mids(mean, n, h * sqrt(inverse / (double)n));
}

/* Numbers of 0 … highest that no part states are left out. Counted from one of the readings, so that equal ones give equal means. size, mean:
 * zeroed. */
static hf_group from_batches(const hf_group *parts, hf_sample sample, double *size, double *mean,
                             size_t highest) {
    size_t batches = 0;
    double inverse = 0;
    for (size_t i = 0; i < sample.count; i++) size[sample.items[i].batch]++;
    for (size_t i = 0; i < sample.count; i++)
        mean[sample.items[i].batch] += (parts->y[i] - parts->y[0]) / size[sample.items[i].batch];
    for (size_t i = 0; i <= highest; i++) {
        if (size[i] == 0) continue;
        inverse += 1 / size[i];
        mean[batches++] = parts->y[0] + mean[i];
    }
    return hf_group_from_batch_means(mean, batches, parts->h, inverse);
}

hf_status hf_group_of_batches(hf_arena *arena, hf_sample sample, hf_group *out) {
    hf_group parts;
    int highest = 0;
    bool several;
    hf_status status = hf_group_of(arena, sample, &parts);
    if (status != HF_OK) return status;
    (void)hf_sample_in_batches(sample, &several);
    if (!several) return HF_NO_RESULT;
    for (size_t i = 0; i < sample.count; i++)
        highest = sample.items[i].batch > highest ? sample.items[i].batch : highest;
    double *size = HF_ARENA_NEW_ARRAY(arena, double, (size_t)highest + 1);
    double *mean = HF_ARENA_NEW_ARRAY(arena, double, (size_t)highest + 1);
    if (!size || !mean) return HF_MEMORY;
    *out = from_batches(&parts, sample, size, mean, (size_t)highest);
    return HF_OK;
}
