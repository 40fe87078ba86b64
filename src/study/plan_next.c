/* What more parts would bring to a design of the campaign. */
#include <math.h>
#include <string.h>
#include "holdfast/strength/batch_bound.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/sample.h"
#include "study/event.h"
#include "holdfast/study/promise.h"
#include "study/plan_parts.h"

/* What the pulls say themselves, where no guess is stated. */
static void guess_from(hf_sample sample, hf_plan_setup *setup) {
    double sum = 0, squares = 0, n = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double mid = 0.5 * (item->lower + item->upper);
        if (item->kind != HF_INTERVAL_EXACT && item->kind != HF_INTERVAL_CLOSED) continue;
        sum += mid;
        squares += mid * mid;
        n++;
    }
    if (n < 2) return;
    if (isnan(setup->mean)) setup->mean = sum / n;
    if (isnan(setup->cv)) setup->cv = fmin(1, sqrt(fmax(0, squares - sum * sum / n) / (n - 1)) / (sum / n));
}

/* The ladder that further parts would be pulled on. */
static hf_status add_ladder(hf_arena *arena, const hf_campaign *campaign, hf_plan *plan, hf_next_setup *next,
                            hf_error *error) {
    plan->setup.family = next->family;
    plan->stepped = true;
    guess_from(next->sample, &plan->setup);
    hf_status status = hf_plan_take_pilot(arena, campaign, plan, error);
    if (status != HF_OK) return status;
    if (!(plan->setup.mean > 0 && plan->setup.cv > 0)) return HF_OK; /* as if read from a scale */
    status = hf_plan_check(&plan->setup, error);
    if (status == HF_OK) status = hf_plan_make_ladder(arena, plan, next->sample.count + next->more, error);
    if (status != HF_OK) return status;
    next->loads = plan->ladder.loads;
    next->load_count = plan->ladder.count;
    next->tare = hf_plan_hanger(&plan->setup);
    return HF_OK;
}

/* The rows take each part for itself; the assessment takes the bound from the batch means where that is lower. */
static hf_status add_batches(hf_sample sample, double confidence, hf_plan_next *plan) {
    hf_batch_bound batch;
    plan->batch_bound = NAN;
    if (!hf_sample_in_batches(sample, NULL)) return HF_OK;
    hf_status status = hf_batch_bound_of(sample, plan->content, confidence, &batch);
    if (status == HF_OK) {
        plan->batches = batch.batches;
        plan->batch_bound = batch.value;
    }
    return status == HF_MEMORY ? status : HF_OK;
}

/* What more weight would bring, where some parts outlasted it: on a ladder for the law that all pulls show. */
static hf_status add_borrowed(hf_arena *arena, hf_plan *plan, const hf_next_setup *asked, hf_plan_next *out,
                              hf_error *error) {
    const hf_family *family = hf_family_governing(asked->family);
    hf_next_setup next = *asked;
    hf_plan_borrow borrow;
    hf_fit fit;
    hf_guess guess;
    hf_next with;
    for (size_t i = 0; i < next.sample.count; i++)
        out->whole += next.sample.items[i].kind == HF_INTERVAL_ABOVE;
    if (!out->whole || !next.loads || hf_fit_maximum(family, next.sample, &fit) != HF_OK ||
        fit.stop != HF_FIT_CONVERGED || hf_guess_from_fit(family, fit.m, fit.s, &guess) != HF_OK)
        return HF_OK;
    plan->setup.mean = guess.mean;
    plan->setup.cv = guess.deviation / guess.mean;
    hf_plan_fill_reach(plan);
    hf_status status = hf_plan_add_weights(arena, &guess, plan, &borrow, error);
    if (status != HF_OK || !borrow.kind) return status;
    next.more = HF_PLAN_MORE_PARTS;
    status = hf_plan_make_ladder(arena, plan, next.sample.count + next.more, error);
    if (status != HF_OK) return status;
    next.loads = plan->ladder.loads;
    next.load_count = plan->ladder.count;
    status = hf_next_parts(arena, &next, &with);
    if (status != HF_OK) return status == HF_NO_RESULT ? HF_OK : status;
    borrow.parts = next.more;
    borrow.expected = with.rows[next.more - 1].expected;
    out->borrow = borrow;
    return HF_OK;
}

hf_status hf_plan_next_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                            size_t more, const hf_plan_next **out, hf_error *error) {
    hf_plan_next *plan = HF_ARENA_NEW(arena, hf_plan_next);
    hf_plan *later = HF_ARENA_NEW(arena, hf_plan);
    const hf_design *design = hf_campaign_design(campaign, setup->design);
    if (!plan || !later) return hf_error_set(error, HF_MEMORY, "out of memory");
    *plan = (hf_plan_next){.campaign = campaign,
                           .design = design,
                           .content = setup->content,
                           .confidence = setup->confidence,
                           .required = setup->required,
                           .calibration = hf_plan_calibrate(setup),
                           .seed = setup->seed};
    const hf_stated_scatter scatter = hf_scatter_stated(&setup->scatter);
    hf_next_setup next = {.family = setup->family,
                          .content = setup->content,
                          .confidence = setup->confidence,
                          .scatter = setup->scatter.given ? &scatter : NULL,
                          .required = plan->calibration.needed,
                          .more = more,
                          .seed = setup->seed};
    hf_pulled pulled;
    hf_promise promise;
    hf_status status = hf_design_sample(arena, campaign, design, &pulled);
    if (status != HF_OK) return hf_error_set(error, status, "out of memory");
    next.sample = pulled.sample;
    status = hf_promise_of(&(hf_goal){.looks = setup->looks}, setup->content, setup->confidence,
                           pulled.sample.count, 0, 0, &promise);
    if (status != HF_OK) return hf_error_set(error, status, "out of memory");
    plan->looks = promise.looks;
    next.confidence = promise.used;
    if (add_batches(next.sample, next.confidence, plan) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_plan_begin(campaign, setup, later);
    if (hf_sample_step(next.sample) > 0) status = add_ladder(arena, campaign, later, &next, error);
    if (status != HF_OK) return status;
    status = hf_next_parts(arena, &next, &plan->next);
    if (status == HF_NO_RESULT)
        return hf_error_set(
            error, status,
            "design \"%s\": too few finished pulls to foretell anything from; pull two that fail first",
            setup->design);
    if (status != HF_OK)
        return hf_error_set(error, status, "design \"%s\": %s", setup->design, hf_status_text(status));
    status = add_borrowed(arena, later, &next, plan, error);
    if (status != HF_OK) return status;
    if (isnan(plan->calibration.needed)) hf_plan_calibrate_at(setup, plan->next.now, &plan->calibration);
    *out = plan;
    return HF_OK;
}
