#include "holdfast/study/promise.h"

#include <math.h>
#include <string.h>
#include "study/limits.h"

/* The stated looks with one more at `now`. */
static size_t with_now(const hf_stated_looks *stated, size_t now, size_t parts[HF_LOOKS_MOST + 1]) {
    size_t count = 0;
    bool placed = false;
    for (size_t i = 0; i < stated->count; i++) {
        if (!placed && stated->parts[i] > now) parts[count++] = now;
        placed |= stated->parts[i] > now;
        parts[count++] = stated->parts[i];
    }
    if (!placed) parts[count++] = now;
    return count;
}

static void stand_of(const hf_stated_looks *stated, hf_design_looks *out) {
    const size_t now = out->now;
    bool at = false;
    for (size_t i = 0; i < stated->count; i++) {
        out->number += stated->parts[i] <= now;
        at |= stated->parts[i] == now;
        if (!out->next && stated->parts[i] > now) out->next = stated->parts[i];
    }
    out->stand = at                    ? HF_LOOK_STATED
                 : now < stated->first ? HF_LOOK_BEFORE_FIRST
                 : now > stated->last  ? HF_LOOK_PAST_LAST
                                       : HF_LOOK_BETWEEN;
}

/* One look more than stated: at what every look is taken at, beyond the last one at what is promised, on top of all that were stated. */
static hf_status worth_with_now(const hf_stated_looks *stated, double content, double confidence,
                                hf_design_looks *out) {
    size_t parts[HF_LOOKS_MOST + 1];
    size_t count = with_now(stated, out->now, parts);
    double error;
    bool past = out->stand == HF_LOOK_PAST_LAST;
    if (out->now < 2 || out->now > HF_LOOKS_LAST || count > HF_LOOKS_MOST) return HF_OK;
    const double early = stated->early > 0 ? stated->early : 1;
    const hf_look_plan plan = {parts, count, past ? fmin(early, out->each.confidence) : stated->early};
    hf_status status =
        hf_looks_worth(&plan, content, past ? confidence : out->each.confidence, &out->worth, &error);
    return status == HF_MEMORY ? status : HF_OK;
}

static hf_status stated_looks(const hf_stated_looks *stated, double content, double confidence,
                              hf_design_looks *out) {
    const hf_look_plan plan = {stated->parts, stated->count, stated->early};
    hf_status status = hf_looks_confidence(&plan, content, confidence, &out->each);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK) {
        out->used = NAN;
        return HF_OK;
    }
    bool last = out->now >= stated->last;
    out->used = out->stand == HF_LOOK_PAST_LAST ? confidence
                : stated->early > 0 && !last    ? stated->early
                                                : out->each.confidence;
    return out->stand == HF_LOOK_STATED ? HF_OK : worth_with_now(stated, content, confidence, out);
}

hf_status hf_promise_go_on(hf_promise *promise, size_t planned) {
    hf_design_looks *out = &promise->looks;
    const double content = promise->content, confidence = promise->confidence;
    size_t to = planned                          ? out->now + planned
                : out->now * 2 < HF_USEFUL_PARTS ? HF_USEFUL_PARTS
                                                 : out->now * 2;
    size_t every[HF_LOOKS_MOST], count;
    double error;
    if (out->plan.given || out->on_to || out->now < 2 || to > HF_LOOKS_LAST) return HF_OK;
    const size_t two[] = {out->now, to};
    hf_status status = hf_looks_worth(&(hf_look_plan){two, 2, 0}, content, confidence, &out->worth, &error);
    if (status != HF_OK) return status == HF_MEMORY ? status : HF_OK;
    out->on_to = to;
    if (hf_looks_list(out->now, to, 1, every, &count) != HF_OK) return HF_OK;
    status = hf_looks_worth(&(hf_look_plan){every, count, 0}, content, confidence, &out->worth_every, &error);
    return status == HF_MEMORY ? status : HF_OK;
}

hf_status hf_promise_of(const hf_goal *goal, double content, double confidence, size_t now, size_t planned,
                        size_t picked_from, hf_promise *out) {
    hf_design_looks *looks = &out->looks;
    const double own = picked_from > 1 ? hf_best_of_confidence(confidence, picked_from) : confidence;
    *out = (hf_promise){.content = content,
                        .confidence = confidence,
                        .used = own,
                        .picked_from = picked_from > 1 ? picked_from : 0};
    *looks = (hf_design_looks){.now = now, .used = own, .worth = NAN, .worth_every = NAN};
    looks->each = (hf_look_confidence){NAN, NAN, NAN, NAN};
    if (!goal->looks.given) return planned ? hf_promise_go_on(out, planned) : HF_OK;
    looks->plan = goal->looks;
    stand_of(&goal->looks, looks);
    hf_status status = stated_looks(&goal->looks, content, own, looks);
    if (isfinite(looks->used)) out->used = looks->used;
    return status;
}
