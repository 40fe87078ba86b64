/* Every pull as a bar from what it held to what broke it, weakest first. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "report/chart.h"

enum {
    NAMED_ROWS = 45,
    NAME_APART = 18,
    ROW = 18,
    TALLEST = 900,
    NAME_WIDTH = 180,
    MODE_WIDTH = 210,
    OTHER = HF_SHAPES - 1,
    LINES_MOST = 3,
    KEYS_MOST = HF_SHAPES + 7
};

static const double log_from_ratio = 50; /* loads further apart than this need a logarithmic axis */
static const double log_below = 1000; /* how far below the weakest pull such an axis may reach for a line */
static const double narrow =
    0.125; /* pulls within this share of the axis are drawn on one that starts near them */
static const double alike = 1e-6; /* closer together than this, no axis tells them apart */
static const double shape_row =
    8; /* rows narrower than this share one shape where pulls and modes are equal */

typedef struct pulls_picture {
    const hf_specimen **rows;
    size_t count, broken, spans, open, rig, below, set;
    bool from_zero;               /* a pull that is drawn from 0 on */
    const char *modes[HF_SHAPES]; /* by shape; the last stands for all further ones */
    size_t mode_count;
    double least, greatest; /* in the unit shown; least above 0 */
    hf_named_line lines[LINES_MOST];
    size_t line_count;
    hf_key_entry keys[KEYS_MOST];
    size_t key_count;
} pulls_picture;

static const char *mode_of(const hf_specimen *specimen) {
    return specimen->mode ? specimen->mode : "mode not stated";
}

static bool is_alike(const hf_specimen *a, const hf_specimen *b) {
    return a->pull.kind == b->pull.kind && a->pull.lower == b->pull.lower && a->pull.upper == b->pull.upper &&
           strcmp(mode_of(a), mode_of(b)) == 0;
}

static int weaker_first(const void *a, const void *b) {
    const hf_specimen *left = *(const hf_specimen *const *)a, *right = *(const hf_specimen *const *)b;
    if (left->pull.lower != right->pull.lower) return left->pull.lower < right->pull.lower ? -1 : 1;
    if (left->pull.upper != right->pull.upper) return left->pull.upper < right->pull.upper ? -1 : 1;
    int modes = strcmp(mode_of(left), mode_of(right));
    return modes ? modes : strcmp(left->id, right->id);
}

static size_t shape_of(pulls_picture *p, const hf_specimen *specimen) {
    const char *mode = mode_of(specimen);
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

static bool collect(hf_chart *chart, const hf_design *design, pulls_picture *p) {
    p->least = INFINITY;
    p->greatest = 0;
    p->rows = HF_ARENA_NEW_ARRAY(chart->words.arena, const hf_specimen *, design->specimen_count + 1);
    if (!p->rows) return false;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *specimen = &design->specimens[i];
        if (specimen->pull.kind == HF_PULL_NONE) continue;
        p->rows[p->count++] = specimen;
        reach(p, hf_in_unit(chart->words.style, specimen->pull.lower));
        reach(p, hf_in_unit(chart->words.style, specimen->pull.upper));
        p->rig += specimen->outcome == HF_OUTCOME_RIG;
        p->open += specimen->pull.kind == HF_PULL_ABOVE && specimen->outcome != HF_OUTCOME_RIG;
        p->below += specimen->pull.kind == HF_PULL_BELOW;
        p->spans += specimen->pull.kind != HF_PULL_ABOVE && specimen->pull.kind != HF_PULL_BELOW &&
                    specimen->pull.lower < specimen->pull.upper;
        p->from_zero = p->from_zero || !(specimen->pull.lower > 0);
        p->set += specimen->set.kind != HF_PULL_NONE && isfinite(specimen->set.upper);
        if (specimen->pull.kind != HF_PULL_ABOVE) {
            p->broken++;
            (void)shape_of(p, specimen);
        }
    }
    qsort(p->rows, p->count, sizeof *p->rows, weaker_first);
    return true;
}

