/* The assessment in reading order: answer, sum, tables, trade rules, cautions, limits, how to repeat. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "report/compare_report.h"
#include "report/document.h"
#include "report/json_report.h"

static bool limited_by_set(const hf_design_assessment *a) {
    return a->limited_by && strcmp(a->limited_by, "set") == 0;
}

/* --- No bound: why, and what to do ------------------------------------------------------------------- */

static const char *next_step(hf_bound_reason reason) {
    switch (reason) {
    case HF_REASON_OPEN_OBSERVATIONS:
        return "pull more parts until they fail, with more weight or from a lighter start.";
    case HF_REASON_TOO_FEW:
        return "pull more parts until they fail: two failures give a first bound, five a useful one.";
    case HF_REASON_MORE_PARTS:
        return "pull more parts.";
    case HF_REASON_STEP_RANGE:
        return "ask for a content of 90 % or more, or read the load continuously.";
    case HF_REASON_ONE_STEP_AND_BELOW:
        return "start lighter and take finer steps where the parts fail.";
    case HF_REASON_RANGE:
        return "ask for a content and a confidence between 50 % and 100 %.";
    case HF_REASON_ONE_VALUE:
        return "state the resolution of the scale, or pull more parts.";
    case HF_REASON_NUMERIC:
        return "report this with the file.";
    case HF_REASON_SHAPE_NOT_KNOWN:
        return "pull more parts until they fail, or state the scatter with more than 20 degrees of freedom.";
    case HF_REASON_TABLE_ENDS:
    case HF_REASON_NONE:
        break;
    }
    return "";
}

/* The refused bound that would have governed: the Weibull one, else the first without a value. */
static const hf_bound *refused_bound(const hf_event_assessment *e) {
    const hf_bound *found = NULL;
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (!b->family || b->method != HF_BOUND_NONE) continue;
        if (!found || (b->family->has_shape && !found->family->has_shape)) found = b;
    }
    return found;
}

static void add_why_not(hf_document *d, const hf_event_assessment *e) {
    const hf_bound *refused = refused_bound(e);
    if (refused)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Why: %s.%s%s", hf_bound_reason_text(refused->reason),
                         next_step(refused->reason)[0] ? " Next: " : "", next_step(refused->reason));
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (b->family || b->method == HF_BOUND_NONE) continue;
        if (b->method != HF_BOUND_SURVIVORS && !(b->value > 0)) continue;
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "What can be said without a strength law: with %s confidence at least %s of all parts carry %s.",
            hf_percent_text(d, b->confidence, 5), hf_percent_down(d, b->content, 3),
            hf_load_down(d, b->value, 3));
    }
}

/* --- The answer -------------------------------------------------------------------------------------- */

/* "these 10", "this one" */
static const char *these_parts(hf_document *d, size_t used) {
    const char *words = used == 1 ? "this one" : hf_arena_format(d->arena, "these %zu", used);
    return words ? words : "these";
}

/* "these 432 pulls", "this one pull" */
static const char *these_pulls(hf_document *d, size_t used) {
    const char *words = used == 1 ? "this one pull" : hf_arena_format(d->arena, "these %zu pulls", used);
    return words ? words : "these pulls";
}

/* The bound of two-ended parts is that of one fitting; first movement is the whole part's. */
static const char *things(const hf_design_assessment *a, bool set) {
    return a->two_ended && !set ? "fittings" : "parts";
}

static void say_one_fitting(hf_document *d, const hf_design_assessment *a) {
    const hf_bound *two = &a->ends.rows[1];
    if (!a->break_event.governing) return;
    if (two->value > 0)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "That is for one fitting alone. A part with one at each end counts as two in a row: bound %s in "
            "place of %s.",
            hf_load_down(d, two->value, 3), hf_load_down(d, a->break_event.governing->value, 3));
    else
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "That is for one fitting alone. A part with one at each end is weaker; how much "
                        "these pulls cannot say.");
}

/* What is not seen in the pulls must not hide in a footnote. */
static void flag_stated_scatter(hf_document *d, const hf_design_assessment *a, const hf_bound *bound) {
    const hf_scatter *scatter = &a->design->scatter;
    if (bound->method != HF_BOUND_STATED_SCATTER) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "This leans on %s scatter of %s (source: %s), which these pulls do not show. If it is "
                     "wrong, so is the bound.",
                     isinf(scatter->degrees_of_freedom) ? "an ASSUMED" : "a POOLED",
                     hf_percent_text(d, scatter->cv, 3), scatter->source ? scatter->source : "not stated");
}

