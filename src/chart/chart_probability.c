/* The pulls on the probability paper of one law: its straight line, and below it what is promised of every share, the bound among it. */
#include <float.h>
#include <math.h>
#include <string.h>
#include "chart/chart.h"

enum {
    PANEL = 320,
    HEAD = 26,
    HEAD_NARROW = 44,
    KEYS_MOST = 9,
    RAIL = 24, /* lane for the parts still whole, below all shares */
    ARROW = 16,
    SIDE = 12,
    LEFT = 72,
    RIGHT = 34
};

typedef struct probability_picture {
    const hf_probability_plot *plot;
    const hf_design_assessment *design;
    size_t law;        /* in the family table */
    size_t groups;     /* failed marks that stand apart */
    bool whole, alike; /* a part still whole; a mark or an arrow of several parts */
    double low, high;  /* ends of the axis, in the unit shown */
    hf_key_entry keys[KEYS_MOST];
    size_t key_count;
} probability_picture;

static double shown(const hf_chart *chart, double newtons) {
    return hf_in_unit(chart->words.style, newtons);
}

/* --- Scales ------------------------------------------------------------------------------------------ */

/* Loads are positive; where a law says otherwise its line is cut. */
static void reach(double value, double *least, double *most) {
    if (!isfinite(value) || !(value > 0)) return;
    *least = fmin(*least, value);
    *most = fmax(*most, value);
}

/* The curve too where it asks for no more than a fifth of the width. */
static void reach_curve(const hf_chart *chart, const hf_probability_plot *plot, double *least,
                        const double *most) {
    double low = hf_family_working(plot->law, *least), high = hf_family_working(plot->law, *most),
           first = low;
    for (size_t i = 0; i < plot->tolerance.count; i++) {
        double at = shown(chart, plot->tolerance.load[i]);
        if (at > 0) first = fmin(first, hf_family_working(plot->law, at));
    }
    *least = hf_family_load(plot->law, fmax(first, low - (high - low) / 5));
}

/* Room for the marks, the line and the bound; the curve is cut where it leaves that. */
static void measure_loads(const hf_chart *chart, probability_picture *p) {
    const hf_family *family = p->plot->law;
    const hf_probability_line *line = &p->plot->lines[p->law];
    const hf_bound *bound = p->plot->bound;
    double least = INFINITY, most = -INFINITY;
    double outlasted = -INFINITY;
    for (size_t i = 0; i < p->plot->count; i++) {
        const hf_probability_mark *mark = &p->plot->marks[i];
        reach(shown(chart, mark->lower), &least, &most);
        reach(shown(chart, mark->upper), &least, &most);
        if (mark->kind == HF_INTERVAL_ABOVE) outlasted = fmax(outlasted, shown(chart, mark->lower));
    }
    double furthest = most;
    for (size_t i = 0; line->available && i < HF_PROBABILITY_POINTS; i++) {
        double at = shown(chart, line->load[i]);
        if (at <= 10 * furthest) reach(at, &least, &most);
    }
    if (bound && shown(chart, bound->value) > furthest / 1e6)
        reach(shown(chart, bound->value), &least, &most);
    reach_curve(chart, p->plot, &least, &most);
    most = hf_scale_past(least, most, outlasted, family->log_scale);
    if (family->log_scale) {
        double margin = exp(0.04 * (log(most) - log(least))) * 1.01;
        p->low = fmax(least / margin, DBL_TRUE_MIN);
        p->high = fmin(most * margin, DBL_MAX);
        return;
    }
    double margin = fmax(0.04 * (most - least), 1e-3 * most);
    p->low = fmax(0, least - margin);
    p->high = fmin(most + margin, DBL_MAX);
}

static void set_scales(hf_chart *chart, const probability_picture *p) {
    const hf_family *family = p->plot->law;
    chart->x = (hf_scale){family->log_scale ? HF_SCALE_LOG : HF_SCALE_LINEAR,
                          NULL,
                          p->low,
                          p->high,
                          chart->plot.left,
                          chart->plot.right};
    chart->y = hf_scale_probability(family, p->plot->least, p->plot->most,
                                    chart->plot.bottom - (p->whole ? RAIL : 0), chart->plot.top);
}

static double within(const hf_chart *chart, double newtons) {
    return fmax(chart->x.low, fmin(chart->x.high, shown(chart, newtons)));
}

/* --- What stands in a panel -------------------------------------------------------------------------- */

