/* The Weibull factor w(n, P, C): the C quantile of (m̂ − q)/ŝ over samples of the standard law, q = ln(−ln P).
 * V = √n·(w + q) is the handbook's factor (MIL-HDBK-17-1F 8.3.4.2). The table holds V; by local cubics V is
 * interpolated in q, then ln w in z_C, then V in 1/√n with its known limit at 0. Beyond the table nothing is known: a quantile that only a few
 * of the samples pass would be their luck. */
#include "strength/weibull.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/family.h"
#include "strength/weibull_table.h"

enum {
    DENSE_SIZES = 59,
    CONFIDENCES = HF_WEIBULL_CONFIDENCES + HF_WEIBULL_TAIL
}; /* rows 0 … 58: n = 2 … 60 */

typedef struct pivot_job {
    size_t n, count;
    uint64_t seed;
    double *m, *s, *scratch; /* scratch: 2·n·HF_LANES per worker */
} pivot_job;

static void pivot_block(size_t block, int worker, void *context) {
    const pivot_job *job = context;
    size_t start = block * HF_WEIBULL_BLOCK, stride = job->n * HF_LANES;
    size_t end = start + HF_WEIBULL_BLOCK < job->count ? start + HF_WEIBULL_BLOCK : job->count;
    double *y = job->scratch + 2 * stride * (size_t)worker;
    hf_random random;
    hf_random_start(&random, job->seed, block);
    for (size_t i = start; i < end; i += HF_LANES) {
        hf_random_fill_sev(&random, y, stride);
        hf_weibull_estimate_lanes(y, job->n, y + stride, job->m + i, job->s + i);
    }
}

hf_status hf_weibull_pivots(size_t n, size_t count, uint64_t seed, double *m, double *s) {
    size_t workers = (size_t)hf_parallel_threads();
    if (n < 2 || count % HF_LANES != 0 || n > SIZE_MAX / (2 * HF_LANES * sizeof(double) * workers))
        return HF_RANGE;
    pivot_job job = {n, count, seed, m, s, hf_memory_take(2 * n * HF_LANES * workers, sizeof(double))};
    if (!job.scratch) return HF_MEMORY;
    hf_parallel_blocks((count + HF_WEIBULL_BLOCK - 1) / HF_WEIBULL_BLOCK, pivot_block, &job);
    hf_memory_free(job.scratch);
    return HF_OK;
}

void hf_weibull_factor_of_pivots(const double *m, const double *s, size_t count, double content,
                                 double confidence, double *scratch, double *w, double *standard_error) {
    double q = hf_sev_quantile_upper(content), size = (double)count;
    double spread = sqrt(confidence * (1 - confidence) / size);
    size_t at = (size_t)(confidence * size);
    size_t low = (size_t)fmax(0, (confidence - spread) * size);
    size_t high = (size_t)fmin(size - 1, (confidence + spread) * size);
    for (size_t i = 0; i < count; i++) scratch[i] = (m[i] - q) / s[i];
    *w = hf_vector_select(scratch, count, at);
    double above = hf_vector_select(scratch, count, high), below = hf_vector_select(scratch, count, low);
    *standard_error = 0.5 * (above - below);
}

/* First of the four nodes around x (three intervals), kept inside the table. */
static size_t stencil(const double *nodes, size_t count, double x) {
    size_t i = 0;
    while (i + 2 < count && nodes[i + 1] < x) i++;
    size_t first = i > 0 ? i - 1 : 0;
    return first + 4 <= count ? first : count - 4;
}

static void cubic_weights(const double *nodes, double x, double weight[4]) {
    for (int i = 0; i < 4; i++) {
        weight[i] = 1;
        for (int j = 0; j < 4; j++)
            if (j != i) weight[i] *= (x - nodes[j]) / (nodes[i] - nodes[j]);
    }
}

typedef struct surface_point {
    size_t content, confidence; /* first nodes */
    double content_weight[4], confidence_weight[4];
    double q, z;
} surface_point;

static double confidence_at(size_t column) {
    return column < HF_WEIBULL_CONFIDENCES ? hf_weibull_confidences[column]
                                           : hf_weibull_tail_confidences[column - HF_WEIBULL_CONFIDENCES];
}

static double value_at(size_t row, size_t content, size_t column) {
    return column < HF_WEIBULL_CONFIDENCES
               ? hf_weibull_table[row][content][column]
               : hf_weibull_tail[row][content][column - HF_WEIBULL_CONFIDENCES][0];
}

static double error_at(size_t row, size_t content, size_t column) {
    return column < HF_WEIBULL_CONFIDENCES
               ? (double)hf_weibull_table_error[row][content][column]
               : hf_weibull_tail[row][content][column - HF_WEIBULL_CONFIDENCES][1];
}

