/* Plain text for a terminal, 80 columns unless it is known better. */
#include <string.h>
#include "document/document.h"

static const char no_break[] = "\xC2\xA0";

static size_t minimum(size_t a, size_t b) {
    return a < b ? a : b;
}

enum { LEAST_WRAPPED = 24, LEAST_TEXT = 12, LEAST_LAST = 15 /* "Hanson–Koopmans" */ };

/* Adds text that is clean already; when it is wider than columns it is cut and ends in "…". */
static void add_cut(hf_text *out, const char *text, size_t columns) {
    bool cut = hf_text_columns(text) > columns;
    hf_text_add_bytes(out, text, hf_text_cut(text, cut && columns ? columns - 1 : columns));
    if (cut) hf_text_add(out, "…");
}

static void add_spaces(hf_text *out, size_t count) {
    for (size_t i = 0; i < count; i++) hf_text_add(out, " ");
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

/* Wraps at `width` with such pairs kept together. */
static void add_wrapped(hf_text *out, const char *text, const hf_document *document, size_t width,
                        const char *const prefix[2]) {
    hf_text glued = {0}, lines = {0};
    add_glued(&glued, text, document->unit);
    hf_text_wrap(&lines, glued.bytes ? glued.bytes : "", width, prefix[0], prefix[1]);
    for (const char *at = lines.bytes ? lines.bytes : "\n"; *at;) {
        bool space = strncmp(at, no_break, sizeof no_break - 1) == 0;
        hf_text_add_bytes(out, space ? " " : at, 1);
        at += space ? sizeof no_break - 1 : 1;
    }
    hf_text_free(&glued);
    hf_text_free(&lines);
}

/* Widths of the columns; false where the table cannot be as narrow as that. */
static bool measure(const hf_block *table, size_t total, size_t *width) {
    size_t sum = 0;
    for (size_t i = 0; i < table->columns; i++) {
        width[i] = table->bare ? 0 : hf_text_columns(table->header[i]);
        for (const hf_row *row = table->rows; row; row = row->next) {
            size_t columns = hf_text_columns(row->cells[i]);
            if (columns > width[i]) width[i] = columns;
        }
        sum += width[i] + (i ? 2 : 0);
    }
    /* What is too wide is taken off the last column, which wraps, then off whichever text is widest. */
    size_t last = table->columns - 1;
    while (sum > total) {
        size_t widest = table->columns;
        for (size_t i = 0; i < table->columns; i++) {
            bool spare = !table->right[i] && width[i] > (i == last ? LEAST_LAST : LEAST_TEXT);
            if (spare && (widest == table->columns || width[i] > width[widest])) widest = i;
        }
        if (!table->right[last] && width[last] > LEAST_WRAPPED) widest = last;
        if (widest == table->columns) break;
        width[widest]--;
        sum--;
    }
    return sum <= total;
}

/* The last cell goes on in further lines under its own column. */
static void add_last_cell(hf_text *out, const char *cell, const hf_document *document, size_t width,
                          size_t indent) {
    hf_text lines = {0}, blank = {0};
    add_spaces(&blank, indent);
    /* Wrapping counts the prefix, so the first line gets a blank one that is then left out. */
    const char *prefix = blank.bytes ? blank.bytes : "", *const both[2] = {prefix, prefix};
    add_wrapped(&lines, cell, document, indent + width, both);
    if (lines.bytes && lines.length > indent)
        hf_text_add(out, lines.bytes + indent);
    else
        hf_text_add(out, "\n");
    hf_text_free(&lines);
    hf_text_free(&blank);
}

static void begin_tone(hf_text *out, const hf_document *document, hf_tone tone) {
    static const char *const colors[] = {[HF_TONE_PLAIN] = "",
                                         [HF_TONE_GOOD] = "\033[32m",
                                         [HF_TONE_IF] = "\033[33m",
                                         [HF_TONE_BAD] = "\033[31m"};
    if (document->color) hf_text_add(out, colors[tone]);
}

static void end_tone(hf_text *out, const hf_document *document, hf_tone tone) {
    if (document->color && tone != HF_TONE_PLAIN) hf_text_add(out, "\033[0m");
}

static void add_row(const hf_block *table, const char *const *cells, hf_tone tone, const size_t *width,
                    const hf_document *document, hf_text *out) {
    size_t at = 0, last = table->columns - 1;
    for (size_t i = 0; i < table->columns; i++) {
        if (i) {
            hf_text_add(out, "  ");
            at += 2;
        }
        if (i == last && !table->right[i]) {
            begin_tone(out, document, tone);
            add_last_cell(out, cells[i], document, width[i], at);
            end_tone(out, document, tone);
            return;
        }
        size_t used = minimum(hf_text_columns(cells[i]), width[i]);
        if (table->right[i]) add_spaces(out, width[i] - used);
        if (!i) begin_tone(out, document, tone);
        add_cut(out, cells[i], width[i]);
        if (!i) end_tone(out, document, tone);
        if (!table->right[i] && i != last) add_spaces(out, width[i] - used);
        at += width[i];
    }
    hf_text_add(out, "\n");
}

/* Text whose blanks do not end a line. */
static void add_whole(hf_text *out, const char *text) {
    for (; *text; text++)
        if (*text == ' ')
            hf_text_add(out, no_break);
        else
            hf_text_add_bytes(out, text, 1);
}

/* A row of a table too wide for the terminal: its first cell, and below it what the others hold, each with its header. */
static void add_folded(const hf_block *table, const char *const *cells, const hf_document *document,
                       hf_text *out) {
    static const char *const first[2] = {"", "  "}, *const others[2] = {"  ", "  "};
    hf_text line = {0};
    add_wrapped(out, cells[0], document, document->width, first);
    for (size_t i = 1; i < table->columns; i++) {
        if (!cells[i][0] || strcmp(cells[i], "-") == 0) continue;
        if (line.length) hf_text_add(&line, "; ");
        if (table->right[i]) {
            add_whole(&line, table->header[i]);
            hf_text_add(&line, no_break);
            add_whole(&line, cells[i]);
        } else {
            hf_text_addf(&line, "%s: %s", table->header[i], cells[i]);
        }
    }
    if (line.length) add_wrapped(out, line.bytes, document, document->width, others);
    hf_text_free(&line);
}

static void add_head(const hf_block *table, const size_t *width, const hf_document *document, hf_text *out) {
    add_row(table, table->header, HF_TONE_PLAIN, width, document, out);
    for (size_t i = 0; i < table->columns; i++) {
        if (i) hf_text_add(out, "  ");
        for (size_t j = 0; j < width[i]; j++) hf_text_add(out, "─");
    }
    hf_text_add(out, "\n");
}

static void add_table(const hf_block *table, const hf_document *document, hf_text *out) {
    size_t width[HF_TABLE_COLUMNS];
    if (!measure(table, document->width, width)) {
        for (const hf_row *row = table->rows; row; row = row->next)
            add_folded(table, row->cells, document, out);
        return;
    }
    if (table->bare)
        hf_text_add(out, "\n");
    else
        add_head(table, width, document, out);
    for (const hf_row *row = table->rows; row; row = row->next)
        add_row(table, row->cells, row->tone, width, document, out);
}

static const char *const plain_lines[2] = {"", ""}, *const sum_lines[2] = {"  ", "    "},
                         *const item_lines[2] = {"- ", "  "};

static void add_bold(hf_text *out, const char *text, const hf_document *document) {
    hf_text wrapped = {0};
    add_wrapped(&wrapped, text, document, document->width, plain_lines);
    size_t length = wrapped.length ? wrapped.length - 1 : 0; /* without the newline */
    if (document->color) hf_text_add(out, "\033[1m");
    hf_text_add_bytes(out, wrapped.bytes ? wrapped.bytes : "", length);
    hf_text_add(out, document->color ? "\033[0m\n" : "\n");
    hf_text_free(&wrapped);
}

static void add_block(const hf_block *block, const hf_document *document, hf_text *out) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        add_bold(out, block->text, document);
        break;
    case HF_BLOCK_HEADING:
    case HF_BLOCK_SUBHEADING:
    case HF_BLOCK_ANSWER:
    case HF_BLOCK_FINDING:
        hf_text_add(out, "\n");
        add_bold(out, block->text, document);
        break;
    case HF_BLOCK_PARAGRAPH:
    case HF_BLOCK_CHART:
        add_wrapped(out, block->text, document, document->width, plain_lines);
        break;
    case HF_BLOCK_SUM:
        add_wrapped(out, block->text, document, document->width, sum_lines);
        break;
    case HF_BLOCK_ITEM:
        add_wrapped(out, block->text, document, document->width, item_lines);
        break;
    case HF_BLOCK_FOLD:
    case HF_BLOCK_UNFOLD:
        break;
    case HF_BLOCK_TABLE:
        if (block->text[0] && !block->bare)
            add_wrapped(out, block->text, document, document->width, plain_lines);
        add_table(block, document, out);
        break;
    }
}

void hf_render_text(const hf_document *document, hf_text *out) {
    for (const hf_block *block = document->first; block; block = block->next) add_block(block, document, out);
}
