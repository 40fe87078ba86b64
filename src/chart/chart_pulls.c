/* Every pull as a bar from what it held to what broke it, weakest first. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "words/assess_words.h"
#include "chart/chart_pulls.h"

enum {
    NAME_APART = 18,
    ROW = 18,
    TALLEST = HF_PULLS_NAMED_ROWS * ROW,
    NAME_WIDTH = 180,
    NAME_WIDTH_NARROW = 92,
    MODE_WIDTH = 210,
    OTHER = HF_SHAPES - 1,
    LINES_MOST = 3,
    MANY_ROWS = 24,
    KEYS_MOST = HF_SHAPES + 7
};

static const double log_from_ratio = 50; /* loads further apart than this need a logarithmic axis */
static const double log_below = 1000; /* how far below the weakest pull such an axis may reach for a line */
static const double narrow =
    0.125; /* pulls within this share of the axis are drawn on one that starts near them */
static const double alike = 1e-6;     /* closer together than this, no axis tells them apart */
static const double thick_row = 11;   /* rows narrower than this have no room for thick bars */
static const double dot_share = 0.01; /* of the greatest load: shorter pulls are dots rather than bars */

typedef struct pulls_picture {
    hf_pulls_item *pulls;
    hf_pulls_rows rows;
    size_t count, broken, spans, open, rig, below, set, long_ones;
    bool from_zero;               /* a pull that is drawn from 0 on */
    const char *modes[HF_SHAPES]; /* by shape; the last stands for all further ones */
    size_t mode_count;
    double least, greatest; /* in the unit shown; least above 0 */
    double outlasted;       /* greatest load that a part outlasted, in the unit shown; −∞: none */
    double first_broken, last_broken; /* least and greatest load that broke a part, newtons */
    hf_named_line lines[LINES_MOST];
    size_t line_count;
    hf_key_entry keys[KEYS_MOST];
    size_t key_count;
} pulls_picture;

static size_t shape_of(pulls_picture *p, const hf_specimen *specimen) {
    const char *mode = specimen->mode ? specimen->mode : "mode not stated";
    for (size_t i = 0; i < p->mode_count && i < OTHER; i++)
        if (strcmp(p->modes[i], mode) == 0) return i;
    if (p->mode_count < OTHER) {
        p->modes[p->mode_count] = mode;
        return p->mode_count++;
    }
    p->mode_count = HF_SHAPES;
    p->modes[OTHER] = "other modes";
    return OTHER;
}

static void reach(pulls_picture *p, double value) {
    if (!isfinite(value)) return;
    if (value > 0) p->least = fmin(p->least, value);
    p->greatest = fmax(p->greatest, value);
}

static void collect_one(hf_chart *chart, pulls_picture *p, const hf_specimen *specimen) {
    const hf_pull *pull = &specimen->pull;
    const hf_report_style *style = chart->words.style;
    hf_pulls_item *item = &p->pulls[p->count++];
    *item = (hf_pulls_item){specimen, hf_pulls_state_of(specimen), 0};
    reach(p, hf_in_unit(style, pull->lower));
    reach(p, hf_in_unit(style, pull->upper));
    p->from_zero = p->from_zero || !(pull->lower > 0);
    p->set += specimen->set.kind != HF_INTERVAL_NONE && isfinite(specimen->set.upper);
    if (pull->kind == HF_INTERVAL_ABOVE) {
        p->rig += specimen->outcome == HF_OUTCOME_RIG;
        p->open += specimen->outcome != HF_OUTCOME_RIG;
        p->outlasted = fmax(p->outlasted, hf_in_unit(style, pull->lower));
        return;
    }
    p->below += pull->kind == HF_INTERVAL_BELOW;
    p->spans += pull->kind != HF_INTERVAL_BELOW && pull->lower < pull->upper;
    p->broken++;
    p->first_broken = fmin(p->first_broken, pull->upper);
    p->last_broken = fmax(p->last_broken, pull->upper);
    item->shape = shape_of(p, specimen);
}

static bool broken(const hf_specimen *specimen) {
    return specimen->pull.kind != HF_INTERVAL_NONE && specimen->pull.kind != HF_INTERVAL_ABOVE;
}

/* A mode that is not stated last. */
static int by_mode(const void *a, const void *b) {
    const char *x = (*(const hf_specimen *const *)a)->mode, *y = (*(const hf_specimen *const *)b)->mode;
    return x && y ? strcmp(x, y) : (x == NULL) - (y == NULL);
}

/* Shapes go by the names of the modes, whatever the order of the parts. */
static bool choose_shapes(hf_chart *chart, const hf_design *design, pulls_picture *p) {
    const hf_specimen **failed =
        HF_ARENA_NEW_ARRAY(chart->words.arena, const hf_specimen *, design->specimen_count + 1);
    size_t count = 0;
    if (!failed) return false;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (broken(&design->specimens[i])) failed[count++] = &design->specimens[i];
    qsort(failed, count, sizeof *failed, by_mode);
    for (size_t i = 0; i < count; i++) (void)shape_of(p, failed[i]);
    return true;
}

