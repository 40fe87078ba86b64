/* The short results: one factor, and the echo of a campaign's pulls. */
#include <math.h>
#include "words/assess_words.h"
#include "words/json_report.h"

static void factor_document(const void *result, hf_document *d) {
    const hf_factor_result *r = result;
    if (!isfinite(r->k)) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no factor for %zu parts, content %s, confidence %s.",
                         r->family->label, r->n, hf_percent_text(d, r->content, 5),
                         hf_percent_text(d, r->confidence, 5));
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: k = %s", r->family->label, hf_figures_text(d, r->k, 6));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "for %zu parts, so that at least %s of all parts are stronger with %s confidence%s.",
                     r->n, hf_percent_text(d, r->content, 5), hf_percent_text(d, r->confidence, 5),
                     r->standard_error > 0 ? "" : "; exact");
    if (r->standard_error > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Standard error %s, from simulation.",
                         hf_figures_text(d, r->standard_error, 2));
    hf_document_addf(d, HF_BLOCK_SUM,
                     r->family->log_scale ? "bound = e^(m − %s × √(s² + h²/8))"
                                          : "bound = m − %s × √(s² + h²/8)",
                     hf_figures_text(d, r->k, 6));
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        r->family->has_shape ? "m = ln of the fitted scale, s = 1 over the fitted shape, h = step size as a "
                               "difference of logarithms."
        : r->family->log_scale
            ? "m, s = mean and standard deviation of ln load, h = step size as a difference of logarithms."
            : "m, s = mean and standard deviation of the middles, h = step size.");
}

static const char *interval(hf_document *d, const hf_pull *pull) {
    const char *low = hf_seen_bare(d, pull->lower), *high = hf_seen_bare(d, pull->upper), *text = "-";
    switch (pull->kind) {
    case HF_PULL_NONE:
        return "-";
    case HF_PULL_EXACT:
        return low;
    case HF_PULL_CLOSED:
        text = hf_arena_format(d->arena, "(%s, %s]", low, high);
        break;
    case HF_PULL_BELOW:
        text = pull->lower > 0 ? hf_arena_format(d->arena, "(%s, %s] first", low, high)
                               : hf_arena_format(d->arena, "≤ %s", high);
        break;
    case HF_PULL_ABOVE:
        text = hf_arena_format(d->arena, "> %s", low);
        break;
    }
    return text ? text : "-";
}

static const char *outcome_word(hf_outcome outcome) {
    static const char *const words[] = {"failed", "held (run-out)", "rig failure", "void", "planned"};
    return words[outcome];
}

static bool any_set(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            if (campaign->designs[i].specimens[j].set.kind != HF_PULL_NONE) return true;
    return false;
}

static bool any_mode(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const char *mode = campaign->designs[i].specimens[j].mode;
            if (mode && mode[0]) return true;
        }
    return false;
}

/* First sets and modes have a column where there are any. */
static void add_pulls(hf_document *d, const hf_campaign *campaign) {
    const char *header[7] = {"design", "part", ">force on the part"};
    bool set = any_set(campaign), mode = any_mode(campaign);
    size_t columns = 3;
    if (set) header[columns++] = ">first set";
    header[columns++] = "outcome";
    if (mode) header[columns++] = "way of failing";
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *s = &campaign->designs[i].specimens[j];
            const char *cells[7] = {campaign->designs[i].id, s->id, interval(d, &s->pull)};
            size_t at = 3;
            if (set) cells[at++] = interval(d, &s->set);
            cells[at++] = outcome_word(s->outcome);
            if (mode) cells[at] = s->mode;
            hf_document_row(d, table, cells);
        }
}

static const char *plural(size_t count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

static size_t count_parts(const hf_campaign *campaign, bool planned_only) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            count += !planned_only || campaign->designs[i].specimens[j].outcome == HF_OUTCOME_PLANNED;
    return count;
}

static void check_answer(const hf_check_result *check, hf_document *d) {
    const hf_campaign *campaign = check->campaign;
    size_t parts = count_parts(campaign, false), planned = count_parts(campaign, true);
    size_t warnings = check->findings->count - check->findings->errors;
    const char *counts = hf_arena_format(
        d->arena, "%zu %s, %zu %s%s, %zu %s", campaign->design_count,
        plural(campaign->design_count, "design", "designs"), parts, plural(parts, "part", "parts"),
        planned ? hf_arena_format(d->arena, " (%zu still to pull)", planned) : "", warnings,
        plural(warnings, "warning", "warnings"));
    if (!check->written) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "The file is valid: %s.", counts);
        return;
    }
    size_t written = count_parts(check->written, false);
    hf_document_addf(d, HF_BLOCK_ANSWER, "%zu %s written; the file is valid and holds %s.", written,
                     plural(written, "part", "parts"), counts);
}

