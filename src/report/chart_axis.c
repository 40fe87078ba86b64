/* Axes: ticks at round values, a light grid, a name with its unit. */
#include <math.h>
#include "holdfast/base/number.h"
#include "report/chart.h"

enum { TICK = 5, GAP = 8, APART = 17, POWER_STEP = 3 };

/* The power of ten, a multiple of three, that numbers of this size are written with. */
static int power_of(double size, double small) {
    if (size == 0 || (size < 1e5 && size >= small)) return 0;
    return POWER_STEP * (int)floor(log10(size * (1 + 1e-12)) / POWER_STEP);
}

/* "250", "2.5×10⁶": all numbers of an even axis with one power. */
static const char *number_text(hf_chart *chart, const hf_scale *scale, double value) {
    char number[HF_NUMBER_SIZE];
    bool even = scale->kind == HF_SCALE_LINEAR;
    int power =
        even ? power_of(fmax(fabs(scale->low), fabs(scale->high)), 1e-2) : power_of(fabs(value), 1e-3);
    double shown = power < 0 ? value * pow(10, -power) : value / pow(10, power);
    hf_text text = {0};
    hf_number_shortest(round(shown * 1e9) / 1e9, number);
    hf_text_addf(&text, "%s%s", number[0] == '-' ? "−" : "", number + (number[0] == '-'));
    if (power && value != 0) hf_chart_add_power(&text, power);
    const char *out = hf_chart_format(chart, "%s", text.bytes ? text.bytes : "");
    if (text.failed) chart->out->failed = true;
    hf_text_free(&text);
    return out;
}

static const char *tick_text(hf_chart *chart, const hf_scale *scale, double value) {
    char number[HF_NUMBER_SIZE];
    if (scale->kind == HF_SCALE_PROBABILITY)
        return hf_chart_format(chart, "%s %%", hf_number_shortest(round(1e6 * value) / 1e4, number));
    return number_text(chart, scale, value);
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
    if (!name) return;
    (void)hf_label_put(
        chart,
        (hf_point){(chart->plot.left + chart->plot.right) / 2, y + TICK + HF_FONT + HF_LINE_HEIGHT + 2},
        HF_ANCHOR_MIDDLE, name);
}

/* Puts the share among the ascending ticks if it is not one of them. Its index. */
static size_t insert_tick(double *ticks, size_t *count, double share) {
    size_t at = 0;
    while (at < *count && ticks[at] < share * (1 - 1e-9)) at++;
    if (at < *count && ticks[at] <= share * (1 + 1e-9)) return at;
    for (size_t i = (*count)++; i > at; i--) ticks[i] = ticks[i - 1];
    ticks[at] = share;
    return at;
}

/* The ticks of probability paper crowd in the middle: the kept one stays, the middle one next to it, and of the others those that keep their
 * distance. */
static size_t thin_out(const hf_chart *chart, double *ticks, size_t count) {
    size_t left = 0, middle = 0, fixed = count;
    double last = NAN, fixed_at = NAN;
    if (chart->kept_tick >= chart->y.low && chart->kept_tick <= chart->y.high && count < HF_TICKS_MOST) {
        fixed = insert_tick(ticks, &count, chart->kept_tick);
        fixed_at = hf_scale_place(&chart->y, ticks[fixed]);
    }
    while (middle + 1 < count && ticks[middle] < 0.5) middle++;
    double middle_at = count ? hf_scale_place(&chart->y, ticks[middle]) : 0;
    if (fabs(middle_at - fixed_at) < APART) middle_at = fixed_at;
    for (size_t i = 0; i < count; i++) {
        double at = hf_scale_place(&chart->y, ticks[i]);
        bool close = at > chart->plot.bottom - GAP || fabs(at - last) < APART ||
                     fabs(at - fixed_at) < APART || (i != middle && fabs(at - middle_at) < APART);
        if (close && i != fixed) continue;
        ticks[left++] = ticks[i];
        last = at;
    }
    return left;
}

static size_t left_ticks(const hf_chart *chart, double *ticks) {
    double most = fmax(2, fmin(9, (chart->plot.bottom - chart->plot.top) / 30));
    if (chart->y.kind != HF_SCALE_PROBABILITY) return hf_scale_ticks(&chart->y, (size_t)most, ticks);
    return thin_out(chart, ticks, hf_scale_ticks(&chart->y, HF_TICKS_MOST, ticks));
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
    if (name)
        (void)hf_label_put(chart, (hf_point){12, chart->plot.top - 12 - chart->above}, HF_ANCHOR_START, name);
}
