/* Beta law, and what follows from it: t, F and binomial. */
#include "holdfast/numeric/special.h"

#include <float.h>
#include <math.h>
#include "numeric/tails.h"

enum { MOST_TERMS = 100000 };

/* Continued fraction of the incomplete beta function (DLMF 8.17.22) by Lentz's method. */
static double fraction(double x, double a, double b) {
    double c = 1.0, d = 1.0 - (a + b) * x / (a + 1.0);
    d = 1.0 / (d == 0.0 ? DBL_MIN : d);
    double value = d;
    for (int m = 1; m < MOST_TERMS; m++) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        d = 1.0 / (1.0 + even * d);
        c = 1.0 + even / c;
        value *= c * d;
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        d = 1.0 / (1.0 + odd * d);
        c = 1.0 + odd / c;
        value *= c * d;
        if (fabs(c * d - 1.0) < DBL_EPSILON) return value;
    }
    return NAN;
}

/* Γ(a+b+1)/(Γ(a+1)Γ(b+1))·x^a·y^b in Loader's form. */
static double binomial_density(double x, double y, double a, double b) {
    double n = a + b;
    double exponent = hf_stirling_error(n) - hf_stirling_error(a) - hf_stirling_error(b) -
                      hf_deviance(a, n * x) - hf_deviance(b, n * y);
    return exp(exponent) * sqrt(n / a / b / (2.0 * HF_PI));
}

hf_tails hf_beta_tails(double x, double y, double a, double b) {
    if (x <= 0.0) return (hf_tails){0.0, 1.0, a < 1.0 ? HUGE_VAL : a > 1.0 ? 0.0 : b};
    if (y <= 0.0) return (hf_tails){1.0, 0.0, b < 1.0 ? HUGE_VAL : b > 1.0 ? 0.0 : a};
    double front = binomial_density(x, y, a, b), n = a + b;
    double density = front * (a / x) * (b / y) / n;
    if (x * (n + 2.0) < a + 1.0) {
        double lower = front * (b / n) * fraction(x, a, b);
        return (hf_tails){lower, 1.0 - lower, density};
    }
    double upper = front * (a / n) * fraction(y, b, a);
    return (hf_tails){1.0 - upper, upper, density};
}

static int shapes_allowed(double a, double b) {
    return a > 0.0 && b > 0.0 && isfinite(a) && isfinite(b);
}

double hf_beta_lower(double x, double a, double b) {
    return shapes_allowed(a, b) && !isnan(x) ? hf_beta_tails(x, 1.0 - x, a, b).lower : NAN;
}

double hf_beta_upper(double x, double a, double b) {
    return shapes_allowed(a, b) && !isnan(x) ? hf_beta_tails(x, 1.0 - x, a, b).upper : NAN;
}

double hf_f_upper(double x, double nu1, double nu2) {
    if (!shapes_allowed(nu1, nu2) || isnan(x)) return NAN;
    if (x <= 0.0) return 1.0;
    if (isinf(x)) return 0.0;
    double sum = nu2 + nu1 * x;
    return hf_beta_tails(nu2 / sum, nu1 * x / sum, 0.5 * nu2, 0.5 * nu1).lower;
}

double hf_binomial_at_least(double r, double n, double p) {
    if (!(n >= 0.0) || !isfinite(n) || !(p >= 0.0 && p <= 1.0) || isnan(r)) return NAN;
    r = ceil(r);
    if (r <= 0.0) return 1.0;
    if (r > n) return 0.0;
    return hf_beta_tails(p, 1.0 - p, r, n - r + 1.0).lower;
}

double hf_binomial_at_most(double r, double n, double p) {
    if (!(n >= 0.0) || !isfinite(n) || !(p >= 0.0 && p <= 1.0) || isnan(r)) return NAN;
    r = floor(r);
    if (r < 0.0) return 0.0;
    if (r >= n) return 1.0;
    return hf_beta_tails(p, 1.0 - p, r + 1.0, n - r).upper;
}

/* Beyond this many degrees of freedom the first two terms of the normal expansion are exact to 1e-14. */
static const double nearly_normal = 1e8;

static double inside_range(double square, double nu) {
    double sum = nu + square;
    return 0.5 * hf_beta_tails(nu / sum, square / sum, 0.5 * nu, 0.5).lower;
}

/* The leading term of the tail, exact where t² would overflow. */
static double power_tail(double t, double nu) {
    double log_front = hf_log_gamma(0.5 * (nu + 1.0)) - hf_log_gamma(0.5 * nu) - 0.5 * log(HF_PI) - log(nu);
    return exp(log_front - nu * log(t / sqrt(nu)));
}

double hf_t_upper(double t, double nu) {
    if (isnan(t) || !(nu > 0.0)) return NAN;
    if (isinf(t)) return t > 0.0 ? 0.0 : 1.0;
    if (nu > nearly_normal) return hf_normal_upper(isinf(nu) ? t : t * (1.0 - (t * t + 1.0) / (4.0 * nu)));
    double outside = fabs(t) < 1e150 ? inside_range(t * t, nu) : power_tail(fabs(t), nu);
    return t >= 0.0 ? outside : 1.0 - outside;
}

double hf_t_lower(double t, double nu) {
    return hf_t_upper(-t, nu);
}