/* Marks from `at` on that stand in one place: readings have one each. */
static size_t alike_from(const hf_probability_plot *plot, size_t at) {
    const hf_probability_mark *mark = &plot->marks[at];
    size_t run = 1;
    while (mark->lower < mark->upper && at + run < plot->count && plot->marks[at + run].kind == mark->kind &&
           plot->marks[at + run].lower == mark->lower && plot->marks[at + run].upper == mark->upper)
        run++;
    return run;
}

static hf_point place_of(const hf_chart *chart, const hf_probability_mark *mark) {
    bool log = chart->x.kind == HF_SCALE_LOG;
    return (hf_point){hf_scale_place(&chart->x, within(chart, hf_probability_mark_load(mark, log))),
                      hf_scale_place(&chart->y, log ? mark->share_log : mark->share)};
}

/* The bars are drawn before the band and the line, thin, and equal ones once: what the eye compares lies on top. */
static void draw_bars(hf_chart *chart, const hf_probability_plot *plot) {
    for (size_t i = 0; i < plot->failed; i += alike_from(plot, i)) {
        const hf_probability_mark *mark = &plot->marks[i];
        double from =
                   mark->lower > 0 ? hf_scale_place(&chart->x, within(chart, mark->lower)) : chart->plot.left,
               to = hf_scale_place(&chart->x, within(chart, mark->upper)), y = place_of(chart, mark).y;
        if (to > from)
            hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y},
                           mark->kind == HF_INTERVAL_BELOW ? "g line thin dash" : "g line thin");
    }
}

/* Far out, as far as a number of the picture goes. */
static double far(double place) {
    return isnan(place) ? -1e5 : fmax(-1e5, fmin(1e5, place));
}

/* What is promised of each share. */
static void draw_tolerance(hf_chart *chart, const hf_tolerance_curve *curve) {
    hf_point places[HF_TOLERANCE_POINTS];
    for (size_t i = 0; i < curve->count; i++)
        places[i] = (hf_point){far(hf_scale_place(&chart->x, shown(chart, curve->load[i]))),
                               hf_scale_place(&chart->y, curve->failed[i])};
    hf_mark_line_within(chart, places, curve->count, "keep");
}

static void draw_law(hf_chart *chart, const hf_probability_line *line) {
    hf_point middle[HF_PROBABILITY_POINTS];
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++)
        middle[i] = (hf_point){far(hf_scale_place(&chart->x, shown(chart, line->load[i]))),
                               hf_scale_place(&chart->y, line->failed[i])};
    hf_mark_line_within(chart, middle, HF_PROBABILITY_POINTS, "b");
}

/* Whether no other mark stands nearer to a number's middle than the one it belongs to. */
static bool is_nearest(const hf_chart *chart, const hf_probability_plot *plot, hf_point own,
                       hf_point middle) {
    double room = hypot(middle.x - own.x, middle.y - own.y);
    for (size_t i = 0; i < plot->failed; i += alike_from(plot, i)) {
        hf_point other = place_of(chart, &plot->marks[i]);
        bool same = other.x == own.x && other.y == own.y;
        if (!same && hypot(middle.x - other.x, middle.y - other.y) < room) return false;
    }
    return true;
}

/* The number of parts beside their mark; false: no text finds room. */
static bool put_number(hf_chart *chart, const hf_probability_plot *plot, hf_point at, size_t count) {
    if (count < 2) return true;
    const char *number = hf_chart_format(chart, "× %zu", count);
    double half = hf_label_width(number) / 2;
    return (is_nearest(chart, plot, at, (hf_point){at.x + 7 + half, at.y + 12}) &&
            hf_label_put(chart, (hf_point){at.x + 7, at.y + 16}, HF_ANCHOR_START, number)) ||
           (is_nearest(chart, plot, at, (hf_point){at.x - 7 - half, at.y - 10}) &&
            hf_label_put(chart, (hf_point){at.x - 7, at.y - 6}, HF_ANCHOR_END, number));
}

static void draw_marks(hf_chart *chart, const probability_picture *p) {
    double size = p->groups > 60 ? 2.5 : p->groups > 25 ? 3.2 : 4;
    for (size_t i = 0, run; i < p->plot->failed; i += run) {
        run = alike_from(p->plot, i);
        hf_mark_shape(chart, place_of(chart, &p->plot->marks[i]), 0, size, NULL);
    }
}

