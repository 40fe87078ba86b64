/* From rig, weights and guess to a ladder. */
#include <math.h>
#include "holdfast/planning/proof.h"
#include "study/plan_parts.h"

static const double micro = 1e6;

static hf_status make_search(hf_arena *arena, hf_plan *plan, hf_weight_search **search, hf_error *error) {
    size_t count = plan->setup.weight_count;
    *search = NULL;
    if (!count) return HF_OK;
    plan->kinds = HF_ARENA_NEW_ARRAY(arena, hf_weight_kind, count);
    if (!plan->kinds) return hf_error_set(error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        plan->kinds[i] = (hf_weight_kind){(int64_t)llround(plan->setup.weights[i].newtons * micro),
                                          (int)plan->setup.weights[i].count};
    hf_status status = hf_weight_search_create(arena, plan->kinds, count, search);
    if (status == HF_RANGE)
        return hf_error_set(error, HF_USAGE,
                            "more weights than can be searched: leave out kinds that are not needed");
    return status == HF_OK ? status : hf_error_set(error, status, "%s", hf_status_text(status));
}

double hf_plan_hanger(const hf_plan_setup *setup) {
    hf_rig_force force = setup->force;
    force.records = HF_RIG_RECORDS_ADDED;
    return hf_rig_force_of_record(&force, 0);
}

static hf_ladder_rig rig_of(const hf_plan *plan, hf_weight_search *search) {
    const hf_plan_setup *s = &plan->setup;
    hf_rig_force force = s->force;
    force.records = HF_RIG_RECORDS_ADDED;
    double nothing = hf_rig_force_of_record(&force, 0), one = hf_rig_force_of_record(&force, 1) - nothing;
    return (hf_ladder_rig){nothing, s->rating, search, one / micro, s->dwell_s, s->handling_s, s->mount_s};
}

static const char *ladder_words(const hf_plan *plan) {
    switch (plan->ladder.problem) {
    case HF_LADDER_TARE:
        return plan->setup.pilot ? "the tare alone is at least as heavy as the first rung of the pilot"
                                 : "the tare alone is as heavy as the guessed strength";
    case HF_LADDER_STEP:
        return "the step is larger than the guessed mean";
    case HF_LADDER_TOO_MANY:
        return "that would be more than 1000 rungs; take larger steps";
    case HF_LADDER_RATING:
        return plan->setup.weight_count ? "no set of the weights makes a rung that the rig may carry"
                                        : "the rig's rating does not leave room for one rung";
    case HF_LADDER_WEIGHTS:
        return "the weights cannot make one rung";
    case HF_LADDER_NO_PROBLEM:
        break;
    }
    return "no ladder can be made";
}

/* A ladder that ends before the pilot begins answers nothing. */
static hf_status check_pilot_reach(const hf_plan *plan, hf_error *error) {
    const hf_ladder *ladder = &plan->ladder;
    double last = ladder->loads[ladder->count - 1], from = plan->setup.pilot_start;
    const char *cause = ladder->end == HF_LADDER_ENDS_RATING ? "the rig's rating allows" : "the weights make";
    if (last >= from * (1 - 1e-9) || ladder->end == HF_LADDER_ENDS_ABOVE) return HF_OK;
    return hf_error_set(error, HF_USAGE,
                        "no ladder: %s at most %.4g N on the part, and the pilot is to begin at %.4g N",
                        cause, last, from);
}

hf_status hf_plan_guess(const hf_plan_setup *setup, hf_guess *out, hf_error *error) {
    hf_status status = hf_guess_of(hf_family_governing(setup->family), setup->mean, setup->cv, out);
    return status == HF_OK
               ? status
               : hf_error_set(error, HF_USAGE, "mean %g N with a scatter of %g: no strength law is so narrow",
                              setup->mean, setup->cv);
}

hf_status hf_plan_make_ladder(hf_arena *arena, hf_plan *plan, size_t parts, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    hf_weight_search *search;
    hf_guess guess;
    hf_status status = make_search(arena, plan, &search, error);
    if (status == HF_OK && !s->pilot) status = hf_plan_guess(s, &guess, error);
    if (status != HF_OK) return status;
    hf_ladder_rig rig = rig_of(plan, search);
    if (s->pilot)
        status = hf_pilot_ladder(arena, s->pilot_start, s->pilot_top, s->pilot_ratio, &rig, &plan->ladder);
    else if (plan->climber_count)
        status = hf_ladder_plan_common(arena, plan->climbers, plan->climber_count, &rig, &plan->ladder);
    else
        status = hf_ladder_plan(arena, &guess, parts, isnan(s->step) ? 0 : s->step, &rig, &plan->ladder);
    if (status == HF_OK && s->pilot) return check_pilot_reach(plan, error);
    if (status == HF_OK || status == HF_MEMORY) return status;
    return hf_error_set(error, HF_USAGE, "no ladder%s: %s",
                        plan->climber_count ? " for all designs (--own-ladders gives each its own)" : "",
                        ladder_words(plan));
}

hf_status hf_plan_make_proof_ladder(hf_arena *arena, hf_plan *plan, double load, hf_error *error) {
    hf_weight_search *search;
    hf_status status = make_search(arena, plan, &search, error);
    if (status != HF_OK) return status;
    hf_ladder_rig rig = rig_of(plan, search);
    status = hf_proof_ladder(arena, load, &rig, &plan->ladder);
    return status == HF_OK || status == HF_NO_RESULT
               ? status
               : hf_error_set(error, status, "%s", hf_status_text(status));
}
