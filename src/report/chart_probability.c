/* The pulls on probability paper, one panel for each law: by default all laws under each other in one picture, because the question is which
 * straight line the pulls follow, and the eye compares what stands on one page. */
#include <math.h>
#include <string.h>
#include "report/chart.h"

enum {
    PANEL = 196,
    PANEL_ALONE = 320,
    HEAD = 26,
    HEAD_NARROW = 44,
    UNDER = 30,
    KEYS_MOST = 8,
    RAIL = 7,
    SIDE = 12
};

typedef struct probability_picture {
    const hf_probability_plot *plot;
    const hf_design_assessment *design;
    bool laws[HF_FAMILY_COUNT]; /* drawn */
    size_t panels;
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
static void set_scales(hf_chart *chart, const probability_picture *p, size_t law) {
    const hf_family *family = hf_family_at(law);
    const hf_probability_line *line = &p->plot->lines[law];
    const hf_bound *bound = bound_of(p, law);
    double least = INFINITY, most = -INFINITY;
    double outlasted = -INFINITY;
    for (size_t i = 0; i < p->plot->count; i++) {
        const hf_probability_mark *mark = &p->plot->marks[i];
        reach(shown(chart, mark->lower), &least, &most);
        reach(shown(chart, mark->upper), &least, &most);
        if (mark->kind == HF_OBSERVED_ABOVE) outlasted = fmax(outlasted, shown(chart, mark->lower));
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
    double margin = 0.04 * (most - least);
    chart->x = family->log_scale ? hf_scale_log(least, most, chart->plot.left, chart->plot.right)
                                 : hf_scale_linear(fmax(0, least - margin), most + margin, chart->plot.left,
                                                   chart->plot.right);
    chart->y =
        hf_scale_probability(family, p->plot->least, p->plot->most, chart->plot.bottom, chart->plot.top);
}

static double within(const hf_chart *chart, double newtons) {
    return fmax(chart->x.low, fmin(chart->x.high, shown(chart, newtons)));
}

/* --- What stands in a panel -------------------------------------------------------------------------- */

/* The bars are drawn before the band and the line, thin, and equal ones once: what the eye compares lies on top. */
static void draw_bars(hf_chart *chart, const hf_probability_plot *plot) {
    for (size_t i = 0, run; i < plot->count; i += run) {
        const hf_probability_mark *mark = &plot->marks[i];
        for (run = 1; i + run < plot->count && plot->marks[i + run].kind == mark->kind &&
                      plot->marks[i + run].lower == mark->lower && plot->marks[i + run].upper == mark->upper;)
            run++;
        if (mark->kind == HF_OBSERVED_ABOVE) continue;
        double from =
                   mark->lower > 0 ? hf_scale_place(&chart->x, within(chart, mark->lower)) : chart->plot.left,
               to = hf_scale_place(&chart->x, within(chart, mark->upper)),
               y = hf_scale_place(&chart->y, plot->marks[i + run / 2].share);
        if (to > from)
            hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y},
                           mark->kind == HF_OBSERVED_BELOW ? "g line thin dash" : "g line thin");
    }
}

static void draw_band(hf_chart *chart, const hf_probability_line *line) {
    hf_point low[HF_PROBABILITY_POINTS], high[HF_PROBABILITY_POINTS];
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++) {
        low[i] = (hf_point){within(chart, line->low[i]), line->failed[i]};
        high[i] = (hf_point){within(chart, line->high[i]), line->failed[i]};
    }
    hf_mark_band(chart, low, high, HF_PROBABILITY_POINTS);
    hf_mark_line(chart, low, HF_PROBABILITY_POINTS, "b thin");
    hf_mark_line(chart, high, HF_PROBABILITY_POINTS, "b thin");
}

static void draw_law(hf_chart *chart, const hf_probability_line *line) {
    hf_point middle[HF_PROBABILITY_POINTS];
    size_t count = 0;
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++) {
        double at = shown(chart, line->load[i]);
        if (at >= chart->x.low && at <= chart->x.high) middle[count++] = (hf_point){at, line->failed[i]};
    }
    hf_mark_line(chart, middle, count, "b");
}

