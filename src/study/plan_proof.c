/* A proof for a design of a file: what must hang, from which weights, and what goes into the file. */
#include <math.h>
#include "study/plan_parts.h"

static double in_unit(const hf_campaign *campaign, double newtons) {
    return newtons / hf_unit_newtons(campaign->unit, campaign->gravity);
}

/* Why the load cannot be hung. */
static hf_status refuse(const hf_plan *plan, double load, hf_error *error) {
    const hf_campaign *campaign = plan->campaign;
    const char *unit = campaign->unit->name;
    double hung = in_unit(campaign, load);
    if (plan->ladder.problem == HF_LADDER_TARE)
        return hf_error_set(error, HF_NO_RESULT,
                            "%.4g %s is no more than the tare alone: nothing is to be hung", hung, unit);
    return hf_error_set(
        error, HF_NO_RESULT,
        "%.4g %s must be on the part, and %s at most %.4g %s; borrow weights, use a lever "
        "within the rig's rating, or prove less",
        hung, unit, plan->ladder.problem == HF_LADDER_RATING ? "the rig is rated for" : "the weights make",
        in_unit(campaign, plan->ladder.problem == HF_LADDER_RATING ? plan->setup.rating : plan->reach), unit);
}

static hf_status check(const hf_plan *plan, const hf_plan_proof *proof, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    if (!(s->required > 0))
        return hf_error_set(
            error, HF_USAGE,
            "expected --load LOAD: design \"%s\" requires nothing in the file (goal.required_bound, or "
            "goal.service_load with goal.design_factor)",
            s->design);
    if (isinf(plan->calibration.needed))
        return hf_error_set(error, HF_USAGE,
                            "the rig's stated errors are too large: no load is left after them");
    if (proof->given_n || proof->n <= HF_PLAN_PROOF_MOST) return HF_OK;
    return hf_error_set(error, HF_NO_RESULT, "%zu parts would be needed; with a file at most %d are planned",
                        proof->n, HF_PLAN_PROOF_MOST);
}

hf_status hf_plan_proof_in(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                           hf_plan_proof *proof, hf_error *error) {
    hf_plan *plan = HF_ARENA_NEW(arena, hf_plan);
    const hf_plan **plans = HF_ARENA_NEW_ARRAY(arena, const hf_plan *, 1);
    if (!plan || !plans) return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_plan_begin(campaign, setup, plan);
    plan->calibration = hf_plan_calibrate(&plan->setup);
    hf_plan_fill_reach(plan);
    hf_status status = check(plan, proof, error);
    if (status != HF_OK) return status;
    plan->setup.parts = proof->given_n ? proof->given_n : proof->n;
    double load = plan->calibration.needed * proof->overload;
    status = hf_plan_make_proof_ladder(arena, plan, load, error);
    if (status == HF_NO_RESULT) return refuse(plan, load, error);
    if (status != HF_OK) return status;
    plans[0] = plan;
    plan->day = (hf_plan_day){.plans = plans, .count = 1, .parts = plan->setup.parts};
    plan->day.minutes = (double)plan->setup.parts * plan->ladder.minutes_per_pull;
    proof->plan = plan;
    return HF_OK;
}
