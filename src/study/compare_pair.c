/* One pair of designs: what stands beside the verdict. */
#include <math.h>
#include <string.h>
#include "holdfast/load/rig.h"
#include "study/compare_parts.h"

static const double same_rung = 1e-9, most_pairs = 1e8;

static bool is_finished(hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    return counts.above + counts.below == 0;
}

/* --- Relabeling -------------------------------------------------------------------------------------- */

static const hf_written_ladder *ladder_of(const hf_campaign *campaign, const hf_design *design) {
    for (size_t i = 0; i < campaign->plan.count; i++)
        if (strcmp(campaign->plan.ladders[i].design, design->id) == 0 && campaign->plan.ladders[i].count > 1)
            return &campaign->plan.ladders[i];
    return NULL;
}

static bool near(double a, double b) {
    return fabs(a - b) <= same_rung * b;
}

static bool has_rung(const hf_campaign *campaign, const hf_written_ladder *ladder, double force) {
    for (size_t i = 0; i < ladder->count; i++)
        if (near(hf_rig_force_of_record(&campaign->rig.force, ladder->rungs[i].newtons), force)) return true;
    return false;
}

/* Whether the pulls were made on the ladder that was planned. */
static bool pulled_on(const hf_campaign *campaign, const hf_written_ladder *ladder, hf_sample sample) {
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_CLOSED || !has_rung(campaign, ladder, item->lower) ||
            !has_rung(campaign, ladder, item->upper))
            return false;
    }
    return true;
}

/* Rungs that both planned ladders share; none when they agree, or when the pulls were not made on them. */
static hf_status planned_rungs(hf_arena *arena, const hf_compare_pair_request *request,
                               hf_relabel_options *options) {
    const hf_campaign *campaign = request->campaign;
    const hf_written_ladder *a = ladder_of(campaign, request->a->design),
                            *b = ladder_of(campaign, request->b->design);
    if (!a || !b || !pulled_on(campaign, a, request->a->sample) ||
        !pulled_on(campaign, b, request->b->sample))
        return HF_OK;
    double *rungs = HF_ARENA_NEW_ARRAY(arena, double, a->count);
    size_t count = 0;
    if (!rungs) return HF_MEMORY;
    for (size_t i = 0; i < a->count; i++) {
        double force = hf_rig_force_of_record(&campaign->rig.force, a->rungs[i].newtons);
        bool higher = count == 0 || force > rungs[count - 1] * (1 + same_rung);
        if (higher && has_rung(campaign, b, force)) rungs[count++] = force;
    }
    if (count < 2 || (count == a->count && count == b->count)) return HF_OK;
    options->rungs = rungs;
    options->rung_count = count;
    return HF_OK;
}

static hf_status relabel(hf_arena *arena, const hf_compare_pair_request *request, hf_comparison_pair *out) {
    hf_relabel_options options = {.seed = request->options->seed};
    hf_status status = planned_rungs(arena, request, &options);
    if (status != HF_OK) return status;
    status = hf_relabel_test(arena, request->a->sample, request->b->sample, &options, &out->relabel);
    out->planned_rungs = options.rungs && out->relabel.coarsened;
    return status == HF_MEMORY ? status : HF_OK;
}

/* --- By batches -------------------------------------------------------------------------------------- */

/* Where batch means decide, nothing that takes each part for itself gives a chance or an interval: it would claim too much. What it finds
 * the likeliest stands. */
static void keep_estimates(hf_comparison_pair *out) {
    out->outlasts.low = out->outlasts.high = out->outlasts.p = out->outlasts.statistic = NAN;
    out->quantile.difference_low = out->quantile.difference_high = NAN;
    out->quantile.ratio_low = out->quantile.ratio_high = out->quantile.p = NAN;
    out->p_spread = NAN;
}

/* --- Middles ----------------------------------------------------------------------------------------- */

