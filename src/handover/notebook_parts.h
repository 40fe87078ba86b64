/* What a notebook is made of: cells, text that is safe in them, and Python literals. */
#ifndef HF_HANDOVER_NOTEBOOK_PARTS_H
#define HF_HANDOVER_NOTEBOOK_PARTS_H

#include "holdfast/handover/notebook.h"
#include "words/words.h"

/* --- Python ------------------------------------------------------------------------------------------ */

/* Appends a string literal that means exactly `text` (UTF-8). What does not show, or turns the direction of writing, is escaped. */
void hf_python_text(hf_text *out, const char *text);
/* The same in brackets and over several lines where the line would get too long. */
void hf_python_broken_text(hf_text *out, const char *text);
/* A number with nine figures at most; None when it is not finite. */
void hf_python_number(hf_text *out, double value);

/* How a JSON value becomes a literal. */
typedef struct hf_python_style {
    const char
        *source; /* the text it was parsed from: numbers stand as they were written; NULL: nine figures */
    const char *const *
        dropped; /* NULL-terminated keys of objects to leave out; NULL: none. Without source those that end in _reason go too */
} hf_python_style;

/* Appends the literal of `value`, its lines indented by `indent`; the first goes on where the text stands. */
void hf_python_value(hf_text *out, const hf_json *value, const hf_python_style *style, int indent);

/* --- Markdown ---------------------------------------------------------------------------------------- */

enum { HF_NOTEBOOK_ROWS = 500 };

/* Appends text so that every reader of notebooks shows it as it is: no markup, no link, no formula. */
void hf_notebook_add_text(hf_text *out, const char *text);
/* Blocks from `first` up to `end` (NULL: all) as Markdown, headings of `level` 2 to 4; tables stop after HF_NOTEBOOK_ROWS rows and say so. */
void hf_notebook_add_blocks(hf_text *out, int level, const hf_block *first, const hf_block *end);

/* --- Cells ------------------------------------------------------------------------------------------- */

typedef struct hf_cell_writer {
    hf_json_writer json;
    size_t count; /* of cells; makes their ids */
} hf_cell_writer;

typedef struct hf_picture {
    const char *name; /* of the attachment: letters, digits, - and . */
    const char *svg;
    size_t length;
} hf_picture;

void hf_cell_markdown(hf_cell_writer *w, const char *source);
/* With pictures that the source shows as ![…](attachment:name). */
void hf_cell_pictures(hf_cell_writer *w, const char *source, const hf_picture *pictures, size_t count);
/* Not run yet: without output. hidden: the source is folded away where the reader can do that. */
void hf_cell_code(hf_cell_writer *w, const char *source, bool hidden);

/* --- Sections of cells, see notebook_results.c ---------------------------------------------------------- */

/* One notebook being written; texts of cells are built in `text`. */
typedef struct hf_notebook_writer {
    const hf_study *study;
    const hf_report_style *style;
    hf_arena *arena;
    hf_cell_writer cells;
    hf_text text;
    hf_error *error;
    hf_status status;
} hf_notebook_writer;

/* To read: what comes first is the answer. */
void hf_notebook_title(hf_notebook_writer *w);
void hf_notebook_results(hf_notebook_writer *w);
void hf_notebook_data(hf_notebook_writer *w);
void hf_notebook_repeat(hf_notebook_writer *w);
/* To run, see notebook_numbers.c: the file and what Holdfast found in it, as Python values. */
void hf_notebook_file(hf_notebook_writer *w);
void hf_notebook_numbers(hf_notebook_writer *w);
/* Whether there are designs to compare. */
bool hf_notebook_compares(const hf_notebook_writer *w);
/* Keeps the first status that is not HF_OK; NULL. */
void *hf_notebook_fail(hf_notebook_writer *w, hf_status status);
/* The text built so far as a cell of either kind; the text is empty afterwards. */
void hf_notebook_end_markdown(hf_notebook_writer *w);
void hf_notebook_end_code(hf_notebook_writer *w, bool hidden);

#endif
