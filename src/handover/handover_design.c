/* The chapter of one design. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"
#include "words/load_steps.h"
#include "words/compare_report.h"
#include "chart/document_chart.h"
#include "handover/handover_report.h"
#include "words/plan_report.h"

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

/* --- Step-down --------------------------------------------------------------------------------------- */

static const char *calibration_words(hf_document *d, const hf_event_assessment *e) {
    if (!(e->calibration_u > 0)) return "no error of the rig is stated, so nothing is taken off";
    return or_dash(hf_arena_format(
        d->arena, "stated errors of the rig, once: 1 − %s × %s, the standard uncertainty at this load",
        hf_show_text(d, HF_AS_FACTOR, e->calibration_z),
        hf_show_text(d, HF_AS_SHARE_TO_REDO, e->calibration_u)));
}

static const char *bound_words(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = &a->break_event;
    const hf_bound *bound = e->governing;
    bool rejected = hf_governing_rejected(e);
    const char *law = bound->family ? hf_arena_format(d->arena, "%s law%s", bound->family->label,
                                                      rejected ? ", law rejected" : "")
                      : bound->method == HF_BOUND_BATCH     ? "from the means of the batches"
                      : bound->method == HF_BOUND_ONE_BATCH ? "another batch counted as stated"
                                                            : "no law assumed";
    return or_dash(hf_arena_format(d->arena, "at least %s of all such parts %s, with %s confidence (%s)",
                                   hf_show_text(d, HF_AS_SHARE_STATED, bound->content),
                                   rejected ? "would be stronger" : "are stronger",
                                   hf_show_text(d, HF_AS_SHARE_STATED, a->confidence), or_dash(law)));
}

/* Why the step is taken. */
static const char *step_why(hf_document *d, const hf_design_assessment *a, const hf_load_step *step) {
    const char *did;
    switch (step->kind) {
    case HF_STEP_BEST_PULL:
        did = hf_best_pull_words(d, a, &a->break_event);
        return did ? or_dash(hf_arena_format(d->arena, "%s; a lucky part, never a rating", did))
                   : "what a lucky part did; never a rating";
    case HF_STEP_MEAN:
        return hf_mean_words(d, a);
    case HF_STEP_BOUND:
        return bound_words(d, a);
    case HF_STEP_CALIBRATION:
        return calibration_words(d, &a->break_event);
    case HF_STEP_DESIGN_FACTOR:
        return "stated in the file; the decision of whoever uses the part";
    case HF_STEP_SET:
        return "stated in the file; first movement limits, not breaking";
    case HF_STEP_USE_FACTOR:
        return "factor of use, stated in the file";
    case HF_STEP_ROUND:
        return "rounded down to three figures";
    }
    return "";
}

static const char *factor_text(hf_document *d, const hf_load_step *step) {
    if (!isfinite(step->factor)) return "";
    bool multiplies = step->kind == HF_STEP_CALIBRATION;
    if (multiplies && step->factor == 1) return "none";
    return or_dash(hf_arena_format(d->arena, "%s %s", hf_step_row_of(step)->sign,
                                   multiplies ? hf_show_text(d, HF_AS_TO_REDO, step->factor)
                                              : hf_show_text(d, HF_AS_GIVEN, step->factor)));
}

static void say_where_it_ends(hf_document *d, const hf_design_assessment *a) {
    size_t shown = hf_steps_above_nothing(a);
    if (shown == a->step_count) return;
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    a->steps[shown].kind == HF_STEP_BOUND
                        ? "It ends here: these pulls give no bound above 0, so there is nothing to divide."
                        : "It ends here: the next step leaves nothing above 0.");
}

static void step_table(hf_document *d, const hf_design_assessment *a) {
    const char *const header[] = {"step", ">factor",
                                  or_dash(hf_arena_format(d->arena, ">load, %s", d->style->unit->name)),
                                  "why", NULL};
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table, "Each step down, with its factor");
    for (size_t i = 0; i < hf_steps_above_nothing(a); i++) {
        const hf_load_step *step = &a->steps[i];
        const hf_step_row *row = hf_step_row_of(step);
        const char *cells[] = {hf_cut_text(d, step->label ? step->label : row->words, HF_NAME_COLUMNS),
                               factor_text(d, step), hf_bare_text(d, row->as, step->value),
                               step_why(d, a, step), NULL};
        hf_document_row(d, table, cells);
    }
    say_where_it_ends(d, a);
}

