/* Tables of an assessment: bounds, fits, and the trade's rules with what they really promise. */
#include <math.h>
#include <string.h>
#include "report/document.h"

static const char *plural(size_t count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

static void spread_words(hf_document *d, const hf_event_assessment *e) {
    const char *mean = isfinite(e->mean_mid) ? hf_arena_format(d->arena, ", mean of the failed %s",
                                                               hf_load_text(d, e->mean_mid, 4))
                                             : "";
    const char *spread = isfinite(e->sd_mid)
                             ? hf_arena_format(d->arena, ", standard deviation %s (%s of the mean)",
                                               hf_load_text(d, e->sd_mid, 3), hf_percent_text(d, e->cv, 3))
                             : "";
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Best single pull %s (never a rating)%s%s, step %s.",
                     hf_load_text(d, e->max_load, 4), mean ? mean : "", spread ? spread : "",
                     e->step_rms > 0 ? hf_load_text(d, e->step_rms, 3) : "none");
}

static void batch_words(hf_document *d, const hf_batch_test *b) {
    if (!b->available) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu batches: they %s (k-sample Anderson–Darling %s, critical %s); %s of the variance "
                     "comes from changing batch.",
                     b->batches, b->differ ? "differ" : "cannot be told apart", hf_figures_text(d, b->adk, 3),
                     hf_figures_text(d, b->critical, 3), hf_percent_text(d, b->between_share, 2));
}

void hf_counts_words(hf_document *d, const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    if (e->of_fittings)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%zu fittings used, each end for itself: %zu broke, %zu stayed whole; %zu void, %zu re-used, "
            "%zu planned parts.",
            c->used, c->failed, c->run_out + c->rig, c->voided, c->reused, c->planned);
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%zu %s used: %zu failed, %zu %s, %zu %s; %zu void, %zu re-used, %zu planned.",
                         c->used, plural(c->used, "part", "parts"), c->failed, c->run_out,
                         plural(c->run_out, "run-out", "run-outs"), c->rig,
                         plural(c->rig, "rig failure", "rig failures"), c->voided, c->reused, c->planned);
    if (c->used == 0) return;
    spread_words(d, e);
    batch_words(d, &e->batch);
}

/* --- Bounds ------------------------------------------------------------------------------------------ */

static const char *or_question(const char *text) {
    return text ? text : "?";
}

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
            why = "* governs: no law gives a bound, but the number of parts alone does. ";
        else if (strcmp(e->governing_reason, "stated_rejected") == 0)
            why = "* governs: the Weibull bound does, since the pulls reject the stated law. ";
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%sm is a load; s and h are loads for the normal law and differences of logarithms for the others.",
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
                               hf_bare_load(d, b->value, 4),
                               method_words(d, b),
                               NULL};
        hf_document_row(d, table, cells);
    }
    bounds_note(d, e);
}

/* --- Fits -------------------------------------------------------------------------------------------- */

static const char *untested_words(const char *reason) {
    static const char *const words[][2] = {
        {"open_observations", "some pulls ended without a failure or failed at the first rung"},
        {"one_value", "all failures lie in one place"},
        {"too_few", "too few parts failed"},
    };
    for (size_t i = 0; reason && i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i][0], reason) == 0) return words[i][1];
    return reason ? reason : "not available";
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
            test->available ? hf_figures_text(d, test->significance, 2) : "-",
            NULL};
        hf_document_row(d, table, cells);
    }
    if (any)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "Location is a load; spread and ± (standard errors) are loads for the normal law and "
                        "differences of logarithms for the "
                        "others; the Weibull shape is 1 over its spread. A²: Anderson–Darling.");
    fit_sentences(d, e);
}

/* --- Rules of the trade ------------------------------------------------------------------------------ */

static const char *promise_words(hf_document *d, const hf_trade_result *rule) {
    if (strcmp(rule->promise, "tolerance") == 0)
        return hf_arena_format(d->arena, "at least %s of all parts are stronger, with %s confidence",
                               hf_percent_text(d, rule->content, 4), hf_percent_text(d, rule->confidence, 4));
    const char *form =
        strcmp(rule->promise, "prediction") == 0 ? "a prediction, no confidence is stated: " : "";
    return hf_arena_format(
        d->arena,
        "%sthe chance that the next part is weaker is 1 in %s; confidence that 90 %% are stronger: %s", form,
        hf_shortest_text(d, floor(1 / rule->next_below + 0.5)), hf_percent_down(d, rule->confidence_real, 2));
}

static const char *rule_words(hf_document *d, const hf_trade_result *rule) {
    const char *promise = isfinite(rule->value) ? promise_words(d, rule) : "not available for these pulls";
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
                               hf_bare_load(d, rule->value, 3), rule_words(d, rule), NULL};
        hf_document_row(d, table, cells);
    }
}
