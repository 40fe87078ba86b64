/* For each pair of designs how many times stronger one is, with its interval: two lines of words and figures for a pair, so that long names and a
 * wide axis both find room. The picture grows with the pairs. */
#include <math.h>
#include <string.h>
#include "chart/chart.h"
#include "words/compare_report.h"

enum {
    ROW = 48,
    ROW_NARROW = 36,
    LINE = 18,
    NAME_WIDTH = 150,
    NAME_WIDTH_NARROW = 210,
    MARGIN = 12,
    TOP = 40,
    SIDE = 26,
    KEYS_MOST = 6,
    BAR = 32,
    TOLD_SINGLY = 3,
    TITLE_WIDTH = 300
};

static const double furthest = 1e4; /* ratios beyond it, and open ends, are arrows */

typedef struct ratios_picture {
    const hf_comparison *result;
    size_t count, told, same, open;
    bool stacked;  /* a name in each line */
    bool unmarked; /* a pair has an interval, but no ratio that is the likeliest */
    double least, most;
    hf_key_entry keys[KEYS_MOST];
    size_t key_count;
} ratios_picture;

typedef enum ratio_shape { SHAPE_CANNOT_TELL = 0, SHAPE_SAME = 1, SHAPE_TOLD = 3 } ratio_shape;

static bool is_compared(const hf_comparison_pair *pair) {
    return pair->method != HF_COMPARISON_NONE && !isnan(pair->decides_low) && !isnan(pair->decides_high);
}

static void reach(ratios_picture *p, double ratio) {
    if (!(ratio >= 1 / furthest && ratio <= furthest)) return;
    p->least = fmin(p->least, ratio);
    p->most = fmax(p->most, ratio);
}

static void collect(const hf_comparison *result, ratios_picture *p) {
    bool open_low = false, open_high = false;
    p->result = result;
    p->least = p->most = 1;
    if (result->options.same_within > 0) {
        reach(p, 1 / (1 + result->options.same_within));
        reach(p, 1 + result->options.same_within);
    }
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        p->count++;
        if (!is_compared(pair)) {
            p->open++;
            continue;
        }
        p->told += pair->verdict == HF_VERDICT_A_STRONGER || pair->verdict == HF_VERDICT_B_STRONGER;
        p->same += pair->verdict == HF_VERDICT_SAME_WITHIN;
        p->unmarked = p->unmarked || !(pair->ratio > 0 && isfinite(pair->ratio));
        reach(p, pair->ratio);
        reach(p, pair->decides_low);
        reach(p, pair->decides_high);
        open_low = open_low || pair->decides_low < 1 / furthest;
        open_high = open_high || pair->decides_high > furthest;
    }
    if (open_low) p->least /= 1.4;
    if (open_high) p->most *= 1.4;
    /* A narrow axis would make small differences look large. */
    p->least = fmin(p->least, 0.8);
    p->most = fmax(p->most, 1.25);
}

static const char *name_of(hf_chart *chart, const ratios_picture *p, size_t design, double width) {
    return hf_chart_cut(chart, hf_compare_name(&p->result->designs[design]), width);
}

/* A name that would have to be cut may look like that of another design. */
static const char *stronger_words(hf_chart *chart, const hf_comparison *result, size_t design,
                                  const char *place) {
    const char *name = hf_chart_cut(chart, hf_compare_name(&result->designs[design]), INFINITY);
    if (hf_label_width(name) > (chart->narrow ? NAME_WIDTH_NARROW : NAME_WIDTH))
        return hf_chart_format(chart, "the %s is stronger", place);
    return hf_chart_format(chart, "%s is stronger", name);
}