static void add_line(hf_chart *chart, pulls_picture *p, double newtons, const char *name, const char *look) {
    if (!isfinite(newtons) || newtons <= 0) return;
    double value = hf_in_unit(chart->words.style, newtons);
    if (value > p->least / log_below) reach(p, value);
    p->lines[p->line_count++] = (hf_named_line){
        value, hf_chart_format(chart, "%s %s", name, hf_chart_load_down(chart, newtons)), look};
}

static void add_key(pulls_picture *p, const char *text, int shape, const char *look, bool arrow) {
    p->keys[p->key_count++] = (hf_key_entry){text, shape, look, arrow};
}

static double row_height(const pulls_picture *p) {
    return fmin(ROW, TALLEST / (double)p->count);
}

/* One part in so many is named, so that no two names touch. */
static size_t name_stride(const pulls_picture *p) {
    return p->count <= NAMED_ROWS ? 1 : (size_t)ceil(NAME_APART / row_height(p));
}

/* One pull in so many is drawn where a row would be finer than the paper. */
static size_t draw_stride(const pulls_picture *p) {
    return row_height(p) >= 1 ? 1 : (size_t)ceil(1 / row_height(p));
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
    if (p->spans)
        add_key(p, "held to failed", HF_KEY_STROKE, row_height(p) >= shape_row ? "b thick" : "b line", false);
    if (p->below) add_key(p, "failed at the first load", HF_KEY_STROKE, "b line dash", false);
    if (p->open) add_key(p, "still whole", HF_KEY_STROKE, "b line", true);
    if (p->rig) add_key(p, "rig let go, part whole", HF_KEY_STROKE, "b line dot", true);
    if (p->set) add_key(p, "set seen", HF_KEY_UPRIGHT, "g line", false);
    if (name_stride(p) > 1)
        add_key(p, hf_chart_format(chart, "every %s part named", ordinal(chart, name_stride(p))), HF_KEY_NOTE,
                NULL, false);
    if (draw_stride(p) > 1)
        add_key(p, hf_chart_format(chart, "every %s pull drawn", ordinal(chart, draw_stride(p))), HF_KEY_NOTE,
                NULL, false);
}

/* Places beyond the axis (a lower end of 0 on a logarithmic one) stand at its start. */
static double place(const hf_chart *chart, double newtons) {
    double value = hf_in_unit(chart->words.style, newtons);
    if (value <= chart->x.low) return chart->plot.left;
    return hf_scale_place(&chart->x, value);
}

static void draw_pull(hf_chart *chart, const hf_specimen *specimen, double y, double row) {
    const hf_pull *pull = &specimen->pull;
    double from = place(chart, pull->lower);
    if (specimen->set.kind != HF_PULL_NONE && isfinite(specimen->set.upper)) {
        double x = place(chart, specimen->set.upper), half = fmax(row / 2.6, 3);
        hf_mark_stroke(chart, (hf_point){x, y - half}, (hf_point){x, y + half}, "g line");
    }
    if (pull->kind == HF_PULL_ABOVE) {
        hf_mark_arrow(chart, (hf_point){from, y}, chart->plot.right + 14,
                      specimen->outcome == HF_OUTCOME_RIG ? "b line dot" : "b line");
        return;
    }
    double to = place(chart, pull->upper);
    if (pull->kind == HF_PULL_BELOW)
        hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y}, "b line dash");
    else
        hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y},
                       row >= shape_row ? "b thick" : "b line");
}

/* The shapes of the modes at the failing ends. */
static void draw_shapes(hf_chart *chart, pulls_picture *p, double row) {
    size_t run, stride = draw_stride(p);
    for (size_t i = 0; i < p->count; i += run) {
        run = 1;
        while (row < shape_row && i + run < p->count && is_alike(p->rows[i], p->rows[i + run])) run++;
        bool drawn = (i + run - 1) / stride * stride >= i;
        if (p->rows[i]->pull.kind == HF_PULL_ABOVE || !drawn) continue;
        hf_point at = {place(chart, p->rows[i]->pull.upper),
                       chart->plot.top + ((double)i + 0.5 * (double)run) * row};
        hf_mark_shape(chart, at, shape_of(p, p->rows[i]), fmax(2.5, fmin(4.5, (double)run * row / 3)), NULL);
    }
}

