/* The pulls on probability paper, one panel for each law: by default all laws under each other in one picture, because the question is which
 * straight line the pulls follow, and the eye compares what stands on one page. */
#include <float.h>
#include <math.h>
#include <string.h>
#include "chart/chart.h"

enum {
    PANEL = 120, /* three of them stand on a third of a printed page with letters that can be read */
    PANEL_NARROW = 180,
    PANEL_ALONE = 320,
    HEAD = 26,
    HEAD_NARROW = 44,
    UNDER = 28,
    KEYS_MOST = 9,
    RAIL = 24, /* lane for the parts still whole, below all shares */
    ARROW = 16,
    SIDE = 12,
    LEFT = 72,
    RIGHT = 34
};

static const double widened =
    1.6; /* how much wider than its own a panel's axis may get to have the loads of the others */

typedef struct load_range {
    double low, high; /* in the unit shown */
} load_range;

typedef struct probability_picture {
    const hf_probability_plot *plot;
    const hf_design_assessment *design;
    bool laws[HF_FAMILY_COUNT]; /* drawn */
    size_t panels;
    size_t groups;     /* failed marks that stand apart */
    bool whole, alike; /* a part still whole; a mark or an arrow of several parts */
    load_range loads[HF_FAMILY_COUNT];
    hf_key_entry keys[KEYS_MOST];
    size_t key_count;
} probability_picture;

static const hf_bound *bound_of(const probability_picture *p, size_t law) {
    const hf_event_assessment *event = &p->design->break_event;
    if (event->governing && event->governing->family == hf_family_at(law)) return event->governing;
    const hf_bound *bound = &event->bounds[law];
    return bound->method == HF_BOUND_NONE ? NULL : bound;
}

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

/* The band too where it asks for no more than a fifth of the width on either side. */
static void reach_band(const hf_chart *chart, const hf_probability_line *line, double *least, double *most) {
    const hf_family *law = line->family;
    double low = hf_family_working(law, *least), high = hf_family_working(law, *most),
           fifth = (high - low) / 5;
    double first = low, last = high;
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++) {
        double at = shown(chart, line->low[i]), to = shown(chart, line->high[i]);
        if (at > 0) first = fmin(first, hf_family_working(law, at));
        if (isfinite(to)) last = fmax(last, hf_family_working(law, to));
    }
    *least = hf_family_load(law, fmax(first, low - fifth));
    *most = hf_family_load(law, fmin(last, high + fifth));
}

/* Room for the marks, the line and the bound; the band is cut where it leaves that. */
static load_range own_loads(const hf_chart *chart, const probability_picture *p, size_t law) {
    const hf_family *family = hf_family_at(law);
    const hf_probability_line *line = &p->plot->lines[law];
    const hf_bound *bound = bound_of(p, law);
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
    if (line->available) reach_band(chart, line, &least, &most);
    most = hf_scale_past(least, most, outlasted, family->log_scale);
    if (family->log_scale) {
        double margin = exp(0.04 * (log(most) - log(least))) * 1.01;
        return (load_range){fmax(least / margin, DBL_TRUE_MIN), fmin(most * margin, DBL_MAX)};
    }
    double margin = fmax(0.04 * (most - least), 1e-3 * most);
    return (load_range){fmax(0, least - margin), fmin(most + margin, DBL_MAX)};
}

static double width_of(const hf_family *family, load_range loads) {
    return family->log_scale ? log(loads.high) - log(loads.low) : loads.high - loads.low;
}

/* The same loads in all panels, so that the eye can compare the laws; a panel that would lose too much of its room by it keeps its own. */
static void share_loads(const hf_chart *chart, probability_picture *p) {
    load_range all = {INFINITY, 0}, own[HF_FAMILY_COUNT];
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (!p->laws[i]) continue;
        p->loads[i] = own[i] = own_loads(chart, p, i);
        if (own[i].low > 0) all.low = fmin(all.low, own[i].low);
        all.high = fmax(all.high, own[i].high);
    }
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (!p->laws[i]) continue;
        load_range wider = {fmin(all.low, own[i].low), all.high};
        const hf_family *family = hf_family_at(i);
        if (width_of(family, wider) <= widened * width_of(family, own[i])) p->loads[i] = wider;
    }
}

