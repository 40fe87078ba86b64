/* A document as Markdown. What differs between readers of Markdown, how to escape and how to mark, is a record; the walk is one. */
#ifndef HF_DOCUMENT_MARKDOWN_H
#define HF_DOCUMENT_MARKDOWN_H

#include "document/document.h"

typedef struct hf_markdown {
    /* Appends text so that nothing in it is taken for markup; begins_line: a list or heading could begin here. */
    void (*add_text)(hf_text *out, const char *text, bool begins_line);
    const char *heading, *subheading, *strong, *strong_end, *sum, *sum_end;
    bool sum_as_it_is; /* a sum stands in a code block, where nothing is escaped */
    size_t most_rows;  /* of a table, then it is said how many are left; 0: all */
} hf_markdown;

/* Blocks from `first` up to `end` (NULL: all), apart by a blank line; lines of one sum and items of one list stay together. */
void hf_markdown_blocks(const hf_markdown *dialect, const hf_block *first, const hf_block *end, hf_text *out);

#endif
