/* Axes: ticks at round values, a light grid, a name with its unit. */
#include <math.h>
#include "holdfast/base/number.h"
#include "report/chart.h"

enum { TICK = 5, GAP = 8 };

static const char *tick_text(hf_chart *chart, const hf_scale *scale, double value) {
    char number[HF_NUMBER_SIZE];
    if (scale->kind == HF_SCALE_PROBABILITY)
        return hf_chart_format(chart, "%s %%", hf_number_figures(100 * value, value > 0.99 ? 3 : 2, number));
    return hf_chart_format(chart, "%s", hf_number_shortest(value, number));
}

/* Fewer ticks until no two names touch. */
static size_t fitting_ticks(hf_chart *chart, double *ticks) {
    size_t count = 0;
    for (size_t most = 11; most >= 2; most--) {
        bool fits = true;
        double last = -INFINITY;
        count = hf_scale_ticks(&chart->x, most, ticks);
        for (size_t i = 0; i < count; i++) {
            double at = hf_scale_place(&chart->x, ticks[i]),
                   half = hf_label_width(tick_text(chart, &chart->x, ticks[i])) / 2;
            if (at - half < last + GAP) fits = false;
            last = at + half;
        }
        if (fits) break;
    }
    return count;
}

void hf_axis_bottom(hf_chart *chart, const char *name) {
    double ticks[HF_TICKS_MOST], y = chart->plot.bottom;
    size_t count = fitting_ticks(chart, ticks);
    for (size_t i = 0; i < count; i++) {
        double x = hf_scale_place(&chart->x, ticks[i]);
        hf_mark_stroke(chart, (hf_point){x, chart->plot.top}, (hf_point){x, y}, "grid");
        hf_mark_stroke(chart, (hf_point){x, y}, (hf_point){x, y + TICK}, "axis");
        (void)hf_label_put(chart, (hf_point){x, y + TICK + HF_FONT}, HF_ANCHOR_MIDDLE,
                           tick_text(chart, &chart->x, ticks[i]));
    }
    hf_mark_stroke(chart, (hf_point){chart->plot.left, y}, (hf_point){chart->plot.right, y}, "axis");
    (void)hf_label_put(
        chart,
        (hf_point){(chart->plot.left + chart->plot.right) / 2, y + TICK + HF_FONT + HF_LINE_HEIGHT + 2},
        HF_ANCHOR_MIDDLE, name);
}

static size_t left_ticks(const hf_chart *chart, double *ticks) {
    return hf_scale_ticks(&chart->y, (size_t)fmax(2, fmin(9, (chart->plot.bottom - chart->plot.top) / 30)),
                          ticks);
}

double hf_axis_left_room(hf_chart *chart) {
    double ticks[HF_TICKS_MOST], widest = 0;
    size_t count = left_ticks(chart, ticks);
    for (size_t i = 0; i < count; i++)
        widest = fmax(widest, hf_label_width(tick_text(chart, &chart->y, ticks[i])));
    return widest + 2 * GAP;
}

void hf_axis_left(hf_chart *chart, const char *name) {
    double ticks[HF_TICKS_MOST], x = chart->plot.left;
    size_t count = left_ticks(chart, ticks);
    for (size_t i = 0; i < count; i++) {
        double y = hf_scale_place(&chart->y, ticks[i]);
        hf_mark_stroke(chart, (hf_point){x, y}, (hf_point){chart->plot.right, y}, "grid");
        hf_mark_stroke(chart, (hf_point){x - TICK, y}, (hf_point){x, y}, "axis");
        (void)hf_label_put(chart, (hf_point){x - GAP, y + 5}, HF_ANCHOR_END,
                           tick_text(chart, &chart->y, ticks[i]));
    }
    hf_mark_stroke(chart, (hf_point){x, chart->plot.top}, (hf_point){x, chart->plot.bottom}, "axis");
    (void)hf_label_put(chart, (hf_point){12, chart->plot.top - 12 - chart->above}, HF_ANCHOR_START, name);
}