static bool collect(hf_chart *chart, const hf_design *design, pulls_picture *p) {
    p->least = p->first_broken = INFINITY;
    p->outlasted = p->last_broken = -INFINITY;
    p->pulls = HF_ARENA_NEW_ARRAY(chart->words.arena, hf_pulls_item, design->specimen_count + 1);
    if (!p->pulls || !choose_shapes(chart, design, p)) return false;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (design->specimens[i].pull.kind != HF_INTERVAL_NONE) collect_one(chart, p, &design->specimens[i]);
    for (size_t i = 0; i < p->count; i++) {
        const hf_pull *pull = &p->pulls[i].specimen->pull;
        p->long_ones += hf_in_unit(chart->words.style, pull->upper - pull->lower) > dot_share * p->greatest;
    }
    return hf_pulls_arrange(chart, p->pulls, p->count, p->long_ones == 0, &p->rows);
}

/* Ascending, so that no line crosses the name of another. */
static void add_line(hf_chart *chart, pulls_picture *p, double newtons, const char *name, const char *look) {
    if (!isfinite(newtons) || newtons <= 0) return;
    double value = hf_in_unit(chart->words.style, newtons);
    if (value > p->least / log_below) reach(p, value);
    size_t at = p->line_count++;
    for (; at > 0 && p->lines[at - 1].value > value; at--) p->lines[at] = p->lines[at - 1];
    p->lines[at] = (hf_named_line){value, name, look};
}

static void add_key(pulls_picture *p, const char *text, int shape, const char *look, bool arrow) {
    p->keys[p->key_count++] = (hf_key_entry){text, shape, look, arrow};
}

static double row_height(const pulls_picture *p) {
    return fmin(ROW, TALLEST / (double)p->rows.count);
}

/* One part in so many is named, so that no two names touch. */
static size_t name_stride(const pulls_picture *p) {
    return p->rows.count <= HF_PULLS_NAMED_ROWS ? 1 : (size_t)ceil(NAME_APART / row_height(p));
}

static const char *ordinal(hf_chart *chart, size_t number) {
    size_t last = number % 100 / 10 == 1 ? 0 : number % 10;
    return hf_chart_format(chart, "%zu%s", number,
                           last == 1   ? "st"
                           : last == 2 ? "nd"
                           : last == 3 ? "rd"
                                       : "th");
}

static void fill_key(hf_chart *chart, pulls_picture *p) {
    for (size_t i = 0; i < p->mode_count; i++)
        add_key(p, hf_chart_cut(chart, p->modes[i], MODE_WIDTH), (int)i, NULL, false);
    if (p->spans || (p->rows.sharing == HF_PULLS_SUMMARY && p->broken > p->below))
        add_key(p, p->rows.sharing == HF_PULLS_SUMMARY ? "least held to greatest failed" : "held to failed",
                HF_KEY_STROKE, row_height(p) >= thick_row ? "b thick" : "b line", false);
    if (p->below) add_key(p, "failed at the first load", HF_KEY_STROKE, "b line dash", false);
    if (p->open) add_key(p, "still whole", HF_KEY_STROKE, "b line", true);
    if (p->rig) add_key(p, "rig let go, part whole", HF_KEY_STROKE, "b line dot", true);
    if (p->set) add_key(p, "set seen", HF_KEY_UPRIGHT, "g line", false);
    if (name_stride(p) > 1)
        add_key(p, hf_chart_format(chart, "every %s part named", ordinal(chart, name_stride(p))), HF_KEY_NOTE,
                NULL, false);
    if (p->rows.sharing != HF_PULLS_SINGLE)
        add_key(p, p->rows.sharing == HF_PULLS_ALIKE ? "× n: n pulls alike" : "× n: n pulls in one row",
                HF_KEY_NOTE, NULL, false);
}

/* Places beyond the axis (a lower end of 0 on a logarithmic one) stand at its start. */
static double place(const hf_chart *chart, double newtons) {
    double value = hf_in_unit(chart->words.style, newtons);
    if (value <= chart->x.low) return chart->plot.left;
    return hf_scale_place(&chart->x, value);
}

/* Once for each place on the paper. */
static void draw_sets(hf_chart *chart, const hf_pulls_row *row, double y, double height) {
    double last = -INFINITY, half = fmax(height / 2.6, 3);
    for (size_t i = 0; i < row->count; i++) {
        const hf_pull *set = &row->pulls[i].specimen->set;
        double x = set->kind != HF_INTERVAL_NONE && isfinite(set->upper) ? place(chart, set->upper) : last;
        if (fabs(x - last) < 1 || x == last) continue;
        hf_mark_stroke(chart, (hf_point){x, y - half}, (hf_point){x, y + half}, "g line");
        last = x;
    }
}

