/* Ways of failing: for each design its modes as bars of their share, with the count in words. Parts that are still whole and rig failures are told
 * apart; they are no mode. The shape of a mode is that of the chart of pulls: the order in which the file first names it. */
#include <math.h>
#include <string.h>
#include "report/chart.h"
#include "report/compare_report.h"

enum { TOP = 40, HEAD = 24, ROW = 24, FOOT = 12, NAME_WIDTH = 180, GAP = 10, SHAPE_ROOM = 24 };

/* Lines that a design takes below its name. */
static size_t lines_of(const hf_comparison_design *design) {
    size_t modes = design->modes.result.count;
    return modes ? modes : 1;
}

static double block_height(const hf_comparison_design *design) {
    return HEAD + (double)lines_of(design) * ROW + FOOT;
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

/* By falling share; equal ones in the order of the file. */
static void order_modes(const hf_modes *modes, size_t *order) {
    for (size_t i = 0; i < modes->count; i++) {
        size_t at = i;
        for (; at > 0 && modes->modes[order[at - 1]].failures < modes->modes[i].failures; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

static void draw_mode(hf_chart *chart, const hf_comparison_design *design, size_t mode, double y) {
    double to = hf_scale_place(&chart->x, 100 * design->modes.result.modes[mode].share),
           left = chart->plot.left;
    (void)hf_label_put(chart, (hf_point){left - SHAPE_ROOM, y + 5}, HF_ANCHOR_END,
                       mode_name(chart, design, mode));
    hf_mark_shape(chart, (hf_point){left - SHAPE_ROOM / 2.0, y}, mode < HF_SHAPES ? mode : HF_SHAPES - 1, 4.5,
                  NULL);
    hf_mark_rectangle(chart, (hf_place_box){left, y - 6, to, y + 6}, "fb");
    hf_mark_stroke(chart, (hf_point){left, y - 9}, (hf_point){left, y + 9}, "axis");
    (void)hf_label_put(chart, (hf_point){to + GAP, y + 5}, HF_ANCHOR_START, share_words(chart, design, mode));
}

static void draw_block(hf_chart *chart, const hf_comparison_design *design, double top) {
    size_t order[HF_MODE_LIMIT];
    const char *apart = apart_words(chart, design);
    double room = HF_CHART_WIDTH - 24 - hf_label_width(apart) - 20;
    (void)hf_label_put(chart, (hf_point){12, top + 17}, HF_ANCHOR_START,
                       hf_chart_cut(chart, hf_compare_name(design), room));
    if (apart[0]) (void)hf_label_put(chart, (hf_point){HF_CHART_WIDTH - 12, top + 17}, HF_ANCHOR_END, apart);
    if (!design->modes.result.count) {
        (void)hf_label_put(chart, (hf_point){chart->plot.left, top + HEAD + ROW / 2.0 + 5}, HF_ANCHOR_START,
                           nothing_words(chart, design));
        return;
    }
    order_modes(&design->modes.result, order);
    for (size_t i = 0; i < design->modes.result.count; i++)
        draw_mode(chart, design, order[i], top + HEAD + ((double)i + 0.5) * ROW);
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
    const char *out =
        hf_chart_format(chart, "%s Parts that are still whole and rig failures are no mode and stand apart.",
                        words.bytes ? words.bytes : "");
    if (words.failed) chart->out->failed = true;
    hf_text_free(&words);
    return out;
}

const char *hf_chart_modes(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_comparison *result = subject->comparison;
    double names = 0, counts = 0, bottom = TOP, y = TOP;
    for (size_t i = 0; i < result->count; i++) {
        bottom += block_height(&result->designs[i]);
        for (size_t k = 0; k < result->designs[i].modes.result.count; k++) {
            names = fmax(names, hf_label_width(mode_name(chart, &result->designs[i], k)));
            counts = fmax(counts, hf_label_width(share_words(chart, &result->designs[i], k)));
        }
    }
    if (!(names > 0)) return "no mode is noted for any failure";
    chart->plot = (hf_place_box){16 + names + SHAPE_ROOM, TOP, HF_CHART_WIDTH - counts - GAP - 16, bottom};
    chart->x = (hf_scale){HF_SCALE_LINEAR, NULL, 0, 100, chart->plot.left, chart->plot.right};
    hf_chart_open(chart, bottom + 52, "Ways of failing", finding(chart, result));
    hf_axis_bottom(chart, "share of the design's failures, %");
    for (size_t i = 0; i < result->count; i++) {
        draw_block(chart, &result->designs[i], y);
        y += block_height(&result->designs[i]);
    }
    hf_chart_close(chart);
    return NULL;
}
