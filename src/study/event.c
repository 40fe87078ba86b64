#include "study/event.h"

#include <math.h>
#include <string.h>
#include "holdfast/strength/order_statistic.h"
#include "holdfast/strength/sample.h"
#include "holdfast/strength/stated_scatter.h"
#include "holdfast/strength/working_load.h"
#include "study/limits.h"

enum { FREE_ROWS = 3 };

static void count_specimen(const hf_specimen *specimen, hf_assess_counts *counts) {
    switch (specimen->outcome) {
    case HF_OUTCOME_PLANNED:
        counts->planned++;
        return;
    case HF_OUTCOME_VOID:
        counts->voided++;
        return;
    case HF_OUTCOME_HELD:
        counts->run_out += !specimen->reused;
        break;
    case HF_OUTCOME_RIG:
        counts->rig += !specimen->reused;
        break;
    case HF_OUTCOME_FAILED:
        counts->failed += !specimen->reused;
        break;
    }
    counts->reused += specimen->reused;
}

static void count_all(const hf_event_request *request, hf_sample sample, hf_event_assessment *out) {
    for (size_t i = 0; i < request->design->specimen_count; i++)
        count_specimen(&request->design->specimens[i], &out->counts);
    out->counts.used = sample.count;
    hf_sample_counts seen = hf_sample_count(sample);
    out->counts.below = seen.below;
    if (!request->set_event) return;
    /* Of the set event: first movement seen, or watched and not seen; how the part ended is another matter. */
    out->counts.failed = seen.exact + seen.closed + seen.below;
    out->counts.run_out = seen.above;
    out->counts.rig = 0;
}

static void describe(hf_sample sample, hf_event_assessment *out) {
    double sum = 0, squares = 0, n = 0;
    out->min_load = INFINITY;
    out->max_load = -INFINITY;
    out->mean_mid = out->sd_mid = out->cv = NAN;
    out->step_rms = hf_sample_step(sample);
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        bool closed = item->kind == HF_INTERVAL_EXACT || item->kind == HF_INTERVAL_CLOSED;
        out->min_load = fmin(out->min_load, item->lower);
        out->max_load = fmax(out->max_load, item->kind == HF_INTERVAL_ABOVE ? item->lower : item->upper);
        if (!closed) continue;
        sum += 0.5 * (item->lower + item->upper);
        n++;
    }
    if (n < 1) return;
    out->mean_mid = sum / n;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_EXACT && item->kind != HF_INTERVAL_CLOSED) continue;
        double residual = 0.5 * (item->lower + item->upper) - out->mean_mid;
        squares += residual * residual;
    }
    if (n < 2) return;
    double rounding = HF_SAME * out->mean_mid; /* equal middles scatter by nothing */
    out->sd_mid = squares > n * rounding * rounding ? sqrt(squares / (n - 1)) : 0;
    out->cv = out->sd_mid / out->mean_mid;
}

/* None failed: n parts without failure prove a share at the lowest load held. */
static void survivors_bound(hf_sample sample, double lowest, double confidence, hf_bound *out) {
    *out = (hf_bound){.method = HF_BOUND_SURVIVORS, .confidence = confidence, .n = sample.count};
    out->content = hf_success_run_content(sample.count, confidence);
    out->k = out->m = out->s = out->h = NAN;
    out->value = out->lower_end = lowest;
    out->upper_end = NAN;
}

/* Fits and their tests, which no promise enters. */
static hf_status fill_fits(const hf_event_request *request, hf_sample sample, hf_event_assessment *out) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_family *family = hf_family_at(i);
        if (hf_fit_maximum(family, sample, &out->fits[i]) == HF_MEMORY) return HF_MEMORY;
        if (hf_fit_test_run(family, sample, request->seed, HF_TEST_REPLICATES, &out->tests[i]) == HF_MEMORY)
            return HF_MEMORY;
    }
    return HF_OK;
}

