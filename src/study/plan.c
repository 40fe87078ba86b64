#include "holdfast/study/plan.h"

#include <math.h>
#include <string.h>
#include "holdfast/planning/pilot.h"
#include "study/event.h"

static const double default_dwell = 30, default_handling = 5, default_mount = 120, micro = 1e6;

static void from_campaign(const hf_campaign *campaign, const hf_design *design, hf_plan_setup *out) {
    out->design = design->id;
    if (design->guess.mean.given) out->mean = design->guess.mean.value;
    if (design->guess.cv.given) out->cv = design->guess.cv.value;
    out->family = design->family;
    out->content = design->goal.content;
    out->confidence = design->goal.confidence;
    if (design->goal.required_bound.given) out->required = design->goal.required_bound.value;
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
                           .content = 0.90,
                           .confidence = 0.95,
                           .required = NAN,
                           .step = NAN,
                           .rating = INFINITY,
                           .dwell_s = default_dwell,
                           .handling_s = default_handling,
                           .mount_s = default_mount,
                           .seed = 1,
                           .pilot_ratio = 1.25,
                           .pilot_start = NAN,
                           .pilot_top = NAN};
    out->force.advantage = 1;
    if (!campaign) return HF_OK;
    const hf_design *found = design ? hf_campaign_design(campaign, design) : &campaign->designs[0];
    if (!found) return hf_error_set(error, HF_USAGE, "no design \"%s\" in %s", design, campaign->file);
    from_campaign(campaign, found, out);
    return HF_OK;
}

static hf_status refuse(const hf_plan_setup *setup, hf_error *error, const char *flag, const char *key,
                        const char *expected) {
    return setup->design ? hf_error_set(error, HF_BAD_DATA, "design \"%s\": %s: expected %s", setup->design,
                                        key, expected)
                         : hf_error_set(error, HF_USAGE, "%s: expected %s", flag, expected);
}

/* Everything that can be wrong with the question, one clear line for the first. */
static hf_status check_setup(const hf_plan_setup *s, hf_error *error) {
    if (!s->pilot && !(s->mean > 0))
        return refuse(s, error, "--mean", "guess.mean", "a mean strength above 0 (a guess will do)");
    if (!s->pilot && !(s->cv > 0 && s->cv <= 1))
        return refuse(s, error, "--cv", "guess.cv", "a scatter above 0 and at most 1 (0.12 for 12 %)");
    if (hf_bound_range(s->content, s->confidence, false) != HF_OK)
        return hf_error_set(error, HF_USAGE,
                            "content %g, confidence %g: expected content above 0.5 and below 1, confidence "
                            "at least 0.5 and below 1",
                            s->content, s->confidence);
    if (!s->pilot && s->force.tare >= s->mean)
        return hf_error_set(
            error, HF_USAGE,
            "tare %g N is not below the guessed mean of %g N: the hanger alone would break the part",
            s->force.tare, s->mean);
    if (s->pilot && !(s->pilot_start > 0 && s->pilot_top > s->pilot_start))
        return hf_error_set(
            error, HF_USAGE,
            "pilot from %g N to %g N: expected a first rung above 0 and a last rung above the first",
            s->pilot_start, s->pilot_top);
    if (!isnan(s->step) && !(s->step > 0))
        return hf_error_set(error, HF_USAGE, "--step: expected a load above 0");
    if (!s->pilot && s->step > s->mean)
        return hf_error_set(error, HF_USAGE, "step %g N is larger than the guessed mean of %g N", s->step,
                            s->mean);
    return HF_OK;
}

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

