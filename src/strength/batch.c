/* k-sample Anderson–Darling test of Scholz & Stephens (1987), JASA 82, 918–924, equations 3, 4, 6 and 7. */
#include "holdfast/strength/batch.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/strength/sample.h"

typedef struct tagged {
    double value;
    int batch;
} tagged;

static int compare(const void *a, const void *b) {
    const tagged *x = a, *y = b;
    return (x->value > y->value) - (x->value < y->value);
}

/* Both statistics in one pass over the groups of equal values. size[i]: parts of batch i; before[i], here[i]: scratch. */
static void statistics(const tagged *sorted, size_t count, size_t batches, const double *size,
                       double *scratch, hf_batch_test *out) {
    double total = (double)count, *before = scratch, *here = scratch + batches, below = 0;
    memset(before, 0, batches * sizeof *before);
    out->a2 = out->a2_midrank = 0;
    for (size_t start = 0, end; start < count; start = end) {
        memset(here, 0, batches * sizeof *here);
        for (end = start; end < count && hf_same_load(sorted[end].value, sorted[start].value); end++)
            here[sorted[end].batch]++;
        double ties = (double)(end - start), upto = below + ties, middle = below + ties / 2;
        double spread = middle * (total - middle) - total * ties / 4;
        for (size_t i = 0; i < batches; i++) {
            double right = total * (before[i] + here[i]) - size[i] * upto;
            double centred = total * (before[i] + here[i] / 2) - size[i] * middle;
            if (upto < total) out->a2 += ties * right * right / (upto * (total - upto)) / (size[i] * total);
            if (spread > 0)
                out->a2_midrank +=
                    ties * centred * centred / spread / (size[i] * total) * (total - 1) / total;
            before[i] += here[i];
        }
        below = upto;
    }
}

static double deviation(size_t count, size_t batches, const double *size) {
    double n = (double)count, k = (double)batches, inverse = 0, h = 0, g = 0, tail = 0;
    for (size_t i = 0; i < batches; i++) inverse += 1 / size[i];
    for (size_t i = 1; i < count; i++) h += 1 / (double)i;
    for (size_t i = count - 2; i >= 1; i--) {
        tail += 1 / (double)(i + 1);
        g += tail / (n - (double)i);
    }
    double a = (4 * g - 6) * (k - 1) + (10 - 6 * g) * inverse;
    double b = (2 * g - 4) * k * k + 8 * h * k + (2 * g - 14 * h - 4) * inverse - 8 * h + 4 * g - 6;
    double c = (6 * h + 2 * g - 2) * k * k + (4 * h - 4 * g + 6) * k + (2 * h - 6) * inverse + 4 * h;
    double d = (2 * h + 6) * k * k - 4 * h * k;
    return sqrt((((a * n + b) * n + c) * n + d) / ((n - 1) * (n - 2) * (n - 3)));
}

enum { POINTS = 5 };
static const double point_level[POINTS] = {0.25, 0.10, 0.05, 0.025, 0.01};

static double percentage_point(size_t index, double m) {
    static const double b0[POINTS] = {0.675, 1.281, 1.645, 1.960, 2.326};
    static const double b1[POINTS] = {-0.245, 0.250, 0.678, 1.149, 1.822};
    static const double b2[POINTS] = {-0.105, -0.305, -0.362, -0.391, -0.396};
    return b0[index] + b1[index] / sqrt(m) + b2[index] / m;
}

/* ln of the level is nearly a straight line in the standardised statistic: least squares by a parabola, as the paper does. */
static double significance(double standardised, double m) {
    double moment[5] = {0}, right[3] = {0}, x[POINTS];
    for (size_t i = 0; i < POINTS; i++) x[i] = percentage_point(i, m);
    for (size_t i = 0; i < POINTS; i++) {
        double power = 1, y = log(point_level[i]);
        for (int j = 0; j < 5; j++, power *= x[i]) {
            moment[j] += power;
            if (j < 3) right[j] += power * y;
        }
    }
    double a[3][4];
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) a[i][j] = moment[i + j];
        a[i][3] = right[i];
    }
    for (int i = 0; i < 3; i++)
        for (int r = i + 1; r < 3; r++) {
            double f = a[r][i] / a[i][i];
            for (int j = i; j < 4; j++) a[r][j] -= f * a[i][j];
        }
    double c2 = a[2][3] / a[2][2], c1 = (a[1][3] - a[1][2] * c2) / a[1][1];
    double c0 = (a[0][3] - a[0][1] * c1 - a[0][2] * c2) / a[0][0];
    double p = exp(c0 + standardised * (c1 + standardised * c2));
    return fmin(0.9, fmax(0.0005, p));
}

