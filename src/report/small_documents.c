/* The short results: one factor, and the echo of a campaign's pulls. */
#include <math.h>
#include "report/document.h"

void hf_factor_document(const hf_factor_result *r, hf_document *d) {
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: k = %s", r->family->label, hf_figures_text(d, r->k, 6));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "for %zu parts, so that at least %s of all parts are stronger with %s confidence%s.", r->n,
                     hf_percent_text(d, r->content, 5), hf_percent_text(d, r->confidence, 5),
                     r->standard_error > 0 ? "" : "; exact");
    if (r->standard_error > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Standard error %s, from simulation.", hf_figures_text(d, r->standard_error, 2));
    hf_document_addf(d, HF_BLOCK_SUM, r->family->log_scale ? "bound = e^(m − %s × √(s² + h²/8))" : "bound = m − %s × √(s² + h²/8)",
                     hf_figures_text(d, r->k, 6));
    hf_document_add(d, HF_BLOCK_PARAGRAPH, r->family->has_shape    ? "m = ln of the fitted scale, s = 1 over the fitted shape, h = step size as a difference of logarithms."
                                           : r->family->log_scale ? "m, s = mean and standard deviation of ln load, h = step size as a difference of logarithms."
                                                                  : "m, s = mean and standard deviation of the middles, h = step size.");
}

static const char *interval(hf_document *d, const hf_pull *pull) {
    const char *low = hf_bare_load(d, pull->lower, 4), *high = hf_bare_load(d, pull->upper, 4), *text = "-";
    switch (pull->kind) {
    case HF_PULL_NONE: return "-";
    case HF_PULL_EXACT: return low;
    case HF_PULL_CLOSED: text = hf_arena_format(d->arena, "(%s, %s]", low, high); break;
    case HF_PULL_BELOW: text = hf_arena_format(d->arena, "≤ %s", high); break;
    case HF_PULL_ABOVE: text = hf_arena_format(d->arena, "> %s", low); break;
    }
    return text ? text : "-";
}

static const char *outcome_word(hf_outcome outcome) {
    static const char *const words[] = {"failed", "held (run-out)", "rig failure", "void", "planned"};
    return words[outcome];
}

void hf_check_document(const hf_campaign *campaign, const hf_findings *findings, hf_document *d) {
    static const char *const header[] = {"design", "part", ">force on the part", "outcome", "mode", NULL};
    size_t pulls = 0;
    for (size_t i = 0; i < campaign->design_count; i++) pulls += campaign->designs[i].specimen_count;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    hf_document_addf(d, HF_BLOCK_ANSWER, "The file is valid: %zu %s, %zu %s, %zu %s.", campaign->design_count,
                     campaign->design_count == 1 ? "design" : "designs", pulls, pulls == 1 ? "part" : "parts",
                     findings->count - findings->errors, findings->count - findings->errors == 1 ? "warning" : "warnings");
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Forces on the part in %s, at %s m/s².", d->style->unit->name, hf_figures_text(d, d->style->gravity, 6));
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *s = &campaign->designs[i].specimens[j];
            const char *cells[] = {campaign->designs[i].id, s->id, interval(d, &s->pull), outcome_word(s->outcome), s->mode, NULL};
            hf_document_row(d, table, cells);
        }
}
