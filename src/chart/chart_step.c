/* What finer or coarser steps cost: the growth of the margin over the step. */
#include <math.h>
#include "holdfast/base/number.h"
#include "chart/chart.h"

static const char *margin_words(hf_chart *chart, const hf_plan *plan) {
    char ratio[HF_NUMBER_SIZE];
    return hf_chart_format(chart, "margin × %s", hf_number_figures(plan->price.ratio, 3, ratio));
}

static const char *title(hf_chart *chart, const hf_plan *plan) {
    return hf_chart_format(chart, "Steps of %s: %s", hf_chart_load(chart, plan->ladder.step_widest),
                           margin_words(chart, plan));
}

static const char *price_words(hf_chart *chart, const hf_plan *plan) {
    char lost[HF_NUMBER_SIZE];
    const char *margin = margin_words(chart, plan);
    if (isnan(plan->price.parts_lost)) return margin;
    return hf_chart_format(chart, "%s, like losing %s of %zu parts", margin,
                           hf_number_figures(plan->price.parts_lost, 2, lost), plan->price_parts);
}

static const char *finding(hf_chart *chart, const hf_plan *plan) {
    char step[HF_NUMBER_SIZE];
    return hf_chart_format(chart,
                           "The widest fine step of the plan, %s or %s standard deviations, costs: %s. "
                           "Margin is the distance of the bound from the middle; "
                           "1 means readings without steps.",
                           hf_chart_load(chart, plan->ladder.step_widest),
                           hf_number_figures(plan->price_step, 2, step), price_words(chart, plan));
}

const char *hf_chart_step(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    const hf_step_curve *curve = subject->curve;
    hf_point points[HF_STEP_CURVE_POINTS + 1] = {{0, 1}};
    double highest = plan->price.ratio;
    if (!curve->count || isnan(plan->price_step))
        return "readings are continuous in this plan, there is no step to pay for";
    for (size_t i = 0; i < curve->count; i++) {
        points[i + 1] = (hf_point){curve->step[i], curve->ratio[i]};
        highest = fmax(highest, curve->ratio[i]);
    }
    chart->above = hf_lanes_height(1);
    chart->plot = (hf_place_box){0, 62 + chart->above, chart->width - (chart->narrow ? 24 : 40), 340};
    chart->y = hf_scale_linear(1, highest, chart->plot.bottom, chart->plot.top);
    chart->plot.left = hf_axis_left_room(chart);
    chart->x = hf_scale_linear(0, fmax(curve->step[curve->count - 1], plan->price_step), chart->plot.left,
                               chart->plot.right);
    hf_chart_open(chart, 396, title(chart, plan), finding(chart, plan));
    hf_axis_left(chart, "margin, times that without steps");
    hf_axis_bottom(chart, "step, in standard deviations of strength");
    hf_mark_line(chart, points, curve->count + 1, "b");
    hf_point at = {hf_scale_place(&chart->x, plan->price_step), hf_scale_place(&chart->y, plan->price.ratio)};
    hf_named_line line = {
        plan->price_step,
        hf_chart_format(chart, "this plan: %s",
                        chart->narrow ? margin_words(chart, plan) : price_words(chart, plan)),
        "b line dot"};
    hf_lines_upright(chart, &line, 1);
    hf_mark_shape(chart, at, 0, 5, NULL);
    hf_chart_close(chart);
    return NULL;
}
