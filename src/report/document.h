/* A report before it has a format: headings, paragraphs, sums, tables and cautions in reading order. A format is one renderer. */
#ifndef HF_REPORT_DOCUMENT_H
#define HF_REPORT_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/text.h"
#include "holdfast/report/report.h"

typedef enum hf_block_kind {
    HF_BLOCK_TITLE,
    HF_BLOCK_HEADING,
    HF_BLOCK_ANSWER,    /* the sentence that answers the question */
    HF_BLOCK_PARAGRAPH,
    HF_BLOCK_SUM,       /* one line of a sum, kept whole */
    HF_BLOCK_ITEM,      /* one caution or limit */
    HF_BLOCK_TABLE
} hf_block_kind;

enum { HF_TABLE_COLUMNS = 8 };

typedef struct hf_row {
    const char *cells[HF_TABLE_COLUMNS];
    struct hf_row *next;
} hf_row;

typedef struct hf_block {
    hf_block_kind kind;
    const char *text;            /* all but tables */
    size_t columns;              /* of a table */
    const char *header[HF_TABLE_COLUMNS];
    bool right[HF_TABLE_COLUMNS]; /* numbers: aligned to the right */
    hf_row *rows, *last_row;
    struct hf_block *next;
} hf_block;

typedef struct hf_document {
    hf_arena *arena;
    const hf_report_style *style;
    hf_block *first, *last;
} hf_document;

hf_block *hf_document_add(hf_document *document, hf_block_kind kind, const char *text);
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
hf_block *hf_document_addf(hf_document *document, hf_block_kind kind, const char *format, ...);
/* header: columns texts, NULL-terminated; one that starts with '>' is aligned to the right. */
hf_block *hf_document_table(hf_document *document, const char *const *header);
/* cells NULL-terminated; missing ones are empty. Texts must live in the arena or be static. */
void hf_document_row(hf_document *document, hf_block *table, const char *const *cells);

void hf_render_text(const hf_document *document, hf_text *out);
void hf_render_markdown(const hf_document *document, hf_text *out);

/* Words and numbers for documents; results live in the arena. */
const char *hf_load_text(hf_document *document, double newtons, int figures); /* "588.4 N"; "-" when not finite */
const char *hf_bare_load(hf_document *document, double newtons, int figures); /* "588.4" */
const char *hf_figures_text(hf_document *document, double value, int figures);
const char *hf_shortest_text(hf_document *document, double value); /* "3", "1.25" */
const char *hf_percent_text(hf_document *document, double share, int figures); /* "90 %" */
double hf_in_unit(const hf_report_style *style, double newtons);

/* Content of the kinds of result. */
void hf_assess_document(const hf_assessment *result, hf_document *document);
void hf_factor_document(const hf_factor_result *result, hf_document *document);
void hf_check_document(const hf_campaign *campaign, const hf_findings *findings, hf_document *document);

/* The printed sum of one event, see sum.c. */
void hf_sum_lines(const hf_design_assessment *design, const hf_event_assessment *event, hf_document *document);
/* Safety limits that stand under every result. */
void hf_limits(hf_document *document);

#endif
