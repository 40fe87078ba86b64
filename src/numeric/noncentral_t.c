#include "holdfast/numeric/noncentral_t.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/special.h"
#include "numeric/noncentral_t_far.h"
#include "numeric/tail_sums.h"
#include "numeric/tails.h"

/* The integrand is left out where it is below e^−42 = 6e-19 of its peak. Halving the step squares the error of the
 * trapezoidal rule here, so a small change leaves an error far smaller. */
static const double drop = 42.0, settled = 1e-9, widest_step = 0.125, step_share = 0.7;
enum { BLOCK = 512, HALVINGS = 8, STEPS = 60 };
/* ln W reaches no lower: what is left out there is below 1e-280. */
static const double lowest_log = -700.0;
/* ln of what no double holds. */
static const double nothing = -760.0;
/* From here on v = W − 1 loses less than v = W. */
static const double many = 30.0;
/* Beyond these degrees of freedom ν(u − (e^2u − 1)/2) has lost the digits that are promised. */
static const double most_degrees = 1e12;

HF_VECTOR_CLONES static void make_nodes(const hf_tail_grid *grid, hf_tail_nodes *nodes) {
    hf_loop_tail_nodes(grid, nodes);
}

HF_VECTOR_CLONES static void add_tails(const hf_tail_nodes *nodes, double t, double shift, double out[3]) {
    hf_loop_tail_sums(nodes, t, shift, out);
}

/* Which tail of T at t > 0, its law, and what it should be (for the quantile). */
typedef struct tail {
    double nu, delta;
    bool is_upper;
    double goal;
} tail;

static double front_factor(double nu) {
    return 2.0 * sqrt(nu / (4.0 * HF_PI)) * hf_kernel_exp(-hf_stirling_error(0.5 * nu));
}

/* Tail probability and its first two derivatives in t from the three sums. */
typedef struct tail_value {
    double value, slope, curvature;
} tail_value;

static tail_value tail_at(const tail *law, const hf_tail_nodes *nodes, double t) {
    double base = law->nu >= many ? 1.0 : 0.0, sign = law->is_upper ? 1.0 : -1.0, sum[3];
    add_tails(nodes, sign * t, sign * (base * t - law->delta), sum);
    double density = 0.39894228040143267794;
    return (tail_value){sum[0], -sign * density * sum[1], density * sum[2]};
}

static hf_tail_grid grid_from(const tail *law, double start, double step) {
    return (hf_tail_grid){law->nu, start, step, step * front_factor(law->nu), law->nu >= many ? 1.0 : 0.0};
}

/* In u = ln W the density of W is 1/√(2ν) wide and the normal tail about 1/(t·W); at its edge t·W = δ. */
static double first_step(double nu, double tw) {
    return fmin(widest_step, step_share / sqrt(2.0 * nu + fmin(tw * tw, 1e8)));
}

/* --- Probabilities --------------------------------------------------------------------------------- */

/* ln of the integrand at u = ln W, without its constant. */
static double log_integrand(const tail *law, double t, double u) {
    double less_one = expm1(u), z = t * (less_one + 1.0) - law->delta;
    return law->nu * (u - 0.5 * less_one * (less_one + 2.0)) + hf_normal_log_lower(law->is_upper ? -z : z);
}

/* The slope of log_integrand: it has one sign change, the peak. */
static double log_slope(const tail *law, double t, double u) {
    double w = exp(u), z = t * w - law->delta, sign = law->is_upper ? -1.0 : 1.0;
    double hazard = exp(hf_normal_log_density(z) - hf_normal_log_lower(sign * z));
    if (isnan(hazard)) return sign; /* z² is beyond all numbers: towards the edge */
    return law->nu * (1.0 - w * w) + sign * hazard * t * w;
}

