/* One design of a comparison: what of its assessment is compared. */
#include <math.h>
#include <string.h>
#include "holdfast/comparing/group.h"
#include "study/compare_parts.h"
#include "study/event.h"

const hf_family *hf_compare_family(const hf_comparison_design *design) {
    const hf_bound *governing = design->event.governing;
    return hf_family_governing(governing ? governing->family : NULL);
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
    } else if (hf_fit_maximum(&hf_family_lognormal, out->sample, &fit) == HF_OK) {
        out->geometric_mean = exp(fit.m);
        out->scatter = fit.s;
    }
    return HF_OK;
}

hf_status hf_compare_design(hf_arena *arena, hf_comparison_design *out) {
    const hf_design_assessment *from = out->assessment;
    out->design = from->design;
    out->pulled = from->pulled;
    out->content = from->content;
    out->confidence = from->confidence;
    out->event = from->break_event;
    out->sample = from->sample;
    out->modes = from->modes;
    out->two_ended = from->two_ended;
    out->ends = from->ends;
    out->bound = out->event.governing ? out->event.governing->value : NAN;
    hf_status status = describe(arena, out);
    if (status == HF_OK) hf_compare_design_cautions(arena, out);
    return status;
}
