/* The bound that so many parts can be expected to give, and what chance leaves of it. */
#include <math.h>
#include "chart/chart.h"
#include "words/plan_report.h"

enum { LINES_MOST = 2, KEYS_MOST = 2 + LINES_MOST, HEIGHT = 288, HEIGHT_NARROW = 250, SIDE = 24 };

static double shown(const hf_chart *chart, double newtons) {
    return fmax(hf_in_unit(chart->words.style, newtons),
                0); /* a bound below 0 promises nothing: drawn at 0, and the finding says so */
}

static bool takes_off(const hf_plan *plan) {
    return plan->calibration.needed != plan->setup.required;
}

/* Where the curves stand before the rig's error is taken off, what has to be reached there. */
static const char *wanted(hf_chart *chart, const hf_plan *plan) {
    if (isnan(plan->setup.required)) return "";
    if (isinf(plan->calibration.needed))
        return " The rig's stated errors are too large: no bound is left after them.";
    if (!takes_off(plan)) return "";
    return hf_chart_format(
        chart, " For %s after the rig's stated errors are taken off, the bound drawn here must reach %s.",
        hf_chart_load_stated(chart, plan->setup.required),
        hf_chart_load_observed(chart, plan->calibration.needed));
}

/* What was found, with the chance it was found for: without that, a bound that one test in ten misses seems to deny it. */
static const char *recommendation(hf_chart *chart, const hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    const hf_how_many_row *last = &parts->rows[parts->count - 1];
    double asked = plan->setup.assurance > 0 ? plan->setup.assurance : 0.80;
    hf_document *d = &chart->words;
    if (parts->recommended && parts->reason == HF_PARTS_ASSURED)
        return hf_chart_format(chart,
                               " Recommended: %zu parts, the fewest with which the bound reaches %s in at "
                               "least %s of 100 tests.",
                               parts->recommended, hf_chart_load_observed(chart, plan->calibration.needed),
                               hf_show_text(d, HF_AS_GIVEN, round(1e4 * asked) / 100));
    if (plan->cv_source == HF_PLAN_CV_FITTED) return ""; /* the parts are pulled already */
    if (parts->recommended) return hf_chart_format(chart, " Recommended: %zu parts.", parts->recommended);
    if (parts->reason == HF_PARTS_NOT_ASSURED && isfinite(last->assurance))
        return hf_chart_format(chart,
                               " No number of parts in the table can be recommended: with %zu the bound "
                               "reaches %s in %s of 100 tests, wanted are %s.",
                               last->n, hf_chart_load_observed(chart, plan->calibration.needed),
                               hf_show_text(d, HF_AS_GIVEN, round(1e3 * last->assurance) / 10),
                               hf_show_text(d, HF_AS_GIVEN, round(1e4 * asked) / 100));
    return " No number of parts in the table can be recommended.";
}

static const char *finding(hf_chart *chart, const hf_plan *plan) {
    hf_document *d = &chart->words;
    const hf_how_many *parts = &plan->base.parts;
    const hf_how_many_row *row = &parts->rows[parts->recommended ? parts->recommended - 2 : parts->count - 1];
    const double least = 1e-3 * plan->setup.mean; /* less is nothing to speak of */
    bool cut = false;
    for (size_t i = 0; i < parts->count; i++)
        cut = cut || !(parts->rows[i].low >= 0) || !(parts->rows[i].expected >= 0);
    return hf_chart_format(
        chart,
        "With %zu parts the bound to expect is %s; %s%s. With ever more parts it nears %s, the load that %s "
        "of all "
        "parts carry if %s.%s%s%s",
        row->n, row->expected > least ? hf_chart_load_mean(chart, row->expected) : "next to nothing",
        row->low > least ? "nine times in ten it comes out above " : "one time in ten it is close to 0",
        row->low > least ? hf_chart_load_mean(chart, row->low) : "",
        hf_chart_load_mean(chart, parts->true_quantile),
        hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.content), hf_plan_premise(plan), wanted(chart, plan),
        recommendation(chart, plan),
        cut ? " Bounds of 0 or below, and samples that give none, are drawn at 0." : "");
}

static bool fill_curves(hf_chart *chart, const hf_how_many *parts, hf_point *curves[3]) {
    for (size_t c = 0; c < 3; c++)
        if (!(curves[c] = HF_ARENA_NEW_ARRAY(chart->words.arena, hf_point, parts->count))) return false;
    for (size_t i = 0; i < parts->count; i++) {
        const hf_how_many_row *row = &parts->rows[i];
        double n = (double)row->n;
        curves[0][i] = (hf_point){n, shown(chart, row->low)};
        curves[1][i] = (hf_point){n, shown(chart, row->expected)};
        curves[2][i] = (hf_point){n, shown(chart, row->high)};
    }
    return true;
}

static void draw_piece(hf_chart *chart, hf_point *const curves[3], size_t from, size_t count) {
    hf_mark_band(chart, curves[0] + from, curves[2] + from, count);
    hf_mark_line(chart, curves[0] + from, count, "b thin");
    hf_mark_line(chart, curves[2] + from, count, "b thin");
    hf_mark_line(chart, curves[1] + from, count, "b");
    if (count > 1) return; /* a single row has no length */
    for (size_t c = 0; c < 3; c++) {
        hf_point at = {hf_scale_place(&chart->x, curves[c][from].x),
                       hf_scale_place(&chart->y, curves[c][from].y)};
        hf_mark_stroke(chart, (hf_point){at.x - 3, at.y}, (hf_point){at.x + 3, at.y}, "b line");
    }
}

