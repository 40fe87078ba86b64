#include <math.h>
#include "report/document.h"
#include "report/json_report.h"

void hf_json_factor(const hf_factor_result *r, const hf_report_style *style, hf_text *out) {
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

void hf_json_check(const hf_campaign *campaign, const hf_findings *findings, const hf_report_style *style,
                   hf_text *out) {
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
