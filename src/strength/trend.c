#include "holdfast/strength/trend.h"

#include <math.h>
#include <stdint.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"

static const double level = 0.05, tie = 1e-9;

/* How many of the ascending places lie below the one at hand, or not above it. */
static size_t count_to(const double *sorted, size_t count, double place, bool equal_too) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (sorted[middle] < place || (equal_too && sorted[middle] == place))
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Places counted from 1, equal ones sharing their middle. */
static void ranks_of(const double *place, size_t count, double *rank, double *sorted) {
    memcpy(sorted, place, count * sizeof *sorted);
    hf_vector_sort(sorted, count);
    for (size_t i = 0; i < count; i++)
        rank[i] = 0.5 * ((double)count_to(sorted, count, place[i], false) +
                         (double)count_to(sorted, count, place[i], true) + 1);
}

/* Takes the mean off; the sum of squares that is left, 0 where all are equal. */
static double centre(double *x, size_t count) {
    double mean = 0, squares = 0, low = x[0], high = x[0];
    for (size_t i = 0; i < count; i++) {
        mean += x[i] / (double)count;
        low = fmin(low, x[i]);
        high = fmax(high, x[i]);
    }
    for (size_t i = 0; i < count; i++) {
        x[i] -= mean;
        squares += x[i] * x[i];
    }
    return high > low ? squares : 0;
}

typedef struct all_orders {
    const double *y, *rank;
    size_t count;
    double observed, orders, as_steep;
    bool taken[HF_TREND_EXACT_PARTS];
} all_orders;

static void count_order(all_orders *all, double sum) {
    all->orders++;
    all->as_steep += fabs(sum) >= all->observed * (1 - tie);
}

/* The last two places have two orders. */
static void look_at_last(all_orders *all, double sum) {
    const double *rank = all->rank + all->count - 2;
    double left[2];
    size_t found = 0;
    for (size_t i = 0; i < all->count; i++)
        if (!all->taken[i]) left[found++] = all->y[i];
    count_order(all, sum + rank[0] * left[0] + rank[1] * left[1]);
    count_order(all, sum + rank[0] * left[1] + rank[1] * left[0]);
}

static void look(all_orders *all, size_t at, double sum) {
    if (at == all->count - 2) {
        look_at_last(all, sum);
        return;
    }
    for (size_t i = 0; i < all->count; i++) {
        if (all->taken[i]) continue;
        all->taken[i] = true;
        look(all, at + 1, sum + all->rank[at] * all->y[i]);
        all->taken[i] = false;
    }
}

static double by_correlation(double product, double places, double squares, size_t count) {
    double r2 = product * product / (places * squares), nu = (double)count - 2;
    return r2 < 1 ? 2 * hf_t_upper(sqrt(r2 * nu / (1 - r2)), nu) : 0;
}

static hf_status judge(double *y, double *rank, size_t count, hf_trend_test *out) {
    double squares = centre(y, count), places = centre(rank, count), product = 0;
    out->reason = "one_value";
    if (!(squares > 0 && places > 0)) return HF_NO_RESULT;
    for (size_t i = 0; i < count; i++) product += rank[i] * y[i];
    out->available = true;
    out->reason = NULL;
    out->slope = product / places;
    out->first_to_last = exp(out->slope * ((double)count - 1));
    out->exact = count <= HF_TREND_EXACT_PARTS;
    if (out->exact) {
        all_orders all = {.y = y, .rank = rank, .count = count, .observed = fabs(product)};
        look(&all, 0, 0);
        out->significance = all.as_steep / all.orders;
    } else {
        out->significance = by_correlation(product, places, squares, count);
    }
    out->trend = out->significance <= level;
    return HF_OK;
}

hf_status hf_trend_test_values(const double *y, const double *place, size_t count, hf_trend_test *out) {
    *out = (hf_trend_test){.reason = "too_few", .parts = count, .slope = NAN};
    out->first_to_last = out->significance = NAN;
    if (count < HF_TREND_LEAST_PARTS) return HF_NO_RESULT;
    if (count > SIZE_MAX / (3 * sizeof *y)) return HF_MEMORY;
    double *work = hf_memory_take(3 * count, sizeof *work);
    if (!work) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) work[i] = y[i];
    ranks_of(place, count, work + count, work + 2 * count);
    hf_status status = judge(work, work + count, count, out);
    hf_memory_free(work);
    return status;
}
