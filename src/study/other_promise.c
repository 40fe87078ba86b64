/* What the same pulls would give for other promises: the usual contents and confidences side by side. */
#include <math.h>
#include "holdfast/base/number.h"
#include "study/event.h"
#include "study/limits.h"

static const double contents[HF_OTHER_CONTENTS] = {0.90, 0.95, 0.99},
                    confidences[HF_OTHER_CONFIDENCES] = {0.75, 0.90, 0.95};

/* As the answer's: of break and set the lower, then use, then the rounding. */
static double rated(const hf_goal *goal, double unit, double broken, double moved) {
    double load = broken / goal->design_factor.value;
    if (moved / goal->set_factor.value < load) load = moved / goal->set_factor.value;
    for (size_t i = 0; i < goal->use_factor_count; i++) load /= goal->use_factors[i].factor;
    load = unit * hf_number_round_down(load / unit, HF_RATING_FIGURES);
    return load > 0 ? load : NAN;
}

static hf_status fill_one(hf_arena *arena, const hf_event_request *of, size_t planned, const hf_pulled *moved,
                          const hf_design_assessment *a, hf_other_promise *out) {
    const hf_goal *goal = &a->design->goal;
    const hf_campaign *campaign = of->campaign;
    hf_event_request request = *of;
    hf_promise promise;
    double broken, set_bound, set = NAN;
    hf_status status = hf_promise_of(goal, out->content, out->confidence, a->sample.count, planned,
                                     a->promise.picked_from, &promise);
    if (status != HF_OK) return status;
    request.content = out->content;
    request.confidence = promise.used;
    request.promised = out->confidence;
    status = hf_event_bound(arena, &request, a->sample, &a->break_event, &out->bound, &broken);
    if (status == HF_OK && moved && goal->set_factor.given && a->set_event.governing) {
        request.set_event = true;
        status = hf_event_bound(arena, &request, moved->sample, &a->set_event, &set_bound, &set);
        if (isnan(set)) broken = NAN; /* what limits may not be assured */
    }
    if (goal->design_factor.given && a->promise.looks.stand != HF_LOOK_BEFORE_FIRST)
        out->working_load = rated(goal, hf_unit_newtons(campaign->unit, campaign->gravity), broken, set);
    return status;
}

hf_status hf_fill_other_promises(hf_arena *arena, const hf_event_request *request, size_t planned,
                                 const hf_pulled *moved, hf_design_assessment *out) {
    for (size_t i = 0; i < HF_OTHER_PROMISES; i++) {
        hf_other_promise *one = &out->other[i];
        *one = (hf_other_promise){contents[i / HF_OTHER_CONFIDENCES], confidences[i % HF_OTHER_CONFIDENCES],
                                  NAN, NAN};
        hf_status status = fill_one(arena, request, planned, moved, out, one);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}