/* One bar and one row would be no way down. */
static void say_lone_step(hf_document *d, const hf_design_assessment *a) {
    const char *did = hf_best_pull_words(d, a, &a->break_event);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "The best single pull %s: a lucky part, never a rating. No step leads down from it, for "
                     "these pulls give no bound%s.",
                     did ? did : "stands alone", a->break_event.governing ? " above 0" : "");
}

static void add_steps(hf_document *d, const hf_chart_subject *subject) {
    const hf_design_assessment *a = subject->design;
    if (!a->step_count) return;
    hf_document_add(d, HF_BLOCK_HEADING,
                    isfinite(a->working_load) ? "From the best pull to the working load"
                                              : "From the best pull down");
    if (hf_steps_above_nothing(a) < 2) {
        say_lone_step(d, a);
    } else {
        hf_document_chart(d, "steps", subject, false);
        step_table(d, a);
    }
    if (hf_has_sum(&a->break_event)) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "The sum, and what each of its numbers is:");
        hf_sum_lines(a, &a->break_event, d);
    }
}

/* --- Pulls and law ----------------------------------------------------------------------------------- */

static void add_pulls(hf_document *d, const hf_chart_subject *subject) {
    hf_document_add(d, HF_BLOCK_HEADING, "Every pull");
    hf_counts_words(d, subject->design, &subject->design->break_event);
}

static void add_law(hf_document *d, const hf_chart_subject *subject) {
    const hf_event_assessment *e = &subject->design->break_event;
    if (!e->counts.used) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Do the pulls follow a strength law?");
    hf_document_chart(d, "probability", subject, true);
    hf_fits_table(d, e);
    hf_bounds_table(d, e);
    hf_earlier_table(d, &subject->design->design->scatter);
}

static void add_set(hf_document *d, const hf_design_assessment *a) {
    if (!a->set_watched) return;
    hf_document_add(d, HF_BLOCK_HEADING, "First movement (set)");
    if (!a->set_event.governing)
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "First movement was watched, but gives no bound.");
    hf_sum_lines(a, &a->set_event, d);
    hf_counts_words(d, a, &a->set_event);
    hf_bounds_table(d, &a->set_event);
}

/* --- What more would bring --------------------------------------------------------------------------- */

static bool shown(size_t n, const hf_how_many *parts) {
    return n <= 6 || n == 8 || n == 10 || n % 5 == 0 || n == parts->recommended;
}

/* A bound to be expected is an estimate, rounded to the nearest; it may come out at nothing. */
static const char *expected_load(hf_document *d, const hf_plan *plan, double newtons) {
    const double nothing_much = 1e-3;
    if (newtons <= 0) return "none above 0";
    return newtons < nothing_much * plan->setup.mean ? "close to 0" : hf_show_text(d, HF_AS_MEAN, newtons);
}

static void outlook_table(hf_document *d, const hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    static const char *const header[] = {">parts", ">bound to expect", ">8 of 10 lie above", ">and below",
                                         NULL};
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(
        d, table,
        or_dash(hf_arena_format(d->arena, "What a number of parts brings, if %s", hf_plan_premise(plan))));
    for (size_t i = 0; i < parts->count; i++) {
        const hf_how_many_row *row = &parts->rows[i];
        if (!shown(row->n, parts)) continue;
        const char *cells[] = {or_dash(hf_arena_format(d->arena, "%zu", row->n)),
                               expected_load(d, plan, row->expected), expected_load(d, plan, row->low),
                               expected_load(d, plan, row->high), NULL};
        hf_document_row(d, table, cells);
    }
}

/* Where mean and scatter come from, and what else the outlook supposes. */
static void say_premise(hf_document *d, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    const hf_how_many *parts = &plan->base.parts;
    bool fitted = plan->cv_source == HF_PLAN_CV_FITTED;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "From %s, mean %s and scatter %s%s, for parts that are all pulled until they fail, at a "
                     "load read without "
                     "steps, and before the rig's load error%s.",
                     fitted ? "the law fitted to these pulls" : "the guess in the file",
                     fitted ? hf_show_text(d, HF_AS_MEAN, plan->setup.mean)
                            : hf_show_text(d, HF_AS_STATED, plan->setup.mean),
                     hf_show_text(d, HF_AS_SHARE, plan->setup.cv), fitted ? "" : ", made before the pulls",
                     parts->exact
                         ? ""
                         : or_dash(hf_arena_format(d->arena, "; %zu samples, seed %llu", parts->replicates,
                                                   (unsigned long long)plan->setup.seed)));
    const hf_event_assessment *e = &subject->design->break_event;
    if (fitted && (e->counts.failed < e->counts.used || e->counts.below || e->step_rms > 0))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The pulls of this file show less than that, so their own bound may lie lower.");
    if (fitted && hf_governing_rejected(&subject->design->break_event))
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "These pulls speak against that law.");
    if (!fitted && parts->recommended && subject->design->break_event.counts.used)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Before the pulls, %zu parts would have been recommended.",
                         parts->recommended);
}