static void set_scales(hf_chart *chart, const probability_picture *p, size_t law) {
    const hf_family *family = hf_family_at(law);
    load_range loads = p->loads[law];
    chart->x = (hf_scale){family->log_scale ? HF_SCALE_LOG : HF_SCALE_LINEAR,
                          NULL,
                          loads.low,
                          loads.high,
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

static void draw_band(hf_chart *chart, const hf_probability_line *line) {
    hf_point low[HF_PROBABILITY_POINTS], high[HF_PROBABILITY_POINTS];
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++) {
        double y = hf_scale_place(&chart->y, line->failed[i]);
        low[i] = (hf_point){far(hf_scale_place(&chart->x, shown(chart, line->low[i]))), y};
        high[i] = (hf_point){far(hf_scale_place(&chart->x, shown(chart, line->high[i]))), y};
    }
    hf_mark_band_within(chart, low, high, HF_PROBABILITY_POINTS);
    hf_mark_line_within(chart, low, HF_PROBABILITY_POINTS, "b thin");
    hf_mark_line_within(chart, high, HF_PROBABILITY_POINTS, "b thin");
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
static void draw_bound(hf_chart *chart, const probability_picture *p, size_t law) {
    const hf_bound *bound = bound_of(p, law);
    double value = bound ? shown(chart, bound->value) : NAN, share = 1 - p->design->content, low, high, load;
    if (!(value >= chart->x.low && value <= chart->x.high)) return;
    hf_point at = {hf_scale_place(&chart->x, value), hf_scale_place(&chart->y, share)};
    if (p->plot->lines[law].available) {
        hf_probability_line_at(&p->design->break_event.fits[law], share, p->plot->confidence, &load, &low,
                               &high);
        hf_mark_stroke(chart, at, (hf_point){hf_scale_place(&chart->x, within(chart, load)), at.y},
                       "v line dash");
    }
    double foot =
        chart->plot.bottom - (p->plot->failed < p->plot->count ? RAIL : 0); /* above the lane of arrows */
    hf_mark_stroke(chart, at, (hf_point){at.x, fmax(foot, at.y)}, "v line");
    hf_mark_shape(chart, at, 3, 5, "want");
}

static const char *judged(const probability_picture *p, size_t law) {
    const hf_event_assessment *event = &p->design->break_event;
    if (!event->tests[law].available) return "not tested";
    return event->tests[law].rejected ? "rejected" : "not rejected by its test";
}

static void heading(hf_chart *chart, const probability_picture *p, size_t law, const char **name,
                    const char **words) {
    const hf_event_assessment *event = &p->design->break_event;
    const hf_bound *bound = bound_of(p, law);
    const char *label = hf_family_at(law)->label;
    bool rejected = event->tests[law].available && event->tests[law].rejected;
    bool governs = event->governing && event->governing->family == hf_family_at(law);
    const char *promise =
        bound && bound->value > 0
            ? hf_chart_format(chart, ", bound %s%s", hf_chart_load_bound(chart, bound->value),
                              rejected ? " if it held" : "")
        : bound ? ", no bound above zero"
                : "";
    bool fitted = event->fits[law].stop == HF_FIT_CONVERGED;
    *name = hf_chart_format(chart, "%s law%s", label, fitted && governs ? " (governs)" : "");
    *words = hf_chart_format(chart, "%s%s%s", fitted ? "" : "no line: ",
                             fitted ? judged(p, law) : hf_fit_stop_text(event->fits[law].stop), promise);
}

static void put_heading(hf_chart *chart, const probability_picture *p, size_t law) {
    const char *name, *words;
    heading(chart, p, law, &name, &words);
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

static void draw_panel(hf_chart *chart, const probability_picture *p, size_t law, const char *axis) {
    const hf_probability_line *line = &p->plot->lines[law];
    set_scales(chart, p, law);
    put_heading(chart, p, law);
    chart->kept_tick = bound_of(p, law) ? 1 - p->design->content : 0;
    hf_axis_left(chart, NULL);
    hf_axis_bottom(chart, axis);
    draw_bars(chart, p->plot);
    if (line->available) draw_band(chart, line);
    draw_marks(chart, p);
    if (line->available) draw_law(chart, line);
    draw_bound(chart, p, law);
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
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (p->laws[i] && p->plot->lines[i].available) return true;
    return false;
}

static void add_key(probability_picture *p, const char *text, int shape, const char *look, bool arrow) {
    p->keys[p->key_count++] = (hf_key_entry){text, shape, look, arrow};
}

static void fill_key(hf_chart *chart, probability_picture *p) {
    bool bound = false, rejected = false;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit_test *test = &p->design->break_event.tests[i];
        if (!p->laws[i] || !bound_of(p, i)) continue;
        bound = true;
        rejected = rejected || (test->available && test->rejected);
    }
    add_key(p, "failed", 0, NULL, false);
    if (any_of(p->plot, HF_INTERVAL_CLOSED))
        add_key(p, "held to failed", HF_KEY_STROKE, "g line thin", false);
    if (any_of(p->plot, HF_INTERVAL_BELOW))
        add_key(p, "failed at the first load", HF_KEY_STROKE, "g line thin dash", false);
    if (any_of(p->plot, HF_INTERVAL_ABOVE)) add_key(p, "still whole", HF_KEY_STROKE, "b line", true);
    if (any_line(p)) {
        add_key(p, "fitted law", HF_KEY_STROKE, "b line", false);
        add_key(p,
                hf_chart_format(chart, "%s band, each share by itself",
                                hf_show_text(&chart->words, HF_AS_CONFIDENCE, p->plot->confidence)),
                HF_KEY_BAND, "b line thin", false);
    }
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
        if (!p->laws[i] || !event->tests[i].available) continue;
        tested++;
        if (!event->tests[i].rejected) continue;
        const char *label = hf_family_at(i)->label;
        refused = against++ ? hf_chart_format(chart, "%s and the %s law", refused, label)
                            : hf_chart_format(chart, "the %s law", label);
    }
    if (!tested) return "No test of a law is possible with these pulls.";
    if (against > 2 && against == tested) return "The pulls speak against every law tested.";
    if (against) return hf_chart_format(chart, "The pulls speak against %s.", refused);
    return hf_chart_format(chart, "The pulls speak against %s%s.",
                           p->panels > 1 ? "none of the laws" : "nothing in this law",
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

/* Nothing where there are parts enough for the band. */
static const char *band_words(const probability_picture *p) {
    bool bound = false;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) bound = bound || (p->laws[i] && bound_of(p, i));
    if (!is_few(p)) return "";
    return bound ? " The band is that of many parts; with few it is too narrow, which the bound allows for."
                 : " The band is that of many parts; with few it is too narrow.";
}

static const char *finding(hf_chart *chart, const probability_picture *p) {
    size_t whole = p->plot->count - p->plot->failed;
    const char *parts =
        hf_chart_format(chart, "%s%s", hf_chart_count(chart, p->plot->failed, "failed part", "failed parts"),
                        whole ? hf_chart_format(chart, " and %zu still whole", whole) : "");
    if (!any_line(p)) return hf_chart_format(chart, "%s: no law can be fitted to them.", parts);
    return hf_chart_format(chart, "%s against the straight line of %s. %s%s%s", parts,
                           p->panels > 1 ? "each law" : "the law", verdict_words(chart, p),
                           placing_words(chart, p), band_words(p));
}

static const char *title(hf_chart *chart, const probability_picture *p) {
    const hf_event_assessment *event = &p->design->break_event;
    size_t tested = 0, rejected = 0;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (!p->laws[i] || !event->tests[i].available) continue;
        tested++;
        rejected += event->tests[i].rejected;
    }
    const char *name = hf_chart_design(chart, p->design->design);
    if (!any_line(p)) return hf_chart_format(chart, "%s: no law can be fitted", name);
    if (!tested)
        return hf_chart_format(chart, "%s: share failed, against the line of %s", name,
                               p->panels > 1 ? "each law" : "the law");
    if (tested == 1)
        return hf_chart_format(chart, "%s: the law tested is %s", name,
                               rejected ? "rejected" : "not rejected");
    if (rejected == tested && tested > 1)
        return hf_chart_format(chart, "%s: all %zu laws rejected", name, tested);
    return rejected ? hf_chart_format(chart, "%s: %zu of %zu laws rejected", name, rejected, tested)
                    : hf_chart_format(chart, "%s: none of %zu laws rejected", name, tested);
}

static void choose_laws(const hf_chart_subject *subject, probability_picture *p) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        p->laws[i] = !subject->family || subject->family == hf_family_at(i);
        p->panels += p->laws[i];
    }
}

