/* The table of report formats, and the document formats built from their renderers. */
#include <string.h>
#include "report/document.h"
#include "report/json_report.h"

typedef void (*renderer)(const hf_document *, hf_text *);

static bool start(hf_document *document, const hf_report_style *style) {
    *document = (hf_document){.arena = hf_arena_create(), .style = style};
    return document->arena != NULL;
}

static void finish(hf_document *document, renderer render, hf_text *out) {
    render(document, out);
    hf_arena_free(document->arena);
}

static void assess(const hf_assessment *result, const hf_report_style *style, renderer render, hf_text *out) {
    hf_document document;
    if (!start(&document, style)) {
        out->failed = true;
        return;
    }
    hf_assess_document(result, &document);
    finish(&document, render, out);
}

static void factor(const hf_factor_result *result, const hf_report_style *style, renderer render,
                   hf_text *out) {
    hf_document document;
    if (!start(&document, style)) {
        out->failed = true;
        return;
    }
    hf_factor_document(result, &document);
    finish(&document, render, out);
}

static void check(const hf_campaign *campaign, const hf_findings *findings, const hf_report_style *style,
                  renderer render, hf_text *out) {
    hf_document document;
    if (!start(&document, style)) {
        out->failed = true;
        return;
    }
    hf_check_document(campaign, findings, &document);
    finish(&document, render, out);
}

static void assess_text(const hf_assessment *r, const hf_report_style *s, hf_text *o) {
    assess(r, s, hf_render_text, o);
}
static void assess_markdown(const hf_assessment *r, const hf_report_style *s, hf_text *o) {
    assess(r, s, hf_render_markdown, o);
}
static void factor_text(const hf_factor_result *r, const hf_report_style *s, hf_text *o) {
    factor(r, s, hf_render_text, o);
}
static void factor_markdown(const hf_factor_result *r, const hf_report_style *s, hf_text *o) {
    factor(r, s, hf_render_markdown, o);
}

static void check_text(const hf_campaign *c, const hf_findings *f, const hf_report_style *s, hf_text *o) {
    check(c, f, s, hf_render_text, o);
}

static void check_markdown(const hf_campaign *c, const hf_findings *f, const hf_report_style *s, hf_text *o) {
    check(c, f, s, hf_render_markdown, o);
}

static const hf_report_format table[] = {
    {"text", assess_text, factor_text, check_text},
    {"json", hf_json_assess, hf_json_factor, hf_json_check},
    {"md", assess_markdown, factor_markdown, check_markdown},
};

const hf_report_format *hf_report_format_table(size_t *count) {
    *count = sizeof table / sizeof *table;
    return table;
}

const hf_report_format *hf_report_format_find(const char *name) {
    for (size_t i = 0; i < sizeof table / sizeof *table; i++)
        if (strcmp(table[i].name, name) == 0) return &table[i];
    return NULL;
}
