/* A report before it has a format: headings, paragraphs, sums, tables, charts and cautions in reading order. A format is one renderer. */
#ifndef HF_REPORT_DOCUMENT_H
#define HF_REPORT_DOCUMENT_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/text.h"
#include "holdfast/report/chart.h"
#include "holdfast/report/report.h"

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
    HF_BLOCK_CHART /* its text is the finding, the picture in words */
} hf_block_kind;

enum { HF_TABLE_COLUMNS = 16, HF_NAME_COLUMNS = 60 };

typedef struct hf_row {
    const char *cells[HF_TABLE_COLUMNS];
    struct hf_row *next;
} hf_row;

typedef struct hf_block {
    hf_block_kind kind;
    const char *text; /* all but tables; of these the caption, "" when the heading above it says enough */
    const char *link; /* of a paragraph that stands for itself: the chapter that its text names; else NULL */
    const char *picture; /* of a chart: one <svg> element, safe as it is */
    size_t columns;      /* of a table */
    const char *header[HF_TABLE_COLUMNS];
    bool right[HF_TABLE_COLUMNS]; /* numbers: aligned to the right */
    hf_row *rows, *last_row;
    struct hf_block *next;
} hf_block;

typedef struct hf_document {
    hf_arena *arena;
    const hf_report_style *style;
    hf_block *first, *last;
    bool
        chapter; /* what is told elsewhere on a page of its own becomes part of a chapter: headings subheadings, answers findings */
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

/* A picture of this kind. One that cannot be drawn is left out; with `say_why` its reason is told. */
void hf_document_chart(hf_document *document, const char *kind, const hf_chart_subject *subject,
                       bool say_why);

void hf_render_text(const hf_document *document, hf_text *out);
void hf_render_markdown(const hf_document *document, hf_text *out);
void hf_render_html(const hf_document *document, hf_text *out);

/* Words and numbers for documents; results live in the arena. */
const char *hf_load_text(hf_document *document, double newtons,
                         int figures); /* "588.4 N"; "-" when not finite */
const char *hf_bare_load(hf_document *document, double newtons, int figures); /* "588.4" */
const char *hf_figures_text(hf_document *document, double value, int figures);
const char *hf_shortest_text(hf_document *document, double value);             /* "3", "1.25" */
const char *hf_percent_text(hf_document *document, double share, int figures); /* "90 %" */
/* What is promised is never rounded up: a load and a share rounded down to so many figures, in the unit shown. */
const char *hf_load_down(hf_document *document, double newtons, int figures);
const char *hf_percent_down(hf_document *document, double share, int figures);
/* The same for a cell of a table: a lower limit rounded down, "none above 0" where it is 0 or less, "-" where there is none. */
const char *hf_bound_cell(hf_document *document, double newtons, int figures);
/* A load as it was stated: six figures at most and no idle zeros. */
const char *hf_load_stated(hf_document *document, double newtons);
double hf_in_unit(const hf_report_style *style, double newtons);

/* The text, cut with an ellipsis to at most so many columns: for names that stand where room is short. */
const char *hf_cut_text(hf_document *document, const char *text, size_t columns);
/* The name people use for a design, at most HF_NAME_COLUMNS wide. */
const char *hf_design_name(hf_document *document, const hf_design *design);

/* Names come from the file and may hold anything: every control character (C0, DEL, C1, line and paragraph separators, marks that
 * turn the direction of writing) becomes one `mark`. Appended to *out. */
void hf_add_clean(hf_text *out, const char *text, const char *mark);

/* Content of the kinds of result. */

/* The printed sum of one event, see sum.c, and which number in it is what, see sum_words.c. */
void hf_sum_lines(const hf_design_assessment *design, const hf_event_assessment *event,
                  hf_document *document);
/* `figures`: of the numbers as they stand in the sum. */
void hf_sum_explain(hf_document *document, const hf_event_assessment *event, int figures, bool down);

/* The answer for one design with its reason, and whether the stated requirements are met, see assess_document.c. */
void hf_assess_answer(hf_document *document, const hf_design_assessment *design);

/* Tables of an event and of the trade's rules, see assess_tables.c. */
void hf_counts_words(hf_document *document, const hf_design_assessment *design,
                     const hf_event_assessment *event);
/* What the strongest single part did: "failed at 1007 N after holding 967.3 N"; NULL where no pull shows it. */
const char *hf_best_pull_words(hf_document *document, const hf_design_assessment *design,
                               const hf_event_assessment *event);
void hf_bounds_table(hf_document *document, const hf_event_assessment *event);
void hf_fits_table(hf_document *document, const hf_event_assessment *event);
void hf_trade_table(hf_document *document, const hf_design_assessment *design);

/* One item per caution: its title and words. */
void hf_document_cautions(hf_document *document, const hf_cautions *list);

/* Safety limits that stand under every result. */
void hf_limits(hf_document *document);

#endif
