/* The grammar of charts: scale, axis, mark, label. A picture says what it shows in these words and draws nothing itself.
 *
 * Values are in the numbers of the axis; places are in units of the picture, x to the right and y down. */
#ifndef HF_CHART_CHART_H
#define HF_CHART_CHART_H

#include "holdfast/chart/chart.h"
#include "words/words.h"

/* --- Scales ------------------------------------------------------------------------------------------ */

typedef enum hf_scale_kind { HF_SCALE_LINEAR, HF_SCALE_LOG, HF_SCALE_PROBABILITY } hf_scale_kind;

typedef struct hf_scale {
    hf_scale_kind kind;
    const hf_family *law; /* of a probability scale: its paper */
    double low, high;     /* values at the ends; a share in (0, 1) on a probability scale */
    double from, to;      /* places of the ends */
} hf_scale;

enum { HF_TICKS_MOST = 24 };

/* A linear scale whose ends are round numbers around [low, high] (widened when they are equal). */
hf_scale hf_scale_linear(double low, double high, double from, double to);
/* A logarithmic scale, 0 < low ≤ high, ends a little outside. */
hf_scale hf_scale_log(double low, double high, double from, double to);
/* Probability paper of this law. */
hf_scale hf_scale_probability(const hf_family *law, double low, double high, double from, double to);
/* The upper end of an axis from `low` on that leaves room for an arrow to the right of `open`, the greatest load that a part outlasted (−∞:
 * none), and reaches `high`; `log`: of a logarithmic axis. */
double hf_scale_past(double low, double high, double open, bool log);
/* The place of a value; values beyond an end have places beyond it. */
double hf_scale_place(const hf_scale *scale, double value);
/* Round values within the scale, ascending, at most `most` (2 … HF_TICKS_MOST) of them. */
size_t hf_scale_ticks(const hf_scale *scale, size_t most, double ticks[HF_TICKS_MOST]);

/* --- The chart --------------------------------------------------------------------------------------- */

typedef struct hf_place_box {
    double left, top, right, bottom;
} hf_place_box;

typedef struct hf_chart {
    hf_text *out;
    hf_document words; /* arena and style for texts */
    double width, height;
    hf_place_box plot;
    bool finding_beside;
    bool ungridded; /* values stand beside their marks: no grid lines */
    bool narrow;    /* too little room for labels beside what they name */
    double above;   /* height that names of upright lines take above the plot */
    hf_scale x, y;
    double
        kept_tick; /* of a probability scale y: this share keeps its tick whatever else gives way; 0: none */
    const char *hover;   /* what a pointer over the next mark shows; NULL: nothing */
    hf_place_box *taken; /* by texts, in the arena */
    size_t taken_count, taken_capacity;
} hf_chart;

enum { HF_FONT = 14, HF_LINE_HEIGHT = 18 };
#define HF_BOLD_SHARE 1.27 /* how much wider bold letters get at most */

/* Opens the picture with its title (printed on top, in more than one line above y = 0 where it needs them) and the finding in one to four
 * sentences (printed below, under `height`). Names are escaped and what is printed is cut. `chart->width` is set. */
void hf_chart_open(hf_chart *chart, double height, const char *title, const char *finding);
/* Opens a picture without a printed title or finding whose height is `height`, from `top` on; it is drawn `scale` times as large. */
void hf_chart_begin(hf_chart *chart, double top, double height, double scale, const char *title,
                    const char *finding);
void hf_chart_close(hf_chart *chart);
/* Text from anywhere, safe inside XML. */
void hf_chart_add_text(hf_text *out, const char *text);
/* A name from anywhere, cut with an ellipsis to at most this width, controls blanked, its direction of writing kept to itself. In the
 * arena. */
const char *hf_chart_cut(hf_chart *chart, const char *text, double width);
/* "10⁶", "×10⁶" */
void hf_chart_add_power(hf_text *out, int power);
void hf_chart_add_times_power(hf_text *out, int power);
/* A load with its unit and three figures: as it is, rounded down, and as it was stated; a power of ten stands as "×10⁷". */
const char *hf_chart_load(hf_chart *chart, double newtons);
/* What was pulled, as tables give it: as recorded where that is short, else four figures. */
const char *hf_chart_load_observed(hf_chart *chart, double newtons);
const char *hf_chart_load_down(hf_chart *chart, double newtons);
/* A mean: four figures. */
const char *hf_chart_load_mean(hf_chart *chart, double newtons);
/* A bound or a limit rounded down to four figures, as tables and sentences give it. */
const char *hf_chart_load_bound(hf_chart *chart, double newtons);
const char *hf_chart_load_stated(hf_chart *chart, double newtons);
/* " (law rejected)" where the governing bound leans on a law that the pulls speak against, else "". */
const char *hf_chart_rejected(const hf_event_assessment *event);
/* What is asked of a design, in newtons: its service load, else its required bound; NaN: nothing. The name of its line. */
double hf_chart_asked(const hf_design *design);
const char *hf_chart_asked_words(hf_chart *chart, const hf_design *design);
/* The name of a design, cut to what a title has room for. */
const char *hf_chart_design(hf_chart *chart, const hf_design *design);
/* "1 part", "2 parts". */
const char *hf_chart_count(hf_chart *chart, size_t count, const char *one, const char *many);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
const char *
hf_chart_format(hf_chart *chart, const char *format, ...);

/* --- Axes -------------------------------------------------------------------------------------------- */

