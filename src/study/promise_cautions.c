/* What looks cost, and where it is not known. */
#include <math.h>
#include "holdfast/campaign/late.h"
#include "holdfast/strength/sample.h"
#include "study/limits.h"
#include "study/raise.h"

static void add(hf_arena *arena, hf_cautions *list, hf_caution_code code, const double number[4]) {
    hf_caution_raise(arena, list, (hf_caution){code, {number[0], number[1], number[2], number[3]}, {NULL}});
}

/* What the simulation of looks does not cover; NULL: it covers these pulls. */
static const char *not_shown(const hf_event_assessment *event) {
    const hf_bound *bound = event->governing;
    if (event->counts.failed < event->counts.used || event->counts.below > 0) return "pulls that ended open";
    if (bound->method == HF_BOUND_STATED_SCATTER) return "a stated scatter";
    if (bound->method == HF_BOUND_BATCH) return "a bound from batch means";
    if (bound->method == HF_BOUND_ONE_BATCH) return "a stated scatter between batches";
    if (!bound->family) return "a bound that needs no law";
    if (event->step_rms > HF_LOOKS_WIDEST_STEP * event->sd_mid * (1 + HF_SAME))
        return "steps above two standard deviations";
    return NULL;
}

static void about_stated(hf_arena *arena, hf_cautions *list, const hf_design_assessment *a) {
    const hf_design_looks *looks = &a->promise.looks;
    const double now = (double)looks->now, promised = a->confidence, worth = looks->worth;
    if (looks->stand == HF_LOOK_BEFORE_FIRST)
        add(arena, list, HF_CAUTION_LOOKS_BEFORE_FIRST,
            (double[]){now, (double)looks->plan.first, promised, worth});
    if (looks->stand == HF_LOOK_BETWEEN)
        add(arena, list, HF_CAUTION_LOOKS_BETWEEN, (double[]){now, (double)looks->next, promised, worth});
    if (looks->stand == HF_LOOK_PAST_LAST)
        add(arena, list, HF_CAUTION_LOOKS_PAST_LAST,
            (double[]){now, (double)looks->plan.last, promised, worth});
    if (looks->plan.count < 2) return;
    const char *what = isnan(looks->used) ? "so strict a promise" : not_shown(&a->break_event);
    if (what)
        hf_caution_raise(arena, list, (hf_caution){HF_CAUTION_LOOKS_UNPROVEN, {a->promise.used}, {what}});
}

void hf_caution_late(hf_arena *arena, hf_cautions *list, const hf_design *design) {
    static const char *const names[HF_LATE_KINDS] = {[HF_LATE_SCATTER] = "the scatter known from earlier",
                                                     [HF_LATE_BETWEEN] = "the scatter between batches",
                                                     [HF_LATE_CHOICE] = "that the best is picked",
                                                     [HF_LATE_LAW] = "the strength law"};
    const char *what = NULL;
    size_t pulls = 0;
    if (design->late[HF_LATE_LOOKS])
        add(arena, list, HF_CAUTION_LOOKS_LATE, (double[]){(double)design->late[HF_LATE_LOOKS], 0, 0, 0});
    for (hf_late_kind kind = 0; kind < HF_LATE_KINDS; kind++) {
        if (!names[kind] || !design->late[kind]) continue;
        what = what ? hf_arena_format(arena, "%s, %s", what, names[kind]) : names[kind];
        if (design->late[kind] > pulls) pulls = design->late[kind];
    }
    if (what) hf_caution_raise(arena, list, (hf_caution){HF_CAUTION_STATED_LATE, {(double)pulls}, {what}});
}

void hf_caution_looks(hf_arena *arena, hf_cautions *list, const hf_design_assessment *a) {
    const hf_design_looks *looks = &a->promise.looks;
    const size_t planned = a->break_event.counts.planned;
    if (!a->break_event.governing) return;
    if (looks->plan.given)
        about_stated(arena, list, a);
    else if (planned && looks->on_to)
        hf_caution_raise(arena, list,
                         (hf_caution){HF_CAUTION_LOOKS_NOT_STATED,
                                      {(double)looks->now, (double)planned, (double)looks->on_to,
                                       a->confidence, looks->worth, looks->worth_every},
                                      {NULL}});
}
