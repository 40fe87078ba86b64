/* How the figures were found, how far they hold, and how to find them again. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "words/assess_words.h"
#include "handover/handover_report.h"

/* --- Method ------------------------------------------------------------------------------------------ */

static void bound_method(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = &a->break_event;
    const hf_bound *bound = e->governing;
    const char *name = hf_design_name(d, a->design);
    if (!bound) {
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: no bound.", name);
        return;
    }
    const char *law = bound->family ? bound->family->label : "";
    switch (bound->method) {
    case HF_BOUND_FACTOR:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s law, the exact factor for %zu parts that all failed.",
                         name, law, bound->n);
        break;
    case HF_BOUND_CONDITIONAL:
        hf_document_addf(d, HF_BLOCK_ITEM,
                         "%s: %s law, a factor worked out for just these %zu parts, since "
                         "%s.",
                         name, law, bound->n, hf_open_words(&e->counts));
        break;
    case HF_BOUND_STATED_SCATTER:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s a scatter that is stated%s.", name,
                         bound->scatter.degrees > 0 ? "no one law; on ln load,"
                                                    : "the normal and the Weibull law,",
                         bound->scatter.own_degrees > 0 ? ", with that of these parts" : ", not seen here");
        break;
    case HF_BOUND_ORDER_STATISTIC:
        if (bound->value > 0)
            hf_document_addf(d, HF_BLOCK_ITEM,
                             "%s: no strength law; the bound is no. %zu from below of the %zu loads.", name,
                             bound->rank, bound->n);
        else
            hf_document_addf(d, HF_BLOCK_ITEM,
                             "%s: no strength law, and by the number of parts alone no bound above 0.", name);
        break;
    case HF_BOUND_BATCH:
        hf_document_addf(
            d, HF_BLOCK_ITEM,
            "%s: from the means of %zu batches on ln load, the lower of that and the bound which "
            "ignores batches.",
            name, e->batch_bound.batches);
        break;
    case HF_BOUND_ONE_BATCH:
        hf_document_addf(
            d, HF_BLOCK_ITEM,
            "%s: the bound that ignores batches, and the scatter between batches that is stated.", name);
        break;
    case HF_BOUND_HANSON_KOOPMANS:
    case HF_BOUND_SURVIVORS:
    case HF_BOUND_NONE:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: no strength law, by the number of parts alone.", name);
        break;
    }
}

static const hf_bound *governing(const hf_study *study, size_t i) {
    return study->assessment->designs[i].break_event.governing;
}

/* Designs with a bound by a law, with one by order alone, with one above 0. */
typedef struct bound_counts {
    size_t by_law, by_order, above_zero;
} bound_counts;

static bound_counts count_bounds(const hf_study *study) {
    bound_counts out = {0};
    for (size_t i = 0; i < study->assessment->count; i++) {
        const hf_bound *bound = governing(study, i);
        if (!bound) continue;
        out.by_law += bound->family != NULL;
        out.by_order += bound->family == NULL;
        out.above_zero += bound->value > 0;
    }
    return out;
}

static bool any_below(const hf_study *study) {
    for (size_t i = 0; i < study->assessment->count; i++)
        if (study->assessment->designs[i].break_event.counts.below) return true;
    return false;
}

/* "Weibull 12, lognormal 8, normal 8" */
static const char *divisors(hf_document *d) {
    const char *text = "";
    for (size_t i = 0; i < HF_FAMILY_COUNT && text; i++)
        text = hf_arena_format(d->arena, "%s%s%s %.0f", text, i ? ", " : "", hf_family_at(i)->label,
                               hf_sum_divisor(hf_family_at(i)->step_allowance));
    return text ? text : "?";
}