static void locate(double content, double confidence, surface_point *point) {
    double q[HF_WEIBULL_CONTENTS], z[CONFIDENCES];
    for (int i = 0; i < HF_WEIBULL_CONTENTS; i++) q[i] = -hf_sev_quantile_upper(hf_weibull_contents[i]);
    for (size_t i = 0; i < CONFIDENCES; i++) z[i] = hf_normal_quantile_lower(confidence_at(i));
    point->q = hf_sev_quantile_upper(content);
    point->z = hf_normal_quantile_lower(confidence);
    point->content = stencil(q, HF_WEIBULL_CONTENTS, -point->q);
    point->confidence = stencil(z, CONFIDENCES, point->z);
    cubic_weights(q + point->content, -point->q, point->content_weight);
    cubic_weights(z + point->confidence, point->z, point->confidence_weight);
}

/* w at one tabulated n and confidence: V is nearly straight in q. */
static void on_line(size_t row, size_t column, const surface_point *point, double *w, double *error) {
    double root = sqrt(hf_weibull_sizes[row]), v = 0, variance = 0;
    for (size_t i = 0; i < 4; i++) {
        double weight = point->content_weight[i], share = weight * error_at(row, point->content + i, column);
        v += weight * value_at(row, point->content + i, column);
        variance += share * share;
    }
    *w = v / root - point->q;
    *error = sqrt(variance) / root;
}

/* V and its standard error at one tabulated n. */
static void on_surface(size_t row, const surface_point *point, double *v, double *error) {
    double root = sqrt(hf_weibull_sizes[row]), log_w = 0, variance = 0, w, w_error;
    for (size_t i = 0; i < 4; i++) {
        on_line(row, point->confidence + i, point, &w, &w_error);
        double share = point->confidence_weight[i] * w_error / w;
        log_w += point->confidence_weight[i] * log(w);
        variance += share * share;
    }
    w = exp(log_w);
    *v = root * (w + point->q);
    *error = root * w * sqrt(variance);
}

/* √n times the standard deviation of m̂ + q·ŝ for large n (Fisher information of the extreme-value law). */
static double limit_deviation(double q) {
    double v = 6 / (HF_PI * HF_PI), g = 1 - HF_EULER;
    return sqrt(1 + v * g * g + v * q * q - 2 * v * g * q);
}

/* Between tabulated sizes: cubic through the four nodes around 1/√n, the limit being the node at 0. */
static void between_sizes(size_t n, const surface_point *point, double *v, double *error) {
    enum { NODES = 6 };
    double x[NODES] = {0}, value[NODES], deviation[NODES] = {0}, weight[4], variance = 0;
    value[0] = point->z * limit_deviation(point->q);
    for (size_t i = 1; i < NODES; i++) { /* 1000, 250, 120, 80, 60 */
        size_t row = HF_WEIBULL_SIZES - i;
        x[i] = 1 / sqrt(hf_weibull_sizes[row]);
        on_surface(row, point, &value[i], &deviation[i]);
    }
    double at = 1 / sqrt((double)n);
    size_t first = stencil(x, NODES, at);
    cubic_weights(x + first, at, weight);
    *v = 0;
    for (size_t i = 0; i < 4; i++) {
        *v += weight[i] * value[first + i];
        variance += weight[i] * weight[i] * deviation[first + i] * deviation[first + i];
    }
    *error = sqrt(variance);
}

static bool within(double x, double low, double high) {
    return x >= low && x <= high;
}

hf_factor_reach hf_weibull_reach(void) {
    return (hf_factor_reach){hf_weibull_contents[0], hf_weibull_contents[HF_WEIBULL_CONTENTS - 1],
                             hf_weibull_confidences[0], hf_weibull_tail_confidences[HF_WEIBULL_TAIL - 1]};
}

hf_status hf_weibull_factor(size_t n, double content, double confidence, double *w, double *standard_error) {
    hf_factor_reach reach = hf_weibull_reach();
    *standard_error = 0;
    if (n < 2 || !(content > 0 && content < 1) || !(confidence > 0 && confidence < 1)) return HF_RANGE;
    if (n == 2) return hf_weibull_factor_of_two(content, confidence, w);
    if (!within(content, reach.least_content, reach.most_content) ||
        !within(confidence, reach.least_confidence, reach.most_confidence))
        return HF_NO_RESULT;
    surface_point point;
    double v, error;
    locate(content, confidence, &point);
    if (n <= (size_t)hf_weibull_sizes[DENSE_SIZES - 1])
        on_surface(n - 2, &point, &v, &error);
    else
        between_sizes(n, &point, &v, &error);
    *w = v / sqrt((double)n) - point.q;
    *standard_error = error / sqrt((double)n);
    return HF_OK;
}
