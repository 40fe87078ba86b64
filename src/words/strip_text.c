/* The pulls of each design in one line of a terminal, over the same loads. */
#include <math.h>
#include <string.h>
#include "words/words.h"

enum { NAME_COLUMNS = 16, INDENT = 2, GAP = 2, MOST_CELLS = 120, DENSITIES = 3 };

/* What a cell may show, in the order in which the later hides the earlier. */
typedef enum strip_mark {
    BLANK,
    LINE,
    PULLS,
    WORK = PULLS + DENSITIES,
    ASKED,
    WHOLE,
    BOUND,
    MARKS
} strip_mark;

static const char *const blocks[MARKS] = {" ", "─", "░", "▒", "▓", "█", "┊", "▶", "┃"};
static const char *const plain[MARKS] = {" ", "-", ".", "o", "O", "#", ":", ">", "|"};

typedef struct strip_scale {
    double most; /* N at the last cell */
    size_t cells;
} strip_scale;

static void reach(double *most, double newtons) {
    if (isfinite(newtons)) *most = fmax(*most, newtons);
}

static double most_of(const hf_design_assessment *const *designs, size_t count) {
    double most = 0;
    for (size_t i = 0; i < count; i++) {
        hf_sample sample = designs[i]->sample;
        for (size_t j = 0; j < sample.count; j++) {
            reach(&most, sample.items[j].lower);
            reach(&most, sample.items[j].upper);
        }
        if (designs[i]->service_stated) reach(&most, designs[i]->design->goal.service_load.value);
    }
    return most;
}

/* Never beyond the load: a promise is rounded down. */
static size_t cell_of(strip_scale scale, double newtons) {
    double at = floor(newtons / scale.most * (double)scale.cells);
    return at < 0 ? 0 : at < (double)scale.cells ? (size_t)at : scale.cells - 1;
}

static void draw_pulls(const hf_design_assessment *a, strip_scale scale, unsigned char *cells) {
    for (size_t i = 0; i < a->sample.count; i++) {
        const hf_observation *seen = &a->sample.items[i];
        if (seen->kind == HF_INTERVAL_ABOVE) continue;
        size_t to = cell_of(scale, seen->upper);
        for (size_t at = cell_of(scale, fmin(seen->lower, seen->upper)); at <= to; at++)
            cells[at] = cells[at] < PULLS                   ? PULLS
                        : cells[at] < PULLS + DENSITIES - 1 ? cells[at] + 1
                                                            : cells[at];
    }
}

static void draw(const hf_design_assessment *a, strip_scale scale, unsigned char *cells) {
    const hf_answer *answer = &a->answer;
    bool bounded = answer->bound && answer->bound->value > 0;
    memset(cells, BLANK, scale.cells);
    if (bounded) memset(cells, LINE, cell_of(scale, answer->bound->value));
    draw_pulls(a, scale, cells);
    if (answer->verdict == HF_ANSWER_WORKING_LOAD) memset(cells, WORK, cell_of(scale, answer->unrounded) + 1);
    if (a->service_stated) cells[cell_of(scale, a->design->goal.service_load.value)] = ASKED;
    for (size_t i = 0; i < a->sample.count; i++)
        if (a->sample.items[i].kind == HF_INTERVAL_ABOVE)
            cells[cell_of(scale, a->sample.items[i].lower)] = WHOLE;
    if (bounded) cells[cell_of(scale, answer->bound->value)] = BOUND;
}

/* Blanks that a line of text keeps. */
static void add_blanks(hf_text *out, size_t count) {
    for (size_t i = 0; i < count; i++) hf_text_add(out, "\xc2\xa0");
}

static const char *const *marks_of(const hf_document *d) {
    return d->style->strip == HF_STRIP_ASCII ? plain : blocks;
}

static const char *name_of(hf_document *d, const hf_design_assessment *a) {
    return hf_cut_text(d, hf_design_name(d, a->design), NAME_COLUMNS);
}

static void add_line(hf_document *d, const hf_design_assessment *a, strip_scale scale, size_t columns) {
    const char *name = name_of(d, a);
    unsigned char cells[MOST_CELLS];
    hf_text line = {0};
    size_t blank = columns - hf_text_columns(name) + GAP;
    draw(a, scale, cells);
    hf_text_add(&line, name);
    for (size_t i = 0; i < scale.cells; i++) {
        blank += cells[i] == BLANK;
        if (cells[i] == BLANK) continue;
        add_blanks(&line, blank);
        hf_text_add(&line, marks_of(d)[cells[i]]);
        blank = 0;
    }
    hf_document_addf(d, HF_BLOCK_SUM, "%s", line.bytes ? line.bytes : "");
    hf_text_free(&line);
}

static void add_legend(hf_document *d, strip_scale scale, size_t columns) {
    const char *const *marks = marks_of(d);
    hf_text line = {0};
    add_blanks(&line, columns + GAP);
    hf_text_addf(&line, "%s work with, %s bound, %s asked, %s%s%s pulls, %s whole; 0 to %s", marks[WORK],
                 marks[BOUND], marks[ASKED], marks[PULLS], marks[PULLS + 1], marks[PULLS + 2], marks[WHOLE],
                 hf_show_text(d, HF_AS_SEEN, scale.most));
    hf_document_addf(d, HF_BLOCK_SUM, "%s", line.bytes ? line.bytes : "");
    hf_text_free(&line);
}

void hf_strip_lines(hf_document *d, const hf_design_assessment *const *designs, size_t count) {
    strip_scale scale = {most_of(designs, count), 0};
    size_t columns = 0;
    if (d->style->strip == HF_STRIP_NONE || !(scale.most > 0)) return;
    for (size_t i = 0; i < count; i++) {
        size_t own = hf_text_columns(name_of(d, designs[i]));
        columns = own > columns ? own : columns;
    }
    scale.cells = d->width - INDENT - columns - GAP;
    if (scale.cells > MOST_CELLS) scale.cells = MOST_CELLS;
    for (size_t i = 0; i < count; i++) add_line(d, designs[i], scale, columns);
    add_legend(d, scale, columns);
}
