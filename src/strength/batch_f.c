/* One-way F on ln load. Whatever way the parts are dealt into batches of the same sizes, the total sum of squares stays, so F rises with the
 * sum of squares between batches, Σ T²/n of the batch totals T of values taken from their mean. */
#include <math.h>
#include <stdint.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/batch.h"

static const double most_ways = 1e5, level = 0.05, tie = 1e-9;

typedef struct dealing {
    const double *y; /* from their mean */
    size_t count, batches;
    double *total;       /* of the parts dealt so far, by batch */
    size_t *free_places; /* by batch */
    const size_t *size;
    double observed; /* sum of squares between */
    double ways, as_far, best, at_best;
} dealing;

static double between(const dealing *d) {
    double sum = 0;
    for (size_t i = 0; i < d->batches; i++) sum += d->total[i] * d->total[i] / (double)d->size[i];
    return sum;
}

static void count_way(dealing *d) {
    double sum = between(d), slack = tie * fmax(d->observed, sum);
    d->ways++;
    d->as_far += sum >= d->observed - slack;
    if (sum > d->best + slack) {
        d->best = sum;
        d->at_best = 0;
    }
    d->at_best += sum >= d->best - slack;
}

/* Deals part `at` and all behind it. Depth is the number of parts, a few dozen at most where the ways are few. */
static void deal(dealing *d, size_t at) {
    if (at == d->count) {
        count_way(d);
        return;
    }
    for (size_t i = 0; i < d->batches; i++) {
        if (d->free_places[i] == 0) continue;
        double before = d->total[i];
        d->free_places[i]--;
        d->total[i] += d->y[at];
        deal(d, at + 1);
        d->total[i] = before;
        d->free_places[i]++;
    }
}

static double ways_of(const size_t *size, size_t batches, size_t count) {
    double log_ways = hf_log_gamma((double)count + 1);
    for (size_t i = 0; i < batches; i++) log_ways -= hf_log_gamma((double)size[i] + 1);
    return exp(log_ways);
}

/* Sum of squares of all from their mean, which is taken off; 0 where all are equal. */
static double centre(double *y, size_t count) {
    double mean = 0, squares = 0, low = y[0], high = y[0];
    for (size_t i = 0; i < count; i++) {
        mean += y[i] / (double)count;
        low = fmin(low, y[i]);
        high = fmax(high, y[i]);
    }
    for (size_t i = 0; i < count; i++) {
        y[i] -= mean;
        squares += y[i] * y[i];
    }
    return high > low ? squares : 0;
}

static void judge(dealing *d, double squares, hf_batch_f *out) {
    double a = (double)d->batches - 1, b = (double)(d->count - d->batches);
    double within = squares - d->observed;
    out->available = true;
    out->f = within > 1e-12 * squares ? d->observed / a / (within / b) : INFINITY;
    out->by_law = isinf(out->f) ? 0 : hf_f_upper(out->f, a, b);
    out->significance = out->by_law;
    out->least = 0;
    out->exact = ways_of(d->size, d->batches, d->count) <= most_ways;
    if (out->exact) {
        for (size_t i = 0; i < d->batches; i++) d->total[i] = 0;
        deal(d, 0);
        out->significance = d->as_far / d->ways;
        out->least = d->at_best / d->ways;
    }
    out->differ = (out->least > level ? out->by_law : out->significance) <= level;
}

hf_status hf_batch_f_values(const double *y, const int *batch, size_t count, size_t batches,
                            hf_batch_f *out) {
    *out = (hf_batch_f){.batches = batches, .parts = count, .f = NAN, .by_law = NAN};
    out->significance = out->least = NAN;
    if (batches < 2 || count <= batches) return HF_NO_RESULT;
    if (count > SIZE_MAX / sizeof *y) return HF_MEMORY;
    double *work = hf_memory_take(count, sizeof *work),
           *total = hf_memory_take_zeroed(batches, sizeof *total);
    size_t *size = hf_memory_take_zeroed(2 * batches, sizeof *size);
    hf_status status = HF_MEMORY;
    if (!work || !total || !size) goto done;
    status = HF_NO_RESULT;
    for (size_t i = 0; i < count; i++) work[i] = y[i];
    double squares = centre(work, count);
    for (size_t i = 0; i < count; i++) {
        total[batch[i]] += work[i];
        size[batch[i]]++;
    }
    for (size_t i = 0; i < batches; i++) {
        if (size[i] == 0) goto done;
        size[batches + i] = size[i];
    }
    if (!(squares > 0)) goto done;
    dealing d = {.y = work, .count = count, .batches = batches, .total = total, .size = size};
    d.free_places = size + batches;
    d.observed = between(&d);
    judge(&d, squares, out);
    status = HF_OK;
done:
    hf_memory_free(work);
    hf_memory_free(total);
    hf_memory_free(size);
    return status;
}
