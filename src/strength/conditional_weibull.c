/* The Weibull law with run-outs: the integral over the location is a gamma function, one dimension is left (Lawless 1978):
 * P(q ≤ x | s) = Q(d, Σ e^{(y − x)/s}·(−ln P)).
 *
 * A part that broke at or below b brings the factor 1 − exp(−e^{(b − m)/s}). Multiplied out, j of k such parts make a term with j·e^{b/s}
 * added to the sum, times (−1)^j·C(k, j): a mixture of the same gamma functions with weights of either sign. */
#include "strength/conditional.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/special.h"

enum { MAXIMUM_SPREADS = 2000, MAXIMUM_TERMS = 24 };

static const double negligible = 36;
/* Weights of either sign may be this much larger than what they leave: eleven digits stay. */
static const double most_cancelled = 1e5;

/* One product of the first-rung factors: its sign and number of ways, and how often each `below` value is in it. */
typedef struct gamma_term {
    double ways;
    size_t often[MAXIMUM_TERMS];
} gamma_term;

typedef struct gamma_terms {
    gamma_term term[MAXIMUM_TERMS];
    size_t count;
    double below[MAXIMUM_TERMS]; /* the different `below` values */
    size_t values;
} gamma_terms;

typedef struct gamma_node {
    double inverse_s, weight, log_level; /* ln(Σ e^{(y − top)/s}·(−ln P)) */
} gamma_node;

typedef struct gamma_mixture {
    gamma_node *nodes;
    size_t count;
    size_t room;
    double top, total, absolute; /* sums of the weights and of their sizes */
    double failures, log_content;
    double log_far; /* beyond it Q(failures, g) is nothing */
} gamma_mixture;

/* Q(d, g) for whole d by its finite sum, which is short and exact; many failures go the general way. */
static double gamma_upper_whole(double d, double g) {
    if (d > 60) return hf_gamma_upper(d, g);
    double term = 1, sum = 1;
    for (int k = 1; k < (int)d; k++) {
        term *= g / k;
        sum += term;
    }
    return exp(-g) * sum;
}

static double mixture_excess(const void *context, double x, double target) {
    const gamma_mixture *mix = context;
    double sum = 0;
    for (size_t i = 0; i < mix->count; i++) {
        const gamma_node *node = &mix->nodes[i];
        double log_g = node->log_level + (mix->top - x) * node->inverse_s;
        if (log_g < mix->log_far) sum += node->weight * gamma_upper_whole(mix->failures, exp(log_g));
    }
    return sum / mix->total - target;
}

static double mixture_density(const void *context, double x) {
    const gamma_mixture *mix = context;
    double sum = 0, log_gamma = hf_log_gamma(mix->failures);
    for (size_t i = 0; i < mix->count; i++) {
        const gamma_node *node = &mix->nodes[i];
        double log_g = node->log_level + (mix->top - x) * node->inverse_s;
        if (log_g < mix->log_far)
            sum += node->weight * node->inverse_s * exp(mix->failures * log_g - exp(log_g) - log_gamma);
    }
    return sum / mix->total;
}

static double top_of(const hf_open_data *data) {
    double top = -INFINITY;
    for (size_t i = 0; i < data->count; i++) top = fmax(top, data->y[i]);
    for (size_t i = 0; i < data->above_count; i++) top = fmax(top, data->above[i]);
    return top;
}

/* Σ e^{(y − top)/s} of values and run-outs; failed: Σ (y − top)/s of the values. */
static double shared_sum(const hf_open_data *data, double top, double s, double *failed) {
    double sum = 0, last = 0;
    *failed = 0;
    for (size_t i = 0; i < data->count; i++) {
        sum += exp((data->y[i] - top) / s);
        *failed += (data->y[i] - top) / s;
    }
    for (size_t i = 0; i < data->above_count; i++) {
        bool again = i > 0 && data->above[i] == data->above[i - 1];
        sum += again ? last : (last = exp((data->above[i] - top) / s));
    }
    return sum;
}

/* ln of the mass of ln s when the location is integrated out. */
static double log_mass_of(double d, double s, double failed, double log_sum) {
    return -(d - 1) * log(s) + failed - d * log_sum;
}