static double variance_share(const double *value, const int *batch, size_t count, size_t batches,
                             const double *size) {
    double grand = 0, between = 0, within = 0, squares = 0, n = (double)count, k = (double)batches;
    double *mean = hf_memory_take_zeroed(batches, sizeof *mean);
    if (!mean) return NAN;
    for (size_t i = 0; i < count; i++) {
        mean[batch[i]] += value[i] / size[batch[i]];
        grand += value[i] / n;
    }
    for (size_t i = 0; i < count; i++) within += (value[i] - mean[batch[i]]) * (value[i] - mean[batch[i]]);
    for (size_t i = 0; i < batches; i++) {
        between += size[i] * (mean[i] - grand) * (mean[i] - grand);
        squares += size[i] * size[i];
    }
    hf_memory_free(mean);
    between /= k - 1;
    within /= n - k;
    double component = fmax(0, (between - within) / ((n - squares / n) / (k - 1)));
    return component + within > 0 ? component / (component + within) : NAN;
}

bool hf_batches_differ(const hf_batch_test *test) {
    return (test->available && test->differ) || (test->one_way.available && test->one_way.differ);
}

hf_status hf_batch_test_values(const double *value, const int *batch, size_t count, size_t batches,
                               hf_batch_test *out) {
    *out =
        (hf_batch_test){.batches = batches, .parts = count, .reason = batches < 2 ? "one_batch" : "too_few"};
    out->a2 = out->a2_midrank = out->sigma = out->adk = out->critical = out->significance =
        out->between_share = NAN;
    if (batches < 2 || count < 4 || count <= batches) return HF_NO_RESULT;
    if (count > SIZE_MAX / sizeof(tagged)) return HF_MEMORY;
    tagged *sorted = hf_memory_take(count, sizeof *sorted);
    double *scratch = hf_memory_take_zeroed(3 * batches, sizeof *scratch),
           *size = scratch ? scratch + 2 * batches : NULL;
    hf_status status = HF_MEMORY;
    if (!sorted || !scratch) goto done;
    for (size_t i = 0; i < count; i++) {
        sorted[i] = (tagged){value[i], batch[i]};
        size[batch[i]]++;
    }
    status = HF_NO_RESULT;
    for (size_t i = 0; i < batches; i++)
        if (size[i] < 1) goto done;
    qsort(sorted, count, sizeof *sorted, compare);
    out->reason = "one_value";
    if (hf_same_load(sorted[0].value, sorted[count - 1].value)) goto done;
    double m = (double)batches - 1;
    statistics(sorted, count, batches, size, scratch, out);
    out->sigma = deviation(count, batches, size);
    out->adk = out->a2_midrank / m;
    out->critical = 1 + out->sigma / m * percentage_point(3, m);
    out->significance = significance((out->a2_midrank - m) / out->sigma, m);
    out->differ = out->adk > out->critical;
    out->between_share = variance_share(value, batch, count, batches, size);
    out->available = true;
    out->reason = NULL;
    status = HF_OK;
done:
    hf_memory_free(sorted);
    hf_memory_free(scratch);
    return status;
}

/* Batches with `least` or more parts get new numbers from 0; the others −1. */
static size_t renumber(hf_sample sample, int *number, size_t names, int least) {
    size_t batches = 0;
    for (size_t i = 0; i < names; i++) number[i] = 0;
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].batch >= 0) number[sample.items[i].batch]++;
    for (size_t i = 0; i < names; i++) number[i] = number[i] >= least ? (int)batches++ : -1;
    return batches;
}

typedef struct batch_room {
    double *value;
    int *batch, *number;
    size_t names;
} batch_room;

/* Middles, of ln load where logs are wanted, of the parts of numbered batches. */
static size_t gather(hf_sample sample, const batch_room *room, bool logs) {
    size_t used = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->batch < 0 || room->number[item->batch] < 0) continue;
        room->value[used] =
            logs ? 0.5 * (log(item->lower) + log(item->upper)) : 0.5 * (item->lower + item->upper);
        room->batch[used++] = room->number[item->batch];
    }
    return used;
}

static hf_status both_tests(hf_sample sample, const batch_room *room, hf_batch_test *out) {
    hf_batch_f one_way;
    size_t batches = renumber(sample, room->number, room->names, 1);
    hf_status status =
        hf_batch_f_values(room->value, room->batch, gather(sample, room, true), batches, &one_way);
    if (status == HF_MEMORY) return status;
    batches = renumber(sample, room->number, room->names, 2);
    status = hf_batch_test_values(room->value, room->batch, gather(sample, room, false), batches, out);
    out->one_way = one_way;
    return status;
}

hf_status hf_batch_test_run(hf_sample sample, hf_batch_test *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    int most = -1;
    *out = (hf_batch_test){.reason = counts.above + counts.below ? "open_observations" : "one_batch"};
    out->a2 = out->a2_midrank = out->sigma = out->adk = out->critical = out->significance =
        out->between_share = NAN;
    for (size_t i = 0; i < sample.count; i++)
        most = sample.items[i].batch > most ? sample.items[i].batch : most;
    if (counts.above + counts.below || most < 1) return HF_NO_RESULT;
    batch_room room = {hf_memory_take(sample.count, sizeof *room.value),
                       hf_memory_take(sample.count, sizeof *room.batch),
                       hf_memory_take(((size_t)most + 1), sizeof *room.number), (size_t)most + 1};
    hf_status status = HF_MEMORY;
    if (room.value && room.batch && room.number) status = both_tests(sample, &room, out);
    hf_memory_free(room.value);
    hf_memory_free(room.batch);
    hf_memory_free(room.number);
    return status;
}
