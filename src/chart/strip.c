#include "chart/strip.h"

#include <math.h>

static double place(const hf_chart *chart, double newtons) {
    return hf_scale_place(&chart->x, hf_in_unit(chart->words.style, newtons));
}

static void reach(const hf_chart *chart, hf_strip_range *range, double newtons) {
    if (isfinite(newtons)) range->most = fmax(range->most, hf_in_unit(chart->words.style, newtons));
}

hf_strip_range hf_strip_measure(const hf_chart *chart, const hf_glance *glances, size_t count) {
    hf_strip_range range = {0, -INFINITY};
    for (size_t i = 0; i < count; i++) {
        const hf_design_assessment *a = glances[i].design;
        for (size_t j = 0; j < a->sample.count; j++) {
            const hf_observation *seen = &a->sample.items[j];
            reach(chart, &range, seen->lower);
            reach(chart, &range, seen->upper);
            if (seen->kind == HF_INTERVAL_ABOVE)
                range.outlasted = fmax(range.outlasted, hf_in_unit(chart->words.style, seen->lower));
        }
        if (a->design->goal.service_load.given) reach(chart, &range, a->design->goal.service_load.value);
    }
    return range;
}

void hf_strip_scale(hf_chart *chart, hf_strip_range range) {
    chart->x = hf_scale_linear(0, hf_scale_past(0, range.most, range.outlasted, false), chart->plot.left,
                               chart->plot.right);
}

/* "ring-03: held 849.5 N, failed at 888.8 N" */
static const char *pull_words(hf_chart *chart, const hf_design_assessment *a, size_t at) {
    const hf_observation *seen = &a->sample.items[at];
    const char *id = hf_chart_cut(chart, a->specimens[at]->id, 200);
    switch (seen->kind) {
    case HF_INTERVAL_ABOVE:
        return hf_chart_format(chart, "%s: held %s, still whole", id,
                               hf_chart_load_observed(chart, seen->lower));
    case HF_INTERVAL_BELOW:
        return hf_chart_format(chart, "%s: failed at %s, the first load stated", id,
                               hf_chart_load_observed(chart, seen->upper));
    case HF_INTERVAL_NONE:
    case HF_INTERVAL_EXACT:
    case HF_INTERVAL_CLOSED:
        break;
    }
    if (!(seen->lower < seen->upper))
        return hf_chart_format(chart, "%s: failed at %s", id, hf_chart_load_observed(chart, seen->upper));
    return hf_chart_format(chart, "%s: held %s, failed at %s", id, hf_chart_load_observed(chart, seen->lower),
                           hf_chart_load_observed(chart, seen->upper));
}

/* In the order of the sample, from the top of the strip to its foot. */
static void draw_pulls(hf_chart *chart, const hf_design_assessment *a, double top, double height) {
    const double step = height / fmax(1, (double)a->sample.count), thick = 3.5, least = 4;
    for (size_t i = 0; i < a->sample.count; i++) {
        const hf_observation *seen = &a->sample.items[i];
        double y = top + ((double)i + 0.5) * step, from = place(chart, seen->lower);
        hf_mark_hover(chart, pull_words(chart, a, i));
        if (seen->kind == HF_INTERVAL_ABOVE) {
            hf_mark_arrow(chart, (hf_point){from, y}, fmin(from + 16, chart->width - 4), "pull line");
            continue;
        }
        double to = place(chart, seen->upper);
        if (to - from < least) from = to - least; /* a whole reading is a dot that can be seen */
        hf_mark_stroke(chart, (hf_point){from, y}, (hf_point){to, y},
                       seen->kind == HF_INTERVAL_BELOW ? "pull line dash"
                       : step >= thick                 ? "pull bar"
                                                       : "pull line");
    }
}

void hf_strip_draw(hf_chart *chart, const hf_glance *g, double top, double height) {
    const hf_design_assessment *a = g->design;
    const hf_answer *answer = &a->answer;
    const double middle = top + height / 2, half = fmin(5, height / 4), left = chart->plot.left;
    draw_pulls(chart, a, top + 1, height - 2);
    if (answer->bound && answer->bound->value > 0) {
        double bound = place(chart, answer->bound->value);
        hf_mark_stroke(chart, (hf_point){left, middle}, (hf_point){bound, middle}, "keep line thin");
        hf_mark_hover(chart,
                      hf_chart_format(chart, "bound %s", hf_chart_load_bound(chart, answer->bound->value)));
        hf_mark_stroke(chart, (hf_point){bound, top}, (hf_point){bound, top + height}, "keep line");
    }
    if (answer->verdict != HF_ANSWER_WORKING_LOAD) return;
    hf_mark_hover(chart, hf_chart_format(chart, "working load %s", g->load));
    hf_mark_rectangle(chart,
                      (hf_place_box){left, middle - half, place(chart, answer->unrounded), middle + half},
                      "keepfill");
}
