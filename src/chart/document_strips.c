/* The strips of the first screen: one under each design of its table, all on the axis below the last. The words beside them say the same, so
 * that who listens misses nothing. */
#include <math.h>
#include "chart/document_chart.h"
#include "chart/strip.h"

enum { TALL = 44, AXIS = 42, END = 48 };

typedef struct strips {
    hf_document *document;
    const hf_glance *glances;
    size_t count;
} strips;

/* Opens a picture that is decoration: nothing in it is not said beside it. */
static hf_chart *open_strip(hf_document *d, hf_text *out, bool narrow, double height, const strips *all) {
    hf_chart *chart = HF_ARENA_NEW(d->arena, hf_chart);
    if (!chart) return NULL;
    chart->out = out;
    chart->narrow = narrow;
    chart->width = narrow ? HF_CHART_NARROW : HF_CHART_WIDE;
    chart->height = height;
    chart->words = hf_document_for(d->arena, d->style);
    chart->plot = (hf_place_box){1, 0, chart->width - END, 0};
    hf_strip_scale(chart, hf_strip_measure(chart, all->glances, all->count));
    hf_text_addf(out,
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"hf-chart strip %s\" aria-hidden=\"true\" "
                 "viewBox=\"0 0 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\">\n",
                 narrow ? "narrow" : "wide", chart->width, height, chart->width, height);
    return chart;
}

static void draw_one(const strips *all, const hf_glance *g, bool narrow, hf_text *out) {
    hf_chart *chart = open_strip(all->document, out, narrow, TALL, all);
    const hf_goal *goal = &g->design->design->goal;
    if (!chart) return;
    hf_strip_draw(chart, g, 2, TALL - 4);
    if (goal->service_load.given) {
        double x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, goal->service_load.value));
        hf_mark_hover(chart, hf_chart_format(chart, "asked: %s",
                                             hf_chart_load_stated(chart, goal->service_load.value)));
        hf_mark_stroke(chart, (hf_point){x, 0}, (hf_point){x, TALL}, "ask line dash");
    }
    hf_chart_close(chart);
}

static void draw_axis(const strips *all, bool narrow, hf_text *out) {
    hf_chart *chart = open_strip(all->document, out, narrow, AXIS, all);
    if (!chart) return;
    hf_axis_bottom(chart, NULL);
    hf_axis_bottom_also(chart, all->glances[0].design->answer.mass_unit);
    hf_chart_close(chart);
}

static const char *both(const strips *all, const hf_glance *g) {
    hf_text out = {0};
    for (int narrow = 0; narrow < 2; narrow++)
        if (g)
            draw_one(all, g, narrow, &out);
        else
            draw_axis(all, narrow, &out);
    const char *kept = out.bytes ? hf_arena_text(all->document->arena, out.bytes, out.length) : NULL;
    hf_text_free(&out);
    return kept;
}

void hf_document_strips(hf_document *d, hf_block *table, const hf_glance *glances, size_t count) {
    const strips all = {d, glances, count};
    size_t pulls = 0, at = 0;
    for (size_t i = 0; i < count; i++) pulls += glances[i].design->sample.count;
    if (!table || !pulls) return;
    for (hf_row *row = table->rows; row && at < count; row = row->next)
        row->picture = both(&all, &glances[at++]);
    table->picture = both(&all, NULL);
}
