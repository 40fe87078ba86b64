/* Axes: ticks at round values, a light grid, a name with its unit. */
#include <float.h>
#include <math.h>
#include "holdfast/base/number.h"
#include "chart/chart.h"

enum { TICK = 5, GAP = 8, APART = 17, POWER_STEP = 3, EDGE = 5, TICKS = 11, LARGE_POWER = 300, UNIT = 26 };

/* Numbers of this size stand as they are on the whole page; others are written with a power of ten. */
static bool is_plain(double size) {
    return size == 0 || (size < 1e7 * (1 - 1e-9) && size >= 1e-4);
}

static int exponent_of(double size) {
    return (int)floor(log10(size * (1 + 1e-12)));
}

/* How the numbers of an axis are written, all of them alike. */
typedef enum tick_format { TICKS_PLAIN, TICKS_COMMON, TICKS_SINGLE, TICKS_POWERS } tick_format;

typedef struct tick_style {
    tick_format format;
    int power; /* of TICKS_COMMON */
} tick_style;

/* One power for all where they are near each other; else each its own, and nothing but powers where all ticks are. */
static tick_style style_of(const hf_scale *scale, const double *ticks, size_t count) {
    double least = INFINITY, most = 0;
    bool powers = scale->kind == HF_SCALE_LOG;
    for (size_t i = 0; i < count; i++) {
        double size = fabs(ticks[i]);
        if (size == 0) continue;
        least = fmin(least, size);
        most = fmax(most, size);
        powers = powers && fabs(size / pow(10, exponent_of(size)) - 1) < 1e-9;
    }
    if (most == 0 || (is_plain(most) && is_plain(least))) return (tick_style){TICKS_PLAIN, 0};
    int power = POWER_STEP * (int)floor((double)exponent_of(most) / POWER_STEP);
    if (scale->kind == HF_SCALE_LINEAR)
        return (tick_style){is_plain(most) ? TICKS_PLAIN : TICKS_COMMON, power};
    if (powers) return (tick_style){TICKS_POWERS, 0};
    return (tick_style){most / least < 1e3 ? TICKS_COMMON : TICKS_SINGLE, power};
}

/* "250", "2.5×10⁶", "10⁶" */
static const char *number_text(hf_chart *chart, tick_style style, double value) {
    char number[HF_NUMBER_SIZE];
    int power = style.format == TICKS_PLAIN || value == 0 ? 0
                : style.format == TICKS_COMMON            ? style.power
                                                          : exponent_of(fabs(value));
    double shown = power < -LARGE_POWER ? value * pow(10, LARGE_POWER) * pow(10, -power - LARGE_POWER)
                   : power < 0          ? value * pow(10, -power)
                                        : value / pow(10, power);
    hf_text text = {0};
    if (style.format == TICKS_POWERS) {
        hf_text_addf(&text, "%s", value < 0 ? "−" : "");
        hf_chart_add_power(&text, power);
    } else {
        hf_number_shortest(round(shown * 1e9) / 1e9, number);
        hf_text_addf(&text, "%s%s", number[0] == '-' ? "−" : "", number + (number[0] == '-'));
        if (power || (style.format == TICKS_SINGLE && value != 0)) hf_chart_add_times_power(&text, power);
    }
    const char *out = hf_chart_format(chart, "%s", text.bytes ? text.bytes : "");
    if (text.failed) chart->out->failed = true;
    hf_text_free(&text);
    return out;
}

static const char *tick_text(hf_chart *chart, const hf_scale *scale, tick_style style, double value) {
    char number[HF_NUMBER_SIZE];
    if (scale->kind == HF_SCALE_PROBABILITY)
        return hf_chart_format(chart, "%s %%", hf_number_shortest(round(1e6 * value) / 1e4, number));
    return number_text(chart, style, value);
}

/* Of many ticks those whose names keep clear of the last one: for an axis on which no even choice leaves two. */
static size_t spaced_ticks(hf_chart *chart, double *ticks) {
    size_t left = 0, count = hf_scale_ticks(&chart->x, TICKS, ticks);
    tick_style style = style_of(&chart->x, ticks, count);
    double last = -INFINITY;
    for (size_t i = 0; i < count; i++) {
        double at = hf_scale_place(&chart->x, ticks[i]),
               half = hf_label_width(tick_text(chart, &chart->x, style, ticks[i])) / 2;
        if (at - half < last + GAP) continue;
        ticks[left++] = ticks[i];
        last = at + half;
    }
    return left;
}

/* Fewer ticks until no two names touch. */
static size_t fitting_ticks(hf_chart *chart, double *ticks) {
    size_t count = 0;
    for (size_t most = TICKS; most >= 2; most--) {
        bool fits = true;
        double last = -INFINITY;
        count = hf_scale_ticks(&chart->x, most, ticks);
        tick_style style = style_of(&chart->x, ticks, count);
        for (size_t i = 0; i < count; i++) {
            double at = hf_scale_place(&chart->x, ticks[i]),
                   half = hf_label_width(tick_text(chart, &chart->x, style, ticks[i])) / 2;
            if (at - half < last + GAP) fits = false;
            last = at + half;
        }
        if (fits) break;
    }
    return count > 1 ? count : spaced_ticks(chart, ticks);
}

