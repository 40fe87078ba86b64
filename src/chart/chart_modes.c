/* Ways of failing: for each design a mark for every failure, in a row for each way, with the count in words: five failures are no percentages. Parts that are still whole and rig failures are told
 * apart; they are no mode. The shape of a mode is that of the chart of pulls: by name. */
#include <math.h>
#include <string.h>
#include "chart/chart.h"
#include "words/compare_report.h"

enum {
    TOP = 40,
    HEAD = 24,
    HEAD_NONE = 4,
    ROW = 24,
    ROW_NARROW = 42,
    FOOT = 12,
    NAME_WIDTH = 180,
    GAP = 10,
    SHAPE_ROOM = 24,
    ABOVE = 20,
    SIDE = 16,
    MARK_LEAST = 2, /* half width; smaller ones run into a bar */
    MARK_APART = 14
};

/* Lines that a design takes below its name. */
static size_t lines_of(const hf_comparison_design *design) {
    size_t modes = design->modes.result.count;
    return modes ? modes : 1;
}

static double row_height(const hf_chart *chart) {
    return chart->narrow ? ROW_NARROW : ROW;
}

static bool has_apart(const hf_comparison_design *design) {
    return design->event.counts.run_out || design->event.counts.rig;
}

/* Lines above the modes: the name, which the title already says where there is one design, and what stands apart, beside it or below. */
static size_t head_lines(const hf_chart *chart, const hf_comparison_design *design, bool named) {
    if (named) return has_apart(design) && chart->narrow ? 2 : 1;
    return has_apart(design) ? 1 : 0;
}

static double head_height(const hf_chart *chart, const hf_comparison_design *design, bool named) {
    size_t lines = head_lines(chart, design, named);
    return lines ? HEAD + (double)(lines - 1) * HF_LINE_HEIGHT : HEAD_NONE;
}

static double block_height(const hf_chart *chart, const hf_comparison_design *design, bool named) {
    return head_height(chart, design, named) + (double)lines_of(design) * row_height(chart) + FOOT;
}

static size_t failures_of(const hf_comparison_design *design) {
    size_t failures = 0;
    for (size_t i = 0; i < design->modes.result.count; i++)
        failures += design->modes.result.modes[i].failures;
    return failures;
}

static const char *mode_name(hf_chart *chart, const hf_comparison_design *design, size_t mode) {
    const char *name = design->modes.names[mode];
    return name ? hf_chart_cut(chart, name, NAME_WIDTH) : "mode not noted";
}

static const char *share_words(hf_chart *chart, const hf_comparison_design *design, size_t mode) {
    const hf_mode_result *result = &design->modes.result.modes[mode];
    return hf_chart_format(chart, "%zu of %zu", result->failures, failures_of(design));
}

/* What is known of a design without modes. */
static const char *nothing_words(hf_chart *chart, const hf_comparison_design *design) {
    const char *reason = design->modes.reason ? design->modes.reason : "";
    if (!design->sample.count) return "not pulled";
    if (strcmp(reason, "no_failure") == 0) return "no part has failed";
    if (strcmp(reason, "no_mode_stated") == 0)
        return hf_chart_format(chart, "%s, mode not noted",
                               hf_chart_count(chart, design->event.counts.failed, "failure", "failures"));
    return strcmp(reason, "too_many_modes") == 0 ? "more than 32 modes" : "no modes";
}

/* "2 still whole, 1 rig failure" */
static const char *apart_words(hf_chart *chart, const hf_comparison_design *design) {
    const hf_assess_counts *counts = &design->event.counts;
    const char *whole = counts->run_out ? hf_chart_format(chart, "%zu still whole", counts->run_out) : "";
    const char *rig = counts->rig ? hf_chart_count(chart, counts->rig, "rig failure", "rig failures") : "";
    if (!counts->run_out && !counts->rig) return "";
    return hf_chart_format(chart, "apart: %s%s%s", whole, counts->run_out && counts->rig ? ", " : "", rig);
}