static void add_bounds(hf_document *d, const hf_study *study) {
    const bound_counts n = count_bounds(study);
    hf_document_add(d, HF_BLOCK_HEADING, "How the bound was found");
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Each pull counts as the interval from the load last held to the load at failure; a part that held "
        "counts as stronger than what it held.%s",
        n.above_zero            ? ""
        : n.by_law + n.by_order ? " These pulls give no bound above 0."
                                : " These pulls give no bound.");
    if (n.by_law)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "From the middles of the intervals come location m and spread s, from their widths the step size "
            "h, and from number of parts, content and confidence the factor k: bound = m − k × √(s² + "
            "h²/D), for the %s law in logarithms of load. What the steps hide is allowed for by D: %s. The "
            "%s bound governs unless another law was stated before the pulls and they do not reject it.",
            hf_laws_text(d, hf_law_of_logarithm, "the "), divisors(d), hf_family_governing(NULL)->label);
    if (n.by_order)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%s no strength law gives a bound, for that takes two failures between known loads. Then the "
            "loads held are put in order%s, and the bound is one of the lowest: how low follows from the "
            "number of parts, the content and the confidence, and from nothing else.",
            n.by_law ? "For one design or more" : "Here", any_below(study) ? ", 0 where none is known" : "");
    if (n.above_zero)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The stated errors of the rig are taken off once, then the factors of the file "
                        "divide. Every bound and every load after it is rounded down, wherever it is "
                        "printed; other figures are rounded to the nearest.");
    for (size_t i = 0; i < study->assessment->count; i++) bound_method(d, &study->assessment->designs[i]);
}

static bool any_better_law(const hf_study *study) {
    for (size_t i = 0; i < study->assessment->count; i++)
        if (hf_cautions_have(&study->assessment->designs[i].cautions, HF_CAUTION_LAW_UNLIKELY)) return true;
    return false;
}

/* That strength follows the law, and whose pulls speak against it. */
static void say_law_assumed(hf_document *d, const hf_study *study) {
    hf_text names = {0};
    size_t rejected = 0, by_law = count_bounds(study).by_law;
    for (size_t i = 0; i < study->assessment->count; i++) {
        const hf_design_assessment *a = &study->assessment->designs[i];
        if (!hf_governing_rejected(&a->break_event)) continue;
        hf_text_addf(&names, "%s%s", rejected++ ? ", " : "", hf_design_name(d, a->design));
    }
    if (!rejected)
        hf_document_add(
            d, HF_BLOCK_ITEM,
            any_better_law(study)
                ? "Strength follows the governing law. Another fits the pulls far better; see the cautions."
                : "Strength follows the governing law. That the pulls do not speak against it is no proof.");
    else if (rejected == by_law)
        hf_document_add(d, HF_BLOCK_ITEM,
                        "Strength follows the governing law. Here the pulls speak against that.");
    else
        hf_document_addf(d, HF_BLOCK_ITEM,
                         "Strength follows the governing law. The pulls of these speak against that: %s.",
                         names.bytes ? names.bytes : "?");
    hf_text_free(&names);
}

static void add_assumptions(hf_document *d, const hf_study *study) {
    hf_document_add(d, HF_BLOCK_HEADING, "What is assumed");
    hf_document_add(
        d, HF_BLOCK_ITEM,
        "The parts pulled were picked as the parts in use will be: same making, same material, no "
        "sorting beforehand.");
    hf_document_add(d, HF_BLOCK_ITEM, "One pull says nothing about another; each part was pulled once.");
    if (count_bounds(study).by_law) say_law_assumed(d, study);
    hf_document_add(d, HF_BLOCK_ITEM,
                    "A load held for the dwell counts as held; longer loads, wear and weather are not in the "
                    "figures.");
    if (study->comparison && study->comparison->compared)
        hf_document_addf(d, HF_BLOCK_ITEM,
                         "Designs are compared at a level of %s, Holm's rule over all pairs; the order of "
                         "pulls did not favour one of them.",
                         hf_show_text(d, HF_AS_GIVEN, study->comparison->options.level));
}

/* --- True confidence --------------------------------------------------------------------------------- */

/* Why no trial of its own kind can be quoted. */
static void say_no_trial(hf_document *d, const hf_bound *bound, const char *name) {
    const char *why =
        !bound                ? "there is no bound whose confidence could be tried"
        : !(bound->value > 0) ? "there is no bound above 0 whose confidence could be tried"
        : bound->method == HF_BOUND_BATCH
            ? "of bounds from batch means the trials stand on the page of true confidence"
        : bound->method == HF_BOUND_ONE_BATCH
            ? "its bound leans on a stated scatter between batches and is worth what that is worth"
        : !bound->family ? "its bound leans on no strength law, so that its confidence follows "
                           "from the number of parts alone"
        : bound->method == HF_BOUND_STATED_SCATTER
            ? "its bound leans on a stated scatter and is worth what that statement is worth"
            : "no trial with this law, content and confidence is published";
    hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s.", name, why);
}

