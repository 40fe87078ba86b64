#include "holdfast/study/handover.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/parallel.h"
#include "study/event.h"
#include "study/plan_parts.h"

static const double modes_apart = 0.75; /* a bound by modes below this share of the other is named */
/* The outlook is a picture, not a promise: a thousand samples place its curve within half a per cent. */
enum { OUTLOOK_REPLICATES = 1000, OUTLOOK_LEAST = 12, OUTLOOK_MOST = 30 };

/* --- The written ladder ------------------------------------------------------------------------------ */

static const hf_written_ladder *written_ladder(const hf_campaign *campaign, const hf_design *design) {
    for (size_t i = 0; i < campaign->plan.count; i++)
        if (strcmp(campaign->plan.ladders[i].design, design->id) == 0) return &campaign->plan.ladders[i];
    return NULL;
}

static hf_status fill_rungs(hf_arena *arena, const hf_campaign *campaign, hf_handover_design *out) {
    const hf_written_ladder *written = written_ladder(campaign, out->assessment->design);
    if (!written || !written->count) return HF_OK;
    hf_handover_rung *rungs = HF_ARENA_NEW_ARRAY(arena, hf_handover_rung, written->count);
    if (!rungs) return HF_MEMORY;
    for (size_t i = 0; i < written->count; i++)
        rungs[i] = (hf_handover_rung){hf_rig_force_of_record(&campaign->rig.force, written->rungs[i].newtons),
                                      written->rungs[i].newtons, written->rungs[i].weights};
    out->rungs = rungs;
    out->rung_count = written->count;
    return HF_OK;
}

/* The written rungs as a ladder of the outlook, where they rise as a ladder must. */
static hf_status judge_rungs(hf_arena *arena, const hf_handover_design *design, hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    size_t count = design->rung_count;
    hf_guess guess;
    if (!count || count > HF_LADDER_MOST) return HF_OK;
    for (size_t i = 0; i < count; i++)
        if (!(design->rungs[i].force > (i ? design->rungs[i - 1].force : 0))) return HF_OK;
    if (hf_guess_of(hf_governing_family(s->family ? hf_family_find(s->family) : NULL), s->mean, s->cv,
                    &guess) != HF_OK)
        return HF_OK;
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

static size_t outlook_parts(const hf_handover_design *design) {
    size_t twice = 2 * design->assessment->break_event.counts.used;
    return twice < OUTLOOK_LEAST ? OUTLOOK_LEAST : twice > OUTLOOK_MOST ? OUTLOOK_MOST : twice;
}

/* Without a guess, the mean and scatter of the law that governs, as the pulls show them. */
static bool take_fit(const hf_handover_design *design, const hf_family *family, hf_plan *plan) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit *fit = &design->assessment->break_event.fits[i];
        hf_guess guess;
        if (hf_family_at(i) != family || fit->stop != HF_FIT_CONVERGED) continue;
        if (hf_guess_from_fit(family, fit->m, fit->s, &guess) != HF_OK) return false;
        plan->setup.mean = guess.mean;
        plan->setup.cv = guess.deviation / guess.mean;
        plan->cv_source = HF_PLAN_CV_FITTED;
        return true;
    }
    return false;
}

/* After the pulls no number is recommended; and a mean above its own range, of few parts that scatter widely, tells nothing. */
static void look_back(hf_how_many *parts) {
    parts->recommended = 0;
    while (parts->count > 1 && parts->rows[0].expected > parts->rows[0].high) {
        parts->rows++;
        parts->count--;
    }
}

static hf_status fill_outlook(hf_arena *arena, const hf_handover *handover, hf_handover_design *out) {
    const hf_design *design = out->assessment->design;
    hf_plan *plan = HF_ARENA_NEW(arena, hf_plan);
    if (!plan) return HF_MEMORY;
    hf_plan_setup *s = &plan->setup;
    if (hf_plan_setup_of(handover->campaign, design->id, s, NULL) != HF_OK) return HF_OK;
    if (s->family && strcmp(s->family, "auto") == 0) s->family = NULL;
    const hf_family *family = s->family ? hf_family_find(s->family) : NULL;
    bool guessed = design->guess.mean.given && design->guess.cv.given;
    if (!guessed && !take_fit(out, hf_governing_family(family), plan)) return HF_OK;
    s->content = out->assessment->content;
    s->confidence = out->assessment->confidence;
    s->seed = handover->options.seed;
    plan->campaign = handover->campaign;
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

/* --- One design -------------------------------------------------------------------------------------- */

static void fill_coverage(hf_handover_design *out) {
    const hf_event_assessment *event = &out->assessment->break_event;
    const hf_bound *bound = event->governing;
    double used = (double)event->counts.used, below = (double)event->counts.below;
    double whole = used - (double)event->counts.failed;
    if (!bound || !bound->family) return;
    if (bound->method == HF_BOUND_FACTOR)
        out->coverage =
            hf_published_coverage_nearest(bound->family, bound->content, bound->confidence, bound->n);
    else if (bound->method == HF_BOUND_CONDITIONAL && used > 0)
        out->open_coverage = hf_published_open_nearest(bound->family, bound->content, bound->confidence,
                                                       below > whole, fmax(below, whole) / used, bound->n);
}

/* Designs are independent: each is one block of work with an arena of its own, adopted at the end. */
typedef struct handover_job {
    const hf_handover *handover;
    hf_handover_design *designs;
    hf_arena **arenas;
    hf_status *status;
} handover_job;

static void design_block(size_t block, int worker, void *context) {
    const handover_job *job = context;
    hf_handover_design *design = &job->designs[block];
    hf_arena *arena = job->arenas[block] = hf_arena_create();
    (void)worker;
    job->status[block] = HF_MEMORY;
    if (!arena || fill_rungs(arena, job->handover->campaign, design) != HF_OK) return;
    fill_coverage(design);
    hf_status status =
        hf_probability_plot_of(arena, job->handover->campaign, design->assessment, &design->probability);
    if (status == HF_MEMORY) return;
    if (status != HF_OK) design->probability = NULL;
    job->status[block] = fill_outlook(arena, job->handover, design);
}

static hf_status fill_designs(hf_arena *arena, const hf_handover *handover, hf_handover_design *designs) {
    size_t count = handover->assessment->count;
    handover_job job = {handover, designs, HF_ARENA_NEW_ARRAY(arena, hf_arena *, count),
                        HF_ARENA_NEW_ARRAY(arena, hf_status, count)};
    hf_status status = HF_OK;
    if (!job.arenas || !job.status) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) designs[i].assessment = &handover->assessment->designs[i];
    hf_parallel_blocks(count, design_block, &job);
    for (size_t i = 0; i < count; i++) {
        hf_arena_adopt(arena, job.arenas[i]);
        if (job.status[i] != HF_OK) status = job.status[i];
    }
    return status;
}