/* --- A law that the pulls speak against -------------------------------------------------------------- */

static bool rejected(const hf_event_assessment *e, const hf_family *family) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (hf_family_at(i) == family) return e->tests[i].available && e->tests[i].rejected;
    return false;
}

static bool all_rejected(const hf_event_assessment *e) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (!rejected(e, hf_family_at(i))) return false;
    return true;
}

/* The bound of the same content and confidence from the order of the pulls alone; NULL: none. */
static const hf_bound *bound_without_law(const hf_event_assessment *e) {
    const hf_bound *found = NULL;
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (b->family || !(b->value > 0)) continue;
        if (b->method == HF_BOUND_ORDER_STATISTIC) return b;
        if (b->method == HF_BOUND_HANSON_KOOPMANS) found = b;
    }
    return found;
}

/* Belongs to the answer: a confidence that rests on a law which does not fit must not stand there unopposed. */
static void flag_rejected_law(hf_document *d, const hf_event_assessment *e) {
    const hf_bound *governing = e->governing, *free_of_law = bound_without_law(e);
    if (!governing->family || !rejected(e, governing->family)) return;
    const char *instead =
        free_of_law
            ? hf_arena_format(d->arena, " Without a law the pulls support a bound of %s in place of %s.",
                              hf_load_down(d, free_of_law->value, 3), hf_load_down(d, governing->value, 3))
            : "";
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "The pulls speak against the %s law%s, so the %s confidence is not assured.%s",
                     governing->family->label, all_rejected(e) ? " (and against every other tried)" : "",
                     hf_percent_text(d, governing->confidence, 5), instead ? instead : "");
}

static void answer_working_load(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_goal *goal = &a->design->goal;
    bool set = limited_by_set(a);
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: work with at most %s.", hf_design_name(d, a->design),
                     hf_load_down(d, a->working_load_unrounded, 3));
    flag_rejected_law(d, e);
    const char *error = e->calibration_u > 0 ? "less the rig's load error, " : "";
    const char *use = goal->use_factor_count ? " and the stated factors of use" : "";
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "At least %s of all %s made and pulled like %s %s %s, with %s confidence; %s÷ %s (%s "
                     "factor)%s and rounded down, that is %s.%s",
                     hf_percent_text(d, e->governing->content, 5), things(a, set),
                     these_parts(d, e->counts.used), set ? "keep their shape under" : "carry",
                     hf_load_down(d, e->governing->value, 3), hf_percent_text(d, e->governing->confidence, 5),
                     error, hf_shortest_text(d, set ? goal->set_factor.value : goal->design_factor.value),
                     set ? "set" : "design", use, hf_load_down(d, a->working_load_unrounded, 3),
                     set ? " First movement limits, not breaking." : "");
    flag_stated_scatter(d, a, e->governing);
}

static const char *missing_words(const char *reason) {
    static const char *const words[][2] = {
        {"no_design_factor", "This is not yet a working load: for that, state the design factor in the file "
                             "(goal.design_factor)."},
        {"no_set_factor",
         "This is not yet a working load: for that, state the set factor in the file (goal.set_factor)."},
        {"bound_not_positive",
         "The rig's load error is as large as this bound: nothing is left of it, and no working load can be "
         "given."},
        {"no_bound", "No working load follows: there is no bound to find it from."},
    };
    for (size_t i = 0; reason && i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i][0], reason) == 0) return words[i][1];
    return "No working load follows from it.";
}

/* A limit of 0 or less says nothing a part could be used at: why it came to that, and what to do. */
static void answer_nothing_promised(hf_document *d, const hf_design_assessment *a,
                                    const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    bool set = e == &a->set_event;
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no safe load can be given; %s above 0 comes out of %s.",
                     hf_design_name(d, a->design), set ? "no load without first movement" : "no lower limit",
                     these_pulls(d, c->used));
    if (c->below)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Why: %zu of %zu %s %s at the first load, so nothing shows what they would have "
                         "carried.",
                         c->below, c->used, things(a, set), set ? "moved" : "failed");
    else
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "Why: for so few pulls they scatter so much that the weakest parts may carry nothing.");
    flag_rejected_law(d, e);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Next: pull more parts%s.",
                     c->below ? ", with a smaller first load and finer steps, so that each holds a load "
                                "before it fails"
                              : ", in finer steps where they fail");
}