double hf_weibull_location(const hf_open_data *data, double s, double *log_mass) {
    double failed, top = top_of(data), log_sum = log(shared_sum(data, top, s, &failed));
    *log_mass = log_mass_of((double)data->count, s, failed, log_sum);
    return top + s * log_sum;
}

/* Adds the nodes of one slice; returns ln of the weight without first-rung factors. */
static double add_slice(gamma_mixture *mix, const hf_open_data *data, const gamma_terms *terms, double s,
                        double first) {
    double plain = 0, failed, shared = shared_sum(data, mix->top, s, &failed), below[MAXIMUM_TERMS];
    for (size_t i = 0; i < terms->values; i++) below[i] = exp((terms->below[i] - mix->top) / s);
    for (size_t t = 0; t < terms->count; t++) {
        double sum = shared;
        for (size_t i = 0; i < terms->values; i++) sum += (double)terms->term[t].often[i] * below[i];
        double log_sum = log(sum), value = log_mass_of(mix->failures, s, failed, log_sum);
        if (t == 0) plain = value;
        if (isnan(first)) first = value;
        double weight = terms->term[t].ways * exp(value - first);
        mix->nodes[mix->count++] = (gamma_node){1 / s, weight, log_sum + mix->log_content};
        mix->total += weight;
        mix->absolute += fabs(weight);
    }
    return plain;
}

/* (1 − x)^k of another `below` value, multiplied into the terms. */
static bool multiply(gamma_terms *terms, double value, size_t k) {
    size_t before = terms->count;
    if (before * (k + 1) > MAXIMUM_TERMS) return false;
    terms->below[terms->values] = value;
    double ways = 1;
    for (size_t j = 1; j <= k; j++) {
        ways *= -(double)(k - j + 1) / (double)j;
        for (size_t t = 0; t < before; t++) {
            gamma_term *made = &terms->term[terms->count++];
            *made = terms->term[t];
            made->ways *= ways;
            made->often[terms->values] = j;
        }
    }
    terms->values++;
    return true;
}

static bool find_terms(const hf_open_data *data, gamma_terms *terms) {
    terms->count = 1;
    terms->values = 0;
    terms->term[0] = (gamma_term){.ways = 1};
    for (size_t i = 0; i < data->below_count; i++) {
        size_t alike = 0;
        bool seen = false;
        for (size_t j = 0; j < data->below_count; j++) {
            seen |= j < i && data->below[j] == data->below[i];
            alike += data->below[j] == data->below[i];
        }
        if (!seen && !multiply(terms, data->below[i], alike)) return false;
    }
    return true;
}

static hf_status fill_mixture(gamma_mixture *mix, const hf_open_data *data, const gamma_terms *terms,
                              double s) {
    double step = fmin(0.05, 0.1 / sqrt(mix->failures)), center = log(s), first = NAN, peak = -INFINITY;
    for (int direction = -1; direction <= 1; direction += 2)
        for (int i = direction < 0 ? 1 : 0;; i++) {
            if (mix->count + terms->count > mix->room) return HF_NUMERIC;
            double value = add_slice(mix, data, terms, exp(center + direction * i * step), first);
            if (isnan(first)) first = value;
            peak = fmax(peak, value);
            if (value < peak - negligible && i > 2) break;
        }
    return mix->absolute < most_cancelled * mix->total ? HF_OK : HF_RANGE;
}

hf_status hf_weibull_limit(const hf_open_data *data, double content, double target, double m, double s,
                           double *limit) {
    gamma_terms terms;
    gamma_mixture mix = {
        .top = top_of(data), .failures = (double)data->count, .log_content = log(-log(content))};
    if (!find_terms(data, &terms)) return HF_RANGE;
    mix.log_far = log(mix.failures + 40 * sqrt(mix.failures) + 60);
    mix.room = MAXIMUM_SPREADS * terms.count;
    mix.nodes = hf_memory_take(mix.room, sizeof *mix.nodes);
    if (!mix.nodes) return HF_MEMORY;
    hf_status status = fill_mixture(&mix, data, &terms, s);
    if (status == HF_OK)
        status = hf_solve_tail(mixture_excess, mixture_density, &mix,
                               (const double[3]){target, m + 1.5 * s * mix.log_content, s}, limit);
    hf_memory_free(mix.nodes);
    return status;
}
