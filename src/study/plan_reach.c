/* What rig and weights can show at most, and what borrowed weights would bring. */
#include <math.h>
#include <string.h>
#include "study/limits.h"
#include "study/plan_parts.h"

static double force_of(const hf_plan *plan, double hung) {
    hf_rig_force force = plan->setup.force;
    force.records = HF_RIG_RECORDS_ADDED;
    return hf_rig_force_of_record(&force, hung);
}

static double all_weights(const hf_plan_setup *s) {
    double hung = 0;
    for (size_t i = 0; i < s->weight_count; i++) hung += (double)s->weights[i].count * s->weights[i].newtons;
    return hung;
}

void hf_plan_fill_reach(hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    double hung = s->weight_count ? force_of(plan, all_weights(s)) : INFINITY;
    plan->reach_by_rating = s->rating < hung;
    plan->reach = plan->stepped ? fmin(s->rating, hung) : INFINITY;
}

/* The weights with so many more of the heaviest kind. */
static hf_weight *with_more(hf_arena *arena, const hf_plan_setup *s, size_t heaviest, size_t pieces) {
    hf_weight *weights = HF_ARENA_NEW_ARRAY(arena, hf_weight, s->weight_count);
    if (!weights) return NULL;
    memcpy(weights, s->weights, s->weight_count * sizeof *weights);
    weights[heaviest].count += pieces;
    return weights;
}

hf_status hf_plan_add_weights(hf_arena *arena, const hf_guess *guess, hf_plan *plan, hf_plan_borrow *out,
                              hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    size_t heaviest = 0;
    *out = (hf_plan_borrow){.expected = NAN};
    double needed = hf_guess_quantile(guess, HF_BREAK_SHARE), slope = force_of(plan, 1) - force_of(plan, 0);
    if (!s->weight_count || s->rating < needed) return HF_OK;
    for (size_t i = 1; i < s->weight_count; i++)
        if (s->weights[i].newtons > s->weights[heaviest].newtons) heaviest = i;
    double pieces = ceil((needed - plan->reach) / slope / s->weights[heaviest].newtons);
    if (!(pieces >= 1 && pieces <= 1000)) return HF_OK;
    out->kind = &s->weights[heaviest];
    out->pieces = (size_t)pieces;
    plan->setup.weights = with_more(arena, s, heaviest, out->pieces);
    return plan->setup.weights ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

hf_status hf_plan_fill_borrow(hf_arena *arena, hf_plan *plan, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    const hf_ladder *ladder = &plan->ladder;
    hf_plan more = *plan;
    hf_guess guess;
    plan->borrow.expected = NAN;
    if (s->pilot || !ladder->count || ladder->end != HF_LADDER_ENDS_WEIGHTS ||
        ladder->run_out <= HF_OFTEN_OPEN)
        return HF_OK;
    hf_status status = hf_plan_guess(s, &guess, error);
    if (status == HF_OK) status = hf_plan_add_weights(arena, &guess, &more, &plan->borrow, error);
    if (status != HF_OK || !plan->borrow.kind) return status;
    status = hf_plan_make_ladder(arena, &more, 0, error);
    if (status == HF_OK) status = hf_plan_table(arena, &more, s->cv, s->confidence, 0, &more.base, error);
    if (status != HF_OK) return status;
    plan->borrow.parts = more.base.parts.recommended;
    if (plan->borrow.parts) plan->borrow.expected = hf_plan_row(&more, plan->borrow.parts)->expected;
    return HF_OK;
}
