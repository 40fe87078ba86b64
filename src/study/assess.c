#include "holdfast/study/assess.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/strength/batch_bound.h"
#include "holdfast/strength/working_load.h"
#include "study/compare_parts.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/raise.h"

static const hf_family *stated_family(const hf_assess_options *options, const hf_design *design) {
    return options->by_rule ? NULL : options->family ? options->family : design->family;
}

/* A law that the file states with its reason was chosen before the pulls, as far as a file can show it; any other was not. */
static bool law_by_hand(const hf_assess_options *options, const hf_design *design) {
    bool reasoned = design->family_reason && design->family_reason[0];
    return !reasoned || (options->family && options->family != design->family);
}

static void add_step(hf_load_step *steps, size_t *count, hf_load_step step) {
    steps[(*count)++] = step;
}

static double use_product(const hf_goal *goal) {
    double product = 1;
    for (size_t i = 0; i < goal->use_factor_count; i++) product *= goal->use_factors[i].factor;
    return product;
}

/* Which event limits, before the factors of use. NaN with the reason where no working load exists. */
static double limiting_load(const hf_goal *goal, hf_design_assessment *out) {
    const hf_event_assessment *at = &out->break_event, *set = &out->set_event;
    double by_break = NAN, by_set = NAN;
    out->limited_by = HF_LIMIT_NONE;
    if (!at->governing) {
        out->working_load_reason = HF_NO_LOAD_NO_BOUND;
    } else if (!(at->calibrated > 0)) {
        out->working_load_reason = HF_NO_LOAD_BOUND_NOT_POSITIVE;
    } else if (at->not_assured) {
        out->working_load_reason = HF_NO_LOAD_NOT_ASSURED;
    } else if (out->promise.looks.stand == HF_LOOK_BEFORE_FIRST) {
        out->working_load_reason = HF_NO_LOAD_BEFORE_FIRST_LOOK;
    } else if (!goal->design_factor.given) {
        out->working_load_reason = HF_NO_LOAD_NO_DESIGN_FACTOR;
    } else {
        by_break = at->calibrated / goal->design_factor.value;
    }
    if (isnan(by_break)) return NAN;
    if (out->set_watched && goal->set_factor.given && set->governing)
        by_set = set->calibrated / goal->set_factor.value;
    out->limited_by = by_set < by_break ? HF_LIMIT_SET : HF_LIMIT_BREAK;
    bool set_limits = out->limited_by == HF_LIMIT_SET;
    if (by_set <= 0) out->working_load_reason = HF_NO_LOAD_BOUND_NOT_POSITIVE;
    if (set_limits && set->not_assured) out->working_load_reason = HF_NO_LOAD_NOT_ASSURED;
    if (out->working_load_reason != HF_NO_LOAD_NONE) return NAN;
    return fmin(by_break, isnan(by_set) ? INFINITY : by_set);
}

/* The most that a part carried; what broke it was more than that. */
static double most_held(hf_sample sample) {
    double most = 0;
    for (size_t i = 0; i < sample.count; i++) most = fmax(most, sample.items[i].lower);
    return most;
}

/* The step-down from the best single pull to the working load, rounded in the file's unit (so many newtons). */
static hf_status step_down(hf_arena *arena, const hf_goal *goal, double unit, hf_design_assessment *out) {
    const hf_event_assessment *event = &out->break_event;
    hf_load_step *steps = HF_ARENA_NEW_ARRAY(arena, hf_load_step, 8 + goal->use_factor_count);
    size_t count = 0;
    if (!steps) return HF_MEMORY;
    double load = limiting_load(goal, out), best = most_held(out->sample);
    if (best > 0) add_step(steps, &count, (hf_load_step){HF_STEP_BEST_PULL, NULL, NAN, best});
    if (!isnan(event->mean_mid))
        add_step(steps, &count, (hf_load_step){HF_STEP_MEAN, NULL, NAN, event->mean_mid});
    if (event->governing) {
        add_step(steps, &count, (hf_load_step){HF_STEP_BOUND, NULL, NAN, event->governing->value});
        add_step(steps, &count,
                 (hf_load_step){HF_STEP_CALIBRATION, NULL, event->calibration_multiplier, event->calibrated});
    }
    if (!isnan(load)) {
        double factor = goal->design_factor.value;
        add_step(steps, &count,
                 (hf_load_step){HF_STEP_DESIGN_FACTOR, NULL, factor, event->calibrated / factor});
        if (out->limited_by == HF_LIMIT_SET)
            add_step(steps, &count, (hf_load_step){HF_STEP_SET, NULL, goal->set_factor.value, load});
        for (size_t i = 0; i < goal->use_factor_count; i++) {
            load /= goal->use_factors[i].factor;
            add_step(steps, &count,
                     (hf_load_step){HF_STEP_USE_FACTOR, goal->use_factors[i].reason,
                                    goal->use_factors[i].factor, load});
        }
        out->working_load = unit * hf_number_round_down(load / unit, HF_RATING_FIGURES);
        add_step(steps, &count, (hf_load_step){HF_STEP_ROUND, NULL, NAN, out->working_load});
    }
    if (out->working_load <= 0) {
        out->working_load = load = NAN;
        out->working_load_reason = HF_NO_LOAD_NOTHING_LEFT;
        count--;
    }
    out->working_load_unrounded = load;
    out->steps = steps;
    out->step_count = count;
    return HF_OK;
}

