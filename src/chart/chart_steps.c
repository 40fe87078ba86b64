/* From the best single pull down to the working load, one bar a step. */
#include <math.h>
#include "holdfast/base/number.h"
#include "words/assess_words.h"
#include "words/load_steps.h"
#include "chart/chart.h"

enum { ROW = 34, ROW_NARROW = 46, LABEL_ABOVE = 15, REASON_WIDTH = 190, GAP = 8 };

/* A first load says too little of a part's strength to enter a mean. */
#define MEAN_OF_LATER "mean, first-load failures left out"

static const char *words_of(hf_chart *chart, const hf_design_assessment *design, const hf_load_step *step) {
    if (step->label) return hf_chart_cut(chart, step->label, REASON_WIDTH);
    if (step->kind == HF_STEP_MEAN && design->break_event.counts.below) return MEAN_OF_LATER;
    if (step->kind == HF_STEP_BOUND && hf_governing_rejected(&design->break_event))
        return "lower bound (law rejected)";
    if (step->kind == HF_STEP_BOUND)
        return hf_chart_format(chart, "lower bound (%s carry it)",
                               hf_show_text(&chart->words, HF_AS_SHARE_STATED, design->content));
    return hf_step_row_of(step)->words;
}

static const char *label_of(hf_chart *chart, const hf_design_assessment *design, const hf_load_step *step) {
    char number[HF_NUMBER_SIZE];
    const char *words = words_of(chart, design, step);
    if (!isfinite(step->factor)) return words;
    return hf_chart_format(chart, "%s %s %s", hf_step_row_of(step)->sign,
                           hf_number_figures(step->factor, 3, number), words);
}

static const char *value_of(hf_chart *chart, const hf_load_step *step) {
    return hf_show_text(&chart->words, hf_step_row_of(step)->as, step->value);
}

enum { MEAN_LEAST = 3 }; /* parts that have a mean worth a bar */

/* A rig without stated errors takes nothing off: no bar of its own. Nor has a mean of few parts, or of those that failed among others. */
static bool is_drawn(const hf_design_assessment *design, const hf_load_step *step) {
    const hf_assess_counts *counts = &design->break_event.counts;
    if (step->kind == HF_STEP_MEAN) return counts->failed >= MEAN_LEAST && counts->failed == counts->used;
    return step->kind != HF_STEP_CALIBRATION || step->factor != 1;
}

static void draw_step(hf_chart *chart, const hf_design_assessment *design, const hf_load_step *step,
                      double y) {
    double value = hf_in_unit(chart->words.style, step->value), from = chart->plot.left;
    bool promised = step->kind >= HF_STEP_BOUND, last = step->kind == HF_STEP_ROUND;
    double to = fmax(hf_scale_place(&chart->x, value), from);
    const char *label = label_of(chart, design, step);
    if (chart->narrow)
        (void)hf_label_put(chart, (hf_point){from, y - LABEL_ABOVE}, HF_ANCHOR_START,
                           hf_chart_cut(chart, label, chart->width - 2 * from));
    else
        (void)hf_label_put(chart, (hf_point){from - GAP, y + 5}, HF_ANCHOR_END, label);
    hf_mark_rectangle(chart, (hf_place_box){from, y - (last ? 10 : 6), to, y + (last ? 10 : 6)},
                      promised ? "fv" : "fb");
    (void)hf_label_put(chart, (hf_point){to + GAP, y + 5}, HF_ANCHOR_START, value_of(chart, step));
}

