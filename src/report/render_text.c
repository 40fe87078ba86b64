/* Plain text for a terminal, 80 columns unless it is known better. */
#include <string.h>
#include "report/document.h"

static size_t minimum(size_t a, size_t b) { return a < b ? a : b; }

/* Adds text without control characters; when it is wider than columns it is cut and ends in "…". */
static size_t add_cut(hf_text *out, const char *text, size_t columns) {
    bool cut = hf_text_columns(text) > columns;
    size_t bytes = hf_text_cut(text, cut && columns ? columns - 1 : columns);
    for (size_t i = 0; i < bytes; i++) {
        if ((unsigned char)text[i] < 0x20 || text[i] == 0x7F) hf_text_add(out, "?");
        else hf_text_add_bytes(out, text + i, 1);
    }
    if (cut) hf_text_add(out, "…");
    return minimum(hf_text_columns(text), columns);
}

static void add_spaces(hf_text *out, size_t count) {
    for (size_t i = 0; i < count; i++) hf_text_add(out, " ");
}

static void measure(const hf_block *table, size_t total, size_t *width) {
    size_t sum = 0;
    for (size_t i = 0; i < table->columns; i++) {
        width[i] = hf_text_columns(table->header[i]);
        for (const hf_row *row = table->rows; row; row = row->next) {
            size_t columns = hf_text_columns(row->cells[i]);
            if (columns > width[i]) width[i] = columns;
        }
        sum += width[i] + (i ? 2 : 0);
    }
    /* What is too wide is taken off the widest text column, and the last column is wrapped. */
    while (sum > total) {
        size_t widest = 0;
        for (size_t i = 0; i < table->columns; i++)
            if (!table->right[i] && (table->right[widest] || width[i] > width[widest])) widest = i;
        if (width[widest] <= 12) break;
        width[widest]--;
        sum--;
    }
}

/* The last cell goes on in further lines under its own column. */
static void add_last_cell(hf_text *out, const char *cell, size_t width, size_t indent) {
    hf_text lines = {0}, blank = {0};
    add_spaces(&blank, indent);
    /* hf_text_wrap counts its prefix, so the first line gets a blank prefix that is then left out. */
    hf_text_wrap(&lines, cell, indent + width, blank.bytes ? blank.bytes : "", blank.bytes ? blank.bytes : "");
    if (lines.bytes && lines.length > indent) hf_text_add(out, lines.bytes + indent);
    else hf_text_add(out, "\n");
    hf_text_free(&lines);
    hf_text_free(&blank);
}

static void add_row(const hf_block *table, const char *const *cells, const size_t *width, hf_text *out) {
    size_t at = 0, last = table->columns - 1;
    for (size_t i = 0; i < table->columns; i++) {
        if (i) {
            hf_text_add(out, "  ");
            at += 2;
        }
        if (i == last && !table->right[i]) {
            add_last_cell(out, cells[i], width[i], at);
            return;
        }
        size_t used = minimum(hf_text_columns(cells[i]), width[i]);
        if (table->right[i]) add_spaces(out, width[i] - used);
        add_cut(out, cells[i], width[i]);
        if (!table->right[i] && i != last) add_spaces(out, width[i] - used);
        at += width[i];
    }
    hf_text_add(out, "\n");
}

static void add_table(const hf_block *table, size_t total, hf_text *out) {
    size_t width[HF_TABLE_COLUMNS];
    measure(table, total, width);
    add_row(table, table->header, width, out);
    for (size_t i = 0; i < table->columns; i++) {
        if (i) hf_text_add(out, "  ");
        for (size_t j = 0; j < width[i]; j++) hf_text_add(out, "─");
    }
    hf_text_add(out, "\n");
    for (const hf_row *row = table->rows; row; row = row->next) add_row(table, row->cells, width, out);
}

static void add_styled(const hf_document *document, const char *text, const char *code, hf_text *out) {
    hf_text wrapped = {0};
    hf_text_wrap(&wrapped, text, document->style->width, "", "");
    if (document->style->color) hf_text_add(out, code);
    hf_text_add(out, wrapped.bytes ? wrapped.bytes : "\n");
    if (document->style->color) hf_text_add(out, "\033[0m");
    hf_text_free(&wrapped);
}

static void add_block(const hf_document *document, const hf_block *block, hf_text *out) {
    size_t width = document->style->width;
    switch (block->kind) {
    case HF_BLOCK_TITLE: add_styled(document, block->text, "\033[1m", out); break;
    case HF_BLOCK_HEADING:
        hf_text_add(out, "\n");
        add_styled(document, block->text, "\033[1m", out);
        break;
    case HF_BLOCK_ANSWER:
        hf_text_add(out, "\n");
        add_styled(document, block->text, "\033[1m", out);
        break;
    case HF_BLOCK_PARAGRAPH: hf_text_wrap(out, block->text, width, "", ""); break;
    case HF_BLOCK_SUM: hf_text_addf(out, "  %s\n", block->text); break;
    case HF_BLOCK_ITEM: hf_text_wrap(out, block->text, width, "- ", "  "); break;
    case HF_BLOCK_TABLE: add_table(block, width, out); break;
    }
}

/* Names come from the file and may hold anything: nothing but our own colour codes may start with a control character. */
static void add_clean(hf_text *out, const char *text) {
    for (; *text; text++) {
        bool control = ((unsigned char)*text < 0x20 && *text != '\n') || *text == 0x7F;
        hf_text_add_bytes(out, control ? "?" : text, 1);
    }
}

void hf_render_text(const hf_document *document, hf_text *out) {
    for (const hf_block *block = document->first; block; block = block->next) {
        hf_block clean = *block;
        hf_text text = {0};
        add_clean(&text, block->text);
        clean.text = text.bytes ? text.bytes : "";
        add_block(document, &clean, out);
        hf_text_free(&text);
    }
}
