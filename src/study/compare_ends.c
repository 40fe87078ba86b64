/* Parts with a fitting at each end: each end becomes a part of its own design. */
#include <math.h>
#include <string.h>
#include "holdfast/comparing/two_ended.h"
#include "holdfast/strength/sample.h"
#include "study/compare_parts.h"
#include "study/event.h"

static bool holds(const hf_specimen *specimen, int end, const hf_design *design) {
    return specimen->ends[end] && strcmp(specimen->ends[end], design->id) == 0;
}

static bool holds_any(const hf_specimen *specimen, const hf_design *design) {
    return holds(specimen, 0, design) || holds(specimen, 1, design);
}

/* Whether the part counts as one fitting of the design it stands under: one-ended, or a strap of two other designs' fittings. */
static bool stands_for_itself(const hf_specimen *specimen, const hf_design *design) {
    return !specimen->ends[0] || !holds_any(specimen, design);
}

/* With the same fitting at both ends it does not matter which one broke. */
static hf_end_broke broken_end(const hf_specimen *specimen) {
    static const hf_end_broke ends[] = {HF_END_NEITHER, HF_END_FIRST, HF_END_SECOND, HF_END_BOTH};
    bool same = specimen->ends[0] && strcmp(specimen->ends[0], specimen->ends[1]) == 0;
    return specimen->broke == HF_BROKE_NOT_STATED && same ? HF_END_FIRST : ends[specimen->broke];
}

static void make_end(hf_arena *arena, const hf_specimen *from, int end, const hf_observation *seen,
                     hf_specimen *out) {
    bool whole = seen->kind == HF_INTERVAL_ABOVE;
    *out = *from;
    const char *id = hf_arena_format(arena, "%s, end %d", from->id, end + 1);
    if (id) out->id = id;
    out->ends[0] = out->ends[1] = NULL;
    out->set.kind = out->voided.kind = HF_INTERVAL_NONE;
    if (!whole) return;
    out->pull = (hf_pull){hf_end_says_nothing(seen) ? HF_INTERVAL_NONE : HF_INTERVAL_ABOVE, seen->lower,
                          INFINITY, false, from->pull.stepped};
    if (from->outcome == HF_OUTCOME_FAILED) out->outcome = HF_OUTCOME_HELD;
    out->mode = NULL;
}

/* Adds the ends of one part that belong to the design. */
static void add_ends(hf_arena *arena, const hf_specimen *specimen, hf_design *view, hf_specimen *specimens,
                     size_t *unknown) {
    hf_observation pull = hf_observation_of_pull(&specimen->pull), ends[2];
    if (specimen->pull.kind == HF_INTERVAL_NONE) {
        specimens[view->specimen_count] = *specimen;
        specimens[view->specimen_count++].voided.kind = HF_INTERVAL_NONE;
        return;
    }
    if (hf_two_ended_split(&pull, broken_end(specimen), ends) != HF_OK) {
        ++*unknown;
        return;
    }
    for (int end = 0; end < 2; end++)
        if (holds(specimen, end, view))
            make_end(arena, specimen, end, &ends[end], &specimens[view->specimen_count++]);
}

static size_t count_of_ends(const hf_campaign *campaign, const hf_design *design) {
    size_t count = 0;
    if (!campaign->any_ends) return 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            count += holds_any(&campaign->designs[i].specimens[j], design);
    return count;
}

hf_status hf_compare_view(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                          hf_design *out, bool *two_ended, size_t *unknown) {
    size_t held = count_of_ends(campaign, design);
    *out = *design;
    *unknown = 0;
    *two_ended = held > 0;
    if (!held) return HF_OK;
    hf_specimen *specimens = HF_ARENA_NEW_ARRAY(arena, hf_specimen, design->specimen_count + 2 * held);
    if (!specimens) return HF_MEMORY;
    out->specimens = specimens;
    out->specimen_count = 0;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (stands_for_itself(&design->specimens[i], design))
            specimens[out->specimen_count++] = design->specimens[i];
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            if (holds_any(&campaign->designs[i].specimens[j], design))
                add_ends(arena, &campaign->designs[i].specimens[j], out, specimens, unknown);
    return HF_OK;
}

hf_status hf_design_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_pulled *out) {
    hf_design *view = HF_ARENA_NEW(arena, hf_design);
    bool two_ended;
    size_t unknown;
    hf_status status =
        view ? hf_compare_view(arena, campaign, design, view, &two_ended, &unknown) : HF_MEMORY;
    return status == HF_OK ? hf_pulled_sample(arena, campaign, view, out) : status;
}

static void count_ends(const hf_campaign *campaign, const hf_design *design, hf_comparison_ends *out) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            hf_end_broke broke = broken_end(specimen);
            bool used =
                holds_any(specimen, design) && specimen->pull.kind != HF_INTERVAL_NONE && !specimen->reused;
            bool open = specimen->pull.kind == HF_INTERVAL_ABOVE;
            if (!used || (!open && broke == HF_END_NEITHER)) continue;
            bool first = holds(specimen, 0, design), second = holds(specimen, 1, design);
            size_t broken =
                open ? 0
                     : (size_t)(first && broke != HF_END_SECOND) + (size_t)(second && broke != HF_END_FIRST);
            out->pulls++;
            out->ends += (size_t)first + (size_t)second;
            out->broke += broken;
        }
    out->whole = out->ends - out->broke;
}

static void describe(hf_sample sample, double *median, double *spread) {
    hf_fit fit;
    bool fitted = hf_fit_maximum(&hf_family_lognormal, sample, &fit) == HF_OK;
    *median = fitted ? exp(fit.m) : NAN;
    *spread = fitted ? fit.s : NAN;
}

/* What one would claim who reads each part as one fitting. */
static hf_status describe_naively(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                                  hf_comparison_ends *out) {
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, count_of_ends(campaign, design));
    size_t count = 0;
    if (!items) return HF_MEMORY;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            bool both = holds(specimen, 0, design) && holds(specimen, 1, design);
            if (both && specimen->pull.kind != HF_INTERVAL_NONE && !specimen->reused)
                items[count++] = hf_observation_of_pull(&specimen->pull);
        }
    out->naive_median = out->naive_spread = NAN;
    if (hf_sample_settle(items, count) != HF_OK) return HF_MEMORY;
    if (count) describe((hf_sample){items, count}, &out->naive_median, &out->naive_spread);
    return HF_OK;
}

hf_status hf_describe_ends(hf_arena *arena, const hf_campaign *campaign, const hf_ends_subject *subject,
                           hf_comparison_ends *out) {
    hf_bound *rows = HF_ARENA_NEW_ARRAY(arena, hf_bound, HF_IN_A_ROW);
    if (!rows) return HF_MEMORY;
    count_ends(campaign, subject->design, out);
    describe(subject->sample, &out->median, &out->spread);
    for (size_t k = 1; k <= HF_IN_A_ROW; k++)
        if (hf_bound_in_a_row(subject->family, subject->sample, k, subject->content, subject->confidence,
                              &rows[k - 1]) == HF_MEMORY)
            return HF_MEMORY;
    out->rows = rows;
    return describe_naively(arena, campaign, subject->design, out);
}
