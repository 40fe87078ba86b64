/* From everything that is known of a design to its answer. */
#include <math.h>
#include "holdfast/base/number.h"
#include "holdfast/campaign/used.h"
#include "study/event.h"
#include "study/limits.h"

/* --- Is what was asked for met ----------------------------------------------------------------------- */

/* Cautions that say how a requirement came out are no reason for it. */
static bool is_outcome(hf_caution_code code) {
    return code == HF_CAUTION_REQUIRED_NOT_MET || code == HF_CAUTION_SERVICE_NOT_MET ||
           code == HF_CAUTION_MODES_NOT_COVERING;
}

static hf_met worse(hf_met a, hf_met b) {
    return a > b ? a : b;
}

/* What the cautions leave of "met". */
static hf_met left_by_cautions(const hf_cautions *list) {
    hf_met met = HF_MET;
    for (size_t i = 0; i < list->count; i++) {
        hf_caution_rank rank = hf_caution_row_of(list->items[i].code)->rank;
        if (is_outcome(list->items[i].code)) continue;
        if (rank == HF_CAUTION_BREAKS) met = worse(met, HF_NOT_MET);
        if (rank == HF_CAUTION_HANGS) met = worse(met, HF_MET_IF);
    }
    return met;
}

static hf_met judge(bool stated, bool enough, bool enough_by_modes, hf_met left) {
    if (!stated) return HF_MET_NOT_STATED;
    if (!enough) return HF_NOT_MET;
    return enough_by_modes ? left : worse(left, HF_MET_IF);
}

static void judge_both(const hf_design_assessment *a, hf_answer *out) {
    const hf_goal *goal = &a->design->goal;
    const hf_met left = left_by_cautions(&a->cautions);
    const bool usable = out->verdict >= HF_ANSWER_BOUND_ONLY;
    const double share = a->modes_share;
    const double required = goal->required_bound.value, service = goal->service_load.value;
    out->required = judge(goal->required_bound.given, usable && a->break_event.calibrated >= required,
                          isnan(share) || share * a->break_event.calibrated >= required, left);
    out->service = judge(goal->service_load.given, usable && a->working_load >= service,
                         isnan(share) || out->of_set || share * a->working_load_unrounded >= service, left);
}

/* --- What to do next --------------------------------------------------------------------------------- */

static bool have(const hf_design_assessment *a, hf_caution_code code) {
    return hf_cautions_have(&a->cautions, code);
}

static hf_answer_next about_batches(const hf_design_assessment *a) {
    size_t without, batches = hf_batches_stated(a->design, &without);
    if (!batches) return HF_NEXT_STATE_BATCHES;
    return without ? HF_NEXT_STATE_ALL_BATCHES : HF_NEXT_PULL_BATCHES;
}

/* Cautions about how little is known, which more pulls answer and nothing else does. */
static bool to_be_settled(hf_caution_code code) {
    static const hf_caution_code known[] = {
        HF_CAUTION_FEW_PARTS,        HF_CAUTION_FAMILIES_DIFFER, HF_CAUTION_RUN_OUTS,
        HF_CAUTION_RIG_FAILURE,      HF_CAUTION_PLANNED_LEFT,    HF_CAUTION_FEW_BATCHES,
        HF_CAUTION_COARSE_STEP,      HF_CAUTION_STATED_SCATTER,  HF_CAUTION_ASSUMED_SCATTER,
        HF_CAUTION_EARLIER_SCATTER,  HF_CAUTION_TWO_ENDED,       HF_CAUTION_TWO_ENDED_SET,
        HF_CAUTION_LOWEST_95_75,     HF_CAUTION_ONE_PART,        HF_CAUTION_TWO_PARTS,
        HF_CAUTION_THREE_PARTS,      HF_CAUTION_WEAK_KIND,       HF_CAUTION_LEANS_ON_TAIL,
        HF_CAUTION_ORDER_NOT_STATED, HF_CAUTION_LOOKS_NOT_STATED};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (known[i] == code) return false;
    return true;
}

static bool any_to_be_settled(const hf_cautions *list) {
    for (size_t i = 0; i < list->count; i++)
        if (to_be_settled(list->items[i].code)) return true;
    return false;
}

static hf_answer_next without_bound(const hf_event_assessment *event) {
    if (event->counts.used == 0) return HF_NEXT_PULL_FIRST;
    if (!event->governing) return HF_NEXT_MEND_PULLS;
    return event->counts.below ? HF_NEXT_START_LIGHTER : HF_NEXT_FINER_STEPS;
}

static bool is_short(const hf_design_assessment *a) {
    return a->promise.looks.stand == HF_LOOK_BEFORE_FIRST || have(a, HF_CAUTION_SERVICE_NOT_MET) ||
           have(a, HF_CAUTION_REQUIRED_NOT_MET);
}