static const hf_event_assessment *answering_event(const hf_design_assessment *a) {
    return limited_by_set(a) && a->set_event.governing ? &a->set_event : &a->break_event;
}

static void add_answer(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = answering_event(a);
    const char *name = hf_design_name(d, a->design);
    if (!e->governing) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no safe load can be given from these pulls.%s", name,
                         e->counts.used == 0 ? " No part has been pulled yet." : "");
        add_why_not(d, e);
    } else if (isfinite(a->working_load)) {
        answer_working_load(d, a, e);
    } else if (!(e->governing->value > 0)) {
        answer_nothing_promised(d, a, e);
    } else {
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%s: at least %s of all %s made and pulled like %s carry %s, with %s confidence.",
                         name, hf_percent_text(d, e->governing->content, 5), things(a, false),
                         these_parts(d, e->counts.used), hf_load_down(d, e->governing->value, 3),
                         hf_percent_text(d, e->governing->confidence, 5));
        flag_rejected_law(d, e);
        flag_stated_scatter(d, a, e->governing);
        hf_document_add(d, HF_BLOCK_PARAGRAPH, missing_words(a->working_load_reason));
    }
}

/* --- Verdicts ---------------------------------------------------------------------------------------- */

static void add_required(hf_document *d, const hf_design_assessment *a) {
    double required = a->design->goal.required_bound.value, calibrated = a->break_event.calibrated;
    const char *stated = hf_load_stated(d, required);
    if (!isfinite(calibrated)) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is no bound.", stated);
        return;
    }
    if (calibrated <= 0) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is none above 0.", stated);
        return;
    }
    /* Rounded down with its sign: less to spare, more that is short. */
    const char *difference = hf_load_down(d, calibrated - required, 3), *minus = "−";
    if (strncmp(difference, minus, strlen(minus)) == 0) difference += strlen(minus);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: %s; %s after the rig's load error, %s %s.",
                     stated, a->required_met ? "met" : "NOT met", hf_load_down(d, calibrated, 4), difference,
                     a->required_met ? "to spare" : "short");
}

static void add_service(hf_document *d, const hf_design_assessment *a) {
    const char *stated = hf_load_stated(d, a->design->goal.service_load.value);
    if (isfinite(a->margin))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Service load %s: %s, margin %s (working load ÷ service load − 1).", stated,
                         a->margin_met ? "covered" : "NOT covered", hf_percent_down(d, a->margin, 3));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Service load %s: %s, there is no working load to judge it by.", stated,
                         a->margin_met ? "not judged" : "NOT covered");
    if (!a->break_event.governing || !isfinite(a->supported_load)) return;
    const char *at = hf_load_stated(d, a->supported_load);
    if (isfinite(a->supported_content))
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "At least %s of all %s carry %s (service load × stated factors), with %s confidence.",
            hf_percent_down(d, a->supported_content, 5), things(a, false), at,
            hf_percent_text(d, a->confidence, 5));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "How many %s carry %s (service load × stated factors) these pulls cannot say: fewer "
                         "than the method is proven for.",
                         things(a, false), at);
}

/* --- What to do next --------------------------------------------------------------------------------- */

static bool has_caution(const hf_design_assessment *a, const char *code) {
    for (size_t i = 0; i < a->cautions.count; i++)
        if (strcmp(a->cautions.items[i].code, code) == 0) return true;
    return false;
}

enum { USEFUL_PARTS = 5 };

/* A caution that is not about how little is known, but about something to be mended or looked into. */
static bool to_be_settled(const hf_caution *caution) {
    static const char *const known[] = {"few_parts",   "families_differ",   "run_outs",
                                        "rig_failure", "open_observations", "planned_left",
                                        "few_batches", "coarse_step",       "stated_scatter",
                                        "two_ended",   "two_ended_set",     "lowest_95_75"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(known[i], caution->code) == 0) return false;
    return true;
}

static bool any_to_be_settled(const hf_design_assessment *a) {
    for (size_t i = 0; i < a->cautions.count; i++)
        if (to_be_settled(&a->cautions.items[i])) return true;
    return false;
}