const char *hf_ratio_verdict(hf_chart *chart, const hf_comparison *result, const hf_comparison_pair *pair) {
    if (!is_compared(pair)) return "not compared";
    switch (pair->verdict) {
    case HF_VERDICT_A_STRONGER:
        return stronger_words(chart, result, pair->a, "first");
    case HF_VERDICT_B_STRONGER:
        return stronger_words(chart, result, pair->b, "second");
    case HF_VERDICT_SAME_WITHIN:
        return hf_chart_format(chart, "the same within %s",
                               hf_show_text(&chart->words, HF_AS_SHARE, result->options.same_within));
    case HF_VERDICT_CANNOT_TELL:
        break;
    }
    return "these pulls cannot tell";
}

static const char *end_text(hf_chart *chart, double value) {
    return isfinite(value) ? hf_show_text(&chart->words, HF_AS_NUMBER, value) : "∞";
}

const char *hf_ratio_figures(hf_chart *chart, const hf_comparison_pair *pair) {
    if (!is_compared(pair)) return pair->reason_text ? pair->reason_text : "";
    if (!(pair->ratio > 0) || !isfinite(pair->ratio))
        return hf_chart_format(chart, "%s to %s", end_text(chart, pair->decides_low),
                               end_text(chart, pair->decides_high));
    return hf_chart_format(chart, "%s (%s to %s)", end_text(chart, pair->ratio),
                           end_text(chart, pair->decides_low), end_text(chart, pair->decides_high));
}

static ratio_shape shape_of(const hf_comparison_pair *pair) {
    if (pair->verdict == HF_VERDICT_SAME_WITHIN) return SHAPE_SAME;
    return pair->verdict == HF_VERDICT_CANNOT_TELL ? SHAPE_CANNOT_TELL : SHAPE_TOLD;
}

static const char *look_of(const hf_comparison_pair *pair) {
    return pair->verdict == HF_VERDICT_CANNOT_TELL ? NULL : "full";
}

/* One end of the interval: a small stroke, or an arrow where it is open or beyond the axis. */
static void draw_end(hf_chart *chart, double value, double from, double y) {
    bool low = value<chart->x.low, high = value> chart->x.high;
    double x = low ? chart->plot.left : high ? chart->plot.right : hf_scale_place(&chart->x, value);
    if (low || high) {
        hf_mark_arrow(chart, (hf_point){from, y}, x, "b line");
        return;
    }
    hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){x, y}, "b line");
    hf_mark_stroke(chart, (hf_point){x, y - 5}, (hf_point){x, y + 5}, "b line");
}

static bool is_marked(const hf_chart *chart, const hf_comparison_pair *pair) {
    return pair->ratio >= chart->x.low && pair->ratio <= chart->x.high;
}

static void draw_interval(hf_chart *chart, const hf_comparison_pair *pair, double y) {
    bool shown = is_marked(chart, pair);
    double low = hf_scale_place(&chart->x, fmin(fmax(pair->decides_low, chart->x.low), chart->x.high)),
           high = hf_scale_place(&chart->x, fmin(fmax(pair->decides_high, chart->x.low), chart->x.high));
    double at = shown ? hf_scale_place(&chart->x, pair->ratio) : 0.5 * (low + high);
    draw_end(chart, pair->decides_low, at, y);
    draw_end(chart, pair->decides_high, at, y);
    if (shown) hf_mark_shape(chart, (hf_point){at, y}, shape_of(pair), 5, look_of(pair));
}

/* Both names in one line, each cut only where the other leaves no room. */
static const char *pair_name(hf_chart *chart, const ratios_picture *p, const hf_comparison_pair *pair,
                             double room) {
    double half = (room - hf_label_width(" ÷ ")) / 2;
    const char *first = name_of(chart, p, pair->a, INFINITY), *second = name_of(chart, p, pair->b, INFINITY);
    double a = hf_label_width(first), b = hf_label_width(second);
    if (a + b > 2 * half) {
        first = name_of(chart, p, pair->a, a <= half ? a : 2 * half - fmin(b, half));
        second = name_of(chart, p, pair->b, b <= half ? b : 2 * half - fmin(a, half));
    }
    return hf_chart_format(chart, "%s ÷ %s", first, second);
}

