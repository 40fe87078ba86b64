/* One design of a comparison: pulls, bound, ways of failing. */
#include <math.h>
#include <string.h>
#include "holdfast/comparing/group.h"
#include "study/compare_parts.h"
#include "study/event.h"

const hf_family *hf_compare_family(const hf_comparison_design *design) {
    const hf_bound *governing = design->event.governing;
    return governing && governing->family ? governing->family : hf_family_find("weibull");
}

/* Geometric mean and scatter of ln load: of the middles, or by the lognormal fit where pulls are open. */
static hf_status describe(hf_arena *arena, hf_comparison_design *out) {
    hf_group group;
    hf_fit fit;
    out->geometric_mean = out->scatter = NAN;
    hf_status status = hf_group_of(arena, out->sample, &group);
    if (status == HF_MEMORY) return status;
    if (status == HF_OK) {
        out->geometric_mean = exp(group.mean);
        out->scatter = sqrt(group.variance);
    } else if (hf_fit_maximum(hf_family_find("lognormal"), out->sample, &fit) == HF_OK) {
        out->geometric_mean = exp(fit.m);
        out->scatter = fit.s;
    }
    return HF_OK;
}

/* --- Ways of failing --------------------------------------------------------------------------------- */

/* Names of the modes in order of their first part; NULL among them: not noted. */
typedef struct mode_names {
    const char **items;
    size_t count;
} mode_names;

static int mode_number(mode_names *names, const char *name) {
    for (size_t i = 0; i < names->count; i++)
        if (names->items[i] == name || (name && names->items[i] && strcmp(names->items[i], name) == 0))
            return (int)i;
    names->items[names->count++] = name;
    return (int)names->count - 1;
}

static bool counted(const hf_specimen *specimen) {
    bool pulled = specimen->outcome != HF_OUTCOME_PLANNED && specimen->outcome != HF_OUTCOME_VOID;
    return pulled && !specimen->reused && specimen->pull.kind != HF_PULL_NONE;
}

/* The pulls of `design->sample` are those of its counted specimens, in order. */
static hf_status number_modes(hf_arena *arena, const hf_comparison_design *design, mode_names *names,
                              int **out) {
    const hf_design *pulled = design->pulled;
    size_t at = 0;
    *names = (mode_names){HF_ARENA_NEW_ARRAY(arena, const char *, pulled->specimen_count + 1), 0};
    int *mode = HF_ARENA_NEW_ARRAY(arena, int, design->sample.count);
    if (!names->items || !mode) return HF_MEMORY;
    for (size_t i = 0; i < pulled->specimen_count; i++) {
        if (!counted(&pulled->specimens[i]) || at == design->sample.count) continue;
        bool whole = design->sample.items[at].kind == HF_OBSERVED_ABOVE;
        mode[at++] = whole ? HF_MODE_NONE : mode_number(names, pulled->specimens[i].mode);
    }
    *out = mode;
    return HF_OK;
}

static hf_status refuse(hf_comparison_modes *out, const char *reason) {
    out->reason = reason;
    return HF_OK;
}

hf_status hf_compare_modes(hf_arena *arena, const hf_comparison_options *options,
                           hf_comparison_design *design) {
    hf_comparison_modes *out = &design->modes;
    const hf_family *family = hf_compare_family(design);
    mode_names names;
    int *mode;
    out->undivided = NAN;
    hf_status status = number_modes(arena, design, &names, &mode);
    if (status != HF_OK) return status;
    out->names = names.items;
    if (names.count == 0) return refuse(out, "no_failure");
    if (names.count == 1 && !names.items[0]) return refuse(out, "no_mode_stated");
    if (names.count > HF_MODE_LIMIT) return refuse(out, "too_many_modes");
    hf_mode_data data = {design->sample, mode, names.count};
    status = hf_modes_of(arena, family, &data, design->content, design->confidence, options->seed, 0,
                         &out->result);
    if (status == HF_MEMORY) return status;
    out->available = status == HF_OK;
    if (!out->available) out->reason = status == HF_RANGE ? "range" : "no_bound";
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (hf_family_at(i) == family && design->event.bounds[i].method != HF_BOUND_NONE)
            out->undivided = design->event.bounds[i].value;
    return HF_OK;
}

/* --- All of it --------------------------------------------------------------------------------------- */

static const char *stated_family(const hf_design *design) {
    return design->family && strcmp(design->family, "auto") != 0 ? design->family : NULL;
}

/* What an assessment of the same file says of this design as it is pulled here, under the same promise; NULL: nothing. */
static const hf_event_assessment *known_event(const hf_comparison_options *options,
                                              const hf_comparison_design *out) {
    const hf_assessment *assessed = options->assessed;
    if (!assessed || out->two_ended || assessed->options.family || assessed->options.seed != options->seed)
        return NULL;
    for (size_t i = 0; i < assessed->count; i++) {
        const hf_design_assessment *at = &assessed->designs[i];
        if (at->design == out->design && at->content == out->content && at->confidence == out->confidence)
            return &at->break_event;
    }
    return NULL;
}

static hf_status assess_event(hf_arena *arena, const hf_campaign *campaign,
                              const hf_comparison_options *options, hf_comparison_design *out) {
    const hf_event_assessment *known = known_event(options, out);
    if (known) {
        out->event = *known;
        return hf_design_sample(arena, campaign, out->design, &out->sample);
    }
    hf_event_request request = {campaign,     out->pulled,     false,        stated_family(out->design),
                                out->content, out->confidence, options->seed};
    return hf_event_assess(arena, &request, &out->event, &out->sample);
}

hf_status hf_compare_design(hf_arena *arena, const hf_campaign *campaign,
                            const hf_comparison_options *options, hf_comparison_design *out) {
    const hf_design *design = out->design;
    hf_design *view = HF_ARENA_NEW(arena, hf_design);
    size_t unknown;
    if (!view) return HF_MEMORY;
    hf_status status = hf_compare_view(arena, campaign, design, view, &out->two_ended, &unknown);
    if (status != HF_OK) return status;
    out->pulled = out->two_ended ? view : design;
    out->content = options->content > 0 ? options->content : design->goal.content;
    out->confidence = options->confidence > 0 ? options->confidence : design->goal.confidence;
    status = assess_event(arena, campaign, options, out);
    if (status == HF_OK) status = describe(arena, out);
    out->bound = out->event.governing ? out->event.governing->value : NAN;
    if (status == HF_OK) status = hf_compare_modes(arena, options, out);
    hf_ends_subject ends = {design, out->sample, hf_compare_family(out), out->content, out->confidence};
    if (status == HF_OK && out->two_ended) status = hf_describe_ends(arena, campaign, &ends, &out->ends);
    if (status == HF_OK) hf_compare_design_cautions(arena, out, unknown);
    return status;
}
