#include "strength/conditional.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"

enum { NODES = 34, MAXIMUM_SPREADS = 2000, NEWTON_ROUNDS = 60 };

/* Terms below e^−25 of the largest change no digit that is shown. */
static const double negligible = 25;

/* One value of the spread s with the range of locations that matter there. */
typedef struct slice {
    double s, low, mode, high; /* locations */
    double log_mass;           /* ln of the integral over all locations, with the prior */
} slice;

typedef struct posterior {
    const hf_family *family;
    const hf_open_data *data;
    double nodes[NODES], weights[NODES];
    slice *slices;
    size_t count;
    double step;     /* of ln s */
    double log_peak; /* largest log_mass */
    double total;    /* sum of exp(log_mass − log_peak) */
    double z;        /* q = m + z·s */
} posterior;

/* ln of the likelihood at (m[j], s) for `count` ≤ NODES locations; ln s^−d is left to the caller. */
static void log_likelihood(const posterior *p, double s, const double *m, double *out, size_t count) {
    const hf_open_data *data = p->data;
    double z[NODES], lower[NODES], upper[NODES];
    p->family->log_density_sums(data->y, data->count, s, m, out, count);
    /* Weights often end at one load for several parts: equal ends are worked out once. */
    for (size_t i = 0; i < data->above_count; i++) {
        if (i == 0 || data->above[i] != data->above[i - 1]) {
            for (size_t j = 0; j < count; j++) z[j] = (data->above[i] - m[j]) / s;
            p->family->log_tails(z, NULL, upper, count);
        }
        for (size_t j = 0; j < count; j++) out[j] += upper[j];
    }
    for (size_t i = 0; i < data->below_count; i++) {
        if (i == 0 || data->below[i] != data->below[i - 1]) {
            for (size_t j = 0; j < count; j++) z[j] = (data->below[i] - m[j]) / s;
            p->family->log_tails(z, lower, upper, count);
        }
        for (size_t j = 0; j < count; j++) out[j] += lower[j];
    }
}

static double log_likelihood_at(const posterior *p, double s, double m) {
    double out;
    log_likelihood(p, s, &m, &out, 1);
    return out;
}

/* First and second derivative of ln likelihood in m. */
static void slope(const posterior *p, double s, double m, double *first, double *second) {
    const hf_open_data *data = p->data;
    double f[3];
    *first = *second = 0;
    for (size_t i = 0; i < data->count + data->above_count + data->below_count; i++) {
        if (i < data->count)
            p->family->log_density((data->y[i] - m) / s, f);
        else if (i < data->count + data->above_count)
            p->family->log_upper((data->above[i - data->count] - m) / s, f);
        else
            p->family->log_lower((data->below[i - data->count - data->above_count] - m) / s, f);
        *first -= f[1] / s;
        *second += f[2] / (s * s);
    }
}

/* The log-likelihood is concave in m: Newton with steps of at most 2 s. */
static double find_mode(const posterior *p, double s, double start) {
    double m = start, first, second;
    for (int round = 0; round < NEWTON_ROUNDS; round++) {
        slope(p, s, m, &first, &second);
        double step = second < 0 ? -first / second : copysign(2 * s, first);
        if (!isfinite(step) || fabs(step) > 2 * s) step = copysign(2 * s, first);
        m += step;
        if (fabs(step) < 1e-2 * s) break;
    }
    return m;
}

/* Where the likelihood has fallen to nothing on one side (concave: doubling then halving). */
static double find_edge(const posterior *p, double s, double mode, double direction) {
    double peak = log_likelihood_at(p, s, mode), inside = 0, outside = s;
    while (log_likelihood_at(p, s, mode + direction * outside) > peak - negligible && outside < 1e6 * s)
        outside *= 2;
    if (outside > s) inside = outside / 2;
    for (int i = 0; i < 4; i++) {
        double middle = 0.5 * (inside + outside);
        if (log_likelihood_at(p, s, mode + direction * middle) > peak - negligible)
            inside = middle;
        else
            outside = middle;
    }
    return mode + direction * outside;
}

/* ∫ likelihood dm over [low, high] as exp(log_scale)·result. */
static double integrate_piece(const posterior *p, double s, double low, double high, double log_scale) {
    double m[NODES], value[NODES], sum = 0, half = 0.5 * (high - low), middle = 0.5 * (low + high);
    if (!(high > low)) return 0;
    for (int j = 0; j < NODES; j++) m[j] = middle + half * p->nodes[j];
    log_likelihood(p, s, m, value, NODES);
    for (int j = 0; j < NODES; j++) sum += p->weights[j] * exp(value[j] - log_scale);
    return half * sum;
}

/* Open pulls in number pull the likelihood out of shape, and their tail reaches far beyond that of the finished ones. */
static bool nearly_even(const posterior *p) {
    return p->family->likelihood_reach && p->data->above_count + p->data->below_count <= p->data->count;
}

static double integrate_to(const posterior *p, const slice *at, double limit, double log_scale) {
    double end = fmin(limit, at->high);
    if (nearly_even(p)) return integrate_piece(p, at->s, at->low, end, log_scale); /* one piece does */
    double sum = integrate_piece(p, at->s, at->low, fmin(end, at->mode), log_scale);
    return end > at->mode ? sum + integrate_piece(p, at->s, at->mode, end, log_scale) : sum;
}