static bool fits(hf_chart *chart, const ratios_picture *p, const hf_comparison_pair *pair, double room) {
    return hf_label_width(name_of(chart, p, pair->a, INFINITY)) +
               hf_label_width(name_of(chart, p, pair->b, INFINITY)) + hf_label_width(" ÷ ") <=
           room;
}

/* Where there is little room words stand above the interval, with a line for each name when one pair needs it. */
static double row_height(const hf_chart *chart, const ratios_picture *p) {
    return chart->narrow ? ROW_NARROW + (p->stacked ? 4 : 3) * LINE : ROW;
}

static void choose_lines(hf_chart *chart, ratios_picture *p) {
    for (size_t i = 0; i < p->count && chart->narrow && !p->stacked; i++)
        p->stacked = !fits(chart, p, &p->result->pairs[i], chart->width - 2 * MARGIN);
}

/* Equal strength, beside the interval only: it crosses no words. */
static void draw_equal(hf_chart *chart, double top, double bottom) {
    double one = hf_scale_place(&chart->x, 1);
    hf_mark_stroke(chart, (hf_point){one, top}, (hf_point){one, bottom}, "g line");
}

/* Names, verdict and figures under each other, the interval below. */
static void draw_row_narrow(hf_chart *chart, const ratios_picture *p, const hf_comparison_pair *pair,
                            double top) {
    double room = chart->width - 2 * MARGIN, y = top + 15;
    const char *lines[4];
    size_t count = 0;
    if (p->stacked) {
        lines[count++] = name_of(chart, p, pair->a, room);
        lines[count++] =
            hf_chart_format(chart, "÷ %s", name_of(chart, p, pair->b, room - hf_label_width("÷ ")));
    } else {
        lines[count++] = pair_name(chart, p, pair, room);
    }
    lines[count++] = hf_ratio_verdict(chart, p->result, pair);
    lines[count++] = hf_chart_cut(chart, hf_ratio_figures(chart, pair), room);
    /* The lines of the axis start below the words. */
    hf_mark_rectangle(
        chart,
        (hf_place_box){chart->plot.left - 1, top, chart->plot.right + 1, y + (double)count * LINE - 13},
        "paper");
    for (size_t i = 0; i < count; i++, y += LINE)
        (void)hf_label_put(chart, (hf_point){MARGIN, y}, HF_ANCHOR_START, lines[i]);
    draw_equal(chart, y - LINE + 6, top + row_height(chart, p));
    if (is_compared(pair)) draw_interval(chart, pair, y - 1);
}

static void draw_row(hf_chart *chart, const ratios_picture *p, const hf_comparison_pair *pair, double top) {
    const char *verdict = hf_ratio_verdict(chart, p->result, pair);
    double room = chart->width - 2 * MARGIN - hf_label_width(verdict) - 16;
    (void)hf_label_put(chart, (hf_point){MARGIN, top + 15}, HF_ANCHOR_START, pair_name(chart, p, pair, room));
    (void)hf_label_put(chart, (hf_point){chart->width - MARGIN, top + 15}, HF_ANCHOR_END, verdict);
    const char *numbers = hf_chart_cut(chart, hf_ratio_figures(chart, pair), chart->width - 2 * SIDE);
    if (is_compared(pair)) {
        draw_equal(chart, top + LINE + 2, top + ROW);
        draw_interval(chart, pair, top + BAR);
        (void)hf_label_put(chart, (hf_point){chart->width - MARGIN, top + BAR + 5}, HF_ANCHOR_END, numbers);
    } else {
        (void)hf_label_put(chart, (hf_point){SIDE, top + BAR + 5}, HF_ANCHOR_START, numbers);
    }
}