static hf_answer_next next_of(const hf_design_assessment *a, const hf_answer *answer) {
    const hf_event_assessment *event = answer->of_set ? &a->set_event : &a->break_event;
    const bool differ = have(a, HF_CAUTION_BATCHES_DIFFER);
    if (answer->verdict == HF_ANSWER_NONE) return without_bound(event);
    if (event->governing_reason == HF_GOVERNS_SCATTER_NOT_ASSURED) return HF_NEXT_MEND_PULLS;
    if (have(a, HF_CAUTION_ABOVE_WEIGHTS) || have(a, HF_CAUTION_ABOVE_RATING)) return HF_NEXT_CHECK_LOADS;
    if (a->promise.looks.next && is_short(a)) return HF_NEXT_PULL_TO_LOOK;
    if (have(a, HF_CAUTION_SERVICE_NOT_MET)) return HF_NEXT_NOT_AT_SERVICE_LOAD;
    if (have(a, HF_CAUTION_REQUIRED_NOT_MET)) return HF_NEXT_STRONGER_OR_MORE;
    if (answer->by_law || answer->confirming)
        return differ ? HF_NEXT_FIND_WEAK_BATCH_FIRST : HF_NEXT_FIND_WHY_LAW_FAILS;
    if (event->counts.used < HF_USEFUL_PARTS) return HF_NEXT_PULL_MORE;
    if (differ) return HF_NEXT_FIND_WEAK_BATCH;
    if (have(a, HF_CAUTION_ONE_BATCH)) return about_batches(a);
    if (answer->verdict != HF_ANSWER_WORKING_LOAD) return HF_NEXT_STATE_FACTOR;
    return any_to_be_settled(&a->cautions) ? HF_NEXT_SETTLE_CAUTIONS : HF_NEXT_MARK_PARTS;
}

/* --- All of it --------------------------------------------------------------------------------------- */

static hf_answer_verdict verdict_of(const hf_design_assessment *a, const hf_event_assessment *event) {
    if (!event->governing || !(event->governing->value > 0) || !(event->calibrated > 0))
        return HF_ANSWER_NONE;
    if (event->not_assured) return HF_ANSWER_NOT_ASSURED;
    return isfinite(a->working_load) ? HF_ANSWER_WORKING_LOAD : HF_ANSWER_BOUND_ONLY;
}

/* In the unit of the weights that are hung. */
static void weigh(const hf_campaign *campaign, hf_answer *out) {
    const hf_unit *unit = campaign->weight_count ? campaign->weights[0].unit : NULL;
    out->mass_unit = unit && unit->is_mass ? unit : hf_unit_find("kg", 2);
    out->working_load_mass = hf_number_round_down(
        out->working_load / hf_unit_newtons(out->mass_unit, campaign->gravity), HF_MASS_FIGURES);
}

/* A law somebody chose: not the one that governs by rule, nor one that a stated scatter brings with it. */
static const hf_family *chosen_law(const hf_event_assessment *event) {
    bool by_hand = event->governing && event->governing_reason == HF_GOVERNS_STATED;
    return by_hand && event->governing->family != hf_family_governing(NULL) ? event->governing->family : NULL;
}

void hf_answer_of(const hf_campaign *campaign, const hf_design_assessment *a, hf_answer *out) {
    out->of_set = a->limited_by == HF_LIMIT_SET;
    const hf_event_assessment *event = out->of_set ? &a->set_event : &a->break_event;
    out->verdict = verdict_of(a, event);
    out->bound = out->verdict == HF_ANSWER_NONE ? NULL : event->governing;
    out->by_law = event->rejected_law;
    out->confirming = event->confirming;
    out->working_load = out->verdict == HF_ANSWER_WORKING_LOAD ? a->working_load : NAN;
    out->unrounded = out->verdict == HF_ANSWER_WORKING_LOAD ? a->working_load_unrounded : NAN;
    out->content = a->content;
    out->confidence = a->confidence;
    out->confidence_used = a->promise.used;
    out->if_law = chosen_law(event);
    weigh(campaign, out);
    judge_both(a, out);
    out->worst_caution = hf_cautions_worst(&a->cautions);
    out->next = next_of(a, out);
}

const char *hf_answer_verdict_code(hf_answer_verdict verdict) {
    static const char *const codes[] = {HF_ANSWER_VERDICTS};
    return codes[verdict];
}

bool hf_next_is_more(hf_answer_next next) {
    return next == HF_NEXT_PULL_MORE || next == HF_NEXT_STRONGER_OR_MORE ||
           next == HF_NEXT_NOT_AT_SERVICE_LOAD;
}

#define HF_CODE(name, code) code,
const char *hf_governs_code(hf_governs reason) {
    static const char *const codes[] = {HF_GOVERNS_LIST(HF_CODE)};
    return codes[reason];
}

const char *hf_no_load_code(hf_no_load reason) {
    static const char *const codes[] = {HF_NO_LOAD_LIST(HF_CODE)};
    return codes[reason];
}
#undef HF_CODE
