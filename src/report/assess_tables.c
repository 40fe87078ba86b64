/* Tables of an assessment: bounds, fits, and the trade's rules with what they really promise. */
#include <math.h>
#include <string.h>
#include "report/document.h"

static const char *plural(size_t count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

/* --- Counts ------------------------------------------------------------------------------------------ */

static const char *or_question(const char *text) {
    return text ? text : "?";
}

/* The end a pull is remembered by: where it failed, or what it held when it did not. */
static double reached(const hf_pull *pull) {
    return pull->kind == HF_PULL_ABOVE ? pull->lower : pull->upper;
}

static bool is_used(const hf_specimen *specimen) {
    return specimen->outcome != HF_OUTCOME_VOID && specimen->outcome != HF_OUTCOME_PLANNED &&
           !specimen->reused;
}

static bool is_set(const hf_design_assessment *a, const hf_event_assessment *e) {
    return e == &a->set_event;
}

/* Of pulls that reached the same load the one that held most. */
static const hf_pull *best_pull(const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_design *design = a->pulled && !is_set(a, e) ? a->pulled : a->design;
    const hf_pull *best = NULL;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *specimen = &design->specimens[i];
        const hf_pull *pull = is_set(a, e) ? &specimen->set : &specimen->pull;
        if (!is_used(specimen) || pull->kind == HF_PULL_NONE || reached(pull) != e->max_load) continue;
        if (!best || pull->kind == HF_PULL_ABOVE ||
            (best->kind != HF_PULL_ABOVE && pull->lower > best->lower))
            best = pull;
    }
    return best;
}

const char *hf_best_pull_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_pull *best = best_pull(a, e);
    bool set = is_set(a, e);
    if (!best) return NULL;
    const char *low = hf_load_text(d, best->lower, 4), *high = hf_load_text(d, best->upper, 4),
               *verb = set ? "moved" : "failed";
    switch (best->kind) {
    case HF_PULL_NONE:
        break;
    case HF_PULL_ABOVE:
        return hf_arena_format(d->arena, "held %s and did not %s", low, set ? "move" : "fail");
    case HF_PULL_EXACT:
        return hf_arena_format(d->arena, "%s at %s", verb, high);
    case HF_PULL_BELOW:
        return hf_arena_format(d->arena, "%s at %s, its first load", verb, high);
    case HF_PULL_CLOSED:
        if (best->lower == best->upper) return hf_arena_format(d->arena, "%s at %s", verb, high);
        return best->stepped ? hf_arena_format(d->arena, "%s at %s after holding %s", verb, high, low)
                             : hf_arena_format(d->arena, "%s between %s and %s", verb, low, high);
    }
    return NULL;
}

static void spread_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const char *best = hf_best_pull_words(d, a, e);
    hf_text text = {0};
    if (!best) best = hf_load_text(d, e->max_load, 4);
    hf_text_addf(&text, "Best single pull: %s (never a rating).", best);
    if (isfinite(e->mean_mid))
        hf_text_addf(&text, " Mean of the %s %s", is_set(a, e) ? "first movements" : "failed",
                     hf_load_text(d, e->mean_mid, 4));
    if (isfinite(e->mean_mid) && isfinite(e->sd_mid))
        hf_text_addf(&text, ", standard deviation %s (%s of the mean)", hf_load_text(d, e->sd_mid, 3),
                     hf_percent_text(d, e->cv, 3));
    if (isfinite(e->mean_mid)) hf_text_add(&text, ".");
    if (e->step_rms > 0) hf_text_addf(&text, " Step size %s.", hf_load_text(d, e->step_rms, 3));
    hf_document_add(d, HF_BLOCK_PARAGRAPH, text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

/* Batches named by the parts used. */
static size_t batches_stated(const hf_design *design) {
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const char *batch = design->specimens[i].batch;
        bool met = !batch || !is_used(&design->specimens[i]);
        for (size_t j = 0; !met && j < i; j++)
            met = is_used(&design->specimens[j]) && design->specimens[j].batch &&
                  strcmp(design->specimens[j].batch, batch) == 0;
        count += !met;
    }
    return count;
}

static void untested_batches(hf_document *d, const hf_design_assessment *a, const hf_batch_test *b) {
    size_t batches = batches_stated(a->design);
    if (batches < 2 || !b->reason) return;
    const char *why = strcmp(b->reason, "open_observations") == 0
                          ? "some pulls ended without a failure or failed at the first load"
                      : strcmp(b->reason, "one_value") == 0 ? "all failures lie in one place"
                                                            : "a batch has too few parts";
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%zu batches: whether they differ cannot be tested, %s.", batches,
                     why);
}