static void draw_same(hf_chart *chart, double same_within) {
    double left = hf_scale_place(&chart->x, 1 / (1 + same_within)),
           right = hf_scale_place(&chart->x, 1 + same_within);
    hf_mark_rectangle(chart, (hf_place_box){left, chart->plot.top, right, chart->plot.bottom}, "soft");
    hf_mark_stroke(chart, (hf_point){left, chart->plot.top}, (hf_point){left, chart->plot.bottom}, "b dash");
    hf_mark_stroke(chart, (hf_point){right, chart->plot.top}, (hf_point){right, chart->plot.bottom},
                   "b dash");
}

static void add_key(ratios_picture *p, const char *text, int shape, const char *look) {
    p->keys[p->key_count++] = (hf_key_entry){text, shape, look, false};
}

static bool any_mark(const hf_chart *chart, const ratios_picture *p, ratio_shape shape) {
    for (size_t i = 0; i < p->count; i++) {
        const hf_comparison_pair *pair = &p->result->pairs[i];
        if (is_compared(pair) && shape_of(pair) == shape && is_marked(chart, pair)) return true;
    }
    return false;
}

/* Among several pairs some are asked more strictly than others. */
static const char *interval_words(hf_chart *chart, const ratios_picture *p) {
    double least = 1, most = 0;
    for (size_t i = 0; i < p->count; i++) {
        if (!is_compared(&p->result->pairs[i])) continue;
        least = fmin(least, p->result->pairs[i].decides_confidence);
        most = fmax(most, p->result->pairs[i].decides_confidence);
    }
    const char *from = hf_show_text(&chart->words, HF_AS_CONFIDENCE, least),
               *to = hf_show_text(&chart->words, HF_AS_CONFIDENCE, most);
    return strcmp(from, to) == 0 ? hf_chart_format(chart, "%s interval", from)
                                 : hf_chart_format(chart, "interval that decides, %s to %s", from, to);
}

/* Needs the scale: a shape stands in the key when a row shows it. */
static void fill_key(hf_chart *chart, ratios_picture *p) {
    const hf_comparison_options *options = &p->result->options;
    if (any_mark(chart, p, SHAPE_TOLD)) add_key(p, "one is stronger", SHAPE_TOLD, "full");
    if (any_mark(chart, p, SHAPE_SAME)) add_key(p, "the same", SHAPE_SAME, "full");
    if (any_mark(chart, p, SHAPE_CANNOT_TELL)) add_key(p, "cannot tell", SHAPE_CANNOT_TELL, NULL);
    add_key(p, interval_words(chart, p), HF_KEY_STROKE, "b line");
    add_key(p, "equal strength", HF_KEY_UPRIGHT, "g line");
    if (options->same_within > 0)
        add_key(p,
                hf_chart_format(chart, "the same within %s",
                                hf_show_text(&chart->words, HF_AS_SHARE, options->same_within)),
                HF_KEY_BAND, "b dash");
}

/* The verdict of one pair as a sentence. */
static const char *pair_sentence(hf_chart *chart, const ratios_picture *p, const hf_comparison_pair *pair) {
    bool swapped = is_compared(pair) && pair->verdict == HF_VERDICT_B_STRONGER;
    const char *first = name_of(chart, p, swapped ? pair->b : pair->a, NAME_WIDTH),
               *second = name_of(chart, p, swapped ? pair->a : pair->b, NAME_WIDTH);
    if (!is_compared(pair)) return hf_chart_format(chart, "%s and %s could not be compared.", first, second);
    if (pair->verdict == HF_VERDICT_CANNOT_TELL)
        return hf_chart_format(chart, "These pulls cannot tell %s from %s.", first, second);
    if (pair->verdict == HF_VERDICT_SAME_WITHIN)
        return hf_chart_format(chart, "%s and %s are the same within %s.", first, second,
                               hf_show_text(&chart->words, HF_AS_SHARE, p->result->options.same_within));
    return hf_chart_format(chart, "%s is stronger than %s.", first, second);
}