/* Of the bound that leads, or would if the one from batch means were not lower. */
static const hf_family *governing_family(const hf_design_assessment *out) {
    const hf_event_assessment *event = &out->break_event;
    const hf_bound *bound = event->without_batches ? event->without_batches : event->governing;
    return bound ? bound->family : NULL;
}

/* The largest content at which one batch with a stated scatter between batches still carries the load: the bound without it would have to reach
 * `without` then. */
static hf_status one_batch_content_at(hf_sample sample, const hf_family *family, double needed,
                                      const hf_event_assessment *event, double confidence, double *content) {
    double low = 0.501, high = 0.99999;
    const double room = event->mean_log_load - log(needed), lowest = low;
    for (int i = 0; i < 40; i++) {
        double middle = 0.5 * (low + high), at = 0, reach, without;
        double between = hf_between_factor(middle, confidence) * event->between;
        reach = room > between ? sqrt(room * room - between * between) : NAN;
        without = exp(event->mean_log_load - reach);
        if (isnan(reach) || hf_bound_content_at(family, sample, without, confidence, &at) != HF_OK) at = 0;
        if (at >= middle)
            low = middle;
        else
            high = middle;
    }
    *content = low;
    return low > lowest ? HF_OK : HF_RANGE;
}

/* By the rule that governs: of the law's and that of the batch means the lower. */
static hf_status content_at(hf_sample sample, const hf_family *family, double needed,
                            const hf_design_assessment *out, double *content) {
    const hf_event_assessment *event = &out->break_event;
    const hf_stated_scatter stated = hf_scatter_stated(&out->design->scatter);
    const double confidence = out->promise.used;
    if (event->governing->method == HF_BOUND_STATED_SCATTER)
        return hf_stated_scatter_content_at(sample, stated, needed, confidence, content);
    if (event->governing->method == HF_BOUND_ONE_BATCH)
        return one_batch_content_at(sample, family, needed, event, confidence, content);
    hf_status status = hf_bound_content_at(family, sample, needed, confidence, content);
    if (status != HF_OK || event->batch_bound.reason != HF_REASON_NONE || event->batch_bound.batches < 2)
        return status;
    double by_batches;
    status = hf_batch_bound_content_at(&event->batch_bound, needed, confidence, &by_batches);
    *content = fmin(*content, by_batches);
    return status;
}

static void judge(const hf_campaign *campaign, hf_sample sample, hf_design_assessment *out) {
    const hf_goal *goal = &out->design->goal;
    const hf_family *family = governing_family(out);
    out->required_stated = goal->required_bound.given;
    out->service_stated = goal->service_load.given;
    out->margin = out->supported_content = out->supported_load = NAN;
    if (!goal->service_load.given) return;
    out->margin = out->working_load / goal->service_load.value - 1;
    out->supported_load = goal->service_load.value *
                          (goal->design_factor.given ? goal->design_factor.value : 1) * use_product(goal);
    if (!family) return;
    double z, u = hf_uncertainty_combined(campaign->rig.uncertainty, campaign->rig.uncertainty_count,
                                          out->supported_load);
    double needed = out->supported_load / hf_calibration_multiplier(u, out->confidence, &z), content;
    if (content_at(sample, family, needed, out, &content) == HF_OK) out->supported_content = content;
}

static bool any_set(const hf_design *design) {
    for (size_t i = 0; i < design->specimen_count; i++)
        if (design->specimens[i].set.kind != HF_INTERVAL_NONE) return true;
    return false;
}

/* Each end of a two-ended part becomes a part of its own. */
static hf_status take_apart(hf_arena *arena, const hf_campaign *campaign, hf_design_assessment *out) {
    hf_design *view = HF_ARENA_NEW(arena, hf_design);
    if (!view) return HF_MEMORY;
    hf_status status =
        hf_compare_view(arena, campaign, out->design, view, &out->two_ended, &out->ends_unknown);
    out->pulled = out->two_ended ? view : out->design;
    return status;
}

