/* How the figures were found, how far they hold, and how to find them again. */
#include <math.h>
#include "base/version_number.h"
#include "report/handover_report.h"

/* --- Method ------------------------------------------------------------------------------------------ */

static void bound_method(hf_document *d, const hf_design_assessment *a) {
    const hf_bound *bound = a->break_event.governing;
    const char *name = hf_design_name(d, a->design);
    if (!bound) {
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: no bound.", name);
        return;
    }
    const char *law = bound->family ? bound->family->label : "no strength law";
    switch (bound->method) {
    case HF_BOUND_FACTOR:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s law, the exact factor for %zu parts that all failed.",
                         name, law, bound->n);
        break;
    case HF_BOUND_CONDITIONAL:
        hf_document_addf(
            d, HF_BLOCK_ITEM,
            "%s: %s law, a factor worked out for just these %zu parts, since some did not fail or "
            "failed at the first load.",
            name, law, bound->n);
        break;
    case HF_BOUND_STATED_SCATTER:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s law, with a scatter that is stated, not seen here.", name,
                         law);
        break;
    case HF_BOUND_ORDER_STATISTIC:
    case HF_BOUND_HANSON_KOOPMANS:
    case HF_BOUND_SURVIVORS:
    case HF_BOUND_NONE:
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s, by the number of parts alone.", name, law);
        break;
    }
}

static void add_bounds(hf_document *d, const hf_handover *handover) {
    hf_document_add(d, HF_BLOCK_HEADING, "How the bound was found");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "Each pull counts as the interval from the load last held to the load at failure; a part that held "
        "counts as stronger than what it held. From the middles of the intervals come location m and spread "
        "s, from their widths the step size h, and from number of parts, content and confidence the factor "
        "k: bound = m − k × √(s² + h²/8), for the lognormal and the Weibull law in logarithms of load. The "
        "Weibull bound governs unless another law was stated before the pulls and they do not reject it. The "
        "stated errors of the rig are taken off once, then the factors of the file divide; the result is "
        "rounded down.");
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

static void add_cell(hf_document *d, const hf_handover_design *design) {
    const hf_bound *bound = design->assessment->break_event.governing;
    const hf_published_coverage *row = design->coverage;
    const char *name = hf_design_name(d, design->assessment->design);
    if (!row) {
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: no cell is published for this kind of bound%s.", name,
                         bound ? "" : ", and there is none here");
        return;
    }
    hf_document_addf(d, HF_BLOCK_ITEM,
                     "%s: the nearest cell (%s law, %zu parts, content %s) promises %s. Tried on many "
                     "ladders with finished "
                     "pulls, the bound was right in %s of the samples (standard error %s) where it did "
                     "worst; here are %zu "
                     "parts.",
                     name, hf_family_find(row->family)->label, row->n, hf_percent_text(d, row->content, 5),
                     hf_percent_text(d, row->confidence, 5), hf_percent_text(d, row->coverage, 4),
                     hf_percent_text(d, row->standard_error, 2), bound->n);
}

static void add_coverage(hf_document *d, const hf_handover *handover) {
    hf_document_add(d, HF_BLOCK_HEADING, "What the confidence was worth when it was tried");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "Parts that exist only as numbers were pulled, where the truth is known, and it was counted "
        "how often the bound lies at or below it (docs/coverage.md).");
    for (size_t i = 0; i < handover->assessment->count; i++) add_cell(d, &handover->designs[i]);
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