/* The one thing that most needs doing where there is a bound; what lacks is named by the answer already. */
static const char *next_words(const hf_design_assessment *a, const hf_event_assessment *e) {
    if (a->service_stated && !a->margin_met)
        return "Next: do not use it at the service load; choose a stronger design or a smaller load, or pull "
               "more parts.";
    if (a->required_stated && !a->required_met)
        return "Next: choose a stronger design, or pull more parts: the bound rises with their number.";
    if (e->governing->family && rejected(e, e->governing->family))
        return "Next: find out why no bound can lean on that law (batches, ways of failing, a slip of the "
               "pen) before anything is loaded.";
    if (e->counts.used < USEFUL_PARTS) return "Next: pull more parts; five give a useful bound.";
    if (has_caution(a, "batches_differ"))
        return "Next: find out which batch is weak and why, before parts of it are used.";
    if (has_caution(a, "one_batch"))
        return "Next: pull parts of a second and third batch; the next may be weaker.";
    if (!isfinite(a->working_load)) return "";
    return any_to_be_settled(a) ? "Next: settle the cautions; then mark the parts in use with this load, and "
                                  "destroy those that were pulled."
                                : "Next: mark the parts in use with this load, and destroy those that were "
                                  "pulled.";
}

static void add_next(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = answering_event(a);
    if (!e->governing || !(e->governing->value > 0) || !(e->calibrated > 0)) return;
    const char *words = next_words(a, e);
    if (words[0]) hf_document_add(d, HF_BLOCK_PARAGRAPH, words);
}

/* --- Everything about one design --------------------------------------------------------------------- */

static void add_event(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e,
                      const char *heading) {
    if (e->governing) {
        hf_document_add(d, HF_BLOCK_HEADING, heading);
        hf_sum_lines(a, e, d);
    }
    hf_document_add(d, HF_BLOCK_HEADING, "The pulls");
    hf_counts_words(d, a, e);
    hf_bounds_table(d, e);
    hf_fits_table(d, e);
}

static void add_set(hf_document *d, const hf_design_assessment *a) {
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s, first movement (set)", hf_design_name(d, a->design));
    if (!a->set_event.governing) add_why_not(d, &a->set_event);
    add_event(d, a, &a->set_event, "The sum for first movement");
}

void hf_assess_answer(hf_document *d, const hf_design_assessment *a) {
    add_answer(d, a);
    if (a->two_ended) say_one_fitting(d, a);
    if (a->required_stated) add_required(d, a);
    if (a->service_stated) add_service(d, a);
    add_next(d, a);
}

static void add_design(hf_document *d, const hf_design_assessment *a) {
    hf_assess_answer(d, a);
    add_event(d, a, &a->break_event, "The sum");
    if (a->two_ended) hf_ends_table(d, a->design, &a->ends);
    if (a->set_watched) add_set(d, a);
    hf_trade_table(d, a->trade);
    if (!a->cautions.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
    hf_document_cautions(d, &a->cautions);
}

void hf_limits(hf_document *d) {
    hf_document_add(d, HF_BLOCK_HEADING, "Limits");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Holds for new parts made, aged and pulled as tested, for short loads; statistics do not "
                    "see defects of another kind.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Not for lifting or holding people, climbing, fall arrest, overhead loads, aircraft, "
                    "restraint in vehicles, pressure, or "
                    "anything under a code or law without a competent, licensed person. Local codes win.");
    hf_document_add(
        d, HF_BLOCK_ITEM,
        "The design factor is your decision. Destroy parts that were loaded beyond the working load.");
}

static void assess_document(const void *shown, hf_document *d) {
    const hf_assessment *result = shown;
    const hf_campaign *campaign = result->campaign;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    for (size_t i = 0; i < result->count; i++) add_design(d, &result->designs[i]);
    if (result->cautions.count) {
        hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the whole file");
        hf_document_cautions(d, &result->cautions);
    }
    hf_limits(d);
    hf_document_add(d, HF_BLOCK_HEADING, "To repeat");
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Holdfast %s, input SHA-256 %.16s…, seed %llu.", HF_VERSION,
                     campaign->sha256, (unsigned long long)result->options.seed);
}

const hf_report_kind hf_report_assess = {"assess", assess_document, hf_json_assess};