static void add_outlook(hf_document *d, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    if (!plan || !plan->base.parts.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "What a number of parts brings");
    hf_document_chart(d, "bound", subject, true);
    outlook_table(d, plan);
    say_premise(d, subject);
}

static void add_ladder(hf_document *d, const hf_study *study, const hf_study_design *design,
                       const hf_chart_subject *subject) {
    const hf_campaign *campaign = study->campaign;
    const char *recorded = campaign->rig.force.records == HF_RIG_RECORDS_TOTAL ? ">total" : ">added";
    const char *const header[] = {">rung", ">force on the part", recorded, "weights", NULL};
    if (!design->rung_count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "The planned ladder");
    if (subject->plan) hf_document_chart(d, "ladder", subject, false);
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table,
                        or_dash(hf_arena_format(d->arena, "Rungs as planned, made %s",
                                                hf_or_not_stated(campaign->plan.made))));
    for (size_t i = 0; i < design->rung_count; i++) {
        const hf_study_rung *rung = &design->rungs[i];
        const char *cells[] = {
            or_dash(hf_arena_format(d->arena, "%zu", i + 1)), hf_show_text(d, HF_AS_MEAN, rung->force),
            hf_show_text(d, HF_AS_MEAN, rung->recorded), hf_or_not_stated(rung->weights), NULL};
        hf_document_row(d, table, cells);
    }
}

/* --- Ways of failing --------------------------------------------------------------------------------- */

static const hf_comparison_design *compared(const hf_study *study, const hf_design *design) {
    const hf_comparison *comparison = study->comparison;
    for (size_t i = 0; comparison && i < comparison->count; i++)
        if (comparison->designs[i].design == design) return &comparison->designs[i];
    return NULL;
}

static void add_modes(hf_document *d, const hf_study *study, const hf_chart_subject *subject) {
    const hf_comparison_design *design = compared(study, subject->design->design);
    if (!design || !design->modes.result.count) {
        hf_document_add(d, HF_BLOCK_HEADING, "Ways of failing");
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        !subject->design->break_event.counts.failed ? "No part has failed."
                        : subject->design->modes.named > HF_MODE_LIMIT
                            ? "More ways of failing are named than can be told apart; see the cautions."
                            : "How the parts failed is not stated.");
        return;
    }
    hf_comparison alone = *study->comparison;
    alone.designs = design;
    alone.count = 1;
    hf_chart_subject one = {.design = subject->design, .comparison = &alone};
    hf_compare_modes_table(d, design);
    hf_document_chart(d, "modes", &one, false);
}

/* --- All of it --------------------------------------------------------------------------------------- */

void hf_handover_design_chapter(hf_document *d, const hf_study *study, size_t index) {
    const hf_study_design *design = &study->designs[index];
    const hf_design_assessment *a = design->assessment;
    const hf_chart_subject subject = {.plan = design->outlook,
                                      .design = a,
                                      .comparison = study->comparison,
                                      .probability = design->probability};
    hf_document_add(d, HF_BLOCK_HEADING, hf_design_name(d, a->design));
    hf_assess_answer(d, a);
    if (a->cautions.count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s: %s.", a->cautions.count == 1 ? "Caution" : "Cautions",
                         hf_caution_names(d, &a->cautions));
    d->chapter = true;
    hf_document_chart(d, "pulls", &subject, false);
    if (hf_has_sum(&a->break_event)) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "The sum, to be redone by hand:");
        hf_sum_bare(a, &a->break_event, d);
    }
    hf_document_add(d, HF_BLOCK_FOLD,
                    "The evidence: cautions in words, every step, laws, ways of failing, rules");
    if (a->cautions.count) {
        hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
        hf_document_cautions(d, &a->cautions, "");
    }
    add_steps(d, &subject);
    add_pulls(d, &subject);
    add_set(d, a);
    add_law(d, &subject);
    add_outlook(d, &subject);
    add_modes(d, study, &subject);
    add_ladder(d, study, design, &subject);
    hf_promises_table(d, a);
    hf_trade_table(d, a);
    hf_document_add(d, HF_BLOCK_UNFOLD, "");
    d->chapter = false;
}
