/* A report before it has a format: headings, paragraphs, sums, tables, charts and cautions in reading order. A format is one renderer. */
#ifndef HF_DOCUMENT_DOCUMENT_H
#define HF_DOCUMENT_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/text.h"
#include "holdfast/document/format.h"

typedef enum hf_block_kind {
    HF_BLOCK_TITLE,
    HF_BLOCK_HEADING,
    HF_BLOCK_SUBHEADING, /* a heading within a chapter */
    HF_BLOCK_ANSWER,     /* the sentence that answers the question */
    HF_BLOCK_FINDING,    /* an answer within a chapter */
    HF_BLOCK_PARAGRAPH,
    HF_BLOCK_SUM,  /* one line of a sum, kept whole */
    HF_BLOCK_ITEM, /* one caution or limit */
    HF_BLOCK_TABLE,
    HF_BLOCK_CHART, /* its text is the finding, the picture in words */
    HF_BLOCK_FOLD, /* from here to HF_BLOCK_UNFOLD a page shows its text alone until a reader opens it; paper shows all */
    HF_BLOCK_UNFOLD
} hf_block_kind;

enum { HF_TABLE_COLUMNS = 16, HF_NAME_COLUMNS = 60 };

/* What a row says of its subject; words in it say the same. */
typedef enum hf_tone {
    HF_TONE_PLAIN, /* nothing was asked, or only a bound is there */
    HF_TONE_GOOD,
    HF_TONE_IF, /* good on a condition */
    HF_TONE_BAD
} hf_tone;

typedef struct hf_row {
    const char *cells[HF_TABLE_COLUMNS];
    hf_tone tone;        /* its first and last cell, at a terminal with colours */
    const char *picture; /* of a bare table on a page: <svg> elements, safe as they are; NULL: none */
    const char *link;    /* the heading of the chapter that its first cell names; NULL: none */
    struct hf_row *next;
} hf_row;

typedef struct hf_block {
    hf_block_kind kind;
    const char *
        text; /* all but tables; of these the caption, "" when the heading above it says enough; of a bare one how its pictures are read */
    const char *link; /* of a paragraph that stands for itself: the chapter that its text names; else NULL */
    const char *picture; /* of a chart, or below a bare table: <svg> elements, safe as they are */
    size_t columns;      /* of a table */
    bool bare;           /* text prints its rows without their heads: they explain themselves */
    const char *header[HF_TABLE_COLUMNS];
    bool right[HF_TABLE_COLUMNS]; /* numbers: aligned to the right */
    hf_row *rows, *last_row;
    struct hf_block *next;
} hf_block;

struct hf_report_style;

typedef struct hf_document {
    hf_arena *arena;
    const char *unit; /* of the loads in the texts: no line ends between a number and it */
    size_t width;     /* columns of a terminal */
    bool color;
    const struct hf_report_style *style; /* of the words; a renderer does not look into it */
    hf_block *first, *last;
    bool
        chapter; /* what is told elsewhere on a page of its own becomes part of a chapter: headings subheadings, answers findings */
    bool brief;  /* what is folded is left out */
    bool folded; /* between HF_BLOCK_FOLD and HF_BLOCK_UNFOLD */
    bool chapters; /* the document has chapters: a page of it needs a list of them */
} hf_document;

hf_block *hf_document_add(hf_document *document, hf_block_kind kind, const char *text);
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
hf_block *
hf_document_addf(hf_document *document, hf_block_kind kind, const char *format, ...);
/* header: columns texts, NULL-terminated; one that starts with '>' is aligned to the right. */
hf_block *hf_document_table(hf_document *document, const char *const *header);
/* cells NULL-terminated; missing ones are empty. Texts must live in the arena or be static. */
void hf_document_row(hf_document *document, hf_block *table, const char *const *cells);

/* Says above the table what it shows. */
void hf_document_caption(hf_document *document, hf_block *table, const char *caption);

/* Names come from the file and may hold anything: every control character (C0, DEL, C1, line and paragraph separators, marks that
 * turn the direction of writing) becomes one `mark`. Appended to *out. */
void hf_add_clean(hf_text *out, const char *text, const char *mark);

void hf_render_text(const hf_document *document, hf_text *out);
void hf_render_markdown(const hf_document *document, hf_text *out);
void hf_render_html(const hf_document *document, hf_text *out);

#endif
