/* Many pairs of designs at one look: a row and a column for each design in league order, in each field the verdict on that pair. */
#include <math.h>
#include "chart/chart.h"
#include "words/compare_report.h"

enum { MARGIN = 12, TOP = 62, FIELD_MOST = 26, FIELD_LEAST = 4, KEYS_MOST = 4, NAME_SHARE = 2, GAP = 12 };

typedef enum field_shape {
    FIELD_CANNOT_TELL = 0,
    FIELD_SAME = 1,
    FIELD_ROW = 3,
    FIELD_COLUMN = 4
} field_shape;

/* Which of the two is the stronger as the matrix has them: row before column. */
static field_shape shape_of(const hf_comparison_pair *pair, size_t row) {
    switch (pair->verdict) {
    case HF_VERDICT_A_STRONGER:
        return pair->a == row ? FIELD_ROW : FIELD_COLUMN;
    case HF_VERDICT_B_STRONGER:
        return pair->b == row ? FIELD_ROW : FIELD_COLUMN;
    case HF_VERDICT_SAME_WITHIN:
        return FIELD_SAME;
    case HF_VERDICT_CANNOT_TELL:
        break;
    }
    return FIELD_CANNOT_TELL;
}

static const char *look_of(field_shape shape) {
    return shape == FIELD_CANNOT_TELL ? NULL : "full";
}

static const hf_comparison_pair *pair_of(const hf_comparison *result, size_t a, size_t b) {
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        if ((pair->a == a && pair->b == b) || (pair->a == b && pair->b == a)) return pair;
    }
    return NULL;
}

static const char *name_of(hf_chart *chart, const hf_comparison *result, size_t design, double width) {
    return hf_chart_cut(chart, hf_compare_name(&result->designs[design]), width);
}

static void draw_field(hf_chart *chart, const hf_comparison *result, size_t row, size_t column, hf_point at,
                       double size) {
    const hf_comparison_pair *pair = pair_of(result, result->league[row], result->league[column]);
    if (!pair || pair->method == HF_COMPARISON_NONE) return;
    field_shape shape = shape_of(pair, result->league[row]);
    hf_mark_hover(chart, hf_chart_format(chart, "%s ÷ %s: %s, %s", name_of(chart, result, pair->a, 200),
                                         name_of(chart, result, pair->b, 200), hf_ratio_figures(chart, pair),
                                         hf_ratio_verdict(chart, result, pair)));
    hf_mark_shape(chart, at, shape, size, look_of(shape));
}

static size_t fill_key(const hf_comparison *result, hf_key_entry keys[KEYS_MOST]) {
    static const struct {
        field_shape shape;
        const char *words;
    } rows[KEYS_MOST] = {{FIELD_ROW, "the row is stronger"},
                         {FIELD_COLUMN, "the column is stronger"},
                         {FIELD_SAME, "the same"},
                         {FIELD_CANNOT_TELL, "cannot tell"}};
    bool seen[FIELD_COLUMN + 1] = {false};
    size_t count = 0;
    for (size_t i = 0; i < result->count; i++)
        for (size_t k = i + 1; k < result->count; k++) {
            const hf_comparison_pair *pair = pair_of(result, result->league[i], result->league[k]);
            if (pair && pair->method != HF_COMPARISON_NONE) seen[shape_of(pair, result->league[i])] = true;
        }
    for (size_t i = 0; i < KEYS_MOST; i++)
        if (seen[rows[i].shape])
            keys[count++] = (hf_key_entry){rows[i].words, (int)rows[i].shape, look_of(rows[i].shape), false};
    return count;
}

const char *hf_chart_matrix(hf_chart *chart, const hf_comparison *result, const char *title,
                            const char *verdicts) {
    hf_key_entry keys[KEYS_MOST];
    size_t count = fill_key(result, keys), designs = result->count;
    double names = 0, most = chart->width / NAME_SHARE;
    for (size_t i = 0; i < designs; i++)
        names = fmax(names, hf_label_width(hf_chart_format(chart, "%zu. %s", i + 1,
                                                           name_of(chart, result, result->league[i], most))));
    names = fmin(names, most) + GAP;
    double field =
        fmax(FIELD_LEAST, fmin(FIELD_MOST, (chart->width - 2 * MARGIN - names) / (double)(designs - 1)));
    double line = fmax(field, HF_LINE_HEIGHT), bottom = TOP + line * (double)designs;
    hf_chart_open(chart, bottom + 12 + hf_key(chart, NAN, keys, count) + 6, title,
                  hf_chart_format(chart,
                                  "%s Designs stand in the order of their bounds, each row against the "
                                  "columns of those below it.",
                                  verdicts));
    for (size_t i = 0; i < designs; i++) {
        double y = TOP + ((double)i + 0.5) * line;
        const char *number = hf_chart_format(chart, "%zu. ", i + 1);
        (void)hf_label_put(
            chart, (hf_point){MARGIN, y + 5}, HF_ANCHOR_START,
            hf_chart_format(chart, "%s%s", number,
                            name_of(chart, result, result->league[i], names - hf_label_width(number))));
        for (size_t k = i + 1; k < designs; k++) {
            hf_point at = {MARGIN + names + ((double)k - 0.5) * field, y};
            if (i == 0)
                (void)hf_label_put(chart, (hf_point){at.x, TOP - 6}, HF_ANCHOR_MIDDLE,
                                   hf_chart_format(chart, "%zu", k + 1));
            draw_field(chart, result, i, k, at, fmin(5, field / 2.6));
        }
    }
    (void)hf_key(chart, bottom + 12, keys, count);
    hf_chart_close(chart);
    return NULL;
}
