/* Weibull family: ln load follows the smallest-extreme-value law with m = ln η, s = 1/β.
 * Likelihood equation of Cohen (1965): Σ y e^{by}/Σ e^{by} − ȳ − 1/b = 0, solved by Halley's method, whose
 * third-order step needs about four rounds. */
#include "strength/weibull.h"

#include <float.h>
#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "numeric/kernel.h"
#include "strength/conditional.h"
#include "holdfast/strength/family.h"
#include "strength/normal.h"

enum { CHUNK = 1024, ROUNDS = 60 };

static void log_density(double z, double out[3]) {
    double e = exp(z);
    out[0] = z - e;
    out[1] = 1 - e;
    out[2] = -e;
}

static void log_lower(double z, double out[3]) {
    out[0] = hf_sev_log_lower(z);
    double ratio = exp(z - exp(z) - out[0]);
    out[1] = ratio;
    out[2] = ratio * (1 - exp(z) - ratio);
}

static void log_upper(double z, double out[3]) {
    out[0] = out[1] = out[2] = -exp(z);
}

static double log_interval(double low, double high) {
    if (!(low < high)) return -INFINITY;
    if (isinf(high)) return -exp(low);
    if (isinf(low)) return hf_sev_log_lower(high);
    double e = exp(low);
    return -e + log(-expm1(-e * expm1(high - low)));
}

static void curvature(double z, double out[3]) {
    double e = exp(z);
    out[0] = 1 - 3 * e + e * e;
    out[1] = -3 * e + 2 * e * e;
    out[2] = -3 * e + 4 * e * e;
}

/* The likelihood equation as a root in b with first and second derivative, from Σe, Σxe, Σx²e, Σx³e. */
static inline double halley_step(double b, double mean, const double sum[4]) {
    double a = sum[1] / sum[0], c = sum[2] / sum[0], d = sum[3] / sum[0];
    double inverse = 1 / b, variance = c - a * a;
    double value = a - mean - inverse;
    double first = variance + inverse * inverse;
    double second = d - 3 * a * c + 2 * a * a * a - 2 * inverse * inverse * inverse;
    double newton = value / first;
    double correction = 1 - 0.5 * newton * second / first;
    correction = correction > 0.5 ? correction : 0.5;
    double next = b - newton / correction;
    return next > 0.25 * b ? next : 0.25 * b;
}

HF_VECTOR_CLONES
static void tilted_sums(const double *x, size_t n, double b, double sum[4]) {
    double lanes[4][HF_LANES] = {{0}};
    size_t whole = n - n % HF_LANES;
    for (size_t i = 0; i < whole; i += HF_LANES)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double value = x[i + lane], e = hf_kernel_exp(b * value), t = value * e;
            lanes[0][lane] += e;
            lanes[1][lane] += t;
            t *= value;
            lanes[2][lane] += t;
            lanes[3][lane] += t * value;
        }
    for (size_t i = whole; i < n; i++) {
        double value = x[i], e = hf_kernel_exp(b * value), t = value * e;
        lanes[0][i - whole] += e;
        lanes[1][i - whole] += t;
        lanes[2][i - whole] += t * value;
        lanes[3][i - whole] += t * value * value;
    }
    for (int k = 0; k < 4; k++) {
        double *l = lanes[k];
        sum[k] = ((l[0] + l[4]) + (l[2] + l[6])) + ((l[1] + l[5]) + (l[3] + l[7]));
    }
}

/* Sums over y − shift without a second array: chunks are shifted into a small buffer. */
static void shifted_sums(const double *y, size_t n, double shift, double b, double sum[4]) {
    double buffer[CHUNK], part[4];
    for (int k = 0; k < 4; k++) sum[k] = 0;
    for (size_t start = 0; start < n; start += CHUNK) {
        size_t size = n - start < CHUNK ? n - start : CHUNK;
        for (size_t i = 0; i < size; i++) buffer[i] = y[start + i] - shift;
        tilted_sums(buffer, size, b, part);
        for (int k = 0; k < 4; k++) sum[k] += part[k];
    }
}

hf_status hf_weibull_estimate(const double *y, size_t n, double *m, double *s) {
    if (n < 2) return HF_RANGE;
    double mean, deviation, top = y[0], bottom = y[0];
    for (size_t i = 1; i < n; i++) {
        top = y[i] > top ? y[i] : top;
        bottom = y[i] < bottom ? y[i] : bottom;
    }
    if (!isfinite(top - bottom)) return HF_RANGE;
    if (top == bottom) {
        *m = top;
        *s = 0;
        return HF_OK;
    }
    hf_vector_mean_sd(y, n, &mean, &deviation);
    double b = HF_PI / sqrt(6.0) / deviation, sum[4];
    for (int round = 0; round < ROUNDS; round++) {
        shifted_sums(y, n, top, b, sum);
        double next = halley_step(b, mean - top, sum);
        double change = fabs(next - b);
        b = next;
        if (change <= 1e-9 * b) { /* third order: the next change would be below 1e-16 */
            shifted_sums(y, n, top, b, sum);
            *m = top + log(sum[0] / (double)n) / b;
            *s = 1 / b;
            return HF_OK;
        }
    }
    return HF_NUMERIC;
}