/* Prior 1/s on (m, s) is flat in ln s; the likelihood brings s^−d. */
static void fill_slice(const posterior *p, double log_s, double start, slice *at) {
    at->s = exp(log_s);
    at->mode = find_mode(p, at->s, start);
    double reach =
        nearly_even(p) ? at->s * p->family->likelihood_reach((double)p->data->count, negligible) : 0;
    at->low = reach > 0 ? at->mode - reach : find_edge(p, at->s, at->mode, -1);
    at->high = reach > 0 ? at->mode + reach : find_edge(p, at->s, at->mode, 1);
    double peak = log_likelihood_at(p, at->s, at->mode);
    at->log_mass = peak + log(integrate_to(p, at, INFINITY, peak)) - (double)p->data->count * log_s;
}

/* Slices outwards from ŝ until nothing is left; stays within the workspace. */
static hf_status spread_slices(posterior *p, double m, double s) {
    double peak = -INFINITY, center = log(s);
    for (int direction = -1; direction <= 1; direction += 2) {
        double start = m;
        for (int i = direction < 0 ? 1 : 0;; i++) {
            if (p->count == MAXIMUM_SPREADS) return HF_NUMERIC;
            slice *at = &p->slices[p->count++];
            fill_slice(p, center + direction * i * p->step, start, at);
            if (!isfinite(at->log_mass)) {
                p->count--;
                break;
            }
            start = at->mode;
            peak = fmax(peak, at->log_mass);
            if (at->log_mass < peak - negligible && i > 2) break;
        }
    }
    p->log_peak = peak;
    for (size_t i = 0; i < p->count; i++) p->total += exp(p->slices[i].log_mass - peak);
    return HF_OK;
}

/* P(q ≤ x) − target. */
static double excess(const posterior *p, double x, double target) {
    double sum = 0;
    for (size_t i = 0; i < p->count; i++) {
        const slice *at = &p->slices[i];
        double limit = x - p->z * at->s, share = exp(at->log_mass - p->log_peak);
        if (limit <= at->low || share < 3e-10) continue;
        if (limit >= at->high) {
            sum += share;
            continue;
        }
        double log_scale = p->log_peak + (double)p->data->count * log(at->s);
        sum += integrate_to(p, at, limit, log_scale);
    }
    return sum / p->total - target;
}

/* Density of q at x. */
static double density(const posterior *p, double x) {
    double sum = 0;
    for (size_t i = 0; i < p->count; i++) {
        const slice *at = &p->slices[i];
        double m = x - p->z * at->s;
        if (m <= at->low || m >= at->high) continue;
        sum += exp(log_likelihood_at(p, at->s, m) - (double)p->data->count * log(at->s) - p->log_peak);
    }
    return sum / p->total;
}

static double excess_of_posterior(const void *context, double x, double target) {
    return excess(context, x, target);
}
static double density_of_posterior(const void *context, double x) {
    return density(context, x);
}

hf_status hf_solve_tail(hf_tail_excess excess_of, hf_tail_density density_of, const void *context,
                        const double start[3], double *out) {
    double target = start[0], x = start[1], scale = start[2];
    double low = -INFINITY, high = INFINITY;
    for (int round = 0; round < NEWTON_ROUNDS; round++) {
        double difference = excess_of(context, x, target), slope_at = density_of(context, x);
        if (difference > 0)
            high = fmin(high, x);
        else
            low = fmax(low, x);
        double step = slope_at > 0 ? -log1p(difference / target) * (difference + target) / slope_at : NAN;
        if (difference + target <= 0 || !isfinite(step)) step = difference > 0 ? -scale : scale;
        double reach = fmax(scale, 0.5 * fabs(x - (isinf(high) ? x : high)) + 4 * scale);
        if (fabs(step) > reach && isinf(low)) step = copysign(fmin(fabs(step), 8 * reach), step);
        if (fabs(step) <= 1e-8 * scale) { /* quadratic: the step just made leaves 1e-16 */
            *out = x + step;
            return HF_OK;
        }
        double next = x + step;
        if (next <= low || next >= high) {
            if (isinf(low))
                next = x - scale;
            else if (isinf(high))
                next = x + scale;
            else
                next = 0.5 * (low + high);
        }
        x = next;
    }
    return HF_NUMERIC;
}

static hf_status general_limit(const hf_family *family, const hf_open_data *data, double z, double target,
                               double m, double s, double *limit) {
    posterior p = {.family = family, .data = data, .z = z};
    hf_status status = HF_MEMORY;
    hf_gauss_legendre(NODES, p.nodes, p.weights);
    p.step = fmin(0.12, 0.34 / sqrt((double)data->count));
    if (!family->likelihood_reach) p.step *= 0.33; /* the double exponential bends sharply */
    p.slices = hf_memory_take(MAXIMUM_SPREADS, sizeof *p.slices);
    if (p.slices) status = spread_slices(&p, m, s);
    if (status == HF_OK)
        status = hf_solve_tail(excess_of_posterior, density_of_posterior, &p,
                               (const double[3]){target, m + 1.5 * z * s, s}, limit);
    hf_memory_free(p.slices);
    return status;
}

hf_status hf_conditional_bound(const hf_family *family, const hf_open_data *data, double content,
                               double confidence, double *m, double *s, double *limit) {
    if (data->count < 2) return HF_NO_RESULT;
    hf_status status = hf_working_fit(family, data, m, s);
    if (status != HF_OK) return status;
    double z = family->quantile_upper(content);
    status = family->limit_by_mixture ? family->limit_by_mixture(data, content, 1 - confidence, *m, *s, limit)
                                      : HF_RANGE;
    if (status == HF_RANGE) status = general_limit(family, data, z, 1 - confidence, *m, *s, limit);
    if (family->spread_divides_by_n_minus_1) *s *= sqrt((double)data->count / (double)(data->count - 1));
    return status;
}
