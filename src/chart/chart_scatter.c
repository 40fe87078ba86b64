/* The scatter of earlier designs, one row each with its interval, kind by kind; under each kind what its designs say together. */
#include <math.h>
#include "chart/chart.h"

enum { TOP = 44, HEAD = 26, ROW = 24, ROW_NARROW = 40, FOOT = 8, GAP = 8, LABEL_ABOVE = 14, MOST_ROWS = 60 };

static const double widest = 220; /* of a name beside its row */

static double row_height(const hf_chart *chart) {
    return chart->narrow ? ROW_NARROW : ROW;
}

static bool counts(const hf_earlier_design *one) {
    return one->lack == HF_EARLIER_NOTHING;
}

static double place(const hf_chart *chart, double s) {
    return fmin(fmax(hf_scale_place(&chart->x, 100 * s), chart->plot.left), chart->plot.right);
}

static void put_name(hf_chart *chart, const char *name, double y) {
    double left = chart->plot.left;
    if (chart->narrow)
        (void)hf_label_put(chart, (hf_point){left, y - LABEL_ABOVE}, HF_ANCHOR_START,
                           hf_chart_cut(chart, name, chart->width - 2 * left));
    else
        (void)hf_label_put(chart, (hf_point){left - GAP, y + 5}, HF_ANCHOR_END,
                           hf_chart_cut(chart, name, widest));
}

static const char *name_of(const hf_earlier_design *one) {
    return one->design->name ? one->design->name : one->design->id;
}

static void draw_design(hf_chart *chart, const hf_earlier_design *one, double y) {
    put_name(chart, name_of(one), y);
    hf_mark_stroke(chart, (hf_point){place(chart, one->low), y}, (hf_point){place(chart, one->high), y},
                   "b line");
    hf_mark_shape(chart, (hf_point){place(chart, one->s), y}, 0, 4.5, NULL);
}

static const char *kind_words(hf_chart *chart, const hf_earlier_kind *kind) {
    const char *name =
        kind->name ? hf_chart_cut(chart, kind->name, chart->narrow ? 150 : 260) : "no kind stated";
    return hf_chart_format(chart, "%s: together %s, worth %s degrees", name,
                           hf_show_text(&chart->words, HF_AS_SHARE, kind->pooled.s0),
                           hf_show_text(&chart->words, HF_AS_NUMBER, kind->pooled.degrees));
}

/* Of this kind the designs that count, and what they say together. */
static double draw_kind(hf_chart *chart, const hf_earlier *all, const hf_earlier_kind *kind, double top) {
    double row = row_height(chart), y = top + HEAD + (chart->narrow ? 0.7 : 0.5) * row;
    double bottom = top + HEAD + row * (double)kind->count;
    double x = place(chart, kind->pooled.s0);
    hf_mark_rectangle(chart, (hf_place_box){chart->plot.left - 1, top, chart->plot.right + 1, top + HEAD - 4},
                      "paper"); /* no line of the axis through the words */
    (void)hf_label_put(chart, (hf_point){12, top + 16}, HF_ANCHOR_START, kind_words(chart, kind));
    hf_mark_stroke(chart, (hf_point){x, top + HEAD - 2}, (hf_point){x, bottom}, "v line");
    for (size_t i = 0; i < all->count; i++) {
        const hf_earlier_design *one = &all->designs[i];
        if (!counts(one) || hf_earlier_kind_of(all, one->design->kind) != kind) continue;
        draw_design(chart, one, y);
        y += row;
    }
    return bottom + FOOT;
}

static const char *finding(hf_chart *chart, const hf_earlier *all, size_t designs) {
    size_t apart = 0;
    for (size_t i = 0; i < all->kind_count; i++) apart += all->kinds[i].library.differ;
    const char *differ = apart
                             ? hf_chart_format(chart, " In %s the designs differ more than chance explains.",
                                               hf_chart_count(chart, apart, "kind", "kinds"))
                             : " In no kind do the designs differ by much more than chance explains.";
    return hf_chart_format(chart,
                           "Each line holds the true scatter of its design nine times in ten; the upright "
                           "stroke is what the designs of a kind say together.%s %s.",
                           differ, hf_chart_count(chart, designs, "design is shown", "designs are shown"));
}

const char *hf_chart_scatter(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_earlier *all = subject->earlier;
    double least = INFINITY, greatest = 0, names = 0, bottom = TOP, y = TOP;
    size_t designs = 0, kinds = 0;
    for (size_t i = 0; i < all->count; i++) {
        const hf_earlier_design *one = &all->designs[i];
        if (!counts(one)) continue;
        designs++;
        least = fmin(least, fmax(one->low, one->s / 10));
        greatest = fmax(greatest, fmin(one->high, one->s * 10));
        names = fmax(names, fmin(widest, hf_label_width(name_of(one))));
    }
    if (!designs) return "no design shows its scatter";
    if (designs > MOST_ROWS) return "there are more than 60 designs, a picture of them could not be read";
    for (size_t i = 0; i < all->kind_count; i++)
        if (all->kinds[i].count) {
            kinds++;
            bottom += HEAD + FOOT + row_height(chart) * (double)all->kinds[i].count;
        }
    chart->plot =
        (hf_place_box){chart->narrow ? 2 * GAP : names + 3 * GAP, TOP, chart->width - 2 * GAP, bottom};
    chart->x = hf_scale_log(100 * least, 100 * greatest, chart->plot.left, chart->plot.right);
    hf_key_entry keys[] = {{"scatter seen", 0, NULL, false},
                           {"nine times in ten", HF_KEY_STROKE, "b line", false},
                           {"kind together", HF_KEY_UPRIGHT, "v line", false}};
    hf_chart_open(chart, bottom + 46 + hf_key(chart, NAN, keys, 3) + 6,
                  hf_chart_format(chart, "Scatter of %s of %s",
                                  hf_chart_count(chart, designs, "earlier design", "earlier designs"),
                                  hf_chart_count(chart, kinds, "kind", "kinds")),
                  finding(chart, all, designs));
    hf_axis_bottom(chart, "scatter of ln load, %");
    for (size_t i = 0; i < all->kind_count; i++)
        if (all->kinds[i].count) y = draw_kind(chart, all, &all->kinds[i], y);
    (void)hf_key(chart, bottom + 46, keys, 3);
    hf_chart_close(chart);
    return NULL;
}
