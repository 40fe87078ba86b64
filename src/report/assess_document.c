/* The assessment in reading order: answer, sum, tables, trade rules, cautions, limits, how to repeat. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "report/document.h"

static const char *plain_name(const hf_design *design) { return design->name && design->name[0] ? design->name : design->id; }

/* Whether any load of the parts used was read as total; told so that the sum can be followed. */
static void add_answer(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = &a->break_event;
    const char *name = plain_name(a->design);
    if (!e->governing) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no safe load can be given from these pulls. %s", name,
                         e->counts.used == 0 ? "No part has been pulled yet." : "See below for why and what to do.");
        return;
    }
    const char *content = hf_percent_text(d, e->governing->content, 4), *confidence = hf_percent_text(d, e->governing->confidence, 4);
    const char *bound = hf_load_text(d, e->governing->value, 3);
    if (isfinite(a->working_load)) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: work with at most %s.", name, hf_load_text(d, a->working_load, 3));
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "At least %s of all parts made and pulled like these %zu carry %s, with %s confidence; from that %s "
                         "the design factor %s%s.",
                         content, e->counts.used, bound, confidence,
                         e->calibration_u > 0 ? "the rig's load error is taken off and it is divided by" : "it is divided by",
                         hf_shortest_text(d, a->design->goal.design_factor.value),
                         a->limited_by && strcmp(a->limited_by, "set") == 0 ? "; first movement limits, not breaking" : "");
    } else {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: at least %s of all parts made and pulled like these %zu carry %s, with %s confidence.",
                         name, content, e->counts.used, bound, confidence);
        hf_document_add(d, HF_BLOCK_PARAGRAPH, strcmp(a->working_load_reason, "no_design_factor") == 0
                                                   ? "This is not yet a working load: no design factor is stated."
                                                   : "No working load follows from it.");
    }
}

static void add_verdicts(hf_document *d, const hf_design_assessment *a) {
    const hf_goal *goal = &a->design->goal;
    if (a->required_stated)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: %s (%s after the rig's load error).",
                         hf_load_text(d, goal->required_bound.value, 3), a->required_met ? "met" : "NOT met",
                         hf_load_text(d, a->break_event.calibrated, 4));
    if (!a->service_stated) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Service load %s: %s%s%s.", hf_load_text(d, goal->service_load.value, 3),
                     a->margin_met ? "covered" : "NOT covered", isfinite(a->margin) ? ", margin " : "",
                     isfinite(a->margin) ? hf_percent_text(d, a->margin, 3) : "");
    if (isfinite(a->supported_content))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "At %s (service load × factors) the pulls support a content of %s with %s confidence.",
                         hf_load_text(d, a->supported_load, 3), hf_percent_text(d, a->supported_content, 5),
                         hf_percent_text(d, a->confidence, 4));
}

static void add_counts(hf_document *d, const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu parts used: %zu failed, %zu run-out, %zu rig failures; %zu void, %zu re-used, %zu planned. "
                     "Best single pull %s, mean %s, standard deviation %s (%s), step %s. A single best pull is never a rating.",
                     c->used, c->failed, c->run_out, c->rig, c->voided, c->reused, c->planned,
                     c->used ? hf_load_text(d, e->max_load, 4) : "-", hf_load_text(d, e->mean_mid, 4), hf_load_text(d, e->sd_mid, 3),
                     isfinite(e->cv) ? hf_percent_text(d, e->cv, 3) : "-", hf_load_text(d, e->step_rms, 3));
}

static const char *method_words(const hf_bound *bound) {
    switch (bound->method) {
    case HF_BOUND_FACTOR: return "factor";
    case HF_BOUND_CONDITIONAL: return "conditional on what was seen";
    case HF_BOUND_STATED_SCATTER: return "stated scatter";
    case HF_BOUND_ORDER_STATISTIC: return "order statistic";
    case HF_BOUND_HANSON_KOOPMANS: return "Hanson–Koopmans";
    case HF_BOUND_SURVIVORS: return "survivors";
    case HF_BOUND_NONE: break;
    }
    return hf_bound_reason_text(bound->reason);
}

static const char *row_name(hf_document *d, const hf_event_assessment *e, const hf_bound *bound, size_t index) {
    static const char *const free_rows[] = {"no law: order statistic", "no law: two values", "no law: all held"};
    if (!bound->family) {
        size_t row = index >= HF_FAMILY_COUNT && index - HF_FAMILY_COUNT < 3 ? index - HF_FAMILY_COUNT : 0;
        return free_rows[row];
    }
    bool rejected = index < HF_FAMILY_COUNT && e->tests[index].rejected;
    const char *mark = bound == e->governing ? " *" : "";
    const char *name = hf_arena_format(d->arena, "%s%s%s", bound->family->label, mark, rejected ? " (rejected)" : "");
    return name ? name : "?";
}

static void add_bounds(hf_document *d, const hf_event_assessment *e) {
    static const char *const header[] = {"bound", ">k", ">m", ">s", ">h", ">load", "how", NULL};
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        bool logs = b->family && b->family->log_scale;
        double m = logs ? exp(b->m) : b->m;
        const char *cells[] = {row_name(d, e, b, i),
                               hf_figures_text(d, b->k, 4),
                               hf_bare_load(d, m, 4),
                               logs ? hf_figures_text(d, b->s, 3) : hf_bare_load(d, b->s, 3),
                               logs ? hf_figures_text(d, b->h, 3) : hf_bare_load(d, b->h, 3),
                               hf_load_text(d, b->value, 4),
                               method_words(b),
                               NULL};
        hf_document_row(d, table, cells);
    }
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "* governs. m is a load; s and h are loads for the normal law and differences of logarithms for the others.");
}