/* All numbers or none: a mark without one beside others with theirs would look like a single part. */
static void number_marks(hf_chart *chart, const hf_probability_plot *plot) {
    size_t length = chart->out->length, taken = chart->taken_count;
    for (size_t i = 0, run; i < plot->failed; i += run) {
        run = alike_from(plot, i);
        if (put_number(chart, plot, place_of(chart, &plot->marks[i]), run)) continue;
        if (!chart->out->failed) chart->out->bytes[chart->out->length = length] = '\0';
        chart->taken_count = taken;
        return;
    }
}

/* Parts still whole from `at` on whose arrows would touch. */
static size_t whole_from(hf_chart *chart, const hf_probability_plot *plot, size_t at) {
    double x = hf_scale_place(&chart->x, within(chart, plot->marks[at].lower)), taken = ARROW + 4;
    size_t run = 1;
    while (at + run < plot->count &&
           hf_scale_place(&chart->x, within(chart, plot->marks[at + run].lower)) < x + taken) {
        run++;
        taken = ARROW + 12 + hf_label_width(hf_chart_format(chart, "× %zu", run));
    }
    return run;
}

/* Arrows with the number of parts, in a lane of their own; those that would touch become one, from the least load outlasted on. */
static void draw_whole(hf_chart *chart, const hf_probability_plot *plot) {
    double y = chart->plot.bottom - RAIL / 2.0;
    hf_mark_stroke(chart, (hf_point){chart->plot.left, chart->plot.bottom - RAIL},
                   (hf_point){chart->plot.right, chart->plot.bottom - RAIL}, "grid");
    for (size_t i = plot->failed, run; i < plot->count; i += run) {
        double x = hf_scale_place(&chart->x, within(chart, plot->marks[i].lower));
        run = whole_from(chart, plot, i);
        hf_mark_arrow(chart, (hf_point){x, y}, x + ARROW, "b line");
        const char *number = hf_chart_format(chart, "× %zu", run);
        if (run > 1 && !hf_label_put(chart, (hf_point){x + ARROW + 4, y + 5}, HF_ANCHOR_START, number))
            (void)hf_label_put(chart, (hf_point){x - 4, y + 5}, HF_ANCHOR_END, number);
    }
}

/* The bound and how far it stands from the line at the same share. */
static void draw_bound(hf_chart *chart, const probability_picture *p) {
    const hf_bound *bound = p->plot->bound;
    double value = bound ? shown(chart, bound->value) : NAN, share = 1 - p->design->content;
    if (!(value >= chart->x.low && value <= chart->x.high)) return;
    hf_point at = {hf_scale_place(&chart->x, value), hf_scale_place(&chart->y, share)};
    if (p->plot->lines[p->law].available) {
        double load = hf_probability_line_at(&p->design->break_event.fits[p->law], share);
        hf_mark_stroke(chart, at, (hf_point){hf_scale_place(&chart->x, within(chart, load)), at.y},
                       "v line dash");
    }
    double foot =
        chart->plot.bottom - (p->plot->failed < p->plot->count ? RAIL : 0); /* above the lane of arrows */
    hf_mark_stroke(chart, at, (hf_point){at.x, fmax(foot, at.y)}, "v line");
    hf_mark_shape(chart, at, 3, 5, "want");
}

static const char *judged(const probability_picture *p) {
    const size_t law = p->law;
    const hf_event_assessment *event = &p->design->break_event;
    if (!event->tests[law].available) return "not tested";
    return event->tests[law].rejected ? "rejected" : "not rejected by its test";
}

static void heading(hf_chart *chart, const probability_picture *p, const char **name, const char **words) {
    const hf_event_assessment *event = &p->design->break_event;
    const hf_bound *bound = p->plot->bound;
    const size_t law = p->law;
    const char *label = hf_family_at(law)->label;
    bool rejected = event->tests[law].available && event->tests[law].rejected && bound && bound->family;
    bool governs = event->governing && event->governing->family == p->plot->law;
    const char *promise =
        bound && bound->value > 0
            ? hf_chart_format(chart, ", bound %s%s", hf_chart_load_bound(chart, bound->value),
                              rejected ? " if it held" : "")
        : bound ? ", no bound above zero"
                : "";
    bool fitted = event->fits[law].stop == HF_FIT_CONVERGED;
    *name = hf_chart_format(chart, "%s law%s", label, fitted && governs ? " (governs)" : "");
    *words = hf_chart_format(chart, "%s%s%s", fitted ? "" : "no line: ",
                             fitted ? judged(p) : hf_fit_stop_text(event->fits[law].stop), promise);
}