static void draw_rows(hf_chart *chart, pulls_picture *p) {
    double row = (chart->plot.bottom - chart->plot.top) / (double)p->count;
    for (size_t i = 0; i < p->count; i++) {
        double y = chart->plot.top + ((double)i + 0.5) * row;
        if (i % draw_stride(p) == 0) draw_pull(chart, p->rows[i], y, row);
        if (i % name_stride(p) == 0)
            (void)hf_label_put(chart, (hf_point){chart->plot.left - 8, y + 5}, HF_ANCHOR_END,
                               hf_chart_cut(chart, p->rows[i]->id, NAME_WIDTH));
    }
    draw_shapes(chart, p, row);
}

static double name_room(hf_chart *chart, const pulls_picture *p) {
    double widest = 0;
    for (size_t i = 0; i < p->count; i += name_stride(p))
        widest = fmax(widest, hf_label_width(hf_chart_cut(chart, p->rows[i]->id, NAME_WIDTH)));
    return widest + 18;
}

static const char *counted(hf_chart *chart, size_t count, const char *one, const char *many) {
    return hf_chart_format(chart, "%zu %s", count, count == 1 ? one : many);
}

static const char *finding(hf_chart *chart, const pulls_picture *p, const hf_design_assessment *design) {
    const hf_event_assessment *event = &design->break_event;
    hf_document *d = &chart->words;
    const char *what =
        hf_chart_format(chart, "%s, weakest first: %zu failed, %zu still whole%s.",
                        counted(chart, p->count, "pull", "pulls"), p->broken, p->open + p->rig,
                        p->rig ? hf_chart_format(chart, " (%zu because the rig let go)", p->rig) : "");
    const char *bound =
        event->governing && isfinite(event->governing->value)
            ? hf_chart_format(chart, " At least %s of all parts carry %s, with %s confidence.",
                              hf_percent_text(d, design->content, 5),
                              hf_chart_load_down(chart, event->governing->value),
                              hf_percent_text(d, design->confidence, 5))
            : " These pulls give no bound.";
    const char *working =
        isfinite(design->working_load)
            ? hf_chart_format(chart, " Working load %s.", hf_chart_load_down(chart, design->working_load))
            : "";
    return hf_chart_format(chart, "%s%s%s", what, bound, working);
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
    double margin = 0.05 * (p->greatest - p->least);
    if (near)
        chart->x = hf_scale_linear(p->least - margin, p->greatest, chart->plot.left, chart->plot.right);
    else if (p->greatest > log_from_ratio * p->least)
        chart->x = hf_scale_log(p->least, p->greatest, chart->plot.left, chart->plot.right);
    else
        chart->x = hf_scale_linear(0, p->greatest, chart->plot.left, chart->plot.right);
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
    add_line(chart, p, design->working_load, "working load", "v line dash");
    if (event->governing) add_line(chart, p, event->governing->value, "bound", "v line");
    fill_key(chart, p);
    double rows = (double)p->count * row_height(p), top = 34 + hf_lanes_height(p->line_count);
    chart->plot = (hf_place_box){name_room(chart, p), top, HF_CHART_WIDTH - 34, top + fmax(rows, 40)};
    bool near = starts_near(p, design);
    set_scales(chart, p, near);
    double key = chart->plot.bottom + 46;
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6,
                  hf_chart_format(chart, "Every pull: %s",
                                  design->design->name ? design->design->name : design->design->id),
                  finding(chart, p, design));
    hf_axis_bottom(chart, hf_chart_format(chart, "load on the part, %s%s", chart->words.style->unit->name,
                                          near ? " (axis does not start at 0)" : ""));
    hf_lines_upright(chart, p->lines, p->line_count);
    draw_rows(chart, p);
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