/* Force on the part with nothing added. */
static double hanger_force(const hf_plan_setup *setup) {
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

static const char *ladder_words(hf_ladder_problem problem) {
    switch (problem) {
    case HF_LADDER_TARE:
        return "the tare alone is as heavy as the guessed strength";
    case HF_LADDER_STEP:
        return "the step is larger than the guessed mean";
    case HF_LADDER_TOO_MANY:
        return "that would be more than 1000 rungs; take larger steps";
    case HF_LADDER_RATING:
        return "the rig's rating does not leave room for one rung";
    case HF_LADDER_WEIGHTS:
        return "the weights cannot make one rung";
    case HF_LADDER_NO_PROBLEM:
        break;
    }
    return "no ladder can be made";
}

static hf_status make_ladder(hf_arena *arena, hf_plan *plan, size_t parts, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    hf_weight_search *search;
    hf_guess guess;
    hf_status status = make_search(arena, plan, &search, error);
    if (status != HF_OK) return status;
    hf_ladder_rig rig = rig_of(plan, search);
    if (s->pilot)
        status = hf_pilot_ladder(arena, s->pilot_start, s->pilot_top, s->pilot_ratio, &rig, &plan->ladder);
    else {
        (void)hf_guess_of(hf_governing_family(s->family ? hf_family_find(s->family) : NULL), s->mean, s->cv,
                          &guess);
        status = hf_ladder_plan(arena, &guess, parts, isnan(s->step) ? 0 : s->step, &rig, &plan->ladder);
    }
    if (status == HF_OK || status == HF_MEMORY) return status;
    return hf_error_set(error, HF_USAGE, "no ladder: %s", ladder_words(plan->ladder.problem));
}

static hf_status make_table(hf_arena *arena, const hf_plan *plan, double cv, hf_plan_scenario *out,
                            hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    const hf_family *family = s->family ? hf_family_find(s->family) : NULL;
    out->cv = cv;
    if (cv > 1) return HF_OK; /* no law of that scatter is planned for; left out */
    hf_how_many_setup setup = {.law = family,
                               .mean = s->mean,
                               .cv = cv,
                               .family = family,
                               .content = s->content,
                               .confidence = s->confidence,
                               .required = s->required,
                               .assurance = s->assurance,
                               .most = s->most,
                               .seed = s->seed};
    setup.minutes_per_pull = plan->stepped ? plan->ladder.minutes_per_pull : NAN;
    if (plan->stepped) {
        setup.loads = plan->ladder.loads;
        setup.load_count = plan->ladder.count;
        setup.tare = hanger_force(s);
    }
    hf_status status = hf_how_many_parts(arena, &setup, &out->parts);
    if (status == HF_RANGE)
        return hf_error_set(error, HF_USAGE,
                            "content %g and confidence %g: stepped pulls allow content 0.90 and more with "
                            "confidence 0.75 and more, or 0.75 with 0.90",
                            s->content, s->confidence);
    return status == HF_OK ? status : hf_error_set(error, status, "%s", hf_status_text(status));
}

static void add_caution(hf_arena *arena, hf_plan *plan, const char *code, double first, double second) {
    hf_caution_add(arena, &plan->cautions, (hf_caution){.code = code, .number = {first, second}});
}

static void add_cautions(hf_arena *arena, hf_plan *plan) {
    const hf_ladder *ladder = &plan->ladder;
    if (!plan->stepped || !ladder->count) return;
    double top = ladder->loads[ladder->count - 1];
    if (ladder->rating_below_twice_top)
        add_caution(arena, plan, "rating_below_twice_top", plan->setup.rating, top);
    if (ladder->over_rating > 0.001)
        add_caution(arena, plan, "strength_over_rating", ladder->over_rating, plan->setup.rating);
    if (ladder->run_out > 0.01) add_caution(arena, plan, "plan_run_out", ladder->run_out, top);
    if (ladder->below_first > 0.01)
        add_caution(arena, plan, "plan_first_rung", ladder->below_first, ladder->loads[0]);
    if (ladder->step_too_wide)
        add_caution(arena, plan, "plan_step_wide", ladder->step_widest, ladder->step_wanted);
    if (isinf(plan->setup.rating)) add_caution(arena, plan, "no_rating", NAN, NAN);
}

static void price_of_step(hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    const hf_family *family = hf_governing_family(s->family ? hf_family_find(s->family) : NULL);
    hf_guess guess;
    plan->price_step = NAN;
    plan->price_parts = plan->base.parts.recommended ? plan->base.parts.recommended : 5;
    if (!plan->stepped || s->pilot || !(plan->ladder.step_widest > 0)) return;
    if (hf_guess_of(family, s->mean, s->cv, &guess) != HF_OK) return;
    double h = family->log_scale ? log1p(plan->ladder.step_widest / s->mean) / guess.s
                                 : plan->ladder.step_widest / guess.s;
    if (hf_step_price_of(family, plan->price_parts, h, s->content, s->confidence, &plan->price) == HF_OK)
        plan->price_step = plan->ladder.step_widest / guess.deviation;
}

/* The default step depends on the number of parts and the number of parts on the step: the wide step first, and again with the fine
 * one when four or fewer parts turn out to do. */
static hf_status plan_all(hf_arena *arena, hf_plan *plan, hf_error *error) {
    enum { MANY = 5, FEW = 4 };
    hf_status status = plan->stepped ? make_ladder(arena, plan, MANY, error) : HF_OK;
    if (status == HF_OK && !plan->setup.pilot)
        status = make_table(arena, plan, plan->setup.cv, &plan->base, error);
    bool few = plan->base.parts.recommended > 0 && plan->base.parts.recommended <= FEW;
    if (status == HF_OK && plan->stepped && few && isnan(plan->setup.step)) {
        status = make_ladder(arena, plan, FEW, error);
        if (status == HF_OK) status = make_table(arena, plan, plan->setup.cv, &plan->base, error);
    }
    if (status == HF_OK && !plan->setup.pilot)
        status = make_table(arena, plan, plan->setup.cv / 2, &plan->half, error);
    if (status == HF_OK && !plan->setup.pilot)
        status = make_table(arena, plan, plan->setup.cv * 2, &plan->twice, error);
    return status;
}

hf_status hf_plan_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                       const hf_plan **out, hf_error *error) {
    hf_plan *plan = HF_ARENA_NEW(arena, hf_plan);
    if (!plan) return hf_error_set(error, HF_MEMORY, "out of memory");
    plan->setup = *setup;
    if (plan->setup.family && strcmp(plan->setup.family, "auto") == 0) plan->setup.family = NULL;
    plan->campaign = campaign;
    plan->stepped = setup->pilot || setup->force.records != HF_RIG_RECORDS_NONE || !isnan(setup->step) ||
                    setup->weight_count > 0;
    hf_status status = check_setup(&plan->setup, error);
    if (status == HF_OK) status = plan_all(arena, plan, error);
    if (status != HF_OK) return status;
    price_of_step(plan);
    add_cautions(arena, plan);
    *out = plan;
    return HF_OK;
}

