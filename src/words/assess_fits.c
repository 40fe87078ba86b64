/* Tables of an assessment: fits, and the trade's rules with what they really promise. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"

static const char *or_question(const char *text) {
    return text ? text : "?";
}

static const char *load_header(hf_document *d) {
    return or_question(hf_arena_format(d->arena, ">load, %s", d->style->unit->name));
}

/* --- Fits -------------------------------------------------------------------------------------------- */

static const char *untested_words(const hf_event_assessment *e, const char *reason) {
    static const char *const words[][2] = {
        {"one_value", "all failures lie in one place"},
        {"too_few", "too few parts failed"},
    };
    if (reason && strcmp(reason, "open_observations") == 0) return hf_open_words(&e->counts);
    for (size_t i = 0; reason && i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i][0], reason) == 0) return words[i][1];
    return reason ? reason : "not available";
}

/* The share of simulated samples that stray more; where none did, less than one of them. */
static const char *significance_text(hf_document *d, const hf_fit_test *test) {
    if (!test->available) return "-";
    if (test->significance > 0 || !test->replicates)
        return hf_show_text(d, HF_AS_NUMBER_ROUGH, test->significance);
    return or_question(
        hf_arena_format(d->arena, "<%s", hf_show_text(d, HF_AS_GIVEN, 1 / (double)test->replicates)));
}

static bool any_bound_by_law(const hf_event_assessment *e) {
    for (size_t i = 0; i < e->bound_count; i++)
        if (e->bounds[i].family && isfinite(e->bounds[i].value)) return true;
    return false;
}

static bool divides_by_less(const hf_family *family) {
    return family->spread_divides_by_n_minus_1;
}

static bool takes_as_it_is(const hf_family *family) {
    return !family->spread_divides_by_n_minus_1;
}

/* Which estimates these are, and why those of the bounds differ. */
static void estimates_note(hf_document *d, const hf_event_assessment *e) {
    bool open = e->counts.failed < e->counts.used || e->counts.below > 0;
    if (!any_bound_by_law(e)) return;
    if (e->step_rms > 0)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The fits take each pull as its whole step, from held to failed; the bounds take the "
            "middle and the step size h. So their m and s differ from these.%s",
            e->step_rms > e->sd_mid ? " Steps as wide as these press the bounds down." : "");
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         open ? "The bounds of the %s law widen this spread for the few "
                                "failures; those of the %s law take it as it is."
                              : "The bounds of the %s law divide by one part less, so their "
                                "s is a little larger; those of the %s law take this spread as it is.",
                         hf_laws_text(d, divides_by_less, "the "), hf_laws_text(d, takes_as_it_is, "the "));
}

/* One sentence for each different answer to "does it fit?", naming the laws it is for. */
static void fit_sentences(hf_document *d, const hf_event_assessment *e) {
    const char *said[HF_FAMILY_COUNT];
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit *fit = &e->fits[i];
        const hf_fit_test *test = &e->tests[i];
        said[i] = fit->stop != HF_FIT_CONVERGED ? hf_fit_stop_text(fit->stop)
                  : !test->available
                      ? hf_arena_format(d->arena, "not tested, %s", untested_words(e, test->reason))
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
            hf_bare_text(d, HF_AS_MEAN, logs ? exp(fit->m) : fit->m),
            logs ? hf_show_text(d, HF_AS_NUMBER_ROUGH, fit->se_m)
                 : hf_bare_text(d, HF_AS_LOAD_ERROR, fit->se_m),
            logs ? hf_show_text(d, HF_AS_FACTOR, fit->s) : hf_bare_text(d, HF_AS_MEAN, fit->s),
            logs ? hf_show_text(d, HF_AS_NUMBER_ROUGH, fit->se_s)
                 : hf_bare_text(d, HF_AS_LOAD_ERROR, fit->se_s),
            hf_show_text(d, HF_AS_TO_REDO,
                         fit->log_likelihood +
                             (double)fit->exact * log(hf_unit_newtons(d->style->unit, d->style->gravity))),
            test->available ? hf_show_text(d, HF_AS_NUMBER, test->a2) : "-",
            significance_text(d, test),
            NULL};
        hf_document_row(d, table, cells);
    }
    if (any)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Location is a load; spread and ± (standard errors) are loads for the %s law and "
                         "differences of logarithms for the "
                         "others; the %s shape is 1 over its spread. A²: Anderson–Darling.",
                         hf_laws_text(d, hf_law_of_load, "the "), hf_laws_text(d, hf_law_with_shape, ""));
    if (any) estimates_note(d, e);
    fit_sentences(d, e);
}

/* --- Rules of the trade ------------------------------------------------------------------------------ */

static const char *promise_words(hf_document *d, const hf_trade_result *rule) {
    const double nearly_sure = 0.9999;
    if (strcmp(rule->promise, "tolerance") == 0)
        return hf_arena_format(d->arena, "at least %s of all parts are stronger, with %s confidence",
                               hf_show_text(d, HF_AS_CONFIDENCE, rule->content),
                               hf_show_text(d, HF_AS_CONFIDENCE, rule->confidence));
    return hf_arena_format(
        d->arena,
        "%sthe chance that the next part is weaker is 1 in %s; that 90 %% are stronger: the rule states no "
        "confidence, worked out here %s",
        strcmp(rule->promise, "prediction") == 0 ? "a prediction: " : "",
        hf_show_text(d, HF_AS_GIVEN, floor(1 / rule->next_below + 0.5)),
        rule->confidence_real > nearly_sure ? "more than 99.99 %"
                                            : hf_show_text(d, HF_AS_SHARE_KEPT_ROUGH, rule->confidence_real));
}

static const char *rule_words(hf_document *d, const hf_trade_result *rule) {
    const char *promise = !isfinite(rule->value) ? "not available for these pulls"
                          : rule->value > 0      ? promise_words(d, rule)
                                                 : "gives no load above 0 for these pulls";
    return or_question(hf_arena_format(d->arena, "%s. Made for: %s.", or_question(promise), rule->source));
}

/* The weakest of parts that were read off a scale is what was read; of stepped parts it is the load held, a lower limit. */
static bool is_reading(const hf_design_assessment *a, const hf_trade_result *rule) {
    return strcmp(rule->code, "lowest_of_n") == 0 && !(a->break_event.step_rms > 0);
}

void hf_trade_table(hf_document *d, const hf_design_assessment *a) {
    const hf_trade_result *rules = a->trade;
    const hf_family *law = &hf_family_normal; /* under which the rules were worked out */
    const char *promises =
        or_question(hf_arena_format(d->arena, "what it really promises (%s law%s)", law->label,
                                    hf_law_rejected(&a->break_event, law) ? "; rejected" : ""));
    const char *const header[] = {"rule", ">k", load_header(d), promises, NULL};
    bool any = false;
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) any = any || isfinite(rules[i].value);
    hf_document_add(d, HF_BLOCK_HEADING, "Rules of the trade beside it");
    if (!any) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Not available: %s. These rules need every part to have failed at a known load.",
                         untested_words(&a->break_event, rules[0].reason));
        return;
    }
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        const hf_trade_result *rule = &rules[i];
        const char *cells[] = {rule->label, hf_show_text(d, HF_AS_NUMBER, rule->factor),
                               is_reading(a, rule) ? hf_seen_bare(d, rule->value)
                                                   : hf_bound_cell(d, rule->value),
                               rule_words(d, rule), NULL};
        hf_document_row(d, table, cells);
    }
    if (hf_batches_differ(&a->break_event.batch))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The batches differ: all this holds only for parts that come from such a mixture.");
}