static hf_status describe_ends(hf_arena *arena, const hf_campaign *campaign, hf_sample sample,
                               hf_design_assessment *out) {
    hf_ends_subject subject = {out->design, sample, hf_family_governing(governing_family(out)), out->content,
                               out->promise.used};
    return hf_describe_ends(arena, campaign, &subject, &out->ends);
}

static size_t count_planned(const hf_design *design) {
    size_t planned = 0;
    for (size_t i = 0; i < design->specimen_count; i++)
        planned += design->specimens[i].outcome == HF_OUTCOME_PLANNED;
    return planned;
}

/* Designs of the file of which the best is picked, whichever are assessed. */
static size_t picked_from(const hf_campaign *campaign, const hf_design *design,
                          const hf_assess_options *options) {
    size_t count = 0;
    if (options->best_of || !design->goal.choose_best) return options->best_of;
    for (size_t i = 0; i < campaign->design_count; i++) count += campaign->designs[i].goal.choose_best;
    return count;
}

static hf_event_request request_of(const hf_campaign *campaign, const hf_assess_options *options,
                                   const hf_design_assessment *design) {
    return (hf_event_request){.campaign = campaign,
                              .design = design->pulled,
                              .family = stated_family(options, design->design),
                              .content = design->content,
                              .promised = design->confidence,
                              .seed = options->seed};
}

hf_status hf_bound_if_picked(hf_arena *arena, const hf_assessment *assessment,
                             const hf_design_assessment *design, size_t best_of, double *bound,
                             double *used) {
    hf_event_request request = request_of(assessment->campaign, &assessment->options, design);
    hf_promise promise;
    *bound = *used = NAN;
    hf_status status = hf_promise_of(&design->design->goal, design->content, design->confidence,
                                     design->sample.count, 0, best_of, &promise);
    if (status != HF_OK) return status;
    *used = request.confidence = promise.used;
    return hf_event_bound(arena, &request, design->sample, &design->break_event, bound, NULL);
}

hf_status hf_bound_at_content(hf_arena *arena, const hf_assessment *assessment,
                              const hf_design_assessment *design, double content, double *bound) {
    hf_event_request request = request_of(assessment->campaign, &assessment->options, design);
    request.content = content;
    request.confidence = design->promise.used;
    return hf_event_bound(arena, &request, design->sample, &design->break_event, bound, NULL);
}

static hf_status assess_design(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                               const hf_assess_options *options, hf_design_assessment *out) {
    hf_pulled pulled, set_pulled;
    out->design = design;
    out->content = options->content > 0 ? options->content : design->goal.content;
    out->confidence = options->confidence > 0 ? options->confidence : design->goal.confidence;
    out->working_load = out->working_load_unrounded = NAN;
    hf_status status = take_apart(arena, campaign, out);
    if (status != HF_OK) return status;
    hf_event_request request = request_of(campaign, options, out);
    status = hf_gather_pulls(arena, &request, HF_EXTRA_NONE, &pulled);
    out->sample = pulled.sample;
    out->specimens = pulled.specimens;
    if (status == HF_OK) /* looks count the parts that the bound rests on */
        status = hf_promise_of(&design->goal, out->content, out->confidence, out->sample.count,
                               count_planned(design), picked_from(campaign, design, options), &out->promise);
    request.confidence = out->promise.used;
    if (status == HF_OK) status = hf_event_assess(arena, &request, &pulled, &out->break_event);
    out->break_event.of_fittings = out->two_ended;
    if (status == HF_OK) status = hf_trend_of_pulls(arena, &pulled, out->two_ended, &out->break_event);
    if (status == HF_OK && out->two_ended) status = describe_ends(arena, campaign, out->sample, out);
    if (status == HF_OK) status = hf_modes_of_failing(arena, options->seed, out);
    if (status != HF_OK) return status;
    out->set_watched = any_set(design);
    if (out->set_watched) {
        request.set_event = true;
        request.design = design;
        status = hf_gather_pulls(arena, &request, HF_EXTRA_NONE, &set_pulled);
        if (status == HF_OK) status = hf_event_assess(arena, &request, &set_pulled, &out->set_event);
        if (status != HF_OK) return status;
    }
    hf_trade_all(out->sample, out->trade);
    status = step_down(arena, &design->goal, hf_unit_newtons(campaign->unit, campaign->gravity), out);
    if (status != HF_OK) return status;
    request = request_of(campaign, options, out);
    status = hf_fill_other_promises(arena, &request, count_planned(design),
                                    out->set_watched ? &set_pulled : NULL, out);
    if (status != HF_OK) return status;
    judge(campaign, out->sample, out);
    out->law_by_hand = law_by_hand(options, design);
    hf_design_cautions(arena, campaign, out->sample, out);
    return HF_OK;
}

