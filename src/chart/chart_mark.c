/* Marks: what stands for data. */
#include <math.h>
#include <string.h>
#include "chart/chart.h"

static hf_point placed(const hf_chart *chart, hf_point value) {
    return (hf_point){hf_scale_place(&chart->x, value.x), hf_scale_place(&chart->y, value.y)};
}

static void add_points(hf_chart *chart, const hf_point *points, size_t count, bool backwards) {
    for (size_t i = 0; i < count; i++) {
        hf_point at = placed(chart, points[backwards ? count - 1 - i : i]);
        hf_text_addf(chart->out, "%.2f,%.2f ", at.x, at.y);
    }
}

void hf_mark_line(hf_chart *chart, const hf_point *points, size_t count, const char *look) {
    hf_text_addf(chart->out, "<polyline class=\"line %s\" points=\"", look);
    add_points(chart, points, count, false);
    hf_text_add(chart->out, "\"/>\n");
}

void hf_mark_band(hf_chart *chart, const hf_point *low, const hf_point *high, size_t count) {
    hf_text_add(chart->out, "<polygon class=\"soft\" points=\"");
    add_points(chart, high, count, false);
    add_points(chart, low, count, true);
    hf_text_add(chart->out, "\"/>\n");
}

/* Where the line from a to b is at this x. */
static hf_point crossing(hf_point a, hf_point b, double x) {
    return (hf_point){x, a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y)};
}

void hf_mark_line_within(hf_chart *chart, const hf_point *places, size_t count, const char *look) {
    double left = chart->plot.left, right = chart->plot.right;
    bool open = false;
    for (size_t i = 0; i + 1 < count; i++) {
        hf_point a = places[i], b = places[i + 1];
        if (fmax(a.x, b.x) < left || fmin(a.x, b.x) > right) continue;
        hf_point from = a.x < left    ? crossing(a, b, left)
                        : a.x > right ? crossing(a, b, right)
                                      : a,
                 to = b.x < left    ? crossing(a, b, left)
                      : b.x > right ? crossing(a, b, right)
                                    : b;
        if (!open)
            hf_text_addf(chart->out, "<polyline class=\"line %s\" points=\"%.2f,%.2f ", look, from.x, from.y);
        hf_text_addf(chart->out, "%.2f,%.2f ", to.x, to.y);
        open = to.x == b.x && i + 2 < count;
        if (!open) hf_text_add(chart->out, "\"/>\n");
    }
    if (open) hf_text_add(chart->out, "\"/>\n");
}

void hf_mark_hover(hf_chart *chart, const char *words) {
    chart->hover = words;
}

/* The end of a mark, with what a pointer over it shows. */
static void end_mark(hf_chart *chart, const char *element) {
    if (!chart->hover) {
        hf_text_add(chart->out, "/>\n");
        return;
    }
    hf_text_add(chart->out, "><title>");
    hf_chart_add_text(chart->out, chart->hover);
    hf_text_addf(chart->out, "</title></%s>\n", element);
    chart->hover = NULL;
}

void hf_mark_stroke(hf_chart *chart, hf_point from, hf_point to, const char *look) {
    hf_text_addf(chart->out, "<path class=\"%s\" d=\"M%.2f %.2fL%.2f %.2f\"", look, from.x, from.y, to.x,
                 to.y);
    end_mark(chart, "path");
}

void hf_mark_arrow(hf_chart *chart, hf_point from, double to_x, const char *look) {
    double back = to_x < from.x ? to_x + 6 : to_x - 6;
    hf_mark_stroke(chart, from, (hf_point){to_x, from.y}, look);
    /* The head is whole, whatever dashes the shaft has: of the look its colour, which comes first. */
    hf_text_addf(chart->out, "<path class=\"line %.*s\" d=\"M%.2f %.2fL%.2f %.2fL%.2f %.2f\"/>\n",
                 (int)strcspn(look, " "), look, back, from.y - 4, to_x, from.y, back, from.y + 4);
}

void hf_mark_rectangle(hf_chart *chart, hf_place_box box, const char *look) {
    hf_text_addf(chart->out, "<rect class=\"%s\" x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\"", look,
                 box.left, box.top, box.right - box.left, box.bottom - box.top);
    end_mark(chart, "rect");
}

/* Paths on a square from −1 to 1: corner points, closed; the last two are crosses of two strokes. */
void hf_mark_shape(hf_chart *chart, hf_point at, size_t shape, double size, const char *look) {
    static const char *const outlines[HF_SHAPES] = {"M-1 0A1 1 0 1 0 1 0A1 1 0 1 0 -1 0Z",
                                                    "M-.9-.9H.9V.9H-.9Z",
                                                    "M0-1.1L1.1.9H-1.1Z",
                                                    "M0-1.3L1.3 0L0 1.3L-1.3 0Z",
                                                    "M0 1.1L1.1-.9H-1.1Z",
                                                    "M-1.1-.8V.8L1.1 0Z",
                                                    "M-1-1L1 1M-1 1L1-1",
                                                    "M0-1.2V1.2M-1.2 0H1.2"};
    hf_text_addf(chart->out,
                 "<path class=\"dotshape %s\" transform=\"translate(%.2f %.2f) scale(%.2f)\" "
                 "style=\"stroke-width:%.3f\" d=\"%s\"",
                 look ? look : "", at.x, at.y, size, fmin(2, size / 2) / size, outlines[shape % HF_SHAPES]);
    end_mark(chart, "path");
}