static size_t fill_lines(hf_chart *chart, const hf_plan *plan, hf_named_line lines[LINES_MOST]) {
    size_t count = 0;
    hf_document *d = &chart->words;
    lines[count++] = (hf_named_line){
        hf_in_unit(d->style, plan->base.parts.true_quantile),
        hf_chart_format(chart, "%s carry %s", hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.content),
                        hf_chart_load_mean(chart, plan->base.parts.true_quantile)),
        "g line dot"};
    if (isfinite(plan->calibration.needed)) /* the curves, too, are before the rig's error is taken off */
        lines[count++] = (hf_named_line){
            hf_in_unit(d->style, plan->calibration.needed),
            takes_off(plan)
                ? hf_chart_format(chart, "needed %s", hf_chart_load_observed(chart, plan->calibration.needed))
                : hf_chart_format(chart, "wanted %s", hf_chart_load_stated(chart, plan->setup.required)),
            "v line dash"};
    return count;
}

static void draw_recommended(hf_chart *chart, const hf_how_many *parts) {
    if (!parts->recommended) return;
    const hf_how_many_row *row = &parts->rows[parts->recommended - 2];
    hf_point at = {hf_scale_place(&chart->x, (double)row->n),
                   hf_scale_place(&chart->y, shown(chart, row->expected))};
    const char *name =
        hf_chart_format(chart, "%zu parts: %s expected", row->n, hf_chart_load_mean(chart, row->expected));
    hf_named_line line = {(double)row->n, name, "b line dot"};
    hf_lines_upright(chart, &line, 1);
    hf_mark_shape(chart, at, 0, 5, NULL);
}

/* Lines across whose names stand in the key. */
static void draw_lines(hf_chart *chart, const hf_named_line *lines, size_t count) {
    for (size_t i = 0; i < count; i++) {
        double y = hf_scale_place(&chart->y, lines[i].value);
        hf_mark_stroke(chart, (hf_point){chart->plot.left, y}, (hf_point){chart->plot.right, y},
                       lines[i].look);
    }
}

/* What the fewest parts with a bound above zero and the most of them bring. */
static const char *title(hf_chart *chart, const hf_how_many *parts) {
    size_t first = 0;
    const hf_how_many_row *last = &parts->rows[parts->count - 1];
    while (first + 1 < parts->count && !(parts->rows[first].expected > 0)) first++;
    if (!(last->expected > 0))
        return hf_chart_format(chart, "No bound above zero to expect, even from %zu parts", last->n);
    return hf_chart_format(chart, "Bound to expect: %s from %zu parts, %s from %zu",
                           hf_chart_load_mean(chart, parts->rows[first].expected), parts->rows[first].n,
                           hf_chart_load_mean(chart, last->expected), last->n);
}

/* Sets plot and scales so that all names find room. */
static void lay_out(hf_chart *chart, const hf_how_many *parts, double greatest, double names) {
    double height = chart->narrow ? HEIGHT_NARROW : HEIGHT, top = 62;
    chart->above = parts->recommended ? hf_lanes_height(1) : 0;
    chart->plot = (hf_place_box){0, top + chart->above, chart->width - names, top + height};
    chart->y = hf_scale_linear(0, greatest, chart->plot.bottom, chart->plot.top);
    chart->plot.left = hf_axis_left_room(chart);
    chart->x =
        (hf_scale){HF_SCALE_LINEAR,  NULL, 2, (double)parts->rows[parts->count - 1].n, chart->plot.left,
                   chart->plot.right};
}

const char *hf_chart_bound(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    const hf_how_many *parts = &plan->base.parts;
    hf_point *curves[3];
    if (parts->count < 2) return "the plan has no table of part numbers (a pilot has none)";
    if (!fill_curves(chart, parts, curves)) {
        chart->out->failed = true;
        return NULL;
    }
    hf_named_line lines[LINES_MOST];
    size_t count = fill_lines(chart, plan, lines);
    double greatest = 0;
    for (size_t i = 0; i < count; i++) greatest = fmax(greatest, lines[i].value);
    for (size_t i = 0; i < parts->count; i++) greatest = fmax(greatest, curves[2][i].y);
    lay_out(chart, parts, greatest, chart->narrow ? SIDE : hf_lines_room(lines, count));
    hf_key_entry key[KEYS_MOST] = {{"bound to expect", HF_KEY_STROKE, "b line", false},
                                   {"8 of 10 samples lie between", HF_KEY_BAND, "b line thin", false}};
    size_t keys = 2;
    for (size_t i = 0; chart->narrow && i < count; i++)
        key[keys++] = (hf_key_entry){lines[i].name, HF_KEY_STROKE, lines[i].look, false};
    double bottom = chart->plot.bottom + 46;
    hf_chart_open(chart, bottom + hf_key(chart, NAN, key, keys) + 6, title(chart, parts),
                  finding(chart, plan));
    hf_axis_left(chart, hf_chart_format(chart, "bound, %s", chart->words.style->unit->name));
    hf_axis_bottom(chart, "number of parts");
    draw_piece(chart, curves, 0, parts->count);
    if (chart->narrow)
        draw_lines(chart, lines, count);
    else
        hf_lines_across(chart, lines, count);
    draw_recommended(chart, parts);
    (void)hf_key(chart, bottom, key, keys);
    hf_chart_close(chart);
    return NULL;
}
