#include "report/document.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"

hf_block *hf_document_add(hf_document *document, hf_block_kind kind, const char *text) {
    hf_block *block = HF_ARENA_NEW(document->arena, hf_block);
    if (!block) return NULL;
    block->kind = kind;
    block->text = text;
    if (document->last) document->last->next = block;
    else document->first = block;
    document->last = block;
    return block;
}

hf_block *hf_document_addf(hf_document *document, hf_block_kind kind, const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    char *text = length < 0 ? NULL : hf_arena_array(document->arena, (size_t)length + 1, 1);
    if (text) (void)vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    va_end(arguments);
    return hf_document_add(document, kind, text ? text : "");
}

hf_block *hf_document_table(hf_document *document, const char *const *header) {
    hf_block *table = hf_document_add(document, HF_BLOCK_TABLE, "");
    for (size_t i = 0; table && i < HF_TABLE_COLUMNS && header[i]; i++) {
        table->right[i] = header[i][0] == '>';
        table->header[i] = header[i] + table->right[i];
        table->columns = i + 1;
    }
    return table;
}

void hf_document_row(hf_document *document, hf_block *table, const char *const *cells) {
    hf_row *row = table ? HF_ARENA_NEW(document->arena, hf_row) : NULL;
    if (!row) return;
    bool ended = false;
    for (size_t i = 0; i < table->columns; i++) {
        ended = ended || !cells[i];
        row->cells[i] = ended ? "" : cells[i];
    }
    if (table->last_row) table->last_row->next = row;
    else table->rows = row;
    table->last_row = row;
}

double hf_in_unit(const hf_report_style *style, double newtons) {
    return newtons / hf_unit_newtons(style->unit, style->gravity);
}

static const char *or_dash(const char *text) { return text ? text : "-"; }

const char *hf_figures_text(hf_document *document, double value, int figures) {
    char number[HF_NUMBER_SIZE];
    hf_number_figures(value, figures, number);
    if (number[0] == '-' && number[1]) return or_dash(hf_arena_format(document->arena, "−%s", number + 1));
    return or_dash(hf_arena_text(document->arena, number, strlen(number)));
}

const char *hf_bare_load(hf_document *document, double newtons, int figures) {
    return hf_figures_text(document, hf_in_unit(document->style, newtons), figures);
}

const char *hf_load_text(hf_document *document, double newtons, int figures) {
    if (!isfinite(newtons)) return "-";
    return or_dash(hf_arena_format(document->arena, "%s %s", hf_bare_load(document, newtons, figures), document->style->unit->name));
}

const char *hf_percent_text(hf_document *document, double share, int figures) {
    char number[HF_NUMBER_SIZE];
    double percent = 100 * share, whole = floor(percent + 0.5);
    if (!isfinite(share)) return "-";
    /* 90 %, not 90.0 %; and 99.95 % keeps its digits */
    if (fabs(percent - whole) < 1e-9) return or_dash(hf_arena_format(document->arena, "%.0f %%", whole));
    return or_dash(hf_arena_format(document->arena, "%s %%", hf_number_figures(percent, figures, number)));
}

const char *hf_shortest_text(hf_document *document, double value) {
    char number[HF_NUMBER_SIZE];
    hf_number_shortest(value, number);
    return or_dash(hf_arena_text(document->arena, number, strlen(number)));
}