static void draw_bar(hf_chart *chart, const hf_pulls_row *row, double y, double height) {
    hf_pulls_state state = row->pulls[0].state;
    double from = place(chart, row->lower);
    if (state >= HF_PULLS_WHOLE) {
        hf_mark_arrow(chart, (hf_point){from, y}, chart->plot.right,
                      state == HF_PULLS_RIG ? "b line dot" : "b line");
        return;
    }
    double to = place(chart, row->upper);
    hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y},
                   state == HF_PULLS_FIRST_LOAD ? "b line dash"
                   : height >= thick_row        ? "b thick"
                                                : "b line");
}

static double name_width(const hf_chart *chart) {
    return chart->narrow ? NAME_WIDTH_NARROW : NAME_WIDTH;
}

static const char *row_name(hf_chart *chart, const hf_pulls_row *row) {
    if (row->count > 1) return hf_chart_format(chart, "× %zu", row->count);
    return hf_chart_cut(chart, row->pulls[0].specimen->id, name_width(chart));
}

/* How long the bars from held to failed are drawn on average; 0: there are none. */
static double bar_length(const hf_chart *chart, const pulls_picture *p) {
    double length = 0;
    size_t bars = 0;
    for (size_t i = 0; i < p->rows.count; i++) {
        const hf_pulls_row *row = &p->rows.rows[i];
        if (row->pulls[0].state != HF_PULLS_FAILED || !(row->lower < row->upper)) continue;
        length += place(chart, row->upper) - place(chart, row->lower);
        bars++;
    }
    return bars ? length / (double)bars : 0;
}

/* Small where rows are low or many, and where bars are short: a bar that its shape hides says nothing. */
static double shape_size(const hf_chart *chart, const pulls_picture *p, double height) {
    double size = fmin(4.5, height / 3), length = bar_length(chart, p),
           least = p->mode_count > 1 ? 3.2 : 2.5; /* shapes that can be told apart */
    if (p->rows.count > MANY_ROWS) size = fmin(size, 3.6);
    if (length > 3) size = fmin(size, fmax(least, length / 2.6));
    return fmax(2.5, size);
}

static void draw_rows(hf_chart *chart, pulls_picture *p) {
    size_t stride = name_stride(p);
    double height = (chart->plot.bottom - chart->plot.top) / (double)p->rows.count;
    for (size_t i = 0; i < p->rows.count; i++) {
        double y = chart->plot.top + ((double)i + 0.5) * height;
        draw_sets(chart, &p->rows.rows[i], y, height);
        draw_bar(chart, &p->rows.rows[i], y, height);
        if (i % stride == 0)
            (void)hf_label_put(chart, (hf_point){chart->plot.left - 8, y + 5}, HF_ANCHOR_END,
                               row_name(chart, &p->rows.rows[i]));
    }
    double size = shape_size(chart, p, height);
    for (size_t i = 0; i < p->rows.count; i++) {
        const hf_pulls_row *row = &p->rows.rows[i];
        if (row->pulls[0].state >= HF_PULLS_WHOLE) continue;
        hf_point at = {place(chart, row->upper), chart->plot.top + ((double)i + 0.5) * height};
        hf_mark_shape(chart, at, row->pulls[0].shape, size, NULL);
    }
}

static double name_room(hf_chart *chart, const pulls_picture *p) {
    double widest = 0;
    for (size_t i = 0; i < p->rows.count; i += name_stride(p))
        widest = fmax(widest, hf_label_width(row_name(chart, &p->rows.rows[i])));
    return widest + 18;
}

/* The figures are the loads that broke the parts. */
static const char *title(hf_chart *chart, const pulls_picture *p, const hf_design *design) {
    size_t whole = p->open + p->rig;
    const char *name = hf_chart_design(chart, design),
               *first = hf_chart_load_observed(chart, p->first_broken),
               *last = hf_chart_load_observed(chart, p->last_broken);
    if (!p->broken) return hf_chart_format(chart, "%s: %zu still whole, none failed", name, whole);
    return hf_chart_format(chart, "%s: %s%zu failed at %s%s", name, !whole && p->broken > 1 ? "all " : "",
                           p->broken,
                           strcmp(first, last) == 0 ? first : hf_chart_format(chart, "%s to %s", first, last),
                           whole ? hf_chart_format(chart, ", %zu still whole", whole) : "");
}

