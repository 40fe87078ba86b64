/* The table of report formats, and where formats and kinds of result meet. */
#include <string.h>
#include "report/document.h"

static const hf_report_format table[] = {
    {"text", hf_render_text},
    {"json", NULL},
    {"md", hf_render_markdown},
    {"html", hf_render_html},
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

void hf_report_print(const hf_report_kind *kind, const void *result, const hf_report_format *format,
                     const hf_report_style *style, hf_text *out) {
    if (!format->render) {
        kind->json(result, style, out);
        return;
    }
    hf_document document = {.arena = hf_arena_create(), .style = style};
    if (!document.arena) {
        out->failed = true;
        return;
    }
    kind->document(result, &document);
    format->render(&document, out);
    hf_arena_free(document.arena);
}