/* A bound that takes in parts which did not fail, or failed at the first load. */
static void add_open_trial(hf_document *d, const hf_study_design *design) {
    const hf_published_open *row = design->open_coverage;
    const hf_event_assessment *e = &design->assessment->break_event;
    size_t open = row->below ? e->counts.below : e->counts.used - e->counts.failed;
    const char *what = row->below ? "weaker than the first load" : "stronger than the last load";
    hf_document_addf(d, HF_BLOCK_ITEM,
                     "%s: %zu of %zu parts here are only known to be %s. The nearest that was tried: %zu "
                     "parts, %s of all parts "
                     "%s, the %s law and a content of %s. A bound that promises %s was right in %s of the "
                     "trials that gave "
                     "one, where it did worst; %s of them did (800 trials or more).%s",
                     hf_design_name(d, design->assessment->design), open, e->counts.used,
                     row->below ? "weaker than a load" : "stronger than a load", row->n,
                     hf_show_text(d, HF_AS_SHARE, row->share), what, row->family->label,
                     hf_show_text(d, HF_AS_SHARE_STATED, row->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, row->confidence),
                     hf_show_text(d, HF_AS_SHARE_KEPT, row->given),
                     hf_show_text(d, HF_AS_SHARE, row->bounded),
                     row->given >= row->confidence ? " The promise is kept if strength follows that law."
                                                   : " At its worst that is less than promised.");
}

static void add_trial(hf_document *d, const hf_study_design *design) {
    const hf_event_assessment *e = &design->assessment->break_event;
    const hf_bound *bound = e->governing;
    const hf_published_coverage *row = design->coverage;
    const char *name = hf_design_name(d, design->assessment->design);
    if (!row && design->open_coverage) {
        add_open_trial(d, design);
        return;
    }
    if (!row) {
        say_no_trial(d, bound, name);
        return;
    }
    const char *parts =
        row->n == bound->n
            ? hf_arena_format(d->arena, "with %zu parts, as here", row->n)
            : hf_arena_format(d->arena, "with %zu parts, the number tried that is nearest to the %zu here",
                              row->n, bound->n);
    bool kept = row->coverage >= row->confidence;
    hf_document_addf(
        d, HF_BLOCK_ITEM,
        "%s: %s, the %s law and a content of %s, a bound that promises %s was right in %s of the trials "
        "(standard error %s) on the steps where it did worst. %s",
        name, parts ? parts : "", row->family->label, hf_show_text(d, HF_AS_SHARE_STATED, row->content),
        hf_show_text(d, HF_AS_SHARE_STATED, row->confidence),
        hf_show_text(d, HF_AS_SHARE_PROVEN, row->coverage),
        hf_show_text(d, HF_AS_SHARE_ROUGH, row->standard_error),
        !kept ? "At its worst that is a little less than promised."
        : hf_governing_rejected(e)
            ? "The promise is kept if strength follows that law, which these pulls reject."
            : "The promise is kept if strength follows that law.");
}

static void add_coverage(hf_document *d, const hf_study *study) {
    hf_document_add(d, HF_BLOCK_HEADING, "What the confidence was worth when it was tried");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "A confidence can be tried out: parts that exist only as numbers, whose true strength is known, were "
        "pulled in many steps and at many starting loads, and it was counted how often the bound lay at or "
        "below the truth (in the program's documentation, page coverage).");
    for (size_t i = 0; i < study->assessment->count; i++) add_trial(d, &study->designs[i]);
}

void hf_handover_method(hf_document *d, const hf_study *study) {
    d->chapter = true;
    add_bounds(d, study);
    add_assumptions(d, study);
    add_coverage(d, study);
    d->chapter = false;
}

/* --- Provenance -------------------------------------------------------------------------------------- */

void hf_handover_provenance(hf_document *d, const hf_study *study) {
    static const char *const header[] = {"what", "value", NULL};
    const hf_campaign *campaign = study->campaign;
    const char *seed = hf_arena_format(d->arena, "%llu", (unsigned long long)study->options.seed);
    const char *const rows[][2] = {
        {"program", "Holdfast " HF_VERSION},       {"file", campaign->file},
        {"SHA-256 of the file", campaign->sha256}, {"seed", seed},
        {"command", study->options.command},
    };
    hf_document_add(d, HF_BLOCK_HEADING, "To repeat this report");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "The same program, file and seed give the same figures on any machine and with any number "
        "of threads.");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *cells[] = {rows[i][0], hf_or_not_stated(rows[i][1]), NULL};
        hf_document_row(d, table, cells);
    }
}
