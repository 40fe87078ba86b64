/* The working load after each pull, what is asked of it, and what more parts would bring. */
#include <math.h>
#include "chart/chart.h"
#include "holdfast/base/number.h"
#include "holdfast/study/so_far.h"

enum { TOP = 62, HEIGHT = 250, SIDE = 24, KEYS_MOST = 4, LABELS_APART = 46 };

static const double settled = 0.1; /* within a tenth of where it stands */

static double shown(const hf_chart *chart, double newtons) {
    return fmax(hf_in_unit(chart->words.style, newtons), 0);
}

static const char *what(const hf_so_far *s) {
    return s->working_load ? "working load" : "bound";
}

static const char *load(hf_chart *chart, const hf_so_far *s, double newtons) {
    return s->working_load ? hf_chart_load_down(chart, newtons) : hf_chart_load_bound(chart, newtons);
}

static const hf_so_far_row *last_of(const hf_so_far *s) {
    return &s->rows[s->count - 1];
}

/* The first row from which on the load stays within a tenth of the last; count: it does not. */
static size_t settles_at(const hf_so_far *s) {
    double last = last_of(s)->load;
    size_t at = s->count;
    while (at && fabs(s->rows[at - 1].load - last) <= settled * last) at--;
    return at;
}

static const char *title(hf_chart *chart, const hf_so_far *s) {
    const hf_so_far_row *last = last_of(s);
    const char *name = hf_chart_design(chart, s->design);
    size_t at = settles_at(s);
    if (!isfinite(last->load))
        return hf_chart_format(chart, "%s: no %s after %zu parts", name, what(s), last->parts);
    if (at + 1 < s->count)
        return hf_chart_format(chart, "%s: %s; since part %zu it has moved by less than a tenth", name,
                               load(chart, s, last->load), s->rows[at].parts);
    return hf_chart_format(chart, "%s: %s after %zu parts", name, load(chart, s, last->load), last->parts);
}

static const char *forecast_words(hf_chart *chart, const hf_so_far *s) {
    if (!s->next || !isfinite(s->share)) return "";
    const hf_next_row *row = &s->next->rows[s->next->count - 1];
    double low = row->low * s->share;
    if (!(row->expected > 0)) return "";
    return hf_chart_format(chart, " %zu more parts would bring about %s; nine times in ten more than %s.",
                           row->more, load(chart, s, row->expected * s->share),
                           low > 0 ? load(chart, s, low) : "next to nothing");
}

static const char *finding(hf_chart *chart, const hf_so_far *s) {
    size_t first = 0;
    while (first + 1 < s->count && !isfinite(s->rows[first].load)) first++;
    const hf_so_far_row *from = &s->rows[first], *last = last_of(s);
    const char *order =
        s->order_stated ? "in the order of pulling" : "as they stand in the file, their order is not stated";
    if (from == last || !isfinite(last->load))
        return hf_chart_format(chart, "Parts %s.%s", order, forecast_words(chart, s));
    return hf_chart_format(chart,
                           "The %s after the first %zu parts was %s, after %zu it is %s (parts %s). A look "
                           "back: the pulls were not looked "
                           "at to stop.%s",
                           what(s), from->parts, load(chart, s, from->load), last->parts,
                           load(chart, s, last->load), order, forecast_words(chart, s));
}

/* Pieces of the line; where there was no load it breaks. */
static void draw_line(hf_chart *chart, const hf_so_far *s, hf_point *places) {
    for (size_t i = 0; i < s->count;) {
        size_t count = 0;
        while (i + count < s->count && isfinite(s->rows[i + count].load)) {
            places[count] =
                (hf_point){(double)s->rows[i + count].parts, shown(chart, s->rows[i + count].load)};
            count++;
        }
        if (count > 1) hf_mark_line(chart, places, count, "keep");
        for (size_t j = 0; j < count; j++)
            hf_mark_shape(
                chart,
                (hf_point){hf_scale_place(&chart->x, places[j].x), hf_scale_place(&chart->y, places[j].y)}, 0,
                3.5, "keepdot");
        i += count + 1;
    }
}

/* From the last answer on, 8 of 10 continuations lie between. */
static bool draw_forecast(hf_chart *chart, const hf_so_far *s, hf_point *low) {
    const hf_so_far_row *last = last_of(s);
    if (!s->next || !isfinite(s->share) || !isfinite(last->load)) return false;
    hf_point *high = low + s->next->count + 1;
    size_t count = 0;
    low[count] = high[count] = (hf_point){(double)last->parts, shown(chart, last->load)};
    count++;
    for (size_t i = 0; i < s->next->count; i++) {
        const hf_next_row *row = &s->next->rows[i];
        double n = (double)(last->parts + row->more);
        low[count] = (hf_point){n, isfinite(row->low) ? shown(chart, row->low * s->share) : 0};
        high[count] = (hf_point){n, shown(chart, row->high * s->share)};
        count++;
    }
    hf_text_add(chart->out, "<g class=\"keepband\">\n");
    hf_mark_band(chart, low, high, count);
    hf_text_add(chart->out, "</g>\n");
    return true;
}

