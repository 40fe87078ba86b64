#include "report/document.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"

enum { STATED_FIGURES = 6 };

/* Cleaned here once, so that no renderer can forget. */
static const char *clean_text(hf_document *document, const char *text) {
    hf_text out = {0};
    hf_add_clean(&out, text, "?");
    const char *kept = out.bytes ? hf_arena_text(document->arena, out.bytes, out.length) : "";
    hf_text_free(&out);
    return kept ? kept : "";
}

hf_block *hf_document_add(hf_document *document, hf_block_kind kind, const char *text) {
    hf_block *block = HF_ARENA_NEW(document->arena, hf_block);
    if (!block) return NULL;
    block->kind = !document->chapter         ? kind
                  : kind == HF_BLOCK_HEADING ? HF_BLOCK_SUBHEADING
                  : kind == HF_BLOCK_ANSWER  ? HF_BLOCK_FINDING
                                             : kind;
    block->text = clean_text(document, text);
    if (document->last)
        document->last->next = block;
    else
        document->first = block;
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

void hf_document_caption(hf_document *document, hf_block *table, const char *caption) {
    if (table) table->text = clean_text(document, caption);
}

void hf_document_row(hf_document *document, hf_block *table, const char *const *cells) {
    hf_row *row = table ? HF_ARENA_NEW(document->arena, hf_row) : NULL;
    if (!row) return;
    bool ended = false;
    for (size_t i = 0; i < table->columns; i++) {
        ended = ended || !cells[i];
        row->cells[i] = ended ? "" : clean_text(document, cells[i]);
    }
    if (table->last_row)
        table->last_row->next = row;
    else
        table->rows = row;
    table->last_row = row;
}

const char *hf_cut_text(hf_document *document, const char *text, size_t columns) {
    if (hf_text_columns(text) <= columns) return text;
    const char *cut = hf_arena_format(document->arena, "%.*s…", (int)hf_text_cut(text, columns - 1), text);
    return cut ? cut : "";
}

const char *hf_design_name(hf_document *document, const hf_design *design) {
    const char *name = design->name && design->name[0] ? design->name : design->id;
    return hf_cut_text(document, name, HF_NAME_COLUMNS);
}

double hf_in_unit(const hf_report_style *style, double newtons) {
    return newtons / hf_unit_newtons(style->unit, style->gravity);
}

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

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
    return or_dash(hf_arena_format(document->arena, "%s %s", hf_bare_load(document, newtons, figures),
                                   document->style->unit->name));
}

const char *hf_percent_text(hf_document *document, double share, int figures) {
    char number[HF_NUMBER_SIZE];
    double percent = 100 * share, whole = floor(percent + 0.5);
    if (!isfinite(share)) return "-";
    /* 90 %, not 90.0 %; and 99.95 % keeps its digits */
    if (fabs(percent - whole) < 1e-9)
        hf_number_shortest(whole, number);
    else
        hf_number_figures(percent, figures, number);
    bool negative = number[0] == '-';
    return or_dash(hf_arena_format(document->arena, "%s%s %%", negative ? "−" : "", number + negative));
}

const char *hf_shortest_text(hf_document *document, double value) {
    char number[HF_NUMBER_SIZE];
    hf_number_shortest(value, number);
    return or_dash(hf_arena_text(document->arena, number, strlen(number)));
}

const char *hf_load_down(hf_document *document, double newtons, int figures) {
    if (!isfinite(newtons)) return "-";
    const char *number = hf_figures_text(
        document, hf_number_round_down(hf_in_unit(document->style, newtons), figures), figures);
    return or_dash(hf_arena_format(document->arena, "%s %s", number, document->style->unit->name));
}

const char *hf_bound_cell(hf_document *document, double newtons, int figures) {
    if (newtons <= 0) return "none above 0";
    return hf_figures_text(document, hf_number_round_down(hf_in_unit(document->style, newtons), figures),
                           figures);
}

const char *hf_percent_down(hf_document *document, double share, int figures) {
    if (!isfinite(share)) return "-";
    return hf_percent_text(document, hf_number_round_down(100 * share, figures) / 100, figures);
}

const char *hf_load_stated(hf_document *document, double newtons) {
    char rounded[HF_NUMBER_SIZE];
    double value = hf_in_unit(document->style, newtons);
    if (!isfinite(value)) return "-";
    hf_number_figures(value, STATED_FIGURES, rounded);
    (void)hf_number_read(rounded, strlen(rounded), &value);
    return or_dash(hf_arena_format(document->arena, "%s %s", hf_shortest_text(document, value),
                                   document->style->unit->name));
}

/* Bytes of the control character at `s`, 0 when it is none. */
static size_t control_length(const unsigned char *s) {
    if (s[0] < 0x20 || s[0] == 0x7F) return 1;
    if (s[0] == 0xC2 && s[1] >= 0x80 && s[1] < 0xA0) return 2;
    if (s[0] != 0xE2) return 0;
    bool line = s[1] == 0x80 && (s[2] == 0xA8 || s[2] == 0xA9),
         turning = s[1] == 0x80 && s[2] >= 0xAA && s[2] <= 0xAE;
    return line || turning || (s[1] == 0x81 && s[2] >= 0xA6 && s[2] <= 0xA9) ? 3 : 0;
}

void hf_add_clean(hf_text *out, const char *text, const char *mark) {
    while (*text) {
        size_t control = control_length((const unsigned char *)text);
        if (control)
            hf_text_add(out, mark);
        else
            hf_text_add_bytes(out, text, 1);
        text += control ? control : 1;
    }
}

void hf_document_cautions(hf_document *d, const hf_cautions *list) {
    for (size_t i = 0; i < list->count; i++) {
        hf_text words = {0};
        const char *title = hf_report_caution_title(list->items[i].code);
        hf_report_caution(&list->items[i], d->style, &words);
        hf_document_addf(d, HF_BLOCK_ITEM, "%s%s%s", title ? title : "", title ? ": " : "",
                         words.bytes ? words.bytes : "");
        hf_text_free(&words);
    }
}
