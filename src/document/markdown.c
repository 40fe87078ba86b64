#include "document/markdown.h"

static void add_cells(const hf_markdown *dialect, const hf_block *table, const char *const *cells,
                      hf_text *out) {
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) {
        hf_text_add(out, " ");
        dialect->add_text(out, cells[i], false);
        hf_text_add(out, " |");
    }
    hf_text_add(out, "\n");
}

static void add_table(const hf_markdown *dialect, const hf_block *table, hf_text *out) {
    size_t rows = 0, left = 0;
    add_cells(dialect, table, table->header, out);
    hf_text_add(out, "|");
    for (size_t i = 0; i < table->columns; i++) hf_text_add(out, table->right[i] ? " ---: |" : " --- |");
    hf_text_add(out, "\n");
    for (const hf_row *row = table->rows; row; row = row->next) {
        if (!dialect->most_rows || rows++ < dialect->most_rows)
            add_cells(dialect, table, row->cells, out);
        else
            left++;
    }
    if (left) hf_text_addf(out, "\nand %zu rows more.\n", left);
}

static void add_line(const hf_markdown *dialect, const char *before, const char *text, const char *after,
                     hf_text *out) {
    hf_text_add(out, before);
    dialect->add_text(out, text, true);
    hf_text_add(out, after);
}

static void add_block(const hf_markdown *dialect, const hf_block *block, hf_text *out) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        add_line(dialect, "# ", block->text, "\n", out);
        break;
    case HF_BLOCK_HEADING:
        add_line(dialect, dialect->heading, block->text, "\n", out);
        break;
    case HF_BLOCK_SUBHEADING:
        add_line(dialect, dialect->subheading, block->text, "\n", out);
        break;
    case HF_BLOCK_ANSWER:
    case HF_BLOCK_FINDING:
        add_line(dialect, dialect->strong, block->text, dialect->strong_end, out);
        break;
    case HF_BLOCK_PARAGRAPH:
    case HF_BLOCK_CHART: /* its words */
        add_line(dialect, "", block->text, "\n", out);
        break;
    case HF_BLOCK_SUM:
        if (dialect->sum_as_it_is)
            hf_text_addf(out, "%s%s%s", dialect->sum, block->text, dialect->sum_end);
        else
            add_line(dialect, dialect->sum, block->text, dialect->sum_end, out);
        break;
    case HF_BLOCK_ITEM:
        add_line(dialect, "- ", block->text, "\n", out);
        break;
    case HF_BLOCK_FOLD:
    case HF_BLOCK_UNFOLD:
        break;
    case HF_BLOCK_TABLE:
        if (block->text[0] && !block->bare) add_line(dialect, "", block->text, "\n\n", out);
        add_table(dialect, block, out);
        break;
    }
}

/* The next block that Markdown shows, before `end`; NULL: none is left. */
static const hf_block *past_folds(const hf_block *block, const hf_block *end) {
    while (block && block != end && (block->kind == HF_BLOCK_FOLD || block->kind == HF_BLOCK_UNFOLD))
        block = block->next;
    return block == end ? NULL : block;
}

void hf_markdown_blocks(const hf_markdown *dialect, const hf_block *first, const hf_block *end,
                        hf_text *out) {
    for (const hf_block *block = past_folds(first, end); block; block = past_folds(block->next, end)) {
        add_block(dialect, block, out);
        const hf_block *next = past_folds(block->next, end);
        if (!next) break;
        bool together =
            next->kind == block->kind && (block->kind == HF_BLOCK_SUM || block->kind == HF_BLOCK_ITEM);
        if (!together) hf_text_add(out, "\n");
    }
}
