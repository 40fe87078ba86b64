/* Plain text for a terminal, 80 columns unless it is known better. */
#include <string.h>
#include "report/document.h"

static const char no_break[] = "\xC2\xA0";

static size_t minimum(size_t a, size_t b) {
    return a < b ? a : b;
}

enum { LEAST_WRAPPED = 24, LEAST_TEXT = 12 };

/* Adds text that is clean already; when it is wider than columns it is cut and ends in "…". */
static void add_cut(hf_text *out, const char *text, size_t columns) {
    bool cut = hf_text_columns(text) > columns;
    hf_text_add_bytes(out, text, hf_text_cut(text, cut && columns ? columns - 1 : columns));
    if (cut) hf_text_add(out, "…");
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
    /* What is too wide is taken off the last column, which wraps, then off the widest text column. */
    size_t last = table->columns - 1;
    while (sum > total) {
        size_t widest = last;
        if (table->right[last] || width[last] <= LEAST_WRAPPED) {
            widest = 0;
            for (size_t i = 1; i < table->columns; i++)
                if (!table->right[i] && (table->right[widest] || width[i] > width[widest])) widest = i;
            if (table->right[widest] || width[widest] <= LEAST_TEXT) break;
        }
        width[widest]--;
        sum--;
    }
}

/* The last cell goes on in further lines under its own column. */
static void add_last_cell(hf_text *out, const char *cell, size_t width, size_t indent) {
    hf_text lines = {0}, blank = {0};
    add_spaces(&blank, indent);
    /* hf_text_wrap counts its prefix, so the first line gets a blank prefix that is then left out. */
    hf_text_wrap(&lines, cell, indent + width, blank.bytes ? blank.bytes : "",
                 blank.bytes ? blank.bytes : "");
    if (lines.bytes && lines.length > indent)
        hf_text_add(out, lines.bytes + indent);
    else
        hf_text_add(out, "\n");
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

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* "95 %" and "240 N" are not torn apart at the end of a line: the space between is a no-break space while wrapping. */
static void add_glued(hf_text *out, const char *text, const char *unit) {
    size_t length = strlen(unit);
    for (const char *at = text; *at; at++) {
        bool percent = at[0] == ' ' && at[1] == '%';
        bool load = at[0] == ' ' && strncmp(at + 1, unit, length) == 0 && strchr(" .,;:)", at[1 + length]);
        if (at > text && is_digit(at[-1]) && (percent || load))
            hf_text_add(out, no_break);
        else
            hf_text_add_bytes(out, at, 1);
    }
}

static void add_wrapped(const hf_document *document, const char *text, const char *first, const char *rest,
                        hf_text *out) {
    hf_text glued = {0}, lines = {0};
    add_glued(&glued, text, document->style->unit->name);
    hf_text_wrap(&lines, glued.bytes ? glued.bytes : "", document->style->width, first, rest);
    for (const char *at = lines.bytes ? lines.bytes : "\n"; *at;) {
        bool space = strncmp(at, no_break, sizeof no_break - 1) == 0;
        hf_text_add_bytes(out, space ? " " : at, 1);
        at += space ? sizeof no_break - 1 : 1;
    }
    hf_text_free(&glued);
    hf_text_free(&lines);
}

static void add_styled(const hf_document *document, const char *text, const char *code, hf_text *out) {
    hf_text wrapped = {0};
    add_wrapped(document, text, "", "", &wrapped);
    size_t length = wrapped.length ? wrapped.length - 1 : 0; /* without the newline */
    if (document->style->color) hf_text_add(out, code);
    hf_text_add_bytes(out, wrapped.bytes ? wrapped.bytes : "", length);
    hf_text_add(out, document->style->color ? "\033[0m\n" : "\n");
    hf_text_free(&wrapped);
}

static void add_block(const hf_document *document, const hf_block *block, hf_text *out) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        add_styled(document, block->text, "\033[1m", out);
        break;
    case HF_BLOCK_HEADING:
    case HF_BLOCK_ANSWER:
        hf_text_add(out, "\n");
        add_styled(document, block->text, "\033[1m", out);
        break;
    case HF_BLOCK_PARAGRAPH:
        add_wrapped(document, block->text, "", "", out);
        break;
    case HF_BLOCK_SUM:
        add_wrapped(document, block->text, "  ", "    ", out);
        break;
    case HF_BLOCK_ITEM:
        add_wrapped(document, block->text, "- ", "  ", out);
        break;
    case HF_BLOCK_TABLE:
        add_table(block, document->style->width, out);
        break;
    }
}

void hf_render_text(const hf_document *document, hf_text *out) {
    for (const hf_block *block = document->first; block; block = block->next) add_block(document, block, out);
}
