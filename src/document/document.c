#include "document/document.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Cleaned here once, so that no renderer can forget. */
static const char *clean_text(hf_document *document, const char *text) {
    hf_text out = {0};
    hf_add_clean(&out, text, "?");
    const char *kept = out.bytes ? hf_arena_text(document->arena, out.bytes, out.length) : "";
    hf_text_free(&out);
    return kept ? kept : "";
}

/* A brief document has no use for what is folded. */
static bool left_out(hf_document *document, hf_block_kind kind) {
    bool fold = kind == HF_BLOCK_FOLD || kind == HF_BLOCK_UNFOLD;
    if (fold) document->folded = kind == HF_BLOCK_FOLD;
    return document->brief && (fold || document->folded);
}

hf_block *hf_document_add(hf_document *document, hf_block_kind kind, const char *text) {
    if (left_out(document, kind)) return NULL;
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

void hf_add_clean(hf_text *out, const char *text, const char *mark) {
    while (*text) {
        size_t control = hf_text_control(text);
        if (control)
            hf_text_add(out, mark);
        else
            hf_text_add_bytes(out, text, 1);
        text += control ? control : 1;
    }
}