/* By falling share; equal ones by name. */
static void order_modes(const hf_modes *modes, size_t *order) {
    for (size_t i = 0; i < modes->count; i++) {
        size_t at = i;
        for (; at > 0 && modes->modes[order[at - 1]].failures < modes->modes[i].failures; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

static void draw_mode(hf_chart *chart, const hf_comparison_design *design, size_t mode, double y) {
    size_t failures = design->modes.result.modes[mode].failures;
    double left = chart->plot.left, to = hf_scale_place(&chart->x, (double)failures),
           apart = (to - left) / fmax(1, (double)failures), size = fmin(4.5, apart / 2.4);
    hf_point shape = {left - SHAPE_ROOM / 2.0, y}, name = {left - SHAPE_ROOM, y + 5};
    if (chart->narrow) {
        shape = (hf_point){left + 6, y - ABOVE};
        name = (hf_point){left + SHAPE_ROOM - 4, y - ABOVE + 5};
    }
    (void)hf_label_put(chart, name, chart->narrow ? HF_ANCHOR_START : HF_ANCHOR_END,
                       mode_name(chart, design, mode));
    hf_mark_shape(chart, shape, mode < HF_SHAPES ? mode : HF_SHAPES - 1, 4.5, NULL);
    if (size < MARK_LEAST)
        hf_mark_rectangle(chart, (hf_place_box){left, y - 4.5, to, y + 4.5}, "fb");
    else
        for (size_t i = 0; i < failures; i++)
            hf_mark_shape(chart, (hf_point){left + ((double)i + 0.5) * apart, y},
                          mode < HF_SHAPES ? mode : HF_SHAPES - 1, size, "full");
    hf_mark_stroke(chart, (hf_point){left, y - 9}, (hf_point){left, y + 9}, "axis");
    (void)hf_label_put(chart, (hf_point){to + GAP, y + 5}, HF_ANCHOR_START, share_words(chart, design, mode));
}

static void draw_head(hf_chart *chart, const hf_comparison_design *design, bool named, double top) {
    const char *apart = apart_words(chart, design);
    bool beside = named && !chart->narrow;
    double beyond = beside && apart[0] ? hf_label_width(apart) + 20 : 0, room = chart->width - 24 - beyond;
    double below = named && chart->narrow ? HF_LINE_HEIGHT : 0;
    if (named)
        (void)hf_label_put(chart, (hf_point){12, top + 17}, HF_ANCHOR_START,
                           hf_chart_cut(chart, hf_compare_name(design), room));
    if (!apart[0]) return;
    (void)hf_label_put(chart, (hf_point){beside ? chart->width - 12 : 12, top + 17 + below},
                       beside ? HF_ANCHOR_END : HF_ANCHOR_START, apart);
}

static void draw_block(hf_chart *chart, const hf_comparison_design *design, bool named, double top) {
    size_t order[HF_MODE_LIMIT];
    double first = top + head_height(chart, design, named), row = row_height(chart);
    draw_head(chart, design, named, top);
    if (!design->modes.result.count) {
        (void)hf_label_put(chart, (hf_point){chart->plot.left, first + row / 2 + 5}, HF_ANCHOR_START,
                           nothing_words(chart, design));
        return;
    }
    order_modes(&design->modes.result, order);
    for (size_t i = 0; i < design->modes.result.count; i++)
        draw_mode(chart, design, order[i], first + ((double)i + (chart->narrow ? 0.7 : 0.5)) * row);
}

static const char *finding(hf_chart *chart, const hf_comparison *result) {
    hf_text words = {0};
    size_t named = 0, order[HF_MODE_LIMIT];
    for (size_t i = 0; i < result->count && named < 3; i++) {
        const hf_comparison_design *design = &result->designs[i];
        if (!design->modes.result.count) continue;
        order_modes(&design->modes.result, order);
        hf_text_addf(&words, "%s%s fails most often by %s (%s).", named++ ? " " : "",
                     hf_chart_cut(chart, hf_compare_name(design), 160), mode_name(chart, design, order[0]),
                     share_words(chart, design, order[0]));
    }
    const char *out = hf_chart_format(
        chart,
        "%s A mark is a failure. Parts that are still whole and rig failures are no mode and stand apart.",
        words.bytes ? words.bytes : "");
    if (words.failed) chart->out->failed = true;
    hf_text_free(&words);
    return out;
}

static const char *title(hf_chart *chart, const hf_comparison *result) {
    size_t failures = 0, order[HF_MODE_LIMIT] = {0};
    for (size_t i = 0; i < result->count; i++) failures += failures_of(&result->designs[i]);
    if (result->count > 1)
        return hf_chart_format(chart, "How the %s of %zu designs happened",
                               hf_chart_count(chart, failures, "failure", "failures"), result->count);
    const hf_comparison_design *one = &result->designs[0];
    order_modes(&one->modes.result, order);
    return hf_chart_format(chart, "%s: %s failed by %s", hf_chart_design(chart, one->design),
                           share_words(chart, one, order[0]), mode_name(chart, one, order[0]));
}

const char *hf_chart_modes(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_comparison *result = subject->comparison;
    bool named = result->count > 1;
    double names = 0, counts = 0, bottom = TOP, y = TOP;
    size_t most = 0;
    for (size_t i = 0; i < result->count; i++) {
        bottom += block_height(chart, &result->designs[i], named);
        for (size_t k = 0; k < result->designs[i].modes.result.count; k++) {
            names = fmax(names, hf_label_width(mode_name(chart, &result->designs[i], k)));
            counts = fmax(counts, hf_label_width(share_words(chart, &result->designs[i], k)));
            if (result->designs[i].modes.result.modes[k].failures > most)
                most = result->designs[i].modes.result.modes[k].failures;
        }
    }
    if (!(names > 0)) return "the way of failing is noted for no failure";
    chart->plot = (hf_place_box){chart->narrow ? SIDE : SIDE + names + SHAPE_ROOM, TOP,
                                 chart->width - counts - GAP - SIDE, bottom};
    double room = fmin(chart->plot.right - chart->plot.left, MARK_APART * (double)most);
    chart->plot.right = chart->plot.left + room;
    chart->x = (hf_scale){HF_SCALE_LINEAR, NULL, 0, (double)most, chart->plot.left, chart->plot.right};
    hf_chart_open(chart, bottom + 12, title(chart, result), finding(chart, result));
    for (size_t i = 0; i < result->count; i++) {
        draw_block(chart, &result->designs[i], named, y);
        y += block_height(chart, &result->designs[i], named);
    }
    hf_chart_close(chart);
    return NULL;
}
