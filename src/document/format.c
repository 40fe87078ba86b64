/* The table of report formats, and where formats and kinds of result meet. */
#include <string.h>
#include "document/document.h"

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