/* A part without a batch could be of any, so all must state theirs. */
static hf_status fill_batch_bound(const hf_event_request *request, hf_sample sample, hf_bound *row,
                                  hf_event_assessment *out) {
    hf_batch_bound *batch = &out->batch_bound;
    *batch = (hf_batch_bound){.reason = HF_REASON_TOO_FEW, .value = NAN};
    if (!hf_sample_in_batches(sample, NULL)) return HF_OK;
    hf_status status = hf_batch_bound_of(sample, request->content, request->confidence, batch);
    if (status != HF_OK) return status;
    *row = (hf_bound){.method = HF_BOUND_BATCH,
                      .content = batch->content,
                      .confidence = batch->confidence,
                      .k = batch->k,
                      .m = batch->mean,
                      .s = batch->s,
                      .h = batch->h,
                      .allowance = batch->allowance,
                      .value = batch->value,
                      .n = batch->parts,
                      .lower_end = NAN,
                      .upper_end = NAN};
    return HF_OK;
}

/* The laws' own bounds; `leading`: only of laws that can lead; here and below what cannot is left out. */
static hf_status fill_law_bounds(const hf_event_request *request, hf_sample sample, bool leading,
                                 hf_bound *bounds) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_family *family = hf_family_at(i);
        if (leading && family != hf_family_governing(NULL) && family != request->family)
            bounds[i] = (hf_bound){.family = family, .method = HF_BOUND_NONE};
        else if (hf_bound_family(family, sample, request->content, request->confidence, &bounds[i]) ==
                 HF_MEMORY)
            return HF_MEMORY;
    }
    return HF_OK;
}

/* Where no bound from batch means is to be had, a scatter between batches that is stated counts. */
static hf_status find_between(const hf_event_request *request, hf_sample sample, hf_event_assessment *out) {
    const hf_between *stated = &request->design->between_batches;
    out->between = out->mean_log_load = NAN;
    if (!stated->given || request->set_event || out->batch_bound.batches > 1) return HF_OK;
    hf_status status = hf_mean_log_load(sample, &out->mean_log_load);
    if (status == HF_OK) out->between = hf_family_lognormal.spread_of_cv(stated->cv);
    return status == HF_MEMORY ? status : HF_OK;
}

static hf_status fill_bounds(hf_arena *arena, const hf_event_request *request, hf_sample sample, bool leading,
                             hf_event_assessment *out) {
    hf_bound *bounds = HF_ARENA_NEW_ARRAY(arena, hf_bound, HF_FAMILY_COUNT + FREE_ROWS + 3);
    const hf_scatter *scatter = &request->design->scatter;
    hf_sample_counts counts = hf_sample_count(sample);
    size_t count = HF_FAMILY_COUNT;
    if (!bounds || fill_law_bounds(request, sample, leading, bounds) != HF_OK) return HF_MEMORY;
    (void)hf_bound_order_statistic(sample, request->content, request->confidence, &bounds[count++]);
    if (!leading || hf_law_rejected(out, hf_family_governing(NULL)) || hf_law_rejected(out, request->family))
        (void)hf_bound_hanson_koopmans(sample, request->content, request->confidence, &bounds[count++]);
    if (sample.count > 0 && counts.above == sample.count)
        survivors_bound(sample, out->min_load, request->confidence, &bounds[count++]);
    if (scatter->given && !request->set_event) {
        const hf_stated_scatter stated = hf_scatter_stated(scatter);
        out->confrontation = hf_stated_scatter_confront(sample, stated);
        out->own_from_parts =
            hf_scatter_hands_over(stated, request->content, request->confidence, sample.count);
        if (hf_bound_stated_scatter(sample, stated, NULL, request->content, request->confidence,
                                    &bounds[count++]) == HF_MEMORY)
            return HF_MEMORY;
    }
    if (fill_batch_bound(request, sample, &bounds[count], out) == HF_MEMORY) return HF_MEMORY;
    count += bounds[count].method == HF_BOUND_BATCH;
    if (find_between(request, sample, out) == HF_MEMORY) return HF_MEMORY;
    out->one_batch = isnan(out->between) ? NULL : &bounds[count];
    out->bounds = bounds;
    out->bound_count = count;
    return HF_OK;
}