static void add_fits(hf_document *d, const hf_event_assessment *e) {
    static const char *const header[] = {"law", ">location", ">spread", ">ln likelihood", ">A²", ">signif.", "fit", NULL};
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit *fit = &e->fits[i];
        const hf_fit_test *test = &e->tests[i];
        bool logs = fit->family->log_scale;
        const char *cells[] = {fit->family->label,
                               hf_bare_load(d, logs ? exp(fit->m) : fit->m, 4),
                               logs ? hf_figures_text(d, fit->s, 4) : hf_bare_load(d, fit->s, 4),
                               hf_figures_text(d, fit->log_likelihood, 5),
                               test->available ? hf_figures_text(d, test->a2, 3) : "-",
                               test->available ? hf_figures_text(d, test->significance, 2) : "-",
                               fit->stop != HF_FIT_CONVERGED ? hf_fit_stop_text(fit->stop)
                               : !test->available            ? "not tested"
                               : test->rejected              ? "rejected"
                                                             : "not rejected",
                               NULL};
        hf_document_row(d, table, cells);
    }
}

static const char *trade_words(hf_document *d, const hf_trade_result *rule) {
    if (!isfinite(rule->value)) return "not available for these pulls";
    if (strcmp(rule->promise, "tolerance") == 0)
        return hf_arena_format(d->arena, "%s of all parts are stronger, with %s confidence", hf_percent_text(d, rule->content, 4),
                               hf_percent_text(d, rule->confidence, 4));
    const char *real = hf_percent_text(d, rule->confidence_real, 2);
    if (strcmp(rule->promise, "prediction") == 0)
        return hf_arena_format(d->arena, "a prediction: the next part is weaker, one chance in %.0f; only %s sure that 90 %% are stronger",
                               1 / rule->next_below, real);
    return hf_arena_format(d->arena, "the next part is weaker, one chance in %.0f; %s sure that 90 %% are stronger", 1 / rule->next_below, real);
}

static void add_trade(hf_document *d, const hf_design_assessment *a) {
    static const char *const header[] = {"rule", ">k", ">load", "what it really promises (normal law)", NULL};
    hf_document_add(d, HF_BLOCK_HEADING, "Rules of the trade beside it");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        const hf_trade_result *rule = &a->trade[i];
        const char *words = trade_words(d, rule);
        const char *cells[] = {rule->label, hf_figures_text(d, rule->factor, 3), hf_load_text(d, rule->value, 3), words ? words : "", NULL};
        hf_document_row(d, table, cells);
    }
}

static void add_cautions(hf_document *d, const hf_cautions *list) {
    for (size_t i = 0; i < list->count; i++) {
        hf_text words = {0};
        hf_report_caution(&list->items[i], d->style, &words);
        hf_document_addf(d, HF_BLOCK_ITEM, "%s", words.bytes ? words.bytes : "");
        hf_text_free(&words);
    }
}

static void add_why_not(hf_document *d, const hf_event_assessment *e) {
    if (e->governing || !e->bound_count) return;
    for (size_t i = 0; i < e->bound_count; i++)
        if (e->bounds[i].family && e->bounds[i].family->has_shape)
            hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Why: %s.", hf_bound_reason_text(e->bounds[i].reason));
    for (size_t i = HF_FAMILY_COUNT; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (b->method == HF_BOUND_NONE) continue;
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "What can be said without a strength law: with %s confidence at least %s of all parts carry %s.",
                         hf_percent_text(d, b->confidence, 4), hf_percent_text(d, b->content, 3), hf_load_text(d, b->value, 3));
    }
}

static void add_event(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    hf_sum_lines(a, e, d);
    add_why_not(d, e);
    add_counts(d, e);
    hf_document_add(d, HF_BLOCK_HEADING, "Bounds");
    add_bounds(d, e);
    hf_document_add(d, HF_BLOCK_HEADING, "Fits");
    add_fits(d, e);
}

static void add_design(hf_document *d, const hf_design_assessment *a) {
    add_answer(d, a);
    add_verdicts(d, a);
    hf_document_add(d, HF_BLOCK_HEADING, "The sum");
    add_event(d, a, &a->break_event);
    if (a->set_watched) {
        hf_document_add(d, HF_BLOCK_HEADING, "First movement (set)");
        add_event(d, a, &a->set_event);
    }
    add_trade(d, a);
    if (!a->cautions.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
    add_cautions(d, &a->cautions);
}

void hf_limits(hf_document *d) {
    hf_document_add(d, HF_BLOCK_HEADING, "Limits");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Holds for new parts made, aged and pulled as tested, for short loads; statistics do not see defects of another kind.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Not for lifting or holding people, overhead loads, fall arrest, aircraft, pressure, or anything under a code or "
                    "law without a competent, licensed person. Local codes win.");
    hf_document_add(d, HF_BLOCK_ITEM, "The design factor is your decision. Destroy parts that were loaded beyond the working load.");
}

void hf_assess_document(const hf_assessment *result, hf_document *d) {
    const hf_campaign *campaign = result->campaign;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    for (size_t i = 0; i < result->count; i++) add_design(d, &result->designs[i]);
    if (result->cautions.count) {
        hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the whole file");
        add_cautions(d, &result->cautions);
    }
    hf_limits(d);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Holdfast %s, input SHA-256 %.16s…, seed %llu.", HF_VERSION, campaign->sha256,
                     (unsigned long long)result->options.seed);
}