static hf_status from_middles(hf_arena *arena, const hf_compare_pair_request *request,
                              hf_comparison_pair *out) {
    hf_group a, b;
    hf_spread_test spread;
    hf_status status = hf_group_of(arena, request->a->sample, &a);
    if (status == HF_OK) status = hf_group_of(arena, request->b->sample, &b);
    if (status != HF_OK || a.n < 2 || b.n < 2) return status == HF_MEMORY ? status : HF_OK;
    bool all = !request->options->verdicts_only;
    if (all) status = hf_outlasts_of(arena, a.y, a.n, b.y, b.n, request->options->level, &out->outlasts);
    if (status == HF_MEMORY) return status;
    out->outlasts_available = all && status == HF_OK;
    const hf_value_group groups[] = {{a.y, a.n}, {b.y, b.n}};
    status = hf_levene_test(arena, groups, 2, &spread);
    if (status == HF_MEMORY) return status;
    if (status == HF_OK) out->p_spread = spread.p;
    if (out->method == HF_COMPARISON_BATCH_MEANS &&
        (hf_group_of_batches(arena, request->a->sample, &a) != HF_OK ||
         hf_group_of_batches(arena, request->b->sample, &b) != HF_OK))
        return HF_MEMORY;
    out->games_howell_available =
        all && request->designs > 2 &&
        hf_games_howell_pair(&a, &b, request->designs, request->options->level, &out->games_howell) == HF_OK;
    return HF_OK;
}

/* 1 when a surely outlasts b, 0 when b surely outlasts a, −1 when the pulls leave it open; equal readings tie at one half. */
static double outlasts(const hf_observation *a, const hf_observation *b) {
    bool open = a->kind == HF_INTERVAL_ABOVE || b->kind == HF_INTERVAL_ABOVE ||
                a->kind == HF_INTERVAL_BELOW || b->kind == HF_INTERVAL_BELOW;
    double middle_a = sqrt(a->lower * a->upper), middle_b = sqrt(b->lower * b->upper);
    if (!open) return near(middle_a, middle_b) ? 0.5 : middle_a > middle_b ? 1 : 0;
    if (a->lower >= b->upper) return 1;
    return b->lower >= a->upper ? 0 : -1;
}

static void count_pairs(const hf_compare_pair_request *request, hf_comparison_pair *out) {
    hf_sample a = request->a->sample, b = request->b->sample;
    double sure = 0, open = 0, pairs = (double)a.count * (double)b.count;
    out->least = out->most = NAN;
    if (pairs > most_pairs) return;
    for (size_t i = 0; i < a.count; i++)
        for (size_t j = 0; j < b.count; j++) {
            double one = outlasts(&a.items[i], &b.items[j]);
            if (one < 0)
                open++;
            else
                sure += one;
        }
    out->least = pairs > 0 ? sure / pairs : NAN;
    out->most = pairs > 0 ? (sure + open) / pairs : NAN;
}

/* --- Quantiles --------------------------------------------------------------------------------------- */

static hf_status compare_quantiles(hf_arena *arena, const hf_compare_pair_request *request,
                                   hf_comparison_pair *out) {
    const hf_family *a = hf_compare_family(request->a), *b = hf_compare_family(request->b);
    const hf_family *family = a == b ? a : hf_family_governing(NULL);
    double content = fmax(request->a->content, request->b->content);
    hf_status status =
        hf_quantile_difference_of(arena, family, request->a->sample, request->b->sample, content,
                                  request->options->level, request->options->seed, 0, &out->quantile);
    out->quantile_available = status == HF_OK;
    out->quantile.family = family;
    out->quantile.content = content;
    if (status == HF_RANGE)
        out->quantile_reason = "range";
    else if (status == HF_NUMERIC)
        out->quantile_reason = "numeric";
    else
        out->quantile_reason = "too_few";
    return status == HF_MEMORY ? status : HF_OK;
}

hf_status hf_compare_pair(hf_arena *arena, const hf_compare_pair_request *request, hf_comparison_pair *out) {
    out->p_spread = out->p_adjusted = NAN;
    hf_status status = hf_compare_verdict_evidence(arena, request, out);
    bool all = !request->options->verdicts_only;
    if (!all) out->relabel.reason = out->quantile_reason = "verdicts_only";
    bool by_batches = out->method == HF_COMPARISON_BATCH_MEANS;
    if (all && by_batches) out->relabel.reason = "batches";
    if (status == HF_OK && all && !by_batches) status = relabel(arena, request, out);
    if (status == HF_OK && is_finished(request->a->sample) && is_finished(request->b->sample))
        status = from_middles(arena, request, out);
    if (status == HF_OK && all) status = compare_quantiles(arena, request, out);
    if (by_batches) keep_estimates(out);
    out->least = out->most = NAN;
    if (all) count_pairs(request, out);
    return status;
}
