/* Bounds with open observations: which rule applies (methods.md 3). */
#include "strength/open_bound.h"

#include <math.h>
#include <stdint.h>
#include "holdfast/base/memory.h"
#include "strength/conditional.h"
#include "strength/mids.h"

typedef struct open_sample {
    hf_mids mids;
    double *ends; /* above, then below */
    hf_open_data data;
} open_sample;

static hf_status open_sample_of(const hf_family *family, hf_sample sample, open_sample *open) {
    hf_sample_counts counts = hf_sample_count(sample);
    if (sample.count > SIZE_MAX / sizeof(double)) return HF_MEMORY;
    open->ends = hf_memory_take(sample.count, sizeof *open->ends);
    if (!open->ends) return HF_MEMORY;
    if (hf_mids_of(family, sample, &open->mids) != HF_OK) {
        hf_memory_free(open->ends);
        return HF_MEMORY;
    }
    size_t above = 0, below = counts.above;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind == HF_INTERVAL_ABOVE) open->ends[above++] = hf_family_working(family, item->lower);
        if (item->kind == HF_INTERVAL_BELOW) open->ends[below++] = hf_family_working(family, item->upper);
    }
    open->data = (hf_open_data){open->mids.y, open->mids.count,          open->ends,
                                counts.above, open->ends + counts.above, counts.below};
    return HF_OK;
}

static void open_sample_free(open_sample *open) {
    hf_mids_free(&open->mids);
    hf_memory_free(open->ends);
}

static bool all_equal(const double *y, size_t n) {
    for (size_t i = 1; i < n; i++)
        if (y[i] != y[0]) return false;
    return true;
}

static bool any_above(const hf_open_data *data, double value) {
    for (size_t i = 0; i < data->above_count; i++)
        if (data->above[i] > value) return true;
    return false;
}

static hf_status conditional(const open_sample *open, hf_bound *out) {
    double limit;
    hf_status status = hf_conditional_bound(out->family, &open->data, out->content, out->confidence, &out->m,
                                            &out->s, &limit);
    if (status != HF_OK) return hf_bound_refuse(out, HF_REASON_NUMERIC);
    out->h = open->mids.h;
    out->k = (out->m - limit) / out->s;
    out->allowance = hf_bound_allowance(out->family, out->content, out->k);
    out->method = HF_BOUND_CONDITIONAL;
    out->value = hf_bound_value(out->family, out->m, out->s, out->h, out->k, out->allowance);
    return HF_OK;
}

/* All failing middles equal: the complete-data factor for the failed parts, or the conditional answer where a run-out
 * above the common middle makes it possible; the lower of the two. */
static hf_status one_step(const open_sample *open, hf_bound *out) {
    hf_bound other = *out;
    hf_status status =
        out->family->factor(open->data.count, out->content, out->confidence, &out->k, &out->k_error);
    if (status != HF_OK) return hf_bound_refuse(out, hf_bound_factor_reason(status));
    out->m = open->data.y[0];
    out->s = 0;
    out->h = open->mids.h;
    out->allowance = hf_bound_allowance(out->family, out->content, out->k);
    out->method = HF_BOUND_FACTOR;
    out->value = hf_bound_value(out->family, out->m, out->s, out->h, out->k, out->allowance);
    bool possible = any_above(&open->data, open->data.y[0]);
    if (possible && conditional(open, &other) == HF_OK && (other.value < out->value || out->h == 0))
        *out = other;
    if (!possible && out->h == 0) return hf_bound_refuse(out, HF_REASON_ONE_VALUE);
    return HF_OK;
}

hf_status hf_bound_open(const hf_family *family, hf_sample sample, hf_bound *out) {
    open_sample open;
    if (open_sample_of(family, sample, &open) != HF_OK) return HF_MEMORY;
    hf_status status;
    if (hf_bound_range(out->content, out->confidence, open.mids.h > 0) != HF_OK)
        status = hf_bound_refuse(out, HF_REASON_STEP_RANGE);
    else if (open.data.count < 2)
        status = hf_bound_refuse(out, HF_REASON_TOO_FEW);
    else if (!all_equal(open.data.y, open.data.count))
        status = conditional(&open, out);
    else if (open.data.below_count > 0)
        status = hf_bound_refuse(out, HF_REASON_ONE_STEP_AND_BELOW);
    else
        status = one_step(&open, out);
    open_sample_free(&open);
    return status;
}
