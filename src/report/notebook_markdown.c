/* Markdown for notebooks. Their readers differ in what they take for markup, links and formulas, and some look for formulas in the finished page. So
 * whatever may mean something stands as a character reference, and the two that begin a formula in an element of their own. */
#include <string.h>
#include "report/notebook_parts.h"

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_w(char c) {
    return c == 'w' || c == 'W';
}

static bool is_meaning(const char *text, size_t at) {
    char c = text[at];
    if (strchr("&<>\"`*_[]{}|#~!^@", c)) return true;
    if (c == ':') return text[at + 1] == '/';
    return c == '.' && at >= 3 && is_w(text[at - 1]) && is_w(text[at - 2]) && is_w(text[at - 3]);
}

static void add_clean(hf_text *out, const char *text, bool begins_line) {
    for (size_t at = 0; text[at]; at++) {
        char c = text[at];
        bool opens = begins_line && at == 0 && (unsigned char)c < 0x80 && !is_letter(c); /* perhaps a list */
        if (c == '$' || c == '\\')
            hf_text_addf(out, "<span>&#%d;</span>", c);
        else if (opens || is_meaning(text, at))
            hf_text_addf(out, "&#%d;", c);
        else
            hf_text_add_bytes(out, text + at, 1);
    }
}

static void add_text(hf_text *out, const char *text, bool begins_line) {
    hf_text clean = {0};
    hf_add_clean(&clean, text, "?");
    if (clean.bytes) add_clean(out, clean.bytes, begins_line);
    if (clean.failed) out->failed = true;
    hf_text_free(&clean);
}

void hf_notebook_add_text(hf_text *out, const char *text) {
    add_text(out, text, false);
}

static void add_cells(hf_text *out, const hf_block *table, const char *const *cells) {
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) {
        hf_text_add(out, " ");
        hf_notebook_add_text(out, cells[i]);
        hf_text_add(out, " |");
    }
    hf_text_add(out, "\n");
}

static void add_table(hf_text *out, const hf_block *table) {
    size_t rows = 0, left = 0;
    add_cells(out, table, table->header);
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) hf_text_add(out, table->right[i] ? " ---: |" : " --- |");
    hf_text_add(out, "\n");
    for (const hf_row *row = table->rows; row; row = row->next) {
        if (rows++ < HF_NOTEBOOK_ROWS)
            add_cells(out, table, row->cells);
        else
            left++;
    }
    if (left) hf_text_addf(out, "\nand %zu rows more.\n", left);
}

static void add_line(hf_text *out, const char *before, const char *text, const char *after) {
    hf_text_add(out, before);
    add_text(out, text, true);
    hf_text_add(out, after);
}

static void add_block(hf_text *out, const hf_block *block) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        add_line(out, "# ", block->text, "\n");
        break;
    case HF_BLOCK_HEADING:
        add_line(out, "### ", block->text, "\n");
        break;
    case HF_BLOCK_SUBHEADING:
        add_line(out, "#### ", block->text, "\n");
        break;
    case HF_BLOCK_ANSWER:
    case HF_BLOCK_FINDING:
        add_line(out, "<strong>", block->text, "</strong>\n");
        break;
    case HF_BLOCK_PARAGRAPH:
    case HF_BLOCK_CHART: /* the words; pictures stand in cells of their own */
        add_line(out, "", block->text, "\n");
        break;
    case HF_BLOCK_SUM:
        add_line(out, "> ", block->text, "  \n");
        break;
    case HF_BLOCK_ITEM:
        add_line(out, "- ", block->text, "\n");
        break;
    case HF_BLOCK_TABLE:
        if (block->text[0]) add_line(out, "", block->text, "\n\n");
        add_table(out, block);
        break;
    }
}

void hf_notebook_add_blocks(hf_text *out, const hf_block *first, const hf_block *end) {
    for (const hf_block *block = first; block && block != end; block = block->next) {
        add_block(out, block);
        bool together = block->next && block->next->kind == block->kind &&
                        (block->kind == HF_BLOCK_SUM || block->kind == HF_BLOCK_ITEM);
        if (!together) hf_text_add(out, "\n");
    }
}
