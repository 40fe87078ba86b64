/* Weibull with run-outs but no first-rung failures: the integral over the location is a gamma function, one
 * dimension is left (Lawless 1978): P(q ≤ x | s) = Q(d, Σ e^{(y − x)/s}·(−ln P)). */
#include "strength/conditional.h"

#include <math.h>
#include <stdlib.h>
#include "holdfast/numeric/special.h"

enum { MAXIMUM_SPREADS = 2000 };

static const double negligible = 36;

typedef struct gamma_node {
    double inverse_s, weight, log_level; /* ln(Σ e^{(y − top)/s}·(−ln P)) */
} gamma_node;

typedef struct gamma_mixture {
    gamma_node *nodes;
    size_t count;
    double top, total;
    double failures;
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

static double log_weight(const hf_open_data *data, double top, double s, double *log_sum) {
    double sum = 0, failed = 0, d = (double)data->count;
    for (size_t i = 0; i < data->count; i++) {
        sum += exp((data->y[i] - top) / s);
        failed += (data->y[i] - top) / s;
    }
    for (size_t i = 0; i < data->above_count; i++) sum += exp((data->above[i] - top) / s);
    *log_sum = log(sum);
    return -(d - 1) * log(s) + failed - d * *log_sum;
}

hf_status hf_weibull_limit(const hf_open_data *data, double content, double target, double m, double s,
                           double *limit) {
    gamma_mixture mix = {.top = -INFINITY, .failures = (double)data->count};
    mix.log_far = log(mix.failures + 40 * sqrt(mix.failures) + 60);
    double step = fmin(0.1, 0.2 / sqrt((double)data->count)), center = log(s),
           log_content = log(-log(content));
    for (size_t i = 0; i < data->count; i++) mix.top = fmax(mix.top, data->y[i]);
    for (size_t i = 0; i < data->above_count; i++) mix.top = fmax(mix.top, data->above[i]);
    mix.nodes = malloc(MAXIMUM_SPREADS * sizeof *mix.nodes);
    if (!mix.nodes) return HF_MEMORY;
    double log_sum, first = log_weight(data, mix.top, s, &log_sum), peak = first;
    for (int direction = -1; direction <= 1; direction += 2)
        for (int i = direction < 0 ? 1 : 0; mix.count < MAXIMUM_SPREADS; i++) {
            double at = exp(center + direction * i * step), value = log_weight(data, mix.top, at, &log_sum);
            peak = fmax(peak, value);
            mix.nodes[mix.count++] = (gamma_node){1 / at, exp(value - first), log_sum + log_content};
            if (value < peak - negligible && i > 2) break;
        }
    for (size_t i = 0; i < mix.count; i++) mix.total += mix.nodes[i].weight;
    hf_status status = mix.count == MAXIMUM_SPREADS
                           ? HF_NUMERIC
                           : hf_solve_tail(mixture_excess, mixture_density, &mix,
                                           (const double[3]){target, m + 1.5 * s * log_content, s}, limit);
    free(mix.nodes);
    return status;
}