static void batch_words(hf_document *d, const hf_design_assessment *a, const hf_batch_test *b) {
    const double least_said = 0.005;
    if (!b->available) {
        untested_batches(d, a, b);
        return;
    }
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu batches: they %s (k-sample Anderson–Darling %s, critical %s); %s of the variance "
                     "comes from changing batch.",
                     b->batches, b->differ ? "differ" : "cannot be told apart", hf_figures_text(d, b->adk, 3),
                     hf_figures_text(d, b->critical, 3),
                     b->between_share < least_said ? "none" : hf_percent_text(d, b->between_share, 2));
}

static void add_count(hf_text *text, size_t count, const char *one, const char *many) {
    const char *last = text->length ? text->bytes + text->length - 1 : ":";
    if (count) hf_text_addf(text, "%s%zu %s", *last == ':' ? " " : ", ", count, plural(count, one, many));
}

void hf_counts_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    bool set = is_set(a, e);
    hf_text text = {0};
    if (e->of_fittings)
        hf_text_addf(&text, "%zu fittings used, each end for itself", c->used);
    else
        hf_text_addf(&text, "%zu %s %s", c->used, plural(c->used, "part", "parts"), set ? "watched" : "used");
    if (c->used && c->failed == c->used) {
        hf_text_addf(&text, "%s %s", c->used == 1 ? ", which" : ", all",
                     e->of_fittings ? "broke"
                     : set          ? "moved"
                                    : "failed");
    } else if (c->used) {
        hf_text_add(&text, ":");
        add_count(&text, c->failed,
                  e->of_fittings ? "broke"
                  : set          ? "moved"
                                 : "failed",
                  e->of_fittings ? "broke"
                  : set          ? "moved"
                                 : "failed");
        if (e->of_fittings || set)
            add_count(&text, c->run_out + c->rig, set ? "kept its shape" : "stayed whole",
                      set ? "kept their shape" : "stayed whole");
        else
            add_count(&text, c->run_out, "run-out", "run-outs");
        if (!e->of_fittings && !set) add_count(&text, c->rig, "rig failure", "rig failures");
    }
    if (c->voided + c->reused + c->planned) {
        hf_text_add(&text, "; not used:");
        add_count(&text, c->voided, "void", "void");
        add_count(&text, c->reused, "re-used", "re-used");
        add_count(&text, c->planned, "planned", "planned");
    }
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s.", text.bytes ? text.bytes : "?");
    hf_text_free(&text);
    if (c->used == 0) return;
    spread_words(d, a, e);
    batch_words(d, a, &e->batch);
}

/* --- Bounds ------------------------------------------------------------------------------------------ */

static const char *load_header(hf_document *d) {
    const char *text = hf_arena_format(d->arena, ">load, %s", d->style->unit->name);
    return text ? text : ">load";
}

static const char *method_words(hf_document *d, const hf_bound *b) {
    switch (b->method) {
    case HF_BOUND_FACTOR:
        return "factor";
    case HF_BOUND_CONDITIONAL:
        return "conditional on what was seen";
    case HF_BOUND_STATED_SCATTER:
        return "stated scatter";
    case HF_BOUND_ORDER_STATISTIC:
        return or_question(hf_arena_format(d->arena, "no. %zu from below of %zu loads held", b->rank, b->n));
    case HF_BOUND_HANSON_KOOPMANS:
        return or_question(hf_arena_format(d->arena, "Hanson–Koopmans on the least, %s, and no. %zu, %s",
                                           hf_bare_load(d, b->lower_end, 4), b->rank,
                                           hf_bare_load(d, b->upper_end, 4)));
    case HF_BOUND_SURVIVORS:
        return or_question(
            hf_arena_format(d->arena, "all %zu held: content %s", b->n, hf_percent_down(d, b->content, 3)));
    case HF_BOUND_NONE:
        break;
    }
    return hf_bound_reason_text(b->reason);
}

/* The column of loads is narrow: that there is none above 0 is said beside it. */
static const char *how_words(hf_document *d, const hf_bound *b) {
    const char *how = method_words(d, b);
    return b->value <= 0 ? or_question(hf_arena_format(d->arena, "none above 0: %s", how)) : how;
}

static const char *row_name(hf_document *d, const hf_event_assessment *e, const hf_bound *bound,
                            size_t index) {
    static const char *const free_rows[] = {"no law: order", "no law: two values", "no law: all held"};
    const char *mark = bound == e->governing ? " *" : "";
    if (!bound->family) {
        size_t row = index >= HF_FAMILY_COUNT && index - HF_FAMILY_COUNT < 3 ? index - HF_FAMILY_COUNT : 0;
        return or_question(hf_arena_format(d->arena, "%s%s", free_rows[row], mark));
    }
    bool rejected = index < HF_FAMILY_COUNT && e->tests[index].available && e->tests[index].rejected;
    if (index >= HF_FAMILY_COUNT)
        return or_question(hf_arena_format(d->arena, "%s, stated%s", bound->family->label, mark));
    return or_question(
        hf_arena_format(d->arena, "%s%s%s", bound->family->label, mark, rejected ? " (rejected)" : ""));
}