static const char *counted_verdicts(hf_chart *chart, const ratios_picture *p) {
    size_t unsure = p->count - p->told - p->same - p->open;
    hf_text words = {0};
    hf_text_addf(&words, "%zu pairs of designs:", p->count);
    const char *comma = "";
    const struct {
        size_t count;
        const char *words;
    } rows[] = {{p->told, "one is the stronger"},
                {p->same, "the two are the same"},
                {unsure, "these pulls cannot tell"},
                {p->open, "nothing could be compared"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!rows[i].count) continue;
        hf_text_addf(&words, "%s in %zu %s", comma, rows[i].count, rows[i].words);
        comma = ",";
    }
    const char *out = hf_chart_format(chart, "%s.", words.bytes ? words.bytes : "");
    if (words.failed) chart->out->failed = true;
    hf_text_free(&words);
    return out;
}

static const char *finding(hf_chart *chart, const ratios_picture *p) {
    const char *verdicts = p->count > TOLD_SINGLY ? counted_verdicts(chart, p) : "";
    for (size_t i = 0; i < p->count && p->count <= TOLD_SINGLY; i++)
        verdicts = hf_chart_format(chart, "%s%s%s", verdicts, i ? " " : "",
                                   pair_sentence(chart, p, &p->result->pairs[i]));
    return hf_chart_format(
        chart, "%s A ratio above 1 speaks for the first named.%s%s", verdicts,
        p->unmarked ? " Where an interval has no mark, no one ratio is the likeliest." : "",
        p->count > 1
            ? " The verdicts hold for all pairs together, and each interval is the one its verdict goes by."
            : "");
}

static const char *title(hf_chart *chart, const ratios_picture *p) {
    if (p->count == 1) {
        const hf_comparison_pair *pair = &p->result->pairs[0];
        return hf_chart_format(chart, "%s: %s", pair_name(chart, p, pair, TITLE_WIDTH),
                               hf_ratio_verdict(chart, p->result, pair));
    }
    return hf_chart_format(chart, "In %zu of %zu pairs one design is the stronger", p->told, p->count);
}

/* Room to the right for the figures of each row. */
static double figures_room(hf_chart *chart, const ratios_picture *p) {
    double widest = 0;
    for (size_t i = 0; i < p->count; i++)
        if (is_compared(&p->result->pairs[i]))
            widest = fmax(widest, hf_label_width(hf_ratio_figures(chart, &p->result->pairs[i])));
    return widest + 34;
}

const char *hf_chart_ratios(hf_chart *chart, const hf_chart_subject *subject) {
    ratios_picture *p = HF_ARENA_NEW(chart->words.arena, ratios_picture);
    if (!p) {
        chart->out->failed = true;
        return NULL;
    }
    collect(subject->comparison, p);
    if (!p->count) return "there is one design in this file, nothing to compare it with";
    if (p->open == p->count) return "no pair of designs could be compared";
    if (p->count > HF_RATIOS_ROWS)
        return hf_chart_matrix(chart, p->result, title(chart, p), counted_verdicts(chart, p));
    choose_lines(chart, p);
    double row = row_height(chart, p);
    chart->ungridded = true;
    chart->plot = (hf_place_box){SIDE, TOP, chart->width - (chart->narrow ? SIDE : figures_room(chart, p)),
                                 TOP + (double)p->count * row};
    chart->x = hf_scale_log(p->least, p->most, chart->plot.left, chart->plot.right);
    fill_key(chart, p);
    double key = chart->plot.bottom + 46;
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6, title(chart, p),
                  finding(chart, p));
    if (p->result->options.same_within > 0) draw_same(chart, p->result->options.same_within);
    hf_axis_bottom(chart, "ratio of strengths, first over second");
    for (size_t i = 0; i < p->count; i++)
        (chart->narrow ? draw_row_narrow : draw_row)(chart, p, &p->result->pairs[i],
                                                     chart->plot.top + (double)i * row);
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
