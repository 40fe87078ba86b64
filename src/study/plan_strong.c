/* The question turned round: how strong a typical part must be so that few of them show what is required. */
#include <math.h>
#include <stdint.h>
#include "study/limits.h"
#include "study/plan_parts.h"

enum { USUAL = 3 };
static const size_t usual[USUAL] = {3, 5, 10};
static const double most_times = 1e6, exact_to = 1e-4;

/* The same question as if a typical part were so strong: guess, ladder without limits, and what that many parts bring. */
static hf_status assurance_at(const hf_plan *plan, double mean, size_t parts, double *out, hf_error *error) {
    hf_arena *scratch = hf_arena_create();
    hf_plan trial = *plan;
    trial.setup.mean = mean;
    trial.setup.weight_count = 0;
    trial.setup.rating = INFINITY;
    hf_status status = scratch ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK && plan->stepped) status = hf_plan_make_ladder(scratch, &trial, parts, error);
    if (status == HF_OK)
        status =
            hf_plan_table(scratch, &trial, plan->setup.cv, plan->setup.confidence, parts, &trial.base, error);
    const hf_how_many_row *row = status == HF_OK ? hf_plan_row(&trial, parts) : NULL;
    if (row) *out = row->assurance;
    hf_arena_free(scratch);
    return status;
}

/* Doubled until it is enough, then halved to 1 in 10 000, by the ratio. */
static hf_status find_mean(const hf_plan *plan, hf_plan_strong_row *row, hf_error *error) {
    const double needed = plan->calibration.needed, wanted = plan->setup.assurance;
    double low = fmax(needed, plan->setup.force.tare), high = low, chance = 0;
    row->mean = NAN;
    while (chance < wanted) {
        low = high;
        high *= 2;
        if (high > most_times * needed) return HF_OK;
        hf_status status = assurance_at(plan, high, row->parts, &chance, error);
        if (status != HF_OK) return status;
    }
    while (high > low * (1 + exact_to)) {
        double middle = sqrt(low * high);
        hf_status status = assurance_at(plan, middle, row->parts, &chance, error);
        if (status != HF_OK) return status;
        *(chance < wanted ? &low : &high) = middle;
    }
    row->mean = high;
    return HF_OK;
}

/* Strength, bound and what breaks nearly all of them grow alike: what the rig can break shows so much of a bound. */
static hf_status fill_row(const hf_plan *plan, hf_plan_strong_row *row, hf_error *error) {
    hf_plan_setup setup = plan->setup;
    hf_plan_calibration there;
    hf_guess guess;
    row->top = row->shown = NAN;
    hf_status status = find_mean(plan, row, error);
    if (status != HF_OK || isnan(row->mean)) return status;
    setup.mean = row->mean;
    status = hf_plan_guess(&setup, &guess, error);
    if (status != HF_OK) return status;
    row->top = hf_guess_quantile(&guess, HF_BREAK_SHARE);
    if (isinf(plan->reach)) return HF_OK;
    double bound = plan->calibration.needed * plan->reach / row->top;
    hf_plan_calibrate_at(&setup, bound, &there);
    row->shown = isnan(there.multiplier) ? bound : bound * there.multiplier;
    return HF_OK;
}

static hf_status check(const hf_plan *plan, hf_error *error) {
    hf_plan_setup as_if = plan->setup;
    as_if.mean =
        fmax(plan->setup.required, plan->setup.force.tare) * 2; /* what else is wrong is said as for a plan */
    as_if.step = NAN;
    if (!isnan(plan->setup.step))
        return hf_error_set(
            error, HF_USAGE,
            "--step without a mean: expected none, the steps follow from the strength looked for; "
            "or state --mean");
    if (plan->setup.parts == 1 || plan->setup.looks_asked)
        return hf_error_set(error, HF_USAGE, "--%s without a mean: expected none, or state --mean",
                            plan->setup.looks_asked ? "looks" : "parts 1");
    hf_status status = hf_plan_check(&as_if, error);
    if (status != HF_OK || isfinite(plan->calibration.needed)) return status;
    return hf_error_set(error, HF_USAGE,
                        "the rig's stated errors are too large: no bound is left after them");
}

bool hf_plan_is_inverse(const hf_campaign *campaign, const hf_plan_setup *setup) {
    const hf_design *design = campaign ? hf_campaign_design(campaign, setup->design) : NULL;
    bool scatter = setup->cv > 0 || setup->scatter.given;
    return isnan(setup->mean) && !setup->pilot && scatter && setup->required > 0 &&
           !(design && hf_plan_has_pulls(design));
}

hf_status hf_plan_strong_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                              const hf_plan_strong **out, hf_error *error) {
    hf_plan_strong *strong = HF_ARENA_NEW(arena, hf_plan_strong);
    hf_plan_strong_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_plan_strong_row, USUAL + 1);
    if (!strong || !rows) return hf_error_set(error, HF_MEMORY, "out of memory");
    size_t numbers[USUAL + 1];
    hf_plan *plan = &strong->plan;
    hf_plan_begin(campaign, setup, plan);
    if (isnan(plan->setup.cv)) {
        plan->setup.cv = setup->scatter.cv;
        plan->cv_source = HF_PLAN_CV_STATED;
    }
    if (plan->setup.assurance == 0) plan->setup.assurance = HF_USUAL_POWER;
    plan->calibration = hf_plan_calibrate(&plan->setup);
    hf_plan_fill_reach(plan);
    hf_status status = check(plan, error);
    strong->count = hf_plan_numbers(usual, USUAL, setup->parts, SIZE_MAX, numbers);
    for (size_t i = 0; i < strong->count; i++) rows[i].parts = numbers[i];
    for (size_t i = 0; status == HF_OK && i < strong->count; i++) status = fill_row(plan, &rows[i], error);
    strong->rows = rows;
    *out = strong;
    return status;
}

bool hf_plan_strong_can(const hf_plan_strong *strong) {
    bool can = isinf(strong->plan.reach);
    for (size_t i = 0; i < strong->count; i++) can |= strong->rows[i].top <= strong->plan.reach;
    return can;
}
