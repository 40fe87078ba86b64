/* The designs against each other. */
#include "words/compare_report.h"
#include "chart/document_chart.h"
#include "handover/handover_report.h"

/* More pairs than these are told by their table alone. */
enum { PAIRS_TOLD = 10 };

static void count_verdicts(hf_document *d, const hf_comparison *result) {
    size_t stronger = 0, same = 0, open = 0;
    for (size_t i = 0; i < result->pair_count; i++) {
        hf_verdict verdict = result->pairs[i].verdict;
        if (result->pairs[i].method == HF_COMPARISON_NONE)
            continue;
        else if (verdict == HF_VERDICT_CANNOT_TELL)
            open++;
        else if (verdict == HF_VERDICT_SAME_WITHIN)
            same++;
        else
            stronger++;
    }
    hf_document_addf(
        d, HF_BLOCK_ANSWER,
        "Of %zu pairs of designs, in %zu one is typically the stronger; in %zu these pulls cannot tell.",
        result->pair_count, stronger, open);
    if (same) hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%zu pairs are the same within what was asked.", same);
}

static void add_cautions(hf_document *d, const hf_comparison *result) {
    size_t count = 0;
    for (size_t i = 0; i < result->pair_count; i++) count += result->pairs[i].cautions.count;
    if (!count || result->pair_count > PAIRS_TOLD) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the comparison");
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        if (!pair->cautions.count) continue;
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%s and %s:", hf_design_name(d, result->designs[pair->a].design),
                         hf_design_name(d, result->designs[pair->b].design));
        hf_document_cautions(d, &pair->cautions, "");
    }
}

void hf_handover_comparison(hf_document *d, const hf_study *study) {
    const hf_comparison *result = study->comparison;
    const hf_chart_subject subject = {.comparison = result};
    if (study->assessment->count < 2) return;
    hf_document_add(d, HF_BLOCK_HEADING, "The designs against each other");
    if (!result) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "No comparison could be made: %s.",
                         hf_or_not_stated(study->no_comparison.message));
        return;
    }
    d->chapter = true;
    hf_compare_league_table(d, result);
    if (result->pair_count <= PAIRS_TOLD)
        hf_compare_pairs(d, result);
    else
        count_verdicts(d, result);
    hf_document_chart(d, "ratios", &subject, false);
    hf_document_add(d, HF_BLOCK_FOLD, "The evidence: each pair in words, tests, the league with every pull");
    if (result->pair_count <= PAIRS_TOLD) hf_compare_verdicts(d, result);
    hf_compare_league_notes(d, result);
    hf_document_chart(d, "league", &subject, false);
    if (result->compared) hf_compare_evidence(d, result);
    hf_compare_ends_tables(d, result);
    add_cautions(d, result);
    hf_document_add(d, HF_BLOCK_UNFOLD, "");
    d->chapter = false;
}