static void bounds_note(hf_document *d, const hf_event_assessment *e) {
    const char *why = "";
    if (e->governing && e->governing_reason) {
        if (strcmp(e->governing_reason, "weibull_rule") == 0)
            why = "* governs: the Weibull bound does, unless another law was stated before the pulls. ";
        else if (strcmp(e->governing_reason, "stated") == 0)
            why = "* governs: this law was stated. ";
        else if (strcmp(e->governing_reason, "stated_scatter") == 0)
            why = "* governs: the scatter stated for this kind of part, since so few were pulled. ";
        else if (strcmp(e->governing_reason, "order_statistic") == 0)
            why = e->governing->value > 0
                      ? "* governs: no law gives a bound, but the number of parts alone does. "
                      : "* governs: no law gives a bound, and the number of parts alone gives none above 0. ";
        else if (strcmp(e->governing_reason, "stated_rejected") == 0)
            why = "* governs: the Weibull bound does, since the pulls reject the stated law. ";
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%sm is a load; s and h are loads for the normal law and differences of logarithms for the others. "
        "Every bound is rounded down.",
        why);
}

void hf_bounds_table(hf_document *d, const hf_event_assessment *e) {
    const char *const header[] = {"bound", ">k", ">m", ">s", ">h", load_header(d), "how", NULL};
    if (!e->bound_count) return;
    hf_document_addf(d, HF_BLOCK_HEADING, "Bounds: at least %s of all parts stronger, %s confidence",
                     hf_percent_text(d, e->bounds[0].content, 5),
                     hf_percent_text(d, e->bounds[0].confidence, 5));
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        bool logs = b->family && b->family->log_scale;
        const char *cells[] = {row_name(d, e, b, i),
                               hf_figures_text(d, b->k, 4),
                               hf_bare_load(d, logs ? exp(b->m) : b->m, 4),
                               logs ? hf_figures_text(d, b->s, 3) : hf_bare_load(d, b->s, 3),
                               logs ? hf_figures_text(d, b->h, 3) : hf_bare_load(d, b->h, 3),
                               b->value <= 0 ? "none" : hf_bound_cell(d, b->value, 4),
                               how_words(d, b),
                               NULL};
        hf_document_row(d, table, cells);
    }
    bounds_note(d, e);
}

/* --- Fits -------------------------------------------------------------------------------------------- */

static const char *untested_words(const char *reason) {
    static const char *const words[][2] = {
        {"open_observations", "some pulls ended without a failure or failed at the first load"},
        {"one_value", "all failures lie in one place"},
        {"too_few", "too few parts failed"},
    };
    for (size_t i = 0; reason && i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i][0], reason) == 0) return words[i][1];
    return reason ? reason : "not available";
}

/* The share of simulated samples that stray more; where none did, less than one of them. */
static const char *significance_text(hf_document *d, const hf_fit_test *test) {
    if (!test->available) return "-";
    if (test->significance > 0 || !test->replicates) return hf_figures_text(d, test->significance, 2);
    return or_question(hf_arena_format(d->arena, "<%s", hf_shortest_text(d, 1 / (double)test->replicates)));
}

static bool any_bound_by_law(const hf_event_assessment *e) {
    for (size_t i = 0; i < e->bound_count; i++)
        if (e->bounds[i].family && isfinite(e->bounds[i].value)) return true;
    return false;
}

/* Which estimates these are, and why those of the bounds differ. */
static void estimates_note(hf_document *d, const hf_event_assessment *e) {
    bool open = e->counts.failed < e->counts.used || e->counts.below > 0;
    if (!any_bound_by_law(e)) return;
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        e->step_rms > 0
            ? "The fits take each pull as its whole step, from held to failed; the bounds take the "
              "middle and the step size h. So their m and s differ a little from these."
        : open ? "The bounds of the normal and the lognormal law widen this spread for the few "
                 "failures; those of the Weibull law take it as it is."
               : "The bounds of the normal and the lognormal law divide by one part less, so their "
                 "s is a little larger; those of the Weibull law take this spread as it is.");
}