static void put_heading(hf_chart *chart, const probability_picture *p) {
    const char *name, *words;
    heading(chart, p, &name, &words);
    double y = chart->plot.top - 8, left = chart->narrow ? SIDE : chart->plot.left,
           room = chart->plot.right - left;
    if (chart->narrow) {
        (void)hf_label_put(chart, (hf_point){left, y - HF_LINE_HEIGHT}, HF_ANCHOR_START, name);
        (void)hf_label_put(chart, (hf_point){left, y}, HF_ANCHOR_START,
                           hf_chart_cut(chart, words, chart->width - 2 * left));
        return;
    }
    (void)hf_label_put(chart, (hf_point){left, y}, HF_ANCHOR_START,
                       hf_chart_cut(chart, hf_chart_format(chart, "%s: %s", name, words), room));
}

static void draw_panel(hf_chart *chart, const probability_picture *p) {
    const hf_probability_line *line = &p->plot->lines[p->law];
    put_heading(chart, p);
    chart->kept_tick = p->plot->bound ? 1 - p->design->content : 0;
    hf_axis_left(chart, NULL);
    hf_axis_load(chart, p->design->answer.mass_unit, "");
    draw_bars(chart, p->plot);
    draw_tolerance(chart, &p->plot->tolerance);
    draw_marks(chart, p);
    if (line->available) draw_law(chart, line);
    draw_bound(chart, p);
    if (p->whole) draw_whole(chart, p->plot);
    number_marks(chart, p->plot);
}

/* --- Around it --------------------------------------------------------------------------------------- */

static bool any_of(const hf_probability_plot *plot, hf_interval_kind kind) {
    for (size_t i = 0; i < plot->count; i++)
        if (plot->marks[i].kind == kind) return true;
    return false;
}

static bool any_line(const probability_picture *p) {
    return p->plot->lines[p->law].available;
}

static void add_key(probability_picture *p, const char *text, int shape, const char *look, bool arrow) {
    p->keys[p->key_count++] = (hf_key_entry){text, shape, look, arrow};
}

static void fill_key(hf_chart *chart, probability_picture *p) {
    const hf_bound *bound = p->plot->bound;
    const hf_fit_test *test = &p->design->break_event.tests[p->law];
    bool rejected = bound && bound->family && test->available && test->rejected;
    add_key(p, "failed", 0, NULL, false);
    if (any_of(p->plot, HF_INTERVAL_CLOSED))
        add_key(p, "held to failed", HF_KEY_STROKE, "g line thin", false);
    if (any_of(p->plot, HF_INTERVAL_BELOW))
        add_key(p, "failed at the first load", HF_KEY_STROKE, "g line thin dash", false);
    if (any_of(p->plot, HF_INTERVAL_ABOVE)) add_key(p, "still whole", HF_KEY_STROKE, "b line", true);
    if (any_line(p)) add_key(p, "fitted law", HF_KEY_STROKE, "b line", false);
    if (p->plot->tolerance.count)
        add_key(p,
                hf_chart_format(chart, "promised of each share, %s confidence",
                                hf_show_text(&chart->words, HF_AS_SHARE_STATED, p->plot->confidence)),
                HF_KEY_STROKE, "keep line", false);
    if (bound)
        add_key(p,
                hf_chart_format(chart, "bound: %s carry it%s",
                                hf_show_text(&chart->words, HF_AS_SHARE_STATED, p->design->content),
                                rejected ? " if the law holds" : ""),
                3, "want", false);
    if (p->alike) add_key(p, "× n, where there is room: n parts", HF_KEY_NOTE, NULL, false);
}

enum { SPEAKING = 30 }; /* fewer pulls rarely tell one law from another */

static bool is_few(const probability_picture *p) {
    return p->plot->count < SPEAKING;
}

static const char *verdict_words(hf_chart *chart, const probability_picture *p) {
    const hf_event_assessment *event = &p->design->break_event;
    const char *refused = NULL;
    size_t tested = 0, against = 0;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (!event->tests[i].available) continue;
        tested++;
        if (!event->tests[i].rejected) continue;
        const char *label = hf_family_at(i)->label;
        refused = against++ ? hf_chart_format(chart, "%s and the %s law", refused, label)
                            : hf_chart_format(chart, "the %s law", label);
    }
    if (!tested) return "No test of a law is possible with these pulls.";
    if (against > 2 && against == tested) return "The pulls speak against every law tested.";
    if (against) return hf_chart_format(chart, "The pulls speak against %s.", refused);
    return hf_chart_format(chart, "The pulls speak against %s%s.", "none of the laws",
                           is_few(p) ? "; with so few pulls that proves little" : "");
}