/* Arrows that start at one place are one arrow. */
static void draw_marks(hf_chart *chart, const hf_probability_plot *plot) {
    double size = plot->failed > 60 ? 2.5 : plot->failed > 25 ? 3.2 : 4, last = -INFINITY;
    for (size_t i = 0; i < plot->count; i++) {
        const hf_probability_mark *mark = &plot->marks[i];
        bool whole = mark->kind == HF_OBSERVED_ABOVE;
        double x = hf_scale_place(&chart->x, within(chart, whole ? mark->lower : mark->upper));
        if (!whole)
            hf_mark_shape(chart, (hf_point){x, hf_scale_place(&chart->y, mark->share)}, 0, size, NULL);
        else if (fabs(x - last) >= 1)
            hf_mark_arrow(chart, (hf_point){x, chart->plot.bottom - RAIL}, x + 16, "b line");
        if (whole) last = x;
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
    hf_mark_stroke(chart, at, (hf_point){at.x, chart->plot.bottom}, "v line");
    hf_mark_shape(chart, at, 3, 5, "want");
}

static const char *judged(const probability_picture *p, size_t law) {
    const hf_event_assessment *event = &p->design->break_event;
    if (!event->tests[law].available) return "not tested";
    return event->tests[law].rejected ? "rejected by its test" : "not rejected by its test";
}

static void heading(hf_chart *chart, const probability_picture *p, size_t law, const char **name,
                    const char **words) {
    const hf_event_assessment *event = &p->design->break_event;
    const hf_bound *bound = bound_of(p, law);
    const char *label = hf_family_at(law)->label;
    bool governs = event->governing && event->governing->family == hf_family_at(law);
    const char *promise = bound && bound->value > 0
                              ? hf_chart_format(chart, ", bound %s", hf_chart_load_bound(chart, bound->value))
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
    draw_marks(chart, p->plot);
    if (line->available) draw_law(chart, line);
    draw_bound(chart, p, law);
}

/* --- Around it --------------------------------------------------------------------------------------- */

static bool any_of(const hf_probability_plot *plot, hf_observation_kind kind) {
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
    bool bound = false;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) bound = bound || (p->laws[i] && bound_of(p, i));
    add_key(p, "failed", 0, NULL, false);
    if (any_of(p->plot, HF_OBSERVED_CLOSED))
        add_key(p, "held to failed", HF_KEY_STROKE, "g line thin", false);
    if (any_of(p->plot, HF_OBSERVED_BELOW))
        add_key(p, "failed at the first load", HF_KEY_STROKE, "g line thin dash", false);
    if (any_of(p->plot, HF_OBSERVED_ABOVE)) add_key(p, "still whole", HF_KEY_STROKE, "b line", true);
    if (any_line(p)) {
        add_key(p, "fitted law", HF_KEY_STROKE, "b line", false);
        add_key(p,
                hf_chart_format(chart, "%s band, each share by itself",
                                hf_percent_text(&chart->words, p->plot->confidence, 4)),
                HF_KEY_BAND, "b line thin", false);
    }
    if (bound)
        add_key(p,
                hf_chart_format(chart, "bound: %s carry it",
                                hf_percent_text(&chart->words, p->design->content, 5)),
                3, "want", false);
}

enum { SPEAKING = 30 }; /* fewer pulls rarely tell one law from another */

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
    if (against > 2) return "The pulls speak against every law shown.";
    if (against) return hf_chart_format(chart, "The pulls speak against %s.", refused);
    return hf_chart_format(chart, "The pulls speak against %s%s.",
                           p->panels > 1 ? "none of the laws" : "nothing in this law",
                           p->plot->count < SPEAKING ? "; so few rarely do" : "");
}

static const char *finding(hf_chart *chart, const probability_picture *p) {
    size_t whole = p->plot->count - p->plot->failed;
    const char *parts =
        hf_chart_format(chart, "%s%s", hf_chart_count(chart, p->plot->failed, "failed part", "failed parts"),
                        whole ? hf_chart_format(chart, " and %zu still whole", whole) : "");
    if (!any_line(p)) return hf_chart_format(chart, "%s: no law can be fitted to them.", parts);
    return hf_chart_format(
        chart,
        "%s against the straight line of %s. %s The band is that of many parts, with few it "
        "is too narrow; the bound allows for that.",
        parts, p->panels > 1 ? "each law" : "the law", verdict_words(chart, p));
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
    fill_key(chart, p);
    double head = chart->narrow ? HEAD_NARROW : HEAD, panel = p->panels == 1 ? PANEL_ALONE : PANEL,
           first = 58 + head;
    double key = first + (double)p->panels * panel + (double)(p->panels - 1) * (head + UNDER) + 46;
    hf_chart_open(chart, key + hf_key(chart, NAN, p->keys, p->key_count) + 6, title(chart, p),
                  finding(chart, p));
    (void)hf_label_put(chart, (hf_point){12, 50}, HF_ANCHOR_START,
                       "share of parts that have failed by this load");
    for (size_t i = 0, drawn = 0; i < HF_FAMILY_COUNT; i++) {
        if (!p->laws[i]) continue;
        double top = first + (double)drawn++ * (panel + head + UNDER);
        chart->plot = (hf_place_box){72, top, chart->width - 34, top + panel};
        draw_panel(chart, p, i,
                   drawn == p->panels
                       ? hf_chart_format(chart, "load on the part, %s", chart->words.style->unit->name)
                       : NULL);
    }
    (void)hf_key(chart, key, p->keys, p->key_count);
    hf_chart_close(chart);
    return NULL;
}
