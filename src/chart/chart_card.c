/* The answer as one picture, in the shape that places on the web show beside a link: which design, how much, whether that covers what is
 * asked, and every pull it rests on. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "chart/chart.h"
#include "chart/strip.h"
#include "words/assess_words.h"
#include "words/glance.h"

enum {
    WIDTH = 640,
    HEIGHT = 336, /* drawn 1200 × 630 */
    LEFT = 16,
    RIGHT = 50,
    STRIP = 212, /* where the load axis starts */
    TITLE = 32,
    TOP = 70,
    BOTTOM = 252,
    TALL = 52, /* a block as high as this has room for three lines */
    ROWS_MOST = 10,
    ROW_MOST = 130,
    WORDS = 25, /* of a block, below its strip */
    NAME_WIDTH = 170
};

static const double drawn = 1.875;

typedef struct card {
    const hf_assessment *assessment;
    const hf_glance *glances;
    size_t count; /* shown */
    double row;
    hf_strip_range range;
} card;

/* --- What it says ------------------------------------------------------------------------------------ */

/* The one load asked of all designs; NaN: none, or not the same of all. */
static double asked(const card *c) {
    double load = NAN;
    for (size_t i = 0; i < c->assessment->count; i++) {
        const hf_goal *goal = &c->assessment->designs[i].design->goal;
        if (!goal->service_load.given || (i && goal->service_load.value != load)) return NAN;
        load = goal->service_load.value;
    }
    return load;
}

/* What it is about, as much of it as has room beside the tally. */
static const char *second_line(hf_chart *chart, const card *c) {
    const char *title = c->assessment->campaign->title,
               *all = hf_glance_tally(&chart->words, c->glances, c->assessment->count);
    double room = WIDTH - 2 * LEFT - hf_label_width_as(HF_LABEL_SMALL, all) - 8;
    if (!title || !title[0]) return all;
    return hf_chart_format(chart, "%s%s%s", hf_label_cut_as(chart, HF_LABEL_SMALL, title, room),
                           strchr(".?!", title[strlen(title) - 1]) ? "" : ".", all);
}

static const char *finding(hf_chart *chart, const card *c) {
    const char *text = "";
    for (size_t i = 0; i < c->assessment->count; i++) {
        const hf_glance *g = &c->glances[i];
        text = hf_chart_format(chart, "%s%s%s: %s%s%s%s%s.", text, i ? " " : "", g->name, g->load,
                               g->mass[0] ? ", " : "", g->mass, g->says[0] ? "; " : "", g->says);
    }
    return text;
}

/* --- One design -------------------------------------------------------------------------------------- */

/* The sign and a blank. */
static const char *sign(hf_chart *chart, const hf_glance *g) {
    const char *one = hf_glance_sign(g->tone);
    return one[0] ? hf_chart_format(chart, "%s ", one) : "";
}

static void draw_words(hf_chart *chart, const hf_glance *g, double y, double width) {
    bool warns = g->tone == HF_TONE_BAD || g->tone == HF_TONE_IF;
    (void)hf_label_put_as(chart, (hf_point){LEFT, y}, width, warns ? HF_LABEL_WARNING : HF_LABEL_SMALL,
                          hf_chart_format(chart, "%s%s", sign(chart, g), g->says));
}

static void draw_tall(hf_chart *chart, const card *c, const hf_glance *g, double top) {
    const double column = STRIP - LEFT - 8;
    (void)hf_label_put_as(chart, (hf_point){LEFT, top + 14}, column, HF_LABEL_NAME, g->name);
    double used = hf_label_put_as(chart, (hf_point){LEFT, top + 39}, column, HF_LABEL_LARGE, g->load);
    if (g->mass[0] && used + 8 + hf_label_width_as(HF_LABEL_SMALL, g->mass) <= column)
        (void)hf_label_put_as(chart, (hf_point){LEFT + used + 8, top + 39}, column - used - 8, HF_LABEL_SMALL,
                              g->mass);
    hf_strip_draw(chart, g, top + 4, c->row - WORDS);
    draw_words(chart, g, top + fmax(57, c->row - 12), WIDTH - 2 * LEFT);
}

/* Many designs: name and load in one line, the words left out but for the sign. */
static void draw_low(hf_chart *chart, const card *c, const hf_glance *g, double top) {
    double base = top + c->row / 2 + 5;
    const char *load = hf_chart_format(chart, "%s%s", sign(chart, g), g->load);
    double width = hf_label_width(load);
    (void)hf_label_put(chart, (hf_point){STRIP - 10, base}, HF_ANCHOR_END, load);
    (void)hf_label_put_as(chart, (hf_point){LEFT, base - 1}, STRIP - LEFT - 18 - width, HF_LABEL_SMALL,
                          g->name);
    hf_strip_draw(chart, g, top + 2, c->row - 4);
}

