/* What more parts would bring, and the ladder that was written. */
#include "study/study_parts.h"

#include <math.h>
#include <string.h>
#include "study/event.h"
#include "study/plan_parts.h"

/* The outlook is a picture, not a promise: a thousand samples place its curve within half a per cent. */
enum { OUTLOOK_REPLICATES = 1000, OUTLOOK_LEAST = 12, OUTLOOK_MOST = 30 };

/* --- The written ladder ------------------------------------------------------------------------------ */

static const hf_written_ladder *written_ladder(const hf_campaign *campaign, const hf_design *design) {
    for (size_t i = 0; i < campaign->plan.count; i++)
        if (strcmp(campaign->plan.ladders[i].design, design->id) == 0) return &campaign->plan.ladders[i];
    return NULL;
}

hf_status hf_study_rungs(hf_arena *arena, const hf_campaign *campaign, hf_study_design *out) {
    const hf_written_ladder *written = written_ladder(campaign, out->assessment->design);
    if (!written || !written->count) return HF_OK;
    hf_study_rung *rungs = HF_ARENA_NEW_ARRAY(arena, hf_study_rung, written->count);
    if (!rungs) return HF_MEMORY;
    for (size_t i = 0; i < written->count; i++)
        rungs[i] = (hf_study_rung){hf_rig_force_of_record(&campaign->rig.force, written->rungs[i].newtons),
                                   written->rungs[i].newtons, written->rungs[i].weights};
    out->rungs = rungs;
    out->rung_count = written->count;
    return HF_OK;
}

/* The written rungs as a ladder of the outlook, where they rise as a ladder must. */
static hf_status judge_rungs(hf_arena *arena, const hf_study_design *design, hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    size_t count = design->rung_count;
    hf_guess guess;
    if (!count || count > HF_LADDER_MOST) return HF_OK;
    for (size_t i = 0; i < count; i++)
        if (!(design->rungs[i].force > (i ? design->rungs[i - 1].force : 0))) return HF_OK;
    if (hf_guess_of(hf_family_governing(s->family), s->mean, s->cv, &guess) != HF_OK) return HF_OK;
    hf_ladder_rung *rungs = HF_ARENA_NEW_ARRAY(arena, hf_ladder_rung, count);
    double *loads = HF_ARENA_NEW_ARRAY(arena, double, count);
    if (!rungs || !loads) return HF_MEMORY;
    hf_ladder *ladder = &plan->ladder;
    *ladder = (hf_ladder){.rungs = rungs, .loads = loads, .count = count, .step_coarse = NAN};
    ladder->change = hf_ladder_change(&guess);
    for (size_t i = 0; i < count; i++) {
        loads[i] = rungs[i].force = design->rungs[i].force;
        rungs[i].coarse = loads[i] < ladder->change;
        ladder->coarse_count += rungs[i].coarse;
    }
    hf_ladder_rig rig = {.tare = hf_plan_hanger(s),
                         .rating = s->rating,
                         .dwell_s = s->dwell_s,
                         .handling_s = s->handling_s,
                         .mount_s = s->mount_s};
    hf_ladder_judge(&guess, &rig, rungs, ladder);
    return HF_OK;
}

/* --- What more parts would bring --------------------------------------------------------------------- */

static size_t outlook_parts(const hf_study_design *design) {
    size_t twice = 2 * design->assessment->break_event.counts.used;
    return twice < OUTLOOK_LEAST ? OUTLOOK_LEAST : twice > OUTLOOK_MOST ? OUTLOOK_MOST : twice;
}

/* Without a guess, the mean and scatter of the law that governs, as the pulls show them. */
static bool take_fit(const hf_study_design *design, const hf_family *family, hf_plan *plan) {
    const hf_fit *fit = &design->assessment->break_event.fits[hf_family_index(family)];
    hf_guess guess;
    if (fit->stop != HF_FIT_CONVERGED) return false;
    if (hf_guess_from_fit(family, fit->m, fit->s, &guess) != HF_OK) return false;
    plan->setup.mean = guess.mean;
    plan->setup.cv = guess.deviation / guess.mean;
    plan->cv_source = HF_PLAN_CV_FITTED;
    return true;
}

/* After the pulls no number is recommended; and a mean above its own range, of few parts that scatter widely, tells nothing. */
static void look_back(hf_how_many *parts) {
    parts->recommended = 0;
    while (parts->count > 1 && parts->rows[0].expected > parts->rows[0].high) {
        parts->rows++;
        parts->count--;
    }
}

hf_status hf_study_outlook(hf_arena *arena, const hf_study *study, hf_study_design *out) {
    const hf_design *design = out->assessment->design;
    hf_plan *plan = HF_ARENA_NEW(arena, hf_plan);
    if (!plan) return HF_MEMORY;
    hf_plan_setup *s = &plan->setup;
    if (hf_plan_setup_of(study->campaign, design->id, s, NULL) != HF_OK) return HF_OK;
    const hf_family *family = s->family;
    bool guessed = design->guess.mean.given && design->guess.cv.given;
    if (!guessed && !take_fit(out, hf_family_governing(family), plan)) return HF_OK;
    s->content = out->assessment->content;
    s->confidence = out->assessment->promise.used;
    s->seed = study->options.seed;
    plan->campaign = study->campaign;
    plan->price_step = NAN;
    plan->calibration = hf_plan_calibrate(s);
    hf_how_many_setup setup = {.law = family,
                               .mean = s->mean,
                               .cv = plan->base.cv = s->cv,
                               .family = family,
                               .content = s->content,
                               .confidence = s->confidence,
                               .required = plan->calibration.needed,
                               .assurance = s->assurance,
                               .most = outlook_parts(out),
                               .minutes_per_pull = NAN,
                               .seed = s->seed,
                               .replicates = OUTLOOK_REPLICATES};
    hf_status status = hf_how_many_parts(arena, &setup, &plan->base.parts);
    if (status == HF_OK && !guessed) look_back(&plan->base.parts);
    if (status == HF_OK) status = judge_rungs(arena, out, plan);
    if (status == HF_OK) out->outlook = plan;
    return status == HF_MEMORY ? status : HF_OK;
}