/* One sentence for each different answer to "does it fit?", naming the laws it is for. */
static void fit_sentences(hf_document *d, const hf_event_assessment *e) {
    const char *said[HF_FAMILY_COUNT];
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit *fit = &e->fits[i];
        const hf_fit_test *test = &e->tests[i];
        said[i] = fit->stop != HF_FIT_CONVERGED ? hf_fit_stop_text(fit->stop)
                  : !test->available
                      ? hf_arena_format(d->arena, "not tested, %s", untested_words(test->reason))
                  : test->rejected ? "rejected (significance below 0.05)"
                                   : "not rejected (significance 0.05 or more)";
        if (!said[i]) said[i] = "?";
    }
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        hf_text names = {0};
        bool before = false;
        for (size_t j = 0; j < HF_FAMILY_COUNT; j++) {
            if (strcmp(said[i], said[j]) != 0) continue;
            before = before || j < i;
            hf_text_addf(&names, "%s%s", names.length ? ", " : "", hf_family_at(j)->label);
        }
        if (!before)
            hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s: %s.", names.bytes ? names.bytes : "?", said[i]);
        hf_text_free(&names);
    }
}

void hf_fits_table(hf_document *d, const hf_event_assessment *e) {
    static const char *const header[] = {"law", ">location", ">±", ">spread", ">±", ">ln likelihood",
                                         ">A²", ">signif.",  NULL};
    bool any = false;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) any = any || e->fits[i].stop == HF_FIT_CONVERGED;
    hf_document_add(d, HF_BLOCK_HEADING, "Fits (maximum likelihood)");
    hf_block *table = any ? hf_document_table(d, header) : NULL;
    for (size_t i = 0; any && i < HF_FAMILY_COUNT; i++) {
        const hf_fit *fit = &e->fits[i];
        const hf_fit_test *test = &e->tests[i];
        bool logs = hf_family_at(i)->log_scale;
        const char *cells[] = {
            hf_family_at(i)->label,
            hf_bare_load(d, logs ? exp(fit->m) : fit->m, 4),
            logs ? hf_figures_text(d, fit->se_m, 2) : hf_bare_load(d, fit->se_m, 2),
            logs ? hf_figures_text(d, fit->s, 4) : hf_bare_load(d, fit->s, 4),
            logs ? hf_figures_text(d, fit->se_s, 2) : hf_bare_load(d, fit->se_s, 2),
            hf_figures_text(d,
                            fit->log_likelihood +
                                (double)fit->exact * log(hf_unit_newtons(d->style->unit, d->style->gravity)),
                            5),
            test->available ? hf_figures_text(d, test->a2, 3) : "-",
            significance_text(d, test),
            NULL};
        hf_document_row(d, table, cells);
    }
    if (any)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "Location is a load; spread and ± (standard errors) are loads for the normal law and "
                        "differences of logarithms for the "
                        "others; the Weibull shape is 1 over its spread. A²: Anderson–Darling.");
    if (any) estimates_note(d, e);
    fit_sentences(d, e);
}

/* --- Rules of the trade ------------------------------------------------------------------------------ */

static const char *promise_words(hf_document *d, const hf_trade_result *rule) {
    const double nearly_sure = 0.9999;
    if (strcmp(rule->promise, "tolerance") == 0)
        return hf_arena_format(d->arena, "at least %s of all parts are stronger, with %s confidence",
                               hf_percent_text(d, rule->content, 4), hf_percent_text(d, rule->confidence, 4));
    const char *form =
        strcmp(rule->promise, "prediction") == 0 ? "a prediction, no confidence is stated: " : "";
    return hf_arena_format(
        d->arena,
        "%sthe chance that the next part is weaker is 1 in %s; confidence that 90 %% are stronger: %s", form,
        hf_shortest_text(d, floor(1 / rule->next_below + 0.5)),
        rule->confidence_real > nearly_sure ? "more than 99.99 %"
                                            : hf_percent_down(d, rule->confidence_real, 2));
}

static const char *rule_words(hf_document *d, const hf_trade_result *rule) {
    const char *promise = !isfinite(rule->value) ? "not available for these pulls"
                          : rule->value > 0      ? promise_words(d, rule)
                                                 : "gives no load above 0 for these pulls";
    return or_question(hf_arena_format(d->arena, "%s. Made for: %s.", or_question(promise), rule->source));
}

void hf_trade_table(hf_document *d, const hf_trade_result *rules) {
    const char *const header[] = {"rule", ">k", load_header(d), "what it really promises (normal law)", NULL};
    bool any = false;
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) any = any || isfinite(rules[i].value);
    hf_document_add(d, HF_BLOCK_HEADING, "Rules of the trade beside it");
    if (!any) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Not available: %s. The trade's rules know parts that all broke, and nothing else.",
                         untested_words(rules[0].reason));
        return;
    }
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        const hf_trade_result *rule = &rules[i];
        const char *cells[] = {rule->label, hf_figures_text(d, rule->factor, 3),
                               hf_bound_cell(d, rule->value, 3), rule_words(d, rule), NULL};
        hf_document_row(d, table, cells);
    }
}