/* Axis with ticks, grid lines and name (NULL: none) along the bottom or the left side of the plot. */
void hf_axis_bottom(hf_chart *chart, const char *name);
/* The unit of the bottom axis at its end, and below it the same loads in another (NULL: none). */
void hf_axis_bottom_also(hf_chart *chart, const hf_unit *unit);
/* An axis of loads: name and unit, and below it the same loads as masses. A key starts HF_AXIS_LOAD below the plot. */
enum { HF_AXIS_LOAD = 64 };
void hf_axis_load(hf_chart *chart, const hf_unit *mass, const char *note);
void hf_axis_left(hf_chart *chart, const char *name);
/* Room that the ticks of the left axis need; y and the plot's top and bottom must be set. */
double hf_axis_left_room(hf_chart *chart);

/* --- Marks: `look` is a list of the classes of the style sheet (chart.c) ------------------------------- */

typedef struct hf_point {
    double x, y;
} hf_point;

enum { HF_SHAPES = 8 };

/* What a pointer over the next stroke, arrow, rectangle or shape shows; the browser's own title. */
void hf_mark_hover(hf_chart *chart, const char *words);
void hf_mark_line(hf_chart *chart, const hf_point *points, size_t count, const char *look);
/* The same in places; points outside of the plot's left and right side are cut off where the line crosses it. */
void hf_mark_line_within(hf_chart *chart, const hf_point *places, size_t count, const char *look);
/* The area between two lines over the same x. */
void hf_mark_band(hf_chart *chart, const hf_point *low, const hf_point *high, size_t count);
/* From one place to another, `look` decides what it means. In places, not values. */
void hf_mark_stroke(hf_chart *chart, hf_point from, hf_point to, const char *look);
/* An arrow, to the right: stronger than that. In places. */
void hf_mark_arrow(hf_chart *chart, hf_point from, double to_x, const char *look);
void hf_mark_rectangle(hf_chart *chart, hf_place_box box, const char *look);
/* Shape 0 … HF_SHAPES − 1 of this half width; look NULL: hollow. In places. */
void hf_mark_shape(hf_chart *chart, hf_point at, size_t shape, double size, const char *look);

/* --- Labels ------------------------------------------------------------------------------------------ */

typedef enum hf_anchor { HF_ANCHOR_START, HF_ANCHOR_MIDDLE, HF_ANCHOR_END } hf_anchor;

/* Width that a text takes at most. */
double hf_label_width(const char *text);
/* Whether the text holds what no safe width is known for: it is then pressed into hf_label_width. */
bool hf_label_is_pressed(const char *text);
/* Prints the text on the base line `at` if nothing is there and it stays inside the picture. */
bool hf_label_put(hf_chart *chart, hf_point at, hf_anchor anchor, const char *text);

/* The letters of a picture that is looked at from afar. */
typedef enum hf_label_size {
    HF_LABEL_SMALL,
    HF_LABEL_WARNING,
    HF_LABEL_NAME,
    HF_LABEL_TITLE,
    HF_LABEL_LARGE
} hf_label_size;

const char *hf_label_cut_as(hf_chart *chart, hf_label_size size, const char *text, double width);
double hf_label_width_as(hf_label_size size, const char *text);
/* Prints the text from `at` on, cut to the width. The width it takes; 0: there was no room. */
double hf_label_put_as(hf_chart *chart, hf_point at, double width, hf_label_size size, const char *text);

/* A bold text, cut to the picture; its line takes the whole width. */
void hf_label_head(hf_chart *chart, hf_point at, const char *text);

/* A line of the chart and its name. */
typedef struct hf_named_line {
    double value;
    const char *name, *look;
} hf_named_line;

/* Height that the names above the plot will take for so many lines. */
double hf_lanes_height(size_t count);
/* Lines upright through the plot, their names in lanes above it. */
void hf_lines_upright(hf_chart *chart, const hf_named_line *lines, size_t count);
/* Room to the right of the plot for the names of lines across. */
double hf_lines_room(const hf_named_line *lines, size_t count);
/* Lines across the plot, their names to the right of it, moved apart where they would touch; look NULL: the name only. */
void hf_lines_across(hf_chart *chart, hf_named_line *lines, size_t count);

enum { HF_KEY_STROKE = -1, HF_KEY_UPRIGHT = -2, HF_KEY_NOTE = -3, HF_KEY_BAND = -4 };

/* A key: samples and words in rows from `top` on. */
typedef struct hf_key_entry {
    const char *text;
    int shape; /* HF_KEY_STROKE, HF_KEY_UPRIGHT (strokes of `look`), HF_KEY_NOTE (words alone), HF_KEY_BAND, or the shape */
    const char *look;
    bool arrow;
} hf_key_entry;

/* Height of the key with these entries; draws it when `top` is not NaN. */
double hf_key(hf_chart *chart, double top, const hf_key_entry *entries, size_t count);

/* --- Kinds ------------------------------------------------------------------------------------------- */

const char *hf_chart_card(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_sofar(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_label(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_bound(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_ladder(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_step(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_pulls(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_steps(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_probability(hf_chart *chart, const hf_chart_subject *subject);
/* Above so many pairs `ratios` is a matrix: hf_chart_matrix, with the words that tell the verdicts. */
enum { HF_RATIOS_ROWS = 6 };
const char *hf_chart_matrix(hf_chart *chart, const hf_comparison *result, const char *title,
                            const char *verdicts);
/* "sewn ring is stronger", "these pulls cannot tell"; and "1.26 (1.14 to 1.39)", the ratio with the interval that decides. */
const char *hf_ratio_verdict(hf_chart *chart, const hf_comparison *result, const hf_comparison_pair *pair);
const char *hf_ratio_figures(hf_chart *chart, const hf_comparison_pair *pair);
const char *hf_chart_ratios(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_league(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_modes(hf_chart *chart, const hf_chart_subject *subject);
const char *hf_chart_scatter(hf_chart *chart, const hf_chart_subject *subject);

#endif