/* --- The card ---------------------------------------------------------------------------------------- */

static void draw_asked(hf_chart *chart, const card *c) {
    double load = asked(c), x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, load));
    if (!isfinite(load)) return;
    hf_mark_stroke(chart, (hf_point){x, chart->plot.top - 2}, (hf_point){x, chart->plot.bottom},
                   "ask line dash");
    (void)hf_label_put_as(chart, (hf_point){x + 4, chart->plot.top - 4}, 200, HF_LABEL_SMALL,
                          hf_chart_format(chart, "asked: %s", hf_chart_load_stated(chart, load)));
}

static void draw_foot(hf_chart *chart, const card *c) {
    const hf_design_assessment *a = c->glances[0].design;
    const char *content = hf_show_text(&chart->words, HF_AS_SHARE_STATED, a->content),
               *confidence = hf_show_text(&chart->words, HF_AS_SHARE_STATED, a->confidence);
    size_t left = c->assessment->count - c->count;
    const char *whole = c->range.outlasted > 0 ? "; arrow: still whole" : "",
               *more = left ? hf_chart_format(chart, " %zu more designs are not shown.", left) : "";
    (void)hf_label_put_as(chart, (hf_point){LEFT, HEIGHT - 22}, WIDTH - 2 * LEFT, HF_LABEL_SMALL,
                          hf_chart_format(chart,
                                          "Bar: work with this. Line: %s of parts carry it (%s confidence). "
                                          "Dark: held to failed%s.%s",
                                          content, confidence, whole, more));
    (void)hf_label_put_as(
        chart, (hf_point){LEFT, HEIGHT - 7}, WIDTH - 2 * LEFT, HF_LABEL_SMALL,
        hf_chart_format(chart,
                        "Not for lifting or holding people, climbing, loads over heads; local codes win. "
                        "holdfast " HF_VERSION " · %.8s",
                        c->assessment->campaign->sha256));
}

const char *hf_chart_card(hf_chart *chart, const hf_chart_subject *subject) {
    card c = {.assessment = subject->assessment};
    chart->width = WIDTH;
    chart->narrow = false;
    c.count = c.assessment->count < ROWS_MOST ? c.assessment->count : ROWS_MOST;
    if (!c.count) return "the file has no design";
    c.glances = hf_glance_of(&chart->words, c.assessment);
    if (!c.glances) {
        chart->out->failed = true;
        return NULL;
    }
    c.range = hf_strip_measure(chart, c.glances, c.count);
    if (!(c.range.most > 0)) return "no part of these designs has been pulled";
    c.row = fmin((BOTTOM - TOP) / (double)c.count, ROW_MOST);
    chart->plot = (hf_place_box){STRIP, TOP, WIDTH - RIGHT, TOP + c.row * (double)c.count};
    hf_strip_scale(chart, c.range);
    const char *name = hf_chart_cut(chart, c.glances[0].name, NAME_WIDTH);
    const char *title = hf_glance_headline(&chart->words, &c.glances[0], name);
    hf_chart_begin(chart, 0, HEIGHT, drawn, title, finding(chart, &c));
    bool large = hf_label_width_as(HF_LABEL_TITLE, title) <= WIDTH - 2 * LEFT;
    (void)hf_label_put_as(chart, (hf_point){LEFT, TITLE}, WIDTH - 2 * LEFT,
                          large ? HF_LABEL_TITLE : HF_LABEL_NAME, title);
    (void)hf_label_put_as(chart, (hf_point){LEFT, TITLE + 20}, WIDTH - 2 * LEFT, HF_LABEL_SMALL,
                          second_line(chart, &c));
    chart->ungridded = true;
    hf_axis_bottom(chart, NULL);
    hf_axis_bottom_also(chart, c.glances[0].design->answer.mass_unit);
    draw_asked(chart, &c);
    for (size_t i = 0; i < c.count; i++) {
        double top = TOP + (double)i * c.row;
        if (c.row >= TALL)
            draw_tall(chart, &c, &c.glances[i], top);
        else
            draw_low(chart, &c, &c.glances[i], top);
    }
    draw_foot(chart, &c);
    hf_chart_close(chart);
    return NULL;
}