hf_status hf_plan_next_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                            size_t more, const hf_plan_next **out, hf_error *error) {
    hf_plan_next *plan = HF_ARENA_NEW(arena, hf_plan_next);
    const hf_design *design = hf_campaign_design(campaign, setup->design);
    const char *family = setup->family && strcmp(setup->family, "auto") != 0 ? setup->family : NULL;
    const hf_plan *ladder = NULL;
    if (!plan) return hf_error_set(error, HF_MEMORY, "out of memory");
    *plan = (hf_plan_next){.campaign = campaign,
                           .design = design,
                           .content = setup->content,
                           .confidence = setup->confidence,
                           .required = setup->required,
                           .seed = setup->seed};
    hf_next_setup next = {.family = family ? hf_family_find(family) : NULL,
                          .content = setup->content,
                          .confidence = setup->confidence,
                          .required = setup->required,
                          .more = more,
                          .seed = setup->seed};
    hf_status status = hf_design_sample(arena, campaign, design, &next.sample);
    if (status != HF_OK) return hf_error_set(error, status, "out of memory");
    if (hf_sample_step(next.sample) > 0 && setup->mean > 0 && setup->cv > 0) {
        status = hf_plan_make(arena, campaign, setup, &ladder, error);
        if (status != HF_OK) return status;
        next.loads = ladder->ladder.loads;
        next.load_count = ladder->ladder.count;
        next.tare = hanger_force(setup);
    }
    status = hf_next_parts(arena, &next, &plan->next);
    if (status == HF_NO_RESULT)
        return hf_error_set(
            error, status,
            "design \"%s\": too few finished pulls to foretell anything from; pull two that fail first",
            setup->design);
    if (status != HF_OK)
        return hf_error_set(error, status, "design \"%s\": %s", setup->design, hf_status_text(status));
    *out = plan;
    return HF_OK;
}
