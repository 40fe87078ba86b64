/* How the figures were found, how far they hold, and how to find them again. */
#include <math.h>
#include "base/version_number.h"
#include "report/handover_report.h"

/* --- Method ------------------------------------------------------------------------------------------ */

/* Why the factor is not that of parts which all failed between two known loads. */
static const char *unfinished_words(const hf_assess_counts *counts) {
    bool held = counts->failed < counts->used;
    if (held && counts->below) return "since some did not fail and some failed at the first load";
    return held ? "since some did not fail" : "since some failed at the first load";
}

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
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s law, a factor worked out for just these %zu parts, %s.",
                         name, law, bound->n, unfinished_words(&e->counts));
        break;
    case HF_BOUND_STATED_SCATTER:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s law, with a scatter that is stated, not seen here.", name,
                         law);
        break;
    case HF_BOUND_ORDER_STATISTIC:
        hf_document_addf(d, HF_BLOCK_ITEM,
                         "%s: no strength law; the bound is no. %zu from below of the %zu loads held.", name,
                         bound->rank, bound->n);
        break;
    case HF_BOUND_HANSON_KOOPMANS:
    case HF_BOUND_SURVIVORS:
    case HF_BOUND_NONE:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: no strength law, by the number of parts alone.", name);
        break;
    }
}

static const hf_bound *governing(const hf_handover *handover, size_t i) {
    return handover->assessment->designs[i].break_event.governing;
}

/* With a bound by a law, with one by order alone, without any. */
static void count_bounds(const hf_handover *handover, size_t *by_law, size_t *by_order) {
    *by_law = *by_order = 0;
    for (size_t i = 0; i < handover->assessment->count; i++) {
        const hf_bound *bound = governing(handover, i);
        if (!bound) continue;
        *by_law += bound->family != NULL;
        *by_order += bound->family == NULL;
    }
}

static void add_bounds(hf_document *d, const hf_handover *handover) {
    size_t by_law, by_order;
    count_bounds(handover, &by_law, &by_order);
    hf_document_add(d, HF_BLOCK_HEADING, "How the bound was found");
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Each pull counts as the interval from the load last held to the load at failure; a part that held "
        "counts as stronger than what it held.%s",
        by_law || by_order ? "" : " These pulls give no bound.");
    if (by_law)
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "From the middles of the intervals come location m and spread s, from their widths the step size "
            "h, and from number of parts, content and confidence the factor k: bound = m − k × √(s² + "
            "h²/8), for the lognormal and the Weibull law in logarithms of load. The Weibull bound governs "
            "unless another law was stated before the pulls and they do not reject it.");
    if (by_order)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%s no strength law gives a bound, for that takes two failures between known loads. Then the "
            "loads held are put in order, and the bound is one of the lowest: how low follows from the "
            "number of parts, the content and the confidence, and from nothing else.",
            by_law ? "For one design or more" : "Here");
    if (by_law || by_order)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The stated errors of the rig are taken off once, then the factors of the file "
                        "divide. Every bound and every load after it is rounded down, wherever it is "
                        "printed; other figures are rounded to the nearest.");
    for (size_t i = 0; i < handover->assessment->count; i++)
        bound_method(d, &handover->assessment->designs[i]);
}

static void add_assumptions(hf_document *d, const hf_handover *handover) {
    hf_document_add(d, HF_BLOCK_HEADING, "What is assumed");
    hf_document_add(
        d, HF_BLOCK_ITEM,
        "The parts pulled were picked as the parts in use will be: same making, same material, no "
        "sorting beforehand.");
    hf_document_add(d, HF_BLOCK_ITEM, "One pull says nothing about another; each part was pulled once.");
    size_t by_law, by_order;
    count_bounds(handover, &by_law, &by_order);
    if (by_law)
        hf_document_add(d, HF_BLOCK_ITEM,
                        "Strength follows the governing law. Few parts cannot show that it does not.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "A part that held a load for the dwell would have held it; longer loads, wear and "
                    "weather are not in the figures.");
    if (handover->comparison && handover->comparison->compared)
        hf_document_addf(d, HF_BLOCK_ITEM,
                         "Designs are compared at a level of %s, Holm's rule over all pairs; the order of "
                         "pulls did not favour one of them.",
                         hf_shortest_text(d, handover->comparison->options.level));
}

/* --- True confidence --------------------------------------------------------------------------------- */

/* Why no trial of its own kind can be quoted. */
static void say_no_trial(hf_document *d, const hf_bound *bound, const char *name) {
    const char *why = !bound           ? "there is no bound whose confidence could be tried"
                      : !bound->family ? "its bound leans on no strength law, so that its confidence follows "
                                         "from the number of parts alone"
                      : bound->method == HF_BOUND_CONDITIONAL
                          ? "its bound takes in parts that did not fail or failed at the first load; trials "
                            "of such bounds stand on that page under Open pulls, at a few numbers of parts"
                      : bound->method == HF_BOUND_STATED_SCATTER
                          ? "its bound leans on a stated scatter and is worth what that statement is worth"
                          : "no trial with this law, content and confidence is published";
    hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s.", name, why);
}

static void add_trial(hf_document *d, const hf_handover_design *design) {
    const hf_bound *bound = design->assessment->break_event.governing;
    const hf_published_coverage *row = design->coverage;
    const char *name = hf_design_name(d, design->assessment->design);
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
        name, parts ? parts : "", hf_family_find(row->family)->label, hf_percent_text(d, row->content, 5),
        hf_percent_text(d, row->confidence, 5), hf_percent_down(d, row->coverage, 4),
        hf_percent_text(d, row->standard_error, 2),
        kept ? "The promise is kept, if strength follows that law."
             : "At its worst that is a little less than promised.");
}

static void add_coverage(hf_document *d, const hf_handover *handover) {
    hf_document_add(d, HF_BLOCK_HEADING, "What the confidence was worth when it was tried");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "A confidence can be tried out: parts that exist only as numbers, whose true strength is known, were "
        "pulled in many steps and at many starting loads, and it was counted how often the bound lay at or "
        "below the truth (docs/coverage.md).");
    for (size_t i = 0; i < handover->assessment->count; i++) add_trial(d, &handover->designs[i]);
}

void hf_handover_method(hf_document *d, const hf_handover *handover) {
    hf_document_add(d, HF_BLOCK_HEADING, "Method and assumptions");
    d->chapter = true;
    add_bounds(d, handover);
    add_assumptions(d, handover);
    add_coverage(d, handover);
    d->chapter = false;
}

/* --- Provenance -------------------------------------------------------------------------------------- */

void hf_handover_provenance(hf_document *d, const hf_handover *handover) {
    static const char *const header[] = {"what", "value", NULL};
    const hf_campaign *campaign = handover->campaign;
    const char *seed = hf_arena_format(d->arena, "%llu", (unsigned long long)handover->options.seed);
    const char *const rows[][2] = {
        {"program", "Holdfast " HF_VERSION},       {"file", campaign->file},
        {"SHA-256 of the file", campaign->sha256}, {"seed", seed},
        {"command", handover->options.command},
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