/* --- Cautions --------------------------------------------------------------------------------------- */

/* Where the ways of failing in the parts to be used come in other shares, only the bound by modes holds. */
static void caution_modes(hf_arena *arena, const hf_comparison_design *compared, hf_design_assessment *a) {
    const hf_comparison_modes *modes = &compared->modes;
    if (!modes->available || !(modes->result.bound < modes_apart * modes->undivided)) return;
    double share = fmax(modes->result.bound, 0) / modes->undivided;
    bool limits = a->limited_by && strcmp(a->limited_by, "break") == 0;
    double load = limits ? share * a->working_load_unrounded : NAN;
    const hf_maybe *service = &a->design->goal.service_load;
    double wanted = service->given && load < service->value ? service->value : NAN;
    hf_caution_add(
        arena, &a->cautions,
        (hf_caution){.code = "modes_lower", .number = {modes->result.bound, modes->undivided, load, wanted}});
}

/* A list of its own, so that what is added does not reach the list it was copied from. */
static bool own_cautions(hf_arena *arena, hf_design_assessment *a) {
    hf_cautions copy = {0};
    for (size_t i = 0; i < a->cautions.count; i++) hf_caution_add(arena, &copy, a->cautions.items[i]);
    bool whole = copy.count == a->cautions.count;
    a->cautions = copy;
    return whole;
}

const hf_assessment *hf_assessment_with_modes(hf_arena *arena, const hf_assessment *assessment,
                                              const hf_comparison *comparison) {
    hf_assessment *out = HF_ARENA_NEW(arena, hf_assessment);
    hf_design_assessment *designs = HF_ARENA_NEW_ARRAY(arena, hf_design_assessment, assessment->count);
    if (!out || !designs) return NULL;
    *out = *assessment;
    out->designs = designs;
    for (size_t i = 0; i < assessment->count; i++) {
        designs[i] = assessment->designs[i];
        if (!own_cautions(arena, &designs[i])) return NULL;
        for (size_t j = 0; comparison && j < comparison->count; j++)
            if (comparison->designs[j].design == designs[i].design)
                caution_modes(arena, &comparison->designs[j], &designs[i]);
    }
    return out;
}

/* --- All of it --------------------------------------------------------------------------------------- */

static hf_status compare(hf_arena *arena, const hf_findings *findings, hf_handover *out, hf_error *error) {
    hf_comparison_options options = {.content = out->options.content,
                                     .confidence = out->options.confidence,
                                     .level = out->options.level,
                                     .same_within = out->options.same_within,
                                     .seed = out->options.seed,
                                     .assessed = out->assessment,
                                     .verdicts_only = true};
    hf_error why;
    hf_error_clear(&why);
    hf_status status = hf_compare(arena, out->campaign, findings, &options, &out->comparison, &why);
    if (status == HF_MEMORY) return hf_error_set(error, status, "%s", hf_status_text(status));
    if (status == HF_OK) return status;
    out->comparison = NULL;
    out->comparison_reason = hf_arena_text(arena, why.message, strlen(why.message));
    return HF_OK;
}

hf_status hf_handover_make(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                           const hf_handover_options *options, const hf_handover **out, hf_error *error) {
    hf_handover *handover = HF_ARENA_NEW(arena, hf_handover);
    if (!handover) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    handover->campaign = campaign;
    handover->options = *options;
    hf_assess_options wanted = {
        .content = options->content, .confidence = options->confidence, .seed = options->seed};
    hf_status status = hf_assess(arena, campaign, findings, &wanted, &handover->assessment, error);
    if (status != HF_OK) return status;
    hf_handover_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_handover_design, campaign->design_count);
    handover->designs = designs;
    status = designs ? fill_designs(arena, handover, designs) : HF_MEMORY;
    if (status != HF_OK) return hf_error_set(error, status, "%s", hf_status_text(status));
    status = compare(arena, findings, handover, error);
    const hf_assessment *told = hf_assessment_with_modes(arena, handover->assessment, handover->comparison);
    if (status == HF_OK && !told) status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (told) handover->assessment = told;
    for (size_t i = 0; told && i < told->count; i++) designs[i].assessment = &told->designs[i];
    *out = handover;
    return status;
}
