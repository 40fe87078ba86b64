/* Marks: what stands for data. */
#include <math.h>
#include "report/chart.h"

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

void hf_mark_stroke(hf_chart *chart, hf_point from, hf_point to, const char *look) {
    hf_text_addf(chart->out, "<path class=\"%s\" d=\"M%.2f %.2fL%.2f %.2f\"/>\n", look, from.x, from.y, to.x,
                 to.y);
}

void hf_mark_arrow(hf_chart *chart, hf_point from, double to_x, const char *look) {
    double back = to_x < from.x ? to_x + 6 : to_x - 6;
    hf_mark_stroke(chart, from, (hf_point){to_x, from.y}, look);
    hf_text_addf(chart->out, "<path class=\"line b\" d=\"M%.2f %.2fL%.2f %.2fL%.2f %.2f\"/>\n", back,
                 from.y - 4, to_x, from.y, back, from.y + 4);
}

void hf_mark_rectangle(hf_chart *chart, hf_place_box box, const char *look) {
    hf_text_addf(chart->out, "<rect class=\"%s\" x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\"/>\n",
                 look, box.left, box.top, box.right - box.left, box.bottom - box.top);
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
                 "style=\"stroke-width:%.3f\" d=\"%s\"/>\n",
                 look ? look : "", at.x, at.y, size, fmin(2, size / 2) / size, outlines[shape % HF_SHAPES]);
}
