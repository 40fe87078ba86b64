/* Which pulls of a design share a row: none, those that are alike, or, where rows would fuse, neighbours. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "chart/chart_pulls.h"

enum { BARS_MOST = 160, DOTS_MOST = 600 }; /* rows that can still be told apart without a name each */

hf_pulls_state hf_pulls_state_of(const hf_specimen *specimen) {
    if (specimen->pull.kind == HF_INTERVAL_ABOVE)
        return specimen->outcome == HF_OUTCOME_RIG ? HF_PULLS_RIG : HF_PULLS_WHOLE;
    return specimen->pull.kind == HF_INTERVAL_BELOW ? HF_PULLS_FIRST_LOAD : HF_PULLS_FAILED;
}

static int order(double left, double right) {
    return (left > right) - (left < right);
}

static double set_of(const hf_specimen *specimen) {
    return specimen->set.kind != HF_INTERVAL_NONE && isfinite(specimen->set.upper) ? specimen->set.upper
                                                                                   : INFINITY;
}

/* By all that a row shows. */
static int compare(const hf_pulls_item *left, const hf_pulls_item *right) {
    int by = order(left->specimen->pull.lower, right->specimen->pull.lower);
    if (!by) by = order(left->specimen->pull.upper, right->specimen->pull.upper);
    if (!by) by = (int)left->state - (int)right->state;
    if (!by) by = (left->shape > right->shape) - (left->shape < right->shape);
    return by ? by : order(set_of(left->specimen), set_of(right->specimen));
}

static int weaker_first(const void *a, const void *b) {
    const hf_pulls_item *left = a, *right = b;
    int by = compare(left, right);
    return by ? by : strcmp(left->specimen->id, right->specimen->id);
}

static bool is_one_kind(const hf_pulls_item *left, const hf_pulls_item *right) {
    return left->state == right->state && left->shape == right->shape;
}

static int kind_first(const void *a, const void *b) {
    const hf_pulls_item *left = a, *right = b;
    int by = (int)left->state - (int)right->state;
    if (!by) by = (left->shape > right->shape) - (left->shape < right->shape);
    return by ? by : weaker_first(a, b);
}

static int row_weaker_first(const void *a, const void *b) {
    const hf_pulls_row *left = a, *right = b;
    return weaker_first(left->pulls, right->pulls);
}

static void add_row(hf_pulls_rows *out, const hf_pulls_item *pulls, size_t count) {
    hf_pulls_row row = {pulls, count, INFINITY, -INFINITY};
    for (size_t i = 0; i < count; i++) {
        row.lower = fmin(row.lower, pulls[i].specimen->pull.lower);
        row.upper = fmax(row.upper, pulls[i].specimen->pull.upper);
    }
    out->rows[out->count++] = row;
}

static size_t alike_from(const hf_pulls_item *pulls, size_t count, size_t at) {
    size_t run = 1;
    while (at + run < count && compare(&pulls[at], &pulls[at + run]) == 0) run++;
    return run;
}

static size_t count_alike(const hf_pulls_item *pulls, size_t count) {
    size_t rows = 0;
    for (size_t at = 0; at < count; at += alike_from(pulls, count, at)) rows++;
    return rows;
}

static size_t up(size_t count, size_t share) {
    return (count + share - 1) / share;
}

static size_t kind_from(const hf_pulls_item *pulls, size_t count, size_t at) {
    size_t run = 1;
    while (at + run < count && is_one_kind(&pulls[at], &pulls[at + run])) run++;
    return run;
}

static size_t count_shared(const hf_pulls_item *pulls, size_t count, size_t share) {
    size_t rows = 0;
    for (size_t at = 0, run; at < count; at += run) {
        run = kind_from(pulls, count, at);
        rows += up(run, share);
    }
    return rows;
}

/* Neighbours of one state and shape share a row, so many that the rows become few enough to be told apart; there are fewer kinds than rows. */
static void summarize(hf_pulls_item *pulls, size_t count, hf_pulls_rows *out) {
    size_t share = up(count, HF_PULLS_NAMED_ROWS);
    qsort(pulls, count, sizeof *pulls, kind_first);
    while (count_shared(pulls, count, share) > HF_PULLS_NAMED_ROWS) share++;
    for (size_t at = 0; at < count;) {
        size_t left = kind_from(pulls, count, at);
        for (size_t rows = up(left, share); rows; rows--) {
            size_t taken = up(left, rows);
            add_row(out, pulls + at, taken);
            at += taken;
            left -= taken;
        }
    }
    qsort(out->rows, out->count, sizeof *out->rows, row_weaker_first);
}

bool hf_pulls_arrange(hf_chart *chart, hf_pulls_item *pulls, size_t count, bool dots, hf_pulls_rows *out) {
    *out =
        (hf_pulls_rows){HF_PULLS_SINGLE, HF_ARENA_NEW_ARRAY(chart->words.arena, hf_pulls_row, count + 1), 0};
    if (!out->rows) return false;
    qsort(pulls, count, sizeof *pulls, weaker_first);
    if (count > HF_PULLS_NAMED_ROWS && count_alike(pulls, count) <= HF_PULLS_NAMED_ROWS)
        out->sharing = HF_PULLS_ALIKE;
    else if (count > (dots ? DOTS_MOST : BARS_MOST))
        out->sharing = HF_PULLS_SUMMARY;
    if (out->sharing == HF_PULLS_SUMMARY) {
        summarize(pulls, count, out);
        return true;
    }
    for (size_t at = 0, run; at < count; at += run) {
        run = out->sharing == HF_PULLS_ALIKE ? alike_from(pulls, count, at) : 1;
        add_row(out, pulls + at, run);
    }
    return true;
}