/* Σ c·e, Σ c·x·e, … over counted values x = y − top. */
static void counted_sums(const double *y, const double *count, size_t n, const double top_and_b[2],
                         double sum[4]) {
    for (int k = 0; k < 4; k++) sum[k] = 0;
    for (size_t i = 0; i < n; i++) {
        double x = y[i] - top_and_b[0], t = count[i] > 0 ? count[i] * exp(top_and_b[1] * x) : 0;
        for (int k = 0; k < 4; k++, t *= x) sum[k] += t;
    }
}

hf_status hf_weibull_estimate_counted(const double *y, const double *count, size_t n, double *m, double *s) {
    double deviation, place[2] = {-INFINITY, 0}, sum[4], all = 0, mean;
    hf_status status = hf_mean_deviation_counted(y, count, n, &mean, &deviation);
    for (size_t i = 0; i < n; i++) {
        place[0] = count[i] > 0 ? fmax(place[0], y[i]) : place[0];
        all += count[i];
    }
    *m = place[0];
    *s = 0;
    if (status != HF_OK || !(deviation > 0)) return status;
    place[1] = HF_PI / sqrt(6.0) / deviation;
    for (int round = 0; round < ROUNDS; round++) {
        counted_sums(y, count, n, place, sum);
        double next = halley_step(place[1], mean - place[0], sum), change = fabs(next - place[1]);
        place[1] = next;
        if (change > 1e-9 * next) continue;
        counted_sums(y, count, n, place, sum);
        *m = place[0] + log(sum[0] / all) / place[1];
        *s = 1 / place[1];
        return HF_OK;
    }
    return HF_NUMERIC;
}

/* One Halley round on HF_LANES samples side by side; x is shifted so that its largest is 0. */
static inline void lane_sums(const double *x, size_t n, const double *b, double sum[4][HF_LANES]) {
    for (int k = 0; k < 4; k++)
        for (size_t lane = 0; lane < HF_LANES; lane++) sum[k][lane] = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double value = x[i * HF_LANES + lane], e = hf_kernel_exp(b[lane] * value), t = value * e;
            sum[0][lane] += e;
            sum[1][lane] += t;
            t *= value;
            sum[2][lane] += t;
            sum[3][lane] += t * value;
        }
}

typedef struct lane_state {
    double top[HF_LANES], mean[HF_LANES], b[HF_LANES];
} lane_state;

/* Start: shift by the largest value, b from the standard deviation; equal values get s = 0 at the end. */
static inline void lane_start(const double *y, size_t n, double *x, lane_state *state) {
    double sum[HF_LANES] = {0}, squares[HF_LANES] = {0};
    for (size_t lane = 0; lane < HF_LANES; lane++) state->top[lane] = y[lane];
    for (size_t i = 1; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double value = y[i * HF_LANES + lane];
            state->top[lane] = value > state->top[lane] ? value : state->top[lane];
        }
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double value = y[i * HF_LANES + lane] - state->top[lane];
            x[i * HF_LANES + lane] = value;
            sum[lane] += value;
        }
    for (size_t lane = 0; lane < HF_LANES; lane++) state->mean[lane] = sum[lane] / (double)n;
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double residual = x[i * HF_LANES + lane] - state->mean[lane];
            squares[lane] += residual * residual;
        }
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        double deviation = sqrt(squares[lane] / (double)(n - 1));
        state->b[lane] = deviation > 0 ? 1.2825498301618641 / deviation : 1; /* π/√6 */
    }
}

HF_VECTOR_CLONES
void hf_weibull_estimate_lanes(const double *y, size_t n, double *x, double *m, double *s) {
    lane_state state;
    double sum[4][HF_LANES];
    lane_start(y, n, x, &state);
    for (int round = 0; round < ROUNDS; round++) {
        double worst = 0;
        lane_sums(x, n, state.b, sum);
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double part[4] = {sum[0][lane], sum[1][lane], sum[2][lane], sum[3][lane]};
            double next = halley_step(state.b[lane], state.mean[lane], part);
            double change = state.mean[lane] < 0 ? fabs(next - state.b[lane]) / next : 0;
            state.b[lane] = state.mean[lane] < 0 ? next : state.b[lane];
            worst = change > worst ? change : worst;
        }
        if (!(worst > 1e-5)) break; /* third order: the step just made leaves about 1e-15 */
    }
    lane_sums(x, n, state.b, sum);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        double level = hf_kernel_log(sum[0][lane] / (double)n) / state.b[lane];
        m[lane] = state.mean[lane] < 0 ? state.top[lane] + level : state.top[lane];
        s[lane] = state.mean[lane] < 0 ? 1 / state.b[lane] : 0;
    }
}

