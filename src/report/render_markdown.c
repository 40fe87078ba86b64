/* Markdown, with everything that could be markup escaped. Texts come in without control characters. */
#include <string.h>
#include "report/document.h"

static void add_escaped(hf_text *out, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c == '<')
            hf_text_add(out, "&lt;");
        else if (c == '>')
            hf_text_add(out, "&gt;");
        else if (c == '&')
            hf_text_add(out, "&amp;");
        else if (strchr("\\`*_[]|#~", c))
            hf_text_addf(out, "\\%c", c);
        else
            hf_text_add_bytes(out, text, 1);
    }
}

static void add_cells(const hf_block *table, const char *const *cells, hf_text *out) {
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) {
        hf_text_add(out, " ");
        add_escaped(out, cells[i]);
        hf_text_add(out, " |");
    }
    hf_text_add(out, "\n");
}

static void add_table(const hf_block *table, hf_text *out) {
    add_cells(table, table->header, out);
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) hf_text_add(out, table->right[i] ? " ---: |" : " --- |");
    hf_text_add(out, "\n");
    for (const hf_row *row = table->rows; row; row = row->next) add_cells(table, row->cells, out);
}

static void add_line(hf_text *out, const char *before, const char *text, const char *after) {
    hf_text_add(out, before);
    add_escaped(out, text);
    hf_text_add(out, after);
}

static void add_block(const hf_block *block, hf_text *out) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        add_line(out, "# ", block->text, "\n");
        break;
    case HF_BLOCK_HEADING:
        add_line(out, "## ", block->text, "\n");
        break;
    case HF_BLOCK_SUBHEADING:
        add_line(out, "### ", block->text, "\n");
        break;
    case HF_BLOCK_ANSWER:
    case HF_BLOCK_FINDING:
        add_line(out, "**", block->text, "**\n");
        break;
    case HF_BLOCK_PARAGRAPH:
    case HF_BLOCK_CHART:
        add_line(out, "", block->text, "\n");
        break;
    case HF_BLOCK_SUM:
        hf_text_addf(out, "    %s\n", block->text);
        break;
    case HF_BLOCK_ITEM:
        add_line(out, "- ", block->text, "\n");
        break;
    case HF_BLOCK_TABLE:
        if (block->text[0]) add_line(out, "", block->text, "\n\n");
        add_table(block, out);
        break;
    }
}

/* Blocks are set apart by a blank line, but lines of one sum and items of one list stay together. */
void hf_render_markdown(const hf_document *document, hf_text *out) {
    for (const hf_block *block = document->first; block; block = block->next) {
        add_block(block, out);
        bool together = block->next && block->next->kind == block->kind &&
                        (block->kind == HF_BLOCK_SUM || block->kind == HF_BLOCK_ITEM);
        if (block->next && !together) hf_text_add(out, "\n");
    }
}