/* How the marks are placed. */
static const char *placing_words(hf_chart *chart, const probability_picture *p) {
    bool spans = any_of(p->plot, HF_INTERVAL_CLOSED), below = any_of(p->plot, HF_INTERVAL_BELOW);
    if (!spans && !below) return "";
    return hf_chart_format(chart,
                           " A circle stands %s; its height is the share failed by then, from the pulls "
                           "alone, without any law.",
                           !below ? "in the middle of its step"
                           : !spans
                               ? "at the load its part failed at"
                               : "in the middle of its step, or at the load itself where that was the first");
}

/* What lies on the curve. */
static const char *curve_words(const probability_picture *p) {
    return p->plot->tolerance.count
               ? " Left of the line stands what is promised of each share; the bound is one of them."
               : "";
}

static const char *finding(hf_chart *chart, const probability_picture *p) {
    size_t whole = p->plot->count - p->plot->failed;
    const char *parts =
        hf_chart_format(chart, "%s%s", hf_chart_count(chart, p->plot->failed, "failed part", "failed parts"),
                        whole ? hf_chart_format(chart, " and %zu still whole", whole) : "");
    if (!any_line(p)) return hf_chart_format(chart, "%s: no law can be fitted to them.", parts);
    return hf_chart_format(chart, "%s against the straight line of %s. %s%s%s", parts,
                           hf_chart_format(chart, "the %s law", p->plot->law->label), verdict_words(chart, p),
                           placing_words(chart, p), curve_words(p));
}

static const char *title(hf_chart *chart, const probability_picture *p) {
    const hf_event_assessment *event = &p->design->break_event;
    size_t tested = 0, rejected = 0;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (!event->tests[i].available) continue;
        tested++;
        rejected += event->tests[i].rejected;
    }
    const char *name = hf_chart_design(chart, p->design->design);
    if (!any_line(p)) return hf_chart_format(chart, "%s: no law can be fitted", name);
    if (!tested) return hf_chart_format(chart, "%s: share failed, against the line of the law", name);
    if (tested == 1)
        return hf_chart_format(chart, "%s: the law tested is %s", name,
                               rejected ? "rejected" : "not rejected");
    if (rejected == tested && tested > 1)
        return hf_chart_format(chart, "%s: all %zu laws rejected", name, tested);
    return rejected ? hf_chart_format(chart, "%s: %zu of %zu laws rejected", name, rejected, tested)
                    : hf_chart_format(chart, "%s: none of %zu laws rejected", name, tested);
}

/* What the key needs to know before anything is drawn. */
static void count_groups(hf_chart *chart, probability_picture *p) {
    const hf_probability_plot *plot = p->plot;
    p->whole = plot->failed < plot->count;
    measure_loads(chart, p);
    chart->plot = (hf_place_box){LEFT, 0, chart->width - RIGHT, 1};
    for (size_t i = 0, run; i < plot->failed; i += run) {
        run = alike_from(plot, i);
        p->groups++;
        p->alike = p->alike || run > 1;
    }
    set_scales(chart, p);
    for (size_t i = plot->failed; i < plot->count && !p->alike; i++)
        p->alike = whole_from(chart, plot, i) > 1;
}

const char *hf_chart_probability(hf_chart *chart, const hf_chart_subject *subject) {
    probability_picture *p = HF_ARENA_NEW(chart->words.arena, probability_picture);
    if (!p) {
        chart->out->failed = true;
        return NULL;
    }
    p->plot = subject->probability;
    p->design = subject->design;
    if (p->plot->reason) return p->plot->reason;
    while (p->law + 1 < HF_FAMILY_COUNT && hf_family_at(p->law) != p->plot->law) p->law++;
    count_groups(chart, p);
    fill_key(chart, p);
    double top = 58 + (chart->narrow ? HEAD_NARROW : HEAD);
    chart->plot = (hf_place_box){LEFT, top, chart->width - RIGHT, top + PANEL};
    double key = chart->plot.bottom + HF_AXIS_LOAD;
    set_scales(chart, p);
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6, title(chart, p),
                  finding(chart, p));
    (void)hf_label_put(chart, (hf_point){12, 50}, HF_ANCHOR_START,
                       "share of parts that have failed by this load");
    draw_panel(chart, p);
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