/* What the key needs to know before anything is drawn. */
static void count_groups(hf_chart *chart, probability_picture *p) {
    const hf_probability_plot *plot = p->plot;
    p->whole = plot->failed < plot->count;
    share_loads(chart, p);
    chart->plot = (hf_place_box){LEFT, 0, chart->width - RIGHT, 1};
    for (size_t i = 0, run; i < plot->failed; i += run) {
        run = alike_from(plot, i);
        p->groups++;
        p->alike = p->alike || run > 1;
    }
    for (size_t law = 0; law < HF_FAMILY_COUNT; law++) {
        if (!p->laws[law]) continue;
        set_scales(chart, p, law);
        for (size_t i = plot->failed; i < plot->count && !p->alike; i++)
            p->alike = whole_from(chart, plot, i) > 1;
    }
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
    choose_laws(subject, p);
    count_groups(chart, p);
    fill_key(chart, p);
    double head = chart->narrow ? HEAD_NARROW : HEAD,
           panel = p->panels == 1  ? PANEL_ALONE
                   : chart->narrow ? PANEL_NARROW
                                   : PANEL,
           first = 58 + head;
    double key = first + (double)p->panels * panel + (double)(p->panels - 1) * (head + UNDER) + 46;
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6, title(chart, p),
                  finding(chart, p));
    (void)hf_label_put(chart, (hf_point){12, 50}, HF_ANCHOR_START,
                       "share of parts that have failed by this load");
    for (size_t i = 0, drawn = 0; i < HF_FAMILY_COUNT; i++) {
        if (!p->laws[i]) continue;
        double top = first + (double)drawn++ * (panel + head + UNDER);
        chart->plot = (hf_place_box){LEFT, top, chart->width - RIGHT, top + panel};
        draw_panel(chart, p, i, drawn == p->panels ? hf_chart_load_axis(chart, "") : NULL);
    }
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