/* Of fits and description that are there: the bound that governs; NaN: none is assured. */
static hf_status assured_bound(hf_arena *arena, const hf_event_request *request, hf_sample sample,
                               hf_event_assessment *other, double *bound) {
    if (fill_bounds(arena, request, sample, true, other) != HF_OK) return HF_MEMORY;
    hf_event_choose(request->family, other);
    *bound = other->governing && !other->not_assured ? other->governing->value : NAN;
    return HF_OK;
}

hf_status hf_event_bound_of(hf_arena *arena, const hf_event_request *request, hf_sample sample, double *out) {
    hf_event_assessment other = {0};
    other.counts.used = sample.count;
    describe(sample, &other);
    if (fill_fits(request, sample, &other) != HF_OK) return HF_MEMORY;
    return assured_bound(arena, request, sample, &other, out);
}

static void calibrate(const hf_rig *rig, double confidence, hf_event_assessment *out) {
    out->calibration_u = out->calibration_z = out->calibrated = NAN;
    out->calibration_multiplier = 1;
    if (!out->governing) return;
    double value = out->governing->value;
    out->calibration_u =
        value > 0 ? hf_uncertainty_combined(rig->uncertainty, rig->uncertainty_count, value) : 0;
    out->calibration_multiplier =
        hf_calibration_multiplier(out->calibration_u, confidence, &out->calibration_z);
    out->calibrated = value * out->calibration_multiplier;
}

hf_status hf_event_bound(hf_arena *arena, const hf_event_request *request, hf_sample sample,
                         const hf_event_assessment *event, double *bound, double *calibrated) {
    hf_event_assessment other = *event;
    *bound = NAN;
    if (calibrated) *calibrated = NAN;
    if (!event->governing) return HF_OK;
    other.rejected_law = other.confirming = other.without_batches = other.governing = NULL;
    other.one_batch = NULL;
    other.not_assured = false;
    hf_status status = assured_bound(arena, request, sample, &other, bound);
    if (status != HF_OK || isnan(*bound) || !calibrated) return status;
    calibrate(&request->campaign->rig, request->promised, &other);
    *calibrated = other.calibrated;
    return HF_OK;
}

/* With other pulls counted in too. */
static hf_status sensitivity(hf_arena *arena, const hf_event_request *request, hf_extra_pulls with,
                             const hf_event_assessment *event, double *out) {
    hf_pulled pulled;
    *out = NAN;
    if (!event->governing) return HF_OK;
    if (hf_gather_pulls(arena, request, with, &pulled) != HF_OK) return HF_MEMORY;
    return pulled.sample.count == event->counts.used ? HF_OK
                                                     : hf_event_bound_of(arena, request, pulled.sample, out);
}

hf_status hf_event_assess(hf_arena *arena, const hf_event_request *request, const hf_pulled *pulled,
                          hf_event_assessment *out) {
    const hf_sample sample = pulled->sample;
    memset(out, 0, sizeof *out);
    count_all(request, sample, out);
    if (hf_batch_test_run(sample, &out->batch) == HF_MEMORY) return HF_MEMORY;
    describe(sample, out);
    hf_outlier_test_run(sample, &out->outlier);
    if (out->outlier.available) out->outlier_id = pulled->specimens[out->outlier.index]->id;
    hf_status status = fill_fits(request, sample, out);
    if (status == HF_OK) status = fill_bounds(arena, request, sample, false, out);
    if (status != HF_OK) return status;
    hf_event_choose(request->family, out);
    calibrate(&request->campaign->rig, request->promised, out);
    if (!request->set_event && hf_name_one_record(arena, request, pulled, out) == HF_MEMORY) return HF_MEMORY;
    status = sensitivity(arena, request, HF_EXTRA_VOID, out, &out->with_void);
    return status != HF_OK ? status : sensitivity(arena, request, HF_EXTRA_REUSED, out, &out->with_reused);
}