static void check_document(const void *result, hf_document *d) {
    const hf_check_result *check = result;
    const hf_campaign *campaign = check->campaign;
    const hf_findings *findings = check->findings;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    check_answer(check, d);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Forces on the part in %s, at %s m/s²: (held at, failed at]; ≤ only known to be weaker; "
                     "> held and did not fail.",
                     d->style->unit->name, hf_shortest_text(d, d->style->gravity));
    add_pulls(d, check->written ? check->written : campaign);
    if (findings->count == findings->errors) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Warnings");
    for (size_t i = 0; i < findings->count; i++)
        if (findings->items[i].severity == HF_SEVERITY_WARNING)
            hf_document_addf(d, HF_BLOCK_ITEM, "line %zu: %s", findings->items[i].line,
                             findings->items[i].message);
}

static void factor_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_factor_result *r = result;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "factor", NULL, style, out);
    hf_json_add_text(&w->json, "family", r->family->name);
    hf_json_add_count(&w->json, "n", r->n);
    hf_json_add_number(&w->json, "content", r->content);
    hf_json_add_number(&w->json, "confidence", r->confidence);
    hf_result_value(w, "k", r->k, "not_computed");
    hf_result_value(w, "standard_error", r->standard_error, "not_computed");
    hf_result_close(w);
}

static void add_force(hf_result_writer *w, const hf_pull *pull) {
    static const char *const kinds[] = {"none", "exact", "closed", "below", "above"};
    hf_json_add_text(&w->json, "kind", kinds[pull->kind]);
    if (pull->kind == HF_PULL_NONE) return;
    hf_result_load(w, "lower", pull->lower, NULL);
    hf_result_load(w, "upper", pull->upper, "open");
    hf_json_add_bool(&w->json, "dropped", pull->dropped);
}

static void add_pull(hf_result_writer *w, const hf_specimen *s) {
    static const char *const outcomes[] = {"failed", "held", "rig", "void", "planned"};
    hf_result_open(w, NULL);
    hf_json_add_text(&w->json, "id", s->id);
    hf_json_add_text(&w->json, "outcome", outcomes[s->outcome]);
    add_force(w, &s->pull);
    if (s->set.kind != HF_PULL_NONE) {
        hf_result_open(w, "set");
        add_force(w, &s->set);
        hf_result_close(w);
    }
    hf_result_text(w, "batch", s->batch, "not_stated");
    hf_result_text(w, "mode", s->mode, "not_stated");
    hf_json_add_bool(&w->json, "reused", s->reused);
    hf_result_close(w);
}

static void add_warnings(hf_result_writer *w, const hf_findings *findings) {
    hf_json_open_array(&w->json, "warnings");
    for (size_t i = 0; i < findings->count; i++) {
        const hf_finding *finding = &findings->items[i];
        hf_result_open(w, NULL);
        hf_json_add_text(&w->json, "code", finding->code);
        hf_json_add_text(&w->json, "text", finding->message);
        hf_json_add_text(&w->json, "path", finding->path);
        hf_json_add_count(&w->json, "line", finding->line);
        hf_json_add_count(&w->json, "column", finding->column);
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
}

static void check_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_check_result *check = result;
    const hf_campaign *campaign = check->written ? check->written : check->campaign;
    const hf_findings *findings = check->findings;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "check", campaign, style, out);
    hf_json_open_array(&w->json, "designs");
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        hf_result_open(w, NULL);
        hf_json_add_text(&w->json, "id", design->id);
        hf_json_open_array(&w->json, "pulls");
        for (size_t j = 0; j < design->specimen_count; j++) add_pull(w, &design->specimens[j]);
        hf_json_close(&w->json, true);
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    add_warnings(w, findings);
    hf_result_close(w);
}

const hf_report_kind hf_report_factor = {"factor", factor_document, factor_json};
const hf_report_kind hf_report_check = {"check", check_document, check_json};
