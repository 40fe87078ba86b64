/* Quantiles of gamma, chi-square, beta and t by Newton's method on ln(tail) against ln x. */
#include "holdfast/numeric/special.h"

#include <math.h>
#include "numeric/tails.h"

enum { MOST_STEPS = 300 };

/* A point between the ends of the bracket, or beyond the end that is still unknown. */
static double inside(double low, double high, double x) {
    if (low == 0.0) return 0.125 * x;
    if (isinf(high)) return 8.0 * x;
    return high > 4.0 * low ? sqrt(low) * sqrt(high) : 0.5 * (low + high);
}

double hf_quantile_solve(const hf_quantile_law *law, double p, double start) {
    double low = 0.0, high = law->limit, x = start, step = 1.0;
    for (int k = 0; k < MOST_STEPS; k++) {
        hf_tails at = law->tails(x, law->parameter);
        double tail = law->is_upper ? at.upper : at.lower;
        if (isnan(tail)) return NAN;
        if (tail == p) return x;
        if ((tail > p) == (law->is_upper != 0))
            low = x;
        else
            high = x;
        double slope = x * at.density / tail;
        double change = log(tail / p) / (law->is_upper ? slope : -slope);
        double next = x * exp(change);
        if (!(next > low && next < high) || fabs(change) > 3.0) next = inside(low, high, x);
        double moved = fabs(next - x) / x;
        if (moved < 2e-16 || (moved < 4e-15 && moved >= step) || next == low || next == high) return next;
        step = moved;
        x = next;
    }
    return NAN;
}

static hf_tails gamma_law(double x, const double parameter[2]) {
    return hf_gamma_tails(parameter[0], x);
}

/* Wilson and Hilferty (1931) where it is good, the first term of the series in the lower tail. */
static double gamma_start(double a, double z, double p_lower) {
    double cube = 1.0 - 1.0 / (9.0 * a) + z / (3.0 * sqrt(a));
    double x = a * cube * cube * cube;
    if (cube > 0.3) return x;
    return fmax(exp((log(p_lower) + hf_log_gamma(a + 1.0)) / a), 1e-290);
}

static double gamma_quantile(double p_lower, double p_upper, double a) {
    if (!(a > 0.0) || isinf(a) || !(p_lower >= 0.0) || !(p_upper >= 0.0)) return NAN;
    if (p_lower == 0.0) return 0.0;
    if (p_upper == 0.0) return HUGE_VAL;
    int is_upper = p_upper < p_lower;
    double z = is_upper ? hf_normal_quantile_upper(p_upper) : hf_normal_quantile_lower(p_lower);
    hf_quantile_law law = {gamma_law, {a, 0.0}, HUGE_VAL, is_upper};
    return hf_quantile_solve(&law, is_upper ? p_upper : p_lower, gamma_start(a, z, p_lower));
}

double hf_gamma_quantile_lower(double p, double a) {
    return gamma_quantile(p, 1.0 - p, a);
}

double hf_chi2_quantile_lower(double p, double nu) {
    return 2.0 * gamma_quantile(p, 1.0 - p, 0.5 * nu);
}

double hf_chi2_quantile_upper(double p, double nu) {
    return 2.0 * gamma_quantile(1.0 - p, p, 0.5 * nu);
}

static hf_tails beta_law(double x, const double parameter[2]) {
    return hf_beta_tails(x, 1.0 - x, parameter[0], parameter[1]);
}

double hf_beta_quantile_lower(double p, double a, double b) {
    if (!(a > 0.0) || !(b > 0.0) || isinf(a) || isinf(b) || !(p >= 0.0 && p <= 1.0)) return NAN;
    if (p == 0.0 || p == 1.0) return p;
    int is_upper = p > 0.5;
    double mean = a / (a + b), sd = sqrt(mean * (1.0 - mean) / (a + b + 1.0));
    double start = mean + sd * hf_normal_quantile_lower(p);
    if (!(start > 0.0 && start < 1.0)) start = start <= 0.0 ? 0.1 * mean : 1.0 - 0.1 * (1.0 - mean);
    hf_quantile_law law = {beta_law, {a, b}, 1.0, is_upper};
    return hf_quantile_solve(&law, is_upper ? 1.0 - p : p, start);
}

/* Of the two complements the one that is not near 1. */
double hf_f_quantile_lower(double p, double nu1, double nu2) {
    if (!(nu1 > 0.0) || !(nu2 > 0.0) || isinf(nu1) || isinf(nu2) || !(p >= 0.0 && p <= 1.0)) return NAN;
    double x = hf_beta_quantile_lower(p, 0.5 * nu1, 0.5 * nu2);
    if (x < 0.5) return nu2 * x / (nu1 * (1.0 - x));
    double y = hf_beta_quantile_lower(1.0 - p, 0.5 * nu2, 0.5 * nu1);
    return nu2 * (1.0 - y) / (nu1 * y);
}

/* P(0 < T ≤ t) as lower and P(T > t) as upper, for t > 0. */
static hf_tails t_law(double t, const double parameter[2]) {
    double nu = parameter[0], sum = nu + t * t;
    hf_tails beta = hf_beta_tails(nu / sum, t * t / sum, 0.5 * nu, 0.5);
    return (hf_tails){0.5 * beta.upper, 0.5 * beta.lower, beta.density * nu / sum * (t / sum)};
}

/* t > 0 with P(T > t) = p, 0 < p < ½. */
static double t_outside(double p, double nu) {
    double z = hf_normal_quantile_upper(p);
    if (isinf(nu)) return z;
    if (nu > 1e8) return z * (1.0 + (z * z + 1.0) / (4.0 * nu));
    double start = z * (1.0 + (z * z + 1.0) / (4.0 * nu));
    int is_upper = p < 0.25;
    hf_quantile_law law = {t_law, {nu, 0.0}, HUGE_VAL, is_upper};
    return hf_quantile_solve(&law, is_upper ? p : 0.5 - p, start);
}

double hf_t_quantile_upper(double p, double nu) {
    if (!(nu > 0.0) || !(p >= 0.0 && p <= 1.0)) return NAN;
    if (p == 0.5) return 0.0;
    if (p == 0.0 || p == 1.0) return p == 0.0 ? HUGE_VAL : -HUGE_VAL;
    return p < 0.5 ? t_outside(p, nu) : -t_outside(1.0 - p, nu);
}

double hf_t_quantile_lower(double p, double nu) {
    return -hf_t_quantile_upper(p, nu);
}
