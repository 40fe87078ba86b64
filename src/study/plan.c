#include "holdfast/study/plan.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/campaign/used.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/plan_parts.h"

static void from_campaign(const hf_campaign *campaign, const hf_design *design, hf_plan_setup *out) {
    out->design = design->id;
    if (design->guess.mean.given) out->mean = design->guess.mean.value;
    if (design->guess.cv.given) out->cv = design->guess.cv.value;
    out->family = design->family;
    out->content = design->goal.content;
    out->confidence = design->goal.confidence;
    out->looks = design->goal.looks;
    out->batches = hf_batches_named(design);
    out->scatter = design->scatter;
    hf_plan_take_goal(&design->goal, out);
    out->uncertainty = campaign->rig.uncertainty;
    out->uncertainty_count = campaign->rig.uncertainty_count;
    out->force = campaign->rig.force;
    if (campaign->rig.rating.given) out->rating = campaign->rig.rating.value;
    if (campaign->rig.dwell_s.given) out->dwell_s = campaign->rig.dwell_s.value;
    out->weights = campaign->weights;
    out->weight_count = campaign->weight_count;
}

hf_status hf_plan_setup_of(const hf_campaign *campaign, const char *design, hf_plan_setup *out,
                           hf_error *error) {
    *out = (hf_plan_setup){.mean = NAN,
                           .cv = NAN,
                           .content = HF_USUAL_CONTENT,
                           .confidence = HF_USUAL_CONFIDENCE,
                           .required = NAN,
                           .factor = NAN,
                           .step = NAN,
                           .rating = INFINITY,
                           .dwell_s = HF_USUAL_DWELL,
                           .handling_s = HF_USUAL_HANDLING,
                           .mount_s = HF_USUAL_MOUNT,
                           .seed = 1,
                           .pilot_ratio = 1.25,
                           .pilot_start = NAN,
                           .pilot_top = NAN};
    out->force.advantage = 1;
    if (!campaign) return HF_OK;
    const hf_design *found =
        design ? hf_campaign_find_design(campaign, design, error) : &campaign->designs[0];
    if (!found) return error->status;
    from_campaign(campaign, found, out);
    return HF_OK;
}

/* The guess of a file is bad data, that of a flag bad usage; `found` NaN: missing. */
static hf_status refuse(const hf_plan_setup *setup, hf_error *error, double found, const char *const names[2],
                        const char *expected) {
    const char *flag = names[0], *key = names[1];
    char number[HF_NUMBER_SIZE];
    const char *value = isfinite(found) ? hf_number_shortest(found, number) : "";
    const char *before = *value ? "found " : "", *after = *value ? ", " : "";
    if (!setup->design)
        return hf_error_set(error, HF_USAGE, "%s: %s%s%sexpected %s", flag, before, value, after, expected);
    return hf_error_set(error, HF_BAD_DATA, "design \"%s\": %s: %s%s%sexpected %s", setup->design, key,
                        before, value, after, expected);
}

hf_status hf_plan_check(const hf_plan_setup *s, hf_error *error) {
    if (!s->pilot && !(s->mean > 0))
        return refuse(
            s, error, s->mean, (const char *const[]){"--mean", "guess.mean"},
            "a mean strength above 0 (a guess will do; knowing nothing, pull a pilot first: --pilot-from, "
            "--pilot-to)");
    if (!s->pilot && !(s->cv > 0 && s->cv <= 1))
        return refuse(s, error, s->cv, (const char *const[]){"--cv", "guess.cv"},
                      "a scatter above 0 and at most 1 (0.12 for 12 %)");
    if (hf_bound_range(s->content, s->confidence, false) != HF_OK)
        return hf_error_set(error, HF_USAGE,
                            "content %g, confidence %g: expected content above 0.5 and below 1, confidence "
                            "at least 0.5 and below 1",
                            s->content, s->confidence);
    if (!s->pilot && s->force.tare >= s->mean)
        return hf_error_set(
            error, s->design ? HF_BAD_DATA : HF_USAGE,
            "tare %g N is not below the guessed mean of %g N: the hanger alone would break the part",
            s->force.tare, s->mean);
    if (s->pilot && !(s->pilot_start > 0 && s->pilot_top > s->pilot_start))
        return hf_error_set(
            error, HF_USAGE,
            "pilot from %g N to %g N: expected a first rung above 0 and a last rung above the first",
            s->pilot_start, s->pilot_top);
    if (!s->pilot && s->most == 1 && !s->scatter.given)
        return hf_error_set(error, HF_USAGE,
                            "--max-n 1: one part shows no scatter: expected 2 or more, or a design with its "
                            "scatter stated (key \"scatter\", with its source)");
    if (!isnan(s->step) && !(s->step > 0))
        return hf_error_set(error, HF_USAGE, "--step: expected a load above 0");
    if (!s->pilot && s->step > s->mean)
        return hf_error_set(error, HF_USAGE, "step %g N is larger than the guessed mean of %g N", s->step,
                            s->mean);
    return HF_OK;
}