static double peak(const tail *law, double t) {
    double low = law->is_upper ? -800.0 : 0.0, high = law->is_upper ? 0.0 : 300.0;
    for (int k = 0; k < 26; k++) {
        double middle = 0.5 * (low + high);
        if (log_slope(law, t, middle) > 0.0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* Where the integrand has fallen by `drop`, going from the peak by `step` at first. */
static double end_of_range(const tail *law, double t, double top, double step) {
    double floor_value = log_integrand(law, t, top) - drop, near = 0.0, far = step;
    while (log_integrand(law, t, top + far) > floor_value) {
        near = far;
        far *= 2.0;
    }
    for (int k = 0; k < 6; k++) {
        double middle = 0.5 * (near + far);
        if (log_integrand(law, t, top + middle) > floor_value)
            near = middle;
        else
            far = middle;
    }
    return top + far;
}

/* The normal tail is 1 to rounding over the whole range: its edge lies outside and need not be resolved. */
static bool is_without_edge(const tail *law, double t, double low, double high) {
    static const double sure = 9.0;
    return law->is_upper ? law->delta - t * exp(high) > sure : t * exp(low) - law->delta > sure;
}

static double sum_grid(const tail *law, double t, hf_tail_grid grid, size_t count) {
    double w[BLOCK], v[BLOCK], weight[BLOCK], total = 0.0, start = grid.start;
    for (size_t first = 0; first < count; first += BLOCK) {
        hf_tail_nodes nodes = {w, v, weight, count - first < BLOCK ? count - first : BLOCK};
        grid.start = start + (double)first * grid.step;
        make_nodes(&grid, &nodes);
        total += tail_at(law, &nodes, t).value;
    }
    return total;
}

/* One tail at t > 0. */
static double probability(const tail *law, double t) {
    double top = peak(law, t), tw = t * exp(top);
    if (log_integrand(law, t, top) < nothing) return 0.0;
    double spread = 1.0 / sqrt(2.0 * law->nu + fmin(tw * tw, 1e16));
    double low = fmax(lowest_log, end_of_range(law, t, top, -spread)),
           high = end_of_range(law, t, top, spread);
    double edge = is_without_edge(law, t, low, high) ? 0.0 : fmax(tw, fabs(law->delta) + 2.0);
    double step = first_step(law->nu, edge);
    size_t count = (size_t)((high - low) / step) + 2;
    double value = sum_grid(law, t, grid_from(law, low, step), count);
    for (int k = 0; k < HALVINGS; k++) {
        hf_tail_grid between = grid_from(law, low + 0.5 * step, step);
        double finer = 0.5 * (value + sum_grid(law, t, between, count));
        /* There the sum has no digits left to settle. */
        bool is_settled = fabs(finer - value) <= settled * finer || finer < 1e-280;
        value = finer;
        if (is_settled) return fmin(value, 1.0);
        step *= 0.5;
        count *= 2;
    }
    return NAN;
}

static bool law_allowed(double nu, double delta) {
    return nu >= 0.5 && nu <= most_degrees && isfinite(delta);
}

double hf_noncentral_t_upper(double t, double nu, double delta) {
    if (!law_allowed(nu, delta) || !isfinite(t)) return NAN;
    if (t == 0.0) return hf_normal_upper(-delta);
    tail law = {nu, t > 0.0 ? delta : -delta, t > 0.0, 0.0};
    if (hf_noncentral_t_is_far(nu, delta)) return hf_noncentral_t_far(fabs(t), nu, law.delta, law.is_upper);
    return probability(&law, fabs(t));
}

double hf_noncentral_t_lower(double t, double nu, double delta) {
    return hf_noncentral_t_upper(-t, nu, -delta);
}

/* --- Quantile -------------------------------------------------------------------------------------- */

/* u < 0 (or > 0) with ν(u − (e^2u − 1)/2) = −fall, from outside. */
static double density_end(double nu, double fall, bool is_left) {
    double r = fall / nu, u = -r - 0.5;
    if (!is_left) u = fmin(sqrt(r), 0.5 * log(3.0 + 2.0 * r + log1p(2.0 * r)));
    for (int k = 0; k < 4; k++) {
        double less_one = expm1(2.0 * u);
        u -= (u - 0.5 * less_one + r) / -less_one;
    }
    return u;
}

/* A first t: W taken as normal with mean 1 − 1/(4ν) and variance 1/(2ν); where that fails, from W's own lower tail. */
static double first_guess(const tail *law) {
    double z = law->is_upper ? hf_normal_quantile_upper(law->goal) : hf_normal_quantile_lower(law->goal);
    double mean = 1.0 - 0.25 / law->nu, variance = 0.5 / law->nu, delta = law->delta;
    double a = mean * mean - z * z * variance, b = mean * mean + variance * (delta * delta - z * z);
    double t = b > 0.0 ? (delta * mean + z * sqrt(b)) / a : -1.0;
    if (a > 0.25 && t > 0.0) return t;
    if (!law->is_upper) return fmax(0.5 * delta, 0.1);
    double half = 0.5 * law->nu;
    double w = exp((log(law->goal) + hf_log_gamma(half + 1.0)) / law->nu) / sqrt(half);
    return fmax(delta, 0.7) / fmin(w, 1.0);
}

/* Halley's step for ln tail = ln goal, in ln t for the power-like upper tails of few degrees of freedom. */
static double next_t(const tail *law, tail_value at, double t) {
    double error = log(at.value / law->goal);
    bool in_log = law->is_upper && law->nu < many;
    double slope = at.slope / at.value, curvature = at.curvature / at.value - slope * slope;
    if (in_log) {
        curvature = t * slope + t * t * curvature;
        slope *= t;
    }
    double newton = -error / slope;
    double halley = newton / fmin(fmax(1.0 + 0.5 * newton * curvature / slope, 0.5), 2.0);
    return in_log ? t * exp(halley) : t + halley;
}

/* Root on one grid; the last step was shorter than 1e-5 of t and converges cubically. NaN when it does not settle. */
static double root_on(const tail *law, const hf_tail_nodes *nodes, double t) {
    double low = 0.0, high = HUGE_VAL;
    for (int k = 0; k < STEPS; k++) {
        tail_value at = tail_at(law, nodes, t);
        if (at.value == law->goal) return t;
        if ((at.value > law->goal) == law->is_upper)
            low = t;
        else
            high = t;
        double next = next_t(law, at, t);
        double moved = fabs(next - t);
        if (moved <= 1e-5 * t || moved <= 1e-13) return next;
        bool is_inside = next > low && next < high;
        t = is_inside ? next : isinf(high) ? 4.0 * t : 0.5 * (low + high);
    }
    return NAN;
}

/* Nodes on the stack where they fit, else on the heap. */
typedef struct node_room {
    double fixed[3][BLOCK];
    double *heap;
} node_room;

static bool take_room(node_room *room, size_t count, hf_tail_nodes *nodes) {
    hf_memory_free(room->heap);
    room->heap = NULL;
    *nodes = (hf_tail_nodes){room->fixed[0], room->fixed[1], room->fixed[2], count};
    if (count <= BLOCK) return true;
    room->heap = hf_memory_take(3 * count, sizeof *room->heap);
    *nodes = (hf_tail_nodes){room->heap, room->heap + count, room->heap + 2 * count, count};
    return room->heap != NULL;
}

static hf_status solve_positive(const tail *law, double *out) {
    double t = first_guess(law);
    double low = fmax(lowest_log, density_end(law->nu, drop - log(law->goal), true));
    double high = density_end(law->nu, drop - log(law->goal), false);
    double step = first_step(law->nu, fabs(law->delta) + 2.0);
    node_room room;
    room.heap = NULL;
    hf_status status = HF_NUMERIC;
    for (int k = 0; k < HALVINGS; k++, step *= 0.5) {
        hf_tail_nodes nodes;
        if (!take_room(&room, (size_t)((high - low) / step) + 2, &nodes)) {
            status = HF_MEMORY;
            break;
        }
        hf_tail_grid grid = grid_from(law, low, step);
        make_nodes(&grid, &nodes);
        t = root_on(law, &nodes, t);
        if (isnan(t)) break;
        tail_value coarse = tail_at(law, &nodes, t);
        grid.start += 0.5 * step;
        make_nodes(&grid, &nodes);
        tail_value between = tail_at(law, &nodes, t);
        if (fabs(between.value - coarse.value) > settled * law->goal) continue;
        tail_value both = {0.5 * (coarse.value + between.value), 0.5 * (coarse.slope + between.slope),
                           0.5 * (coarse.curvature + between.curvature)};
        *out = next_t(law, both, t);
        status = HF_OK;
        break;
    }
    hf_memory_free(room.heap);
    return status;
}

hf_status hf_noncentral_t_quantile(double p, double nu, double delta, double *out) {
    if (!law_allowed(nu, delta) || !(p > 0.0 && p < 1.0)) return HF_RANGE;
    double below_zero = hf_normal_lower(-delta);
    if (fabs(p - below_zero) <= 4e-16 * p) { /* t is 0 as far as p can tell */
        *out = 0.0;
        return HF_OK;
    }
    bool is_negative = p < below_zero; /* then −T is solved for, whose upper tail is p */
    double upper = is_negative ? p : 1.0 - p, lower = is_negative ? 1.0 - p : p;
    tail law = {nu, is_negative ? -delta : delta, upper < lower, fmin(upper, lower)};
    hf_status status = hf_noncentral_t_is_far(nu, delta)
                           ? hf_noncentral_t_far_quantile(law.goal, nu, fabs(delta), law.is_upper, out)
                           : solve_positive(&law, out);
    if (status == HF_OK && is_negative) *out = -*out;
    return status;
}
