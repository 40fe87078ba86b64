/* Where a plan starts from: the goal as a bound before calibration, and the guess after a pilot. */
#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/strength/working_load.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/plan_parts.h"

static const double most_times = 1e6;

typedef struct calibration_search {
    const hf_plan_setup *setup;
} calibration_search;

static double left_of(const hf_plan_setup *setup, double bound) {
    double z, u = hf_uncertainty_combined(setup->uncertainty, setup->uncertainty_count, bound);
    return bound * hf_calibration_multiplier(u, setup->confidence, &z);
}

static double excess(double bound, void *context) {
    const hf_plan_setup *setup = ((const calibration_search *)context)->setup;
    return left_of(setup, bound) - setup->required;
}

void hf_plan_calibrate_at(const hf_plan_setup *setup, double bound, hf_plan_calibration *calibration) {
    double z;
    calibration->at = bound;
    calibration->u = calibration->multiplier = NAN;
    if (!setup->uncertainty_count || !(bound > 0) || isinf(bound)) return;
    calibration->u = hf_uncertainty_combined(setup->uncertainty, setup->uncertainty_count, bound);
    calibration->multiplier = hf_calibration_multiplier(calibration->u, setup->confidence, &z);
}

/* What is left grows with the bound, so "left ≥ required" is "bound ≥ needed". */
hf_plan_calibration hf_plan_calibrate(const hf_plan_setup *setup) {
    calibration_search search = {setup};
    hf_plan_calibration out = {setup->required, setup->required, NAN, NAN};
    double high = setup->required;
    if (!(setup->required > 0) || !setup->uncertainty_count) return out;
    while (left_of(setup, high) < setup->required && high < most_times * setup->required) high *= 2;
    if (!(high < most_times * setup->required) ||
        hf_solve_root(excess, &search, setup->required, high, 0, 1e-13, &out.needed) != HF_OK)
        out.needed = INFINITY;
    hf_plan_calibrate_at(setup, out.needed, &out);
    return out;
}

void hf_plan_take_goal(const hf_goal *goal, hf_plan_setup *out) {
    double factor = goal->design_factor.value;
    if (goal->required_bound.given) out->required = goal->required_bound.value;
    if (!goal->service_load.given || !goal->design_factor.given) return;
    for (size_t i = 0; i < goal->use_factor_count; i++) factor *= goal->use_factors[i].factor;
    out->factor = factor;
    if (out->required >= goal->service_load.value * factor) return;
    out->required = goal->service_load.value * factor;
    out->by_service = true;
}

static bool is_finished(const hf_specimen *specimen) {
    bool closed = specimen->pull.kind == HF_INTERVAL_CLOSED || specimen->pull.kind == HF_INTERVAL_EXACT;
    return specimen->outcome == HF_OUTCOME_FAILED && !specimen->reused && closed && specimen->pull.lower > 0;
}

static size_t finished_of(const hf_design *design) {
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count; i++) count += is_finished(&design->specimens[i]);
    return count;
}

bool hf_plan_has_pulls(const hf_design *design) {
    for (size_t i = 0; i < design->specimen_count; i++)
        if (design->specimens[i].pull.kind != HF_INTERVAL_NONE) return true;
    return false;
}

bool hf_plan_has_pilot(const hf_design *design) {
    size_t finished = finished_of(design);
    return finished > 0 && finished <= HF_PLAN_PILOT_PULLS;
}

hf_status hf_plan_point_to_next(const hf_campaign *campaign, const hf_plan_setup *setup, hf_error *error) {
    const hf_design *design = campaign ? hf_campaign_design(campaign, setup->design) : NULL;
    if (!design || setup->pilot || setup->mean > 0) return HF_OK;
    size_t finished = finished_of(design);
    if (finished <= HF_PLAN_PILOT_PULLS) return HF_OK;
    return hf_error_set(
        error, HF_BAD_DATA,
        "design \"%s\": no mean is guessed, and its %zu finished pulls say more than a guess: see what more "
        "of them would bring with \"holdfast plan next %s --design %s\", or state --mean and --cv",
        setup->design, finished, campaign->file, setup->design);
}

/* Nothing is known before: a guess of unknown worth does not weigh against a pull. */
static hf_status move_guess(hf_sample sample, double cv, hf_pilot_belief *belief) {
    for (size_t i = 0; i < sample.count; i++) {
        hf_pilot_belief before = *belief;
        hf_status status = hf_pilot_update(i ? &before : NULL, cv, sample.items[i], belief);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}

static void fill_scatter(hf_plan *plan, bool pulled) {
    hf_plan_setup *setup = &plan->setup;
    if (!isnan(setup->cv)) return;
    if (setup->scatter.given) {
        setup->cv = setup->scatter.cv;
        plan->cv_source = HF_PLAN_CV_STATED;
    } else if (pulled) {
        setup->cv = HF_ASSUMED_CV;
        plan->cv_source = HF_PLAN_CV_ASSUMED;
    }
}

hf_status hf_plan_take_pilot(hf_arena *arena, const hf_campaign *campaign, hf_plan *plan, hf_error *error) {
    hf_plan_setup *setup = &plan->setup;
    const hf_design *design = campaign ? hf_campaign_design(campaign, setup->design) : NULL;
    hf_plan_pilot told = {.guessed = setup->mean};
    hf_pulled pulled;
    if (!design || setup->pilot) return HF_OK;
    if (hf_design_sample(arena, campaign, design, &pulled) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_sample sample = pulled.sample;
    fill_scatter(plan, sample.count > 0);
    if (setup->mean_stated || sample.count < 1 || sample.count > HF_PLAN_PILOT_PULLS) return HF_OK;
    if (!(setup->cv > 0 && setup->cv <= 1)) return HF_OK; /* said by whoever checks the question */
    hf_status status = move_guess(sample, setup->cv, &told.belief);
    if (status == HF_OK) {
        told.pulls = sample.count;
        told.pull = sample.items[0];
        for (size_t i = design->specimen_count; i-- > 0;)
            if (is_finished(&design->specimens[i])) told.first = &design->specimens[i];
        setup->mean = told.belief.mean;
        plan->pilot = told;
    } else if (isnan(setup->mean))
        return hf_error_set(error, HF_BAD_DATA,
                            "design \"%s\": guess.mean: expected a mean strength: the pulls ended open, so "
                            "they do not show one; start lighter or go on heavier",
                            setup->design);
    return HF_OK;
}