hf_status hf_plan_table(hf_arena *arena, const hf_plan *plan, double cv, double confidence, size_t most,
                        hf_plan_scenario *out, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    const hf_family *family = s->family;
    out->cv = cv;
    if (cv > 1) return HF_OK; /* no law of that scatter is planned for; left out */
    const hf_stated_scatter scatter = hf_scatter_stated(&s->scatter);
    hf_how_many_setup setup = {.law = family,
                               .mean = s->mean,
                               .cv = cv,
                               .family = family,
                               .content = s->content,
                               .confidence = confidence,
                               .required = plan->calibration.needed,
                               .scatter = s->scatter.given ? &scatter : NULL,
                               .assurance = s->assurance,
                               .most = most ? most : s->most,
                               .seed = s->seed};
    setup.minutes_per_pull = plan->stepped ? plan->ladder.minutes_per_pull : NAN;
    if (plan->stepped) {
        setup.loads = plan->ladder.loads;
        setup.load_count = plan->ladder.count;
        setup.tare = hf_plan_hanger(s);
    }
    hf_status status = hf_how_many_parts(arena, &setup, &out->parts);
    if (status == HF_NUMERIC || status == HF_NO_RESULT)
        return hf_error_set(error, HF_USAGE,
                            "content %g with confidence %g and a scatter of %g: the factor of so strict a "
                            "promise cannot be worked out exactly enough; ask for less of both, such as "
                            "content 0.99 with confidence 0.95",
                            s->content, confidence, cv);
    if (status == HF_RANGE)
        return hf_error_set(error, HF_USAGE,
                            "content %g and confidence %g: stepped pulls allow content 0.90 and more with "
                            "confidence 0.75 and more, or 0.75 with 0.90",
                            s->content, confidence);
    return status == HF_OK ? status : hf_error_set(error, status, "%s", hf_status_text(status));
}

static void add_caution(hf_arena *arena, hf_plan *plan, hf_caution_code code, double first, double second) {
    hf_caution_raise(arena, &plan->cautions, (hf_caution){code, {first, second}, {NULL}});
}

/* A recommended number whose bound is mostly luck: one test in ten ends below half of what is expected. */
static void add_luck(hf_arena *arena, hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    const hf_how_many_row *at = NULL;
    size_t steady = 0;
    for (size_t i = 0; i < parts->count; i++) {
        const hf_how_many_row *row = &parts->rows[i];
        if (row->n == parts->recommended) at = row;
        if (at && !steady && row->low >= HF_LUCK_SHARE * row->expected && row->expected > 0) steady = row->n;
    }
    if (at && steady != at->n)
        hf_caution_raise(arena, &plan->cautions,
                         (hf_caution){HF_CAUTION_PLAN_LUCK, {at->low, at->expected, (double)steady}, {NULL}});
}

static void add_cautions(hf_arena *arena, hf_plan *plan) {
    const hf_ladder *ladder = &plan->ladder;
    if (isnan(plan->setup.required) && !plan->setup.pilot) add_luck(arena, plan);
    if (!plan->stepped || !ladder->count) return;
    double top = ladder->loads[ladder->count - 1];
    if (ladder->rating_below_twice_top)
        add_caution(arena, plan, HF_CAUTION_RATING_BELOW_TWICE_TOP, plan->setup.rating, top);
    if (ladder->over_rating > 1 - HF_BREAK_SHARE)
        add_caution(arena, plan, HF_CAUTION_STRENGTH_OVER_RATING, ladder->over_rating, plan->setup.rating);
    if (ladder->run_out > HF_OFTEN_OPEN)
        add_caution(arena, plan, HF_CAUTION_PLAN_RUN_OUT, ladder->run_out, top);
    if (ladder->below_first > HF_OFTEN_OPEN)
        add_caution(arena, plan, HF_CAUTION_PLAN_FIRST_RUNG, ladder->below_first, ladder->loads[0]);
    if (ladder->step_too_wide)
        add_caution(arena, plan, HF_CAUTION_PLAN_STEP_WIDE, ladder->step_widest, ladder->step_wanted);
    if (isinf(plan->setup.rating)) add_caution(arena, plan, HF_CAUTION_NO_RATING, NAN, NAN);
}