static const char *sharing_words(const pulls_picture *p) {
    static const char *const words[] = {
        [HF_PULLS_SINGLE] = "",
        [HF_PULLS_ALIKE] = " Pulls alike share a row, with their number beside it.",
        [HF_PULLS_SUMMARY] = " This is a summary: pulls that ended alike and are next to each other share a "
                             "row, with their number "
                             "beside it. Its bar reaches from the least load held to the greatest that broke "
                             "one, its arrow starts "
                             "at the least load outlasted."};
    return words[p->rows.sharing];
}

static const char *promised(hf_chart *chart, const hf_design_assessment *design) {
    const hf_bound *bound = design->break_event.governing;
    if (!bound || !isfinite(bound->value)) return " These pulls give no bound.";
    if (!(bound->value > 0)) return " These pulls give no bound above zero.";
    const char *share = hf_show_text(&chart->words, HF_AS_SHARE_STATED, design->content),
               *load = hf_chart_load_bound(chart, bound->value);
    if (hf_governing_rejected(&design->break_event))
        return hf_chart_format(
            chart, " That at least %s of all parts carry %s leans on a law that its test rejects.", share,
            load);
    return hf_chart_format(chart, " At least %s of all parts carry %s, with %s confidence.", share, load,
                           hf_show_text(&chart->words, HF_AS_SHARE_STATED, design->confidence));
}

static const char *finding(hf_chart *chart, const pulls_picture *p, const hf_design_assessment *design) {
    size_t whole = p->open + p->rig;
    const char *ended =
        !whole       ? (p->count == 1 ? "failed" : hf_chart_format(chart, "all %zu failed", p->broken))
        : !p->broken ? hf_chart_format(chart, "none failed, %zu still whole", whole)
                     : hf_chart_format(chart, "%zu failed, %zu still whole", p->broken, whole);
    const char *what =
        hf_chart_format(chart, "%s, %s: %s%s.", hf_chart_count(chart, p->count, "pull", "pulls"),
                        whole || p->below ? "sorted by the load held" : "weakest first", ended,
                        p->rig ? hf_chart_format(chart, " (%zu because the rig let go)", p->rig) : "");
    const char *working =
        isfinite(design->working_load) && design->working_load > 0
            ? hf_chart_format(chart, " Working load %s.", hf_chart_load_down(chart, design->working_load))
            : "";
    return hf_chart_format(chart, "%s%s%s%s", what, promised(chart, design), working, sharing_words(p));
}

/* Far from 0 and close together they would all stand in one line. The working load is judged by its distance from 0. */
static bool starts_near(const pulls_picture *p, const hf_design_assessment *design) {
    double range = p->greatest - p->least;
    if (isfinite(design->working_load) || p->from_zero || p->set) return false;
    for (size_t i = 0; i < p->line_count; i++)
        if (p->lines[i].value < p->least) return false;
    return range < narrow * p->greatest && range > alike * p->greatest;
}

static void set_scales(hf_chart *chart, const pulls_picture *p, bool near) {
    bool log = !near && p->greatest > log_from_ratio * p->least;
    double low = near ? p->least - 0.05 * (p->greatest - p->least) : log ? p->least : 0;
    double high = hf_scale_past(low, p->greatest, p->outlasted, log);
    chart->x = log ? hf_scale_log(low, high, chart->plot.left, chart->plot.right)
                   : hf_scale_linear(low, high, chart->plot.left, chart->plot.right);
}

const char *hf_chart_pulls(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_design_assessment *design = subject->design;
    const hf_event_assessment *event = &design->break_event;
    pulls_picture *p = HF_ARENA_NEW(chart->words.arena, pulls_picture);
    if (!p || !collect(chart, design->design, p)) {
        chart->out->failed = true;
        return NULL;
    }
    if (!p->count || !(p->greatest > 0)) return "no part of this design has been pulled";
    add_line(chart, p, design->working_load,
             hf_chart_format(chart, "working load %s", hf_chart_load_down(chart, design->working_load)),
             "v line");
    if (event->governing)
        add_line(chart, p, event->governing->value,
                 hf_chart_format(chart, "bound %s%s", hf_chart_load_bound(chart, event->governing->value),
                                 hf_chart_rejected(event)),
                 "v line");
    add_line(chart, p, hf_chart_asked(design->design), hf_chart_asked_words(chart, design->design),
             "ask line dash");
    fill_key(chart, p);
    double rows = (double)p->rows.count * row_height(p), top = 34 + hf_lanes_height(p->line_count);
    chart->plot = (hf_place_box){name_room(chart, p), top, chart->width - 34, top + fmax(rows, 40)};
    bool near = starts_near(p, design);
    set_scales(chart, p, near);
    double key = chart->plot.bottom + HF_AXIS_LOAD;
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6, title(chart, p, design->design),
                  finding(chart, p, design));
    hf_axis_load(chart, design->answer.mass_unit, near ? " (axis does not start at 0)" : "");
    hf_lines_upright(chart, p->lines, p->line_count);
    draw_rows(chart, p);
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
