#include "holdfast/strength/order_statistic.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "strength/open_bound.h"

size_t hf_order_statistic_rank(size_t n, double content, double confidence) {
    size_t low = 0, high = n; /* the largest r that still holds lies in [low, high] */
    while (low < high) {
        size_t middle = low + (high - low + 1) / 2;
        if (hf_binomial_at_least((double)middle, (double)n, 1 - content) >= confidence)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

/* Lower ends of all parts; HF_MEMORY when there is no room. */
static double *lower_ends(hf_sample sample) {
    if (sample.count == 0 || sample.count > SIZE_MAX / sizeof(double)) return NULL;
    double *ends = hf_memory_take(sample.count, sizeof *ends);
    for (size_t i = 0; ends && i < sample.count; i++) ends[i] = sample.items[i].lower;
    return ends;
}

hf_status hf_bound_order_statistic(hf_sample sample, double content, double confidence, hf_bound *out) {
    hf_bound_clear(out, NULL, content, confidence);
    out->n = sample.count;
    if (hf_bound_range(content, confidence, false) != HF_OK) return hf_bound_refuse(out, HF_REASON_RANGE);
    out->rank = hf_order_statistic_rank(sample.count, content, confidence);
    if (out->rank == 0) return hf_bound_refuse(out, HF_REASON_MORE_PARTS);
    double *ends = lower_ends(sample);
    if (!ends) return HF_MEMORY;
    out->method = HF_BOUND_ORDER_STATISTIC;
    out->value = out->lower_end = hf_vector_select(ends, sample.count, out->rank - 1);
    hf_memory_free(ends);
    return HF_OK;
}

/* r of MIL-HDBK-17-1F table 8.5.14, n = 2 … 28 (from memory; its k are recomputed). */
static const unsigned char koopmans_rank[] = {2, 3, 4, 4, 5,  5,  6,  6,  6,  7,  7,  7,  8, 8,
                                              8, 8, 9, 9, 10, 10, 10, 11, 11, 11, 11, 11, 12};

size_t hf_hanson_koopmans_rank(size_t n) {
    return n >= 2 && n < 2 + sizeof koopmans_rank ? koopmans_rank[n - 2] : 0;
}

typedef struct koopmans {
    double n, r, tail, confidence, k; /* tail = 1 − content */
} koopmans;

/* Density of the r-th of n uniform order statistics times P(smallest is low enough | U(r) = u). */
static double koopmans_integrand(double u, void *context) {
    const koopmans *c = context;
    double log_density = hf_log_gamma(c->n + 1) - hf_log_gamma(c->r) - hf_log_gamma(c->n - c->r + 1) +
                         (c->r - 1) * log(u) + (c->n - c->r) * log1p(-u);
    if (u >= 1) return c->r == c->n ? c->n * -expm1((c->r - 1) * log1p(-pow(c->tail, 1 / c->k))) : 0;
    double reach = pow(c->tail / u, 1 / c->k);
    if (reach >= 1) return exp(log_density);
    return exp(log_density) * -expm1((c->r - 1) * log1p(-reach));
}

static double koopmans_excess(double k, void *context) {
    koopmans *c = context;
    double integral;
    c->k = k;
    if (hf_integrate(koopmans_integrand, c, c->tail, 1, 1e-13, 1e-11, &integral, NULL) != HF_OK) return NAN;
    return integral + hf_beta_lower(c->tail, c->r, c->n - c->r + 1) - c->confidence;
}

hf_status hf_hanson_koopmans_factor(size_t n, size_t r, double content, double confidence, double *k) {
    koopmans c = {(double)n, (double)r, 1 - content, confidence, 1};
    if (r < 2 || r > n || !(content > 0.5 && content < 1) || !(confidence >= 0.5 && confidence < 1))
        return HF_RANGE;
    double high = 2;
    if (koopmans_excess(1 + 1e-12, &c) >= 0) return HF_RANGE;
    while (high < 1e6 && koopmans_excess(high, &c) < 0) high *= 2;
    return hf_solve_root(koopmans_excess, &c, 1 + 1e-12, high, 0, 1e-11, k);
}

static int compare(const void *a, const void *b) {
    const hf_observation *x = a, *y = b;
    return (x->lower > y->lower) - (x->lower < y->lower);
}

/* The smallest lower end and the r-th value's upper end. Sorted by lower end; an open part among the first r hides them. */
static hf_status koopmans_ends(hf_sample sample, size_t r, hf_bound *out) {
    hf_observation *sorted = hf_memory_take(sample.count, sizeof *sorted);
    double *upper = hf_memory_take(sample.count, sizeof *upper);
    hf_status status = HF_MEMORY;
    if (!sorted || !upper) goto done;
    for (size_t i = 0; i < sample.count; i++) {
        sorted[i] = sample.items[i];
        upper[i] = sample.items[i].upper;
    }
    qsort(sorted, sample.count, sizeof *sorted, compare);
    out->lower_end = sorted[0].lower;
    out->upper_end = hf_vector_select(upper, sample.count, r - 1); /* infinite when open parts hide it */
    status = isfinite(out->upper_end) && out->lower_end > 0 ? HF_OK : HF_NO_RESULT;
done:
    hf_memory_free(sorted);
    hf_memory_free(upper);
    return status;
}

hf_status hf_bound_hanson_koopmans(hf_sample sample, double content, double confidence, hf_bound *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_bound_clear(out, NULL, content, confidence);
    out->n = sample.count;
    size_t r = hf_hanson_koopmans_rank(sample.count);
    if (r == 0) return hf_bound_refuse(out, sample.count < 2 ? HF_REASON_MORE_PARTS : HF_REASON_TABLE_ENDS);
    if (counts.below > 0) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    hf_status status = koopmans_ends(sample, r, out);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK) return hf_bound_refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    if (out->lower_end >= out->upper_end) return hf_bound_refuse(out, HF_REASON_ONE_VALUE);
    if (hf_hanson_koopmans_factor(sample.count, r, content, confidence, &out->k) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_RANGE);
    out->rank = r;
    out->method = HF_BOUND_HANSON_KOOPMANS;
    out->value = out->upper_end * pow(out->lower_end / out->upper_end, out->k);
    return HF_OK;
}

size_t hf_success_run_parts(double content, double confidence, size_t failures) {
    double x = (double)failures;
    size_t low = failures, high = failures + 1; /* low is too few, high will be enough */
    while (hf_binomial_at_most(x, (double)high, 1 - content) > 1 - confidence) {
        low = high;
        if (high > SIZE_MAX / 4) return SIZE_MAX;
        high *= 2;
    }
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (hf_binomial_at_most(x, (double)middle, 1 - content) > 1 - confidence)
            low = middle;
        else
            high = middle;
    }
    return high;
}

double hf_success_run_content(size_t n, double confidence) {
    return exp(log1p(-confidence) / (double)n);
}