static hf_status check_options(const hf_campaign *campaign, const hf_assess_options *options,
                               hf_error *error) {
    for (size_t i = 0; i < options->design_count; i++)
        if (!hf_campaign_find_design(campaign, options->designs[i], error)) return error->status;
    return HF_OK;
}

static void add_findings(hf_arena *arena, const hf_findings *findings, hf_assessment *out,
                         hf_design_assessment *designs) {
    for (size_t i = 0; findings && i < findings->count; i++) {
        const hf_finding *finding = &findings->items[i];
        hf_cautions *list = &out->cautions;
        for (size_t j = 0; finding->design && j < out->count; j++)
            if (strcmp(designs[j].design->id, finding->design) == 0) list = &designs[j].cautions;
        hf_caution_raise_finding(arena, list, finding);
    }
}

/* Designs are independent: each is one block of work with an arena of its own, adopted at the end. */
typedef struct assess_job {
    const hf_campaign *campaign;
    const hf_assess_options *options;
    hf_design_assessment *designs;
    hf_arena **arenas;
    hf_status *status;
} assess_job;

static void assess_block(size_t block, int worker, void *context) {
    const assess_job *job = context;
    (void)worker;
    job->arenas[block] = hf_arena_create();
    job->status[block] = job->arenas[block]
                             ? assess_design(job->arenas[block], job->campaign, job->designs[block].design,
                                             job->options, &job->designs[block])
                             : HF_MEMORY;
}

static hf_status assess_all(hf_arena *arena, hf_assessment *result, hf_design_assessment *designs,
                            hf_error *error) {
    assess_job job = {result->campaign, &result->options, designs,
                      HF_ARENA_NEW_ARRAY(arena, hf_arena *, result->count),
                      HF_ARENA_NEW_ARRAY(arena, hf_status, result->count)};
    hf_status status = HF_OK;
    if (!job.arenas || !job.status) return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_parallel_blocks(result->count, assess_block, &job);
    for (size_t i = 0; i < result->count; i++) {
        hf_arena_adopt(arena, job.arenas[i]);
        if (job.status[i] == HF_OK || status != HF_OK) continue;
        status = hf_error_set(error, job.status[i], "design \"%s\": %s", designs[i].design->id,
                              hf_status_text(job.status[i]));
    }
    return status;
}

static bool is_wanted(const hf_assess_options *options, const hf_design *design) {
    for (size_t i = 0; i < options->design_count; i++)
        if (strcmp(options->designs[i], design->id) == 0) return true;
    return options->design_count == 0;
}

static double picked_worth(const hf_assessment *assessment) {
    const hf_design_assessment *first = &assessment->designs[0];
    size_t bounds = 0;
    for (size_t i = 0; i < assessment->count; i++) {
        const hf_design_assessment *a = &assessment->designs[i];
        if (a->promise.picked_from || a->confidence != first->confidence || a->content != first->content)
            return NAN;
        bounds += a->break_event.governing != NULL;
    }
    return bounds > 1 ? hf_best_of_worth(first->confidence, assessment->count) : NAN;
}

hf_status hf_assess(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                    const hf_assess_options *options, const hf_assessment **out, hf_error *error) {
    hf_status status = check_options(campaign, options, error);
    if (status != HF_OK) return status;
    hf_assessment *result = HF_ARENA_NEW(arena, hf_assessment);
    hf_design_assessment *designs = HF_ARENA_NEW_ARRAY(arena, hf_design_assessment, campaign->design_count);
    if (!result || !designs) return hf_error_set(error, HF_MEMORY, "out of memory");
    result->campaign = campaign;
    result->options = *options;
    result->designs = designs;
    for (size_t i = 0; i < campaign->design_count; i++)
        if (is_wanted(options, &campaign->designs[i]))
            designs[result->count++].design = &campaign->designs[i];
    status = assess_all(arena, result, designs, error);
    for (size_t i = 0; status == HF_OK && i < result->count; i++) {
        result->any_result |= designs[i].break_event.governing != NULL;
    }
    add_findings(arena, findings, result, designs);
    for (size_t i = 0; status == HF_OK && i < result->count; i++) {
        hf_answer *answer = &designs[i].answer;
        hf_answer_of(campaign, &designs[i], answer);
        if (hf_next_is_more(answer->next))
            status = hf_promise_go_on(&designs[i].promise, count_planned(designs[i].design));
        if (answer->required > result->met) result->met = answer->required;
        if (answer->service > result->met) result->met = answer->service;
    }
    result->picked_worth = picked_worth(result);
    *out = result;
    return status;
}
