#include <math.h>
#include "report/document.h"
#include "report/json_report.h"

void hf_json_factor(const hf_factor_result *r, const hf_report_style *style, hf_text *out) {
    hf_json_writer writer;
    hf_json_writer_start(&writer, out);
    hf_json_open_object(&writer, NULL);
    hf_json_head(&writer, "factor", NULL, style);
    hf_json_add_text(&writer, "family", r->family->name);
    hf_json_add_count(&writer, "n", r->n);
    hf_json_add_number(&writer, "content", r->content);
    hf_json_add_number(&writer, "confidence", r->confidence);
    hf_json_add_number(&writer, "k", r->k);
    hf_json_add_number(&writer, "standard_error", r->standard_error);
    hf_json_close(&writer, false);
}

static void add_pull(hf_json_writer *writer, const hf_report_style *style, const hf_specimen *s) {
    static const char *const kinds[] = {"none", "exact", "closed", "below", "above"};
    static const char *const outcomes[] = {"failed", "held", "rig", "void", "planned"};
    hf_json_open_object(writer, NULL);
    hf_json_add_text(writer, "id", s->id);
    hf_json_add_text(writer, "outcome", outcomes[s->outcome]);
    hf_json_add_text(writer, "kind", kinds[s->pull.kind]);
    if (s->pull.kind != HF_PULL_NONE) {
        hf_json_load(writer, style, "lower", s->pull.lower, NULL);
        hf_json_load(writer, style, "upper", s->pull.upper, "open");
    }
    hf_json_add_text(writer, "mode", s->mode);
    hf_json_close(writer, false);
}

void hf_json_check(const hf_campaign *campaign, const hf_findings *findings, const hf_report_style *style, hf_text *out) {
    hf_json_writer writer;
    hf_json_writer_start(&writer, out);
    hf_json_open_object(&writer, NULL);
    hf_json_head(&writer, "check", campaign, style);
    hf_json_open_array(&writer, "designs");
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        hf_json_open_object(&writer, NULL);
        hf_json_add_text(&writer, "id", design->id);
        hf_json_open_array(&writer, "pulls");
        for (size_t j = 0; j < design->specimen_count; j++) add_pull(&writer, style, &design->specimens[j]);
        hf_json_close(&writer, true);
        hf_json_close(&writer, false);
    }
    hf_json_close(&writer, true);
    hf_json_open_array(&writer, "warnings");
    for (size_t i = 0; i < findings->count; i++) {
        hf_json_open_object(&writer, NULL);
        hf_json_add_text(&writer, "code", findings->items[i].code);
        hf_json_add_text(&writer, "text", findings->items[i].message);
        hf_json_add_text(&writer, "path", findings->items[i].path);
        hf_json_add_count(&writer, "line", findings->items[i].line);
        hf_json_close(&writer, false);
    }
    hf_json_close(&writer, true);
    hf_json_close(&writer, false);
}