/* What the steps end with: the working load, or the last load above zero. */
static const char *finding(hf_chart *chart, const hf_design_assessment *design, size_t count) {
    const hf_load_step *first = &design->steps[0], *last = &design->steps[count - 1];
    char number[HF_NUMBER_SIZE];
    if (count < design->step_count) {
        const hf_load_step *next = &design->steps[count];
        return hf_chart_format(chart,
                               "%s %s: it promises no load above zero, so the steps end with the %s and no "
                               "working load follows.",
                               next->kind == HF_STEP_BOUND         ? "The lower bound is"
                               : next->kind == HF_STEP_CALIBRATION ? "After the rig's error the bound is"
                                                                   : "The load that set allows is",
                               value_of(chart, next),
                               last->kind == HF_STEP_BEST_PULL ? "best pull" : words_of(chart, design, last));
    }
    if (!isfinite(design->working_load))
        return design->break_event.governing
                   ? "The pulls lead down to a bound; no working load follows from them."
                   : "These pulls give no bound; no working load follows from them.";
    return hf_chart_format(chart,
                           "From the %s held in the best single pull the factors lead down to a working load "
                           "of %s; that is 1/%s "
                           "of it.",
                           hf_chart_load_observed(chart, first->value),
                           hf_chart_load_down(chart, last->value),
                           hf_number_figures(first->value / last->value, 2, number));
}

static const char *title(hf_chart *chart, const hf_design_assessment *design, size_t count) {
    const hf_load_step *last = &design->steps[count - 1];
    const char *name = hf_chart_design(chart, design->design),
               *best = design->steps[0].kind == HF_STEP_BEST_PULL
                           ? hf_chart_format(chart, "best pull held %s, ",
                                             hf_chart_load_observed(chart, design->steps[0].value))
                           : "";
    if (count == design->step_count && isfinite(design->working_load))
        return hf_chart_format(chart, "%s: %sworking load %s", name, best, value_of(chart, last));
    if (count == design->step_count && design->break_event.governing)
        return hf_chart_format(chart, "%s: %sbound %s%s", name, best, value_of(chart, last),
                               hf_governing_rejected(&design->break_event) ? " (law rejected)" : "");
    return hf_chart_format(chart, "%s: %sno load is promised", name, best);
}

const char *hf_chart_steps(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_design_assessment *design = subject->design;
    double greatest = 0, labels = 0, values = 0;
    size_t drawn = 0, count = hf_steps_above_nothing(design);
    if (!design->step_count) return "no part of this design has been pulled";
    for (size_t i = 0; i < count; i++) {
        const hf_load_step *step = &design->steps[i];
        if (!is_drawn(design, step)) continue;
        drawn++;
        greatest = fmax(greatest, hf_in_unit(chart->words.style, step->value));
        labels = fmax(labels, hf_label_width(label_of(chart, design, step)));
        values = fmax(values, hf_label_width(value_of(chart, step)));
    }
    if (drawn == 1 && count == design->step_count && !design->break_event.governing)
        return "the pulls give no bound, so nothing leads down from the best pull";
    double asked = hf_in_unit(chart->words.style, hf_chart_asked(design->design));
    if (asked > 0) greatest = fmax(greatest, asked);
    if (!(greatest > 0)) return "no load of the step-down is above 0";
    double row = chart->narrow ? ROW_NARROW : ROW, top = 34 + (asked > 0 ? hf_lanes_height(1) : 10),
           bottom = top + (double)drawn * row;
    chart->plot = (hf_place_box){chart->narrow ? 2 * GAP : labels + 2 * GAP, top,
                                 chart->width - values - 2 * GAP, bottom};
    chart->x = (hf_scale){HF_SCALE_LINEAR, NULL, 0, greatest, chart->plot.left, chart->plot.right};
    chart->ungridded = true;
    hf_chart_open(chart, bottom + HF_AXIS_LOAD + 2, title(chart, design, count),
                  finding(chart, design, count));
    hf_axis_load(chart, design->answer.mass_unit, "");
    if (asked > 0) {
        const hf_named_line line = {asked, hf_chart_asked_words(chart, design->design), "ask line dash"};
        hf_lines_upright(chart, &line, 1);
    }
    double y = chart->plot.top + (chart->narrow ? 0.7 : 0.5) * row;
    for (size_t i = 0; i < count; i++) {
        if (!is_drawn(design, &design->steps[i])) continue;
        draw_step(chart, design, &design->steps[i], y);
        y += row;
    }
    hf_chart_close(chart);
    return NULL;
}