/* Values beside the dots from the last one back, as far as they keep apart. */
static void label_dots(hf_chart *chart, const hf_so_far *s) {
    double left = INFINITY;
    for (size_t i = s->count; i-- > 0;) {
        double x = hf_scale_place(&chart->x, (double)s->rows[i].parts);
        if (!isfinite(s->rows[i].load) || x > left - LABELS_APART) continue;
        double y = hf_scale_place(&chart->y, shown(chart, s->rows[i].load));
        double value = hf_number_round_down(shown(chart, s->rows[i].load), 3);
        const char *text = hf_show_text(&chart->words, HF_AS_NUMBER, value);
        if (fabs(y - 13 - hf_scale_place(&chart->y, hf_in_unit(chart->words.style, s->asked))) < 8) y += 26;
        if (hf_label_put(chart, (hf_point){x, y - 8}, HF_ANCHOR_MIDDLE, text)) left = x;
    }
}

static double greatest_of(const hf_chart *chart, const hf_so_far *s) {
    double out = isfinite(s->asked) ? shown(chart, s->asked) : 0;
    for (size_t i = 0; i < s->count; i++)
        if (isfinite(s->rows[i].load)) out = fmax(out, shown(chart, s->rows[i].load));
    for (size_t i = 0; s->next && isfinite(s->share) && i < s->next->count; i++)
        out = fmax(out, shown(chart, s->next->rows[i].high * s->share));
    return 1.08 * out;
}

const char *hf_chart_sofar(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_so_far *s = subject->so_far;
    size_t ahead = s->next ? s->next->count : 0;
    hf_point *places = HF_ARENA_NEW_ARRAY(chart->words.arena, hf_point, s->count + 2 * ahead + 4);
    if (!places) {
        chart->out->failed = true;
        return NULL;
    }
    hf_named_line asked = {hf_in_unit(chart->words.style, s->asked),
                           hf_chart_format(chart, "asked: %s", hf_chart_load_stated(chart, s->asked)),
                           "ask line dash"};
    bool line = isfinite(s->asked);
    chart->ungridded = true;
    double first = (double)s->rows[0].parts, last = (double)(last_of(s)->parts + ahead);
    chart->plot = (hf_place_box){
        0, TOP, chart->width - (line && !chart->narrow ? hf_lines_room(&asked, 1) : SIDE), TOP + HEIGHT};
    chart->y = hf_scale_linear(0, greatest_of(chart, s), chart->plot.bottom, chart->plot.top);
    chart->plot.left = hf_axis_left_room(chart);
    chart->x =
        (hf_scale){HF_SCALE_LINEAR, NULL, first, fmax(last, first + 1), chart->plot.left, chart->plot.right};
    hf_key_entry key[KEYS_MOST] = {
        {hf_chart_format(chart, "%s after so many parts", what(s)), HF_KEY_STROKE, "keep line", false}};
    size_t keys = 1;
    if (ahead && isfinite(s->share) && isfinite(last_of(s)->load))
        key[keys++] =
            (hf_key_entry){"more parts: 8 of 10 come out in the shaded range", HF_KEY_NOTE, "", false};
    if (line && chart->narrow) key[keys++] = (hf_key_entry){asked.name, HF_KEY_STROKE, asked.look, false};
    double bottom = chart->plot.bottom + 46;
    hf_chart_open(chart, bottom + hf_key(chart, NAN, key, keys) + 6, title(chart, s), finding(chart, s));
    hf_axis_left(chart, hf_chart_format(chart, "%s, %s", what(s), chart->words.style->unit->name));
    hf_axis_bottom(chart, "number of parts pulled");
    (void)draw_forecast(chart, s, places);
    if (line && chart->narrow)
        hf_mark_stroke(chart, (hf_point){chart->plot.left, hf_scale_place(&chart->y, asked.value)},
                       (hf_point){chart->plot.right, hf_scale_place(&chart->y, asked.value)}, asked.look);
    else if (line)
        hf_lines_across(chart, &asked, 1);
    draw_line(chart, s, places);
    label_dots(chart, s);
    (void)hf_key(chart, bottom, key, keys);
    hf_chart_close(chart);
    return NULL;
}