/* Under the middle of the axis, or as near to it as the picture allows. */
static void put_name(hf_chart *chart, const char *name, double y) {
    double half = hf_label_width(name) / 2 + EDGE, middle = (chart->plot.left + chart->plot.right) / 2;
    middle = fmin(fmax(middle, half), fmax(chart->width - half, chart->width / 2));
    (void)hf_label_put(chart, (hf_point){middle, y}, HF_ANCHOR_MIDDLE,
                       hf_label_width(name) > chart->width - 2 * EDGE
                           ? hf_chart_cut(chart, name, chart->width - 2 * EDGE)
                           : name);
}

void hf_axis_bottom(hf_chart *chart, const char *name) {
    double ticks[HF_TICKS_MOST], y = chart->plot.bottom;
    size_t count = fitting_ticks(chart, ticks);
    tick_style style = style_of(&chart->x, ticks, count);
    for (size_t i = 0; i < count; i++) {
        double x = hf_scale_place(&chart->x, ticks[i]);
        if (!hf_label_put(chart, (hf_point){x, y + TICK + HF_FONT}, HF_ANCHOR_MIDDLE,
                          tick_text(chart, &chart->x, style, ticks[i])))
            continue;
        if (!chart->ungridded)
            hf_mark_stroke(chart, (hf_point){x, chart->plot.top}, (hf_point){x, y}, "grid");
        hf_mark_stroke(chart, (hf_point){x, y}, (hf_point){x, y + TICK}, "axis");
    }
    hf_mark_stroke(chart, (hf_point){chart->plot.left, y}, (hf_point){chart->plot.right, y}, "axis");
    if (name) put_name(chart, name, y + TICK + HF_FONT + HF_LINE_HEIGHT + 2);
}

/* Numbers of the bottom axis in another unit of load, on the base line `y`. */
static void put_also(hf_chart *chart, const hf_unit *unit, double y) {
    const hf_report_style *style = chart->words.style;
    const hf_scale kept = chart->x;
    double ticks[HF_TICKS_MOST];
    double share = hf_unit_newtons(style->unit, style->gravity) / hf_unit_newtons(unit, style->gravity);
    chart->x.low *= share;
    chart->x.high *= share;
    if (!isfinite(chart->x.high) || !(chart->x.high - chart->x.low >= DBL_MIN) ||
        (kept.kind == HF_SCALE_LOG && !(chart->x.low >= DBL_MIN))) {
        chart->x = kept; /* no number of this machine says it */
        return;
    }
    size_t count = fitting_ticks(chart, ticks);
    tick_style written = style_of(&chart->x, ticks, count);
    for (size_t i = 0; i < count; i++)
        (void)hf_label_put(chart, (hf_point){hf_scale_place(&chart->x, ticks[i]), y}, HF_ANCHOR_MIDDLE,
                           tick_text(chart, &chart->x, written, ticks[i]));
    chart->x = kept;
}

void hf_axis_bottom_also(hf_chart *chart, const hf_unit *unit) {
    const hf_unit *own = chart->words.style->unit;
    double y = chart->plot.bottom + TICK + HF_FONT, x = chart->plot.right + UNIT;
    (void)hf_label_put(chart, (hf_point){x, y}, HF_ANCHOR_START, own->name);
    if (!unit || unit == own) return;
    (void)hf_label_put(chart, (hf_point){x, y + HF_LINE_HEIGHT}, HF_ANCHOR_START, unit->name);
    put_also(chart, unit, y + HF_LINE_HEIGHT);
}

void hf_axis_load(hf_chart *chart, const hf_unit *mass, const char *note) {
    const hf_unit *own = chart->words.style->unit, *other = own->is_mass ? hf_unit_find("N", 1)
                                                            : mass       ? mass
                                                                         : hf_unit_find("kg", 2);
    const char *name =
        hf_chart_format(chart, "load on the part, above in %s, below in %s%s", own->name, other->name, note);
    hf_axis_bottom(chart, NULL);
    put_also(chart, other, chart->plot.bottom + TICK + HF_FONT + HF_LINE_HEIGHT);
    if (hf_label_width(name) > chart->width - 2 * EDGE)
        name = hf_chart_format(chart, "load: above %s, below %s%s", own->name, other->name, note);
    put_name(chart, name, chart->plot.bottom + TICK + HF_FONT + 2 * HF_LINE_HEIGHT + 2);
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
    tick_style style = style_of(&chart->y, ticks, count);
    for (size_t i = 0; i < count; i++)
        widest = fmax(widest, hf_label_width(tick_text(chart, &chart->y, style, ticks[i])));
    return widest + 2 * GAP;
}

void hf_axis_left(hf_chart *chart, const char *name) {
    double ticks[HF_TICKS_MOST], x = chart->plot.left;
    size_t count = left_ticks(chart, ticks);
    tick_style style = style_of(&chart->y, ticks, count);
    for (size_t i = 0; i < count; i++) {
        double y = hf_scale_place(&chart->y, ticks[i]);
        if (!hf_label_put(chart, (hf_point){x - GAP, y + 5}, HF_ANCHOR_END,
                          tick_text(chart, &chart->y, style, ticks[i])))
            continue;
        if (!chart->ungridded)
            hf_mark_stroke(chart, (hf_point){x, y}, (hf_point){chart->plot.right, y}, "grid");
        hf_mark_stroke(chart, (hf_point){x - TICK, y}, (hf_point){x, y}, "axis");
    }
    hf_mark_stroke(chart, (hf_point){x, chart->plot.top}, (hf_point){x, chart->plot.bottom}, "axis");
    if (name)
        (void)hf_label_put(chart, (hf_point){12, chart->plot.top - 12 - chart->above}, HF_ANCHOR_START, name);
}