void hf_weibull_log_tails(const double *z, double *log_lower, double *log_upper, size_t count) {
    hf_vector_exp(z, log_upper, count);
    for (size_t i = 0; i < count; i++) log_upper[i] = -log_upper[i];
    if (!log_lower) return;
    hf_vector_exp(log_upper, log_lower, count);
    for (size_t i = 0; i < count; i++) log_lower[i] = 1 - log_lower[i];
    hf_vector_log(log_lower, log_lower, count);
    /* Where 1 − exp(−e^z) has lost its digits, ln of it is z. */
    for (size_t i = 0; i < count; i++) log_lower[i] = log_upper[i] > -1e-9 ? z[i] : log_lower[i];
}

/* Σ z − Σ e^z with e^{(y − m)/s} = e^{(y − top)/s}·e^{(top − m)/s}. */
static void log_density_sums(const double *y, size_t n, double s, const double *m, double *out,
                             size_t count) {
    double sum = 0, tilted = 0, top = n ? y[0] : 0;
    for (size_t i = 1; i < n; i++) top = y[i] > top ? y[i] : top;
    for (size_t i = 0; i < n; i++) {
        sum += y[i] - top;
        tilted += exp((y[i] - top) / s);
    }
    for (size_t j = 0; j < count; j++) out[j] = (top - m[j]) / s;
    for (size_t j = 0; j < count; j++) out[j] = (sum / s + (double)n * out[j]) - tilted * exp(out[j]);
}

static double handbook_significance(double a2, size_t n) {
    double star = (1 + 0.2 / sqrt((double)n)) * a2;
    return 1 / (1 + exp(-0.10 + 1.24 * log(star) + 4.48 * star));
}

static double log_moment(double s) {
    return hf_log_gamma(1 + s);
}

static double cv_excess(double log_shape, void *context) {
    double inverse = exp(-log_shape), cv = *(const double *)context;
    return expm1(log_moment(2 * inverse) - 2 * log_moment(inverse)) - cv * cv;
}

/* cv² = ζ(2)s² − 2ζ(3)s³ …: below small_cv the gamma functions cancel. */
static const double small_cv = 1e-4, apery = 1.2020569031595943; /* ζ(3) */

double hf_weibull_cv(double spread) {
    if (!(spread > 0)) return NAN;
    if (spread < small_cv) return spread * HF_PI / sqrt(6.0) * (1 - 6 * apery / (HF_PI * HF_PI) * spread);
    return sqrt(expm1(log_moment(2 * spread) - 2 * log_moment(spread)));
}

static double spread_of_cv(double cv) {
    double log_shape, slope = sqrt(6.0) / HF_PI;
    if (cv < small_cv) return slope * cv * (1 + apery * slope * slope * slope * cv);
    bool found = hf_solve_root(cv_excess, &cv, log(0.5), log(1e7), 1e-14, 1e-14, &log_shape) == HF_OK;
    return found ? exp(-log_shape) : NAN;
}

const hf_family hf_family_weibull = {
    .name = "weibull",
    .label = "Weibull",
    .log_scale = true,
    .step_allowance = 1.0 / 12,
    .has_shape = true,
    .mean_z = -HF_EULER,
    .deviation_z = 1.2825498301618641, /* π/√6 */
    .log_moment = log_moment,
    .spread_of_cv = spread_of_cv,
    .lower = hf_sev_lower,
    .upper = hf_sev_upper,
    .quantile_upper = hf_sev_quantile_upper,
    .log_density = log_density,
    .log_lower = log_lower,
    .log_upper = log_upper,
    .log_interval = log_interval,
    .curvature = curvature,
    .estimate = hf_weibull_estimate,
    .estimate_counted = hf_weibull_estimate_counted,
    .factor = hf_weibull_factor,
    .factor_reach = hf_weibull_reach,
    .limit_by_mixture = hf_weibull_limit,
    .location = hf_weibull_location,
    .handbook_significance = handbook_significance,
    .fill = hf_random_fill_sev,
    .estimate_lanes = hf_weibull_estimate_lanes,
    .log_tails = hf_weibull_log_tails,
    .log_density_sums = log_density_sums,
};