static void price_of_step(hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    const hf_family *family = hf_family_governing(s->family);
    hf_guess guess;
    plan->price_parts = plan->base.parts.recommended ? plan->base.parts.recommended : 5;
    if (!plan->stepped || s->pilot || !(plan->ladder.step_widest > 0)) return;
    if (hf_guess_of(family, s->mean, s->cv, &guess) != HF_OK) return;
    double h = family->log_scale ? log1p(plan->ladder.step_widest / s->mean) / guess.s
                                 : plan->ladder.step_widest / guess.s;
    if (hf_step_price_of(family, plan->price_parts, h, s->content, s->confidence, &plan->price) == HF_OK)
        plan->price_step = plan->ladder.step_widest / guess.deviation;
}

static hf_status make_scenarios(hf_arena *arena, hf_plan *plan, hf_error *error) {
    hf_status status = HF_OK;
    if (plan->setup.pilot) return status;
    status = hf_plan_table(arena, plan, plan->setup.cv / 2, plan->setup.confidence, 0, &plan->half, error);
    if (status != HF_OK) return status;
    return hf_plan_table(arena, plan, plan->setup.cv * 2, plan->setup.confidence, 0, &plan->twice, error);
}

/* The same plan without the earlier designs, on the same ladder and with the same random numbers. */
static hf_status compare_alone(hf_arena *arena, hf_plan *plan, hf_error *error) {
    enum { USUAL = 3 };
    const hf_how_many *with = &plan->base.parts;
    hf_plan alone = *plan;
    hf_plan_scenario own = {0};
    hf_plan_earlier *out = &plan->earlier;
    if (!plan->setup.scatter.past || plan->setup.pilot || with->count < USUAL - 1) return HF_OK;
    out->designs = plan->setup.scatter.past_count;
    out->parts = with->recommended ? with->recommended : USUAL;
    alone.setup.scatter = (hf_scatter){.given = false};
    hf_status status = hf_plan_table(arena, &alone, plan->setup.cv, plan->setup.confidence, 0, &own, error);
    if (status != HF_OK) return status;
    const double reached = with->rows[out->parts - 2].expected;
    for (size_t i = 0; i < own.parts.count && !out->alone; i++)
        if (own.parts.rows[i].expected >= reached) out->alone = own.parts.rows[i].n;
    out->most = own.parts.count ? own.parts.rows[own.parts.count - 1].n : 0;
    return HF_OK;
}

size_t hf_plan_numbers(const size_t *usual, size_t count, size_t own, size_t most, size_t *out) {
    size_t filled = 0;
    bool there = own == 0;
    for (size_t i = 0; i <= count; i++) {
        bool mine = !there && (i == count || usual[i] >= own);
        if (mine) out[filled++] = own;
        there |= mine;
        if (i < count && usual[i] != own && usual[i] <= most) out[filled++] = usual[i];
    }
    return filled;
}

void hf_plan_begin(const hf_campaign *campaign, const hf_plan_setup *setup, hf_plan *plan) {
    *plan = (hf_plan){.setup = *setup, .campaign = campaign, .price_step = NAN};
    plan->stepped = setup->pilot || setup->force.records != HF_RIG_RECORDS_NONE || !isnan(setup->step) ||
                    setup->weight_count > 0;
}

hf_status hf_plan_start(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                        hf_plan **out, hf_error *error) {
    hf_plan *plan = HF_ARENA_NEW(arena, hf_plan);
    if (!plan) return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_plan_begin(campaign, setup, plan);
    hf_status status = hf_plan_take_pilot(arena, campaign, plan, error);
    if (status == HF_OK) status = hf_plan_point_to_next(campaign, &plan->setup, error);
    if (status == HF_OK) status = hf_plan_check(&plan->setup, error);
    if (status == HF_OK) plan->calibration = hf_plan_calibrate(&plan->setup);
    *out = plan;
    return status;
}

hf_status hf_plan_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                       const hf_plan **out, hf_error *error) {
    hf_plan *plan;
    hf_status status = hf_plan_start(arena, campaign, setup, &plan, error);
    if (status == HF_OK) status = hf_plan_make_day(arena, plan, error);
    if (status == HF_OK && !setup->brief) status = make_scenarios(arena, plan, error);
    if (status == HF_OK && !setup->brief) status = compare_alone(arena, plan, error);
    if (status != HF_OK) return status;
    size_t chosen = plan->base.parts.recommended;
    if (isnan(plan->calibration.needed) && chosen)
        hf_plan_calibrate_at(&plan->setup, plan->base.parts.rows[chosen - 2].expected, &plan->calibration);
    hf_plan_fill_reach(plan);
    price_of_step(plan);
    if (!setup->brief) status = hf_plan_fill_borrow(arena, plan, error);
    if (status != HF_OK) return status;
    status = hf_plan_make_looks(arena, plan, error);
    if (status == HF_OK && !setup->brief) status = hf_plan_make_batches(arena, plan, error);
    if (status != HF_OK) return status;
    add_cautions(arena, plan);
    *out = plan;
    return HF_OK;
}
