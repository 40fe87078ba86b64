/* Gamma and chi-square laws.
 *
 * x^a e^−x/Γ(a+1) in Loader's form (2000, "Fast and accurate computation of binomial probabilities"), times a series
 * below the middle and a continued fraction above it. */
#include "holdfast/numeric/special.h"

#include <float.h>
#include <math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_gamma.h>
#include "numeric/library.h"
#include "numeric/tails.h"

enum { MOST_TERMS = 100000 };

double hf_log_gamma(double x) {
    hf_library_start();
    if (!(x > 0.0)) return NAN;
    if (isinf(x)) return x;
    gsl_sf_result result;
    return gsl_sf_lngamma_e(x, &result) == GSL_SUCCESS ? result.val : NAN;
}

double hf_stirling_error(double a) {
    if (a < 16.0) return hf_log_gamma(a + 1.0) - (a + 0.5) * log(a) + a - HF_LN_SQRT_2PI;
    static const double term[] = {
        1.0 / 12,   -1.0 / 360,      1.0 / 1260, -1.0 / 1680,
        1.0 / 1188, -691.0 / 360360, 1.0 / 156}; /* Bernoulli numbers over 2k(2k − 1) */
    double r = 1.0 / a, sum = 0.0;
    for (int k = 6; k >= 0; k--) sum = sum * (r * r) + term[k];
    return r * sum;
}

double hf_deviance(double a, double m) {
    double difference = a - m;
    if (fabs(difference) >= 0.1 * (a + m)) return a * log(a / m) - difference;
    double v = difference / (a + m), term = 2.0 * a * v, sum = difference * v;
    for (int k = 1; k < 100; k++) {
        term *= v * v;
        double next = sum + term / (2 * k + 1);
        if (next == sum) break;
        sum = next;
    }
    return sum;
}

static double lower_series(double a, double x) {
    double term = 1.0, sum = 1.0;
    for (int n = 1; n < MOST_TERMS; n++) {
        term *= x / (a + n);
        sum += term;
        if (term < sum * (0.25 * DBL_EPSILON)) return sum;
    }
    return NAN;
}

/* Γ(a, x)·e^x·x^−a by Lentz's method. */
static double upper_fraction(double a, double x) {
    double b = x + 1.0 - a, c = 1e300, d = 1.0 / b, value = d;
    for (int n = 1; n < MOST_TERMS; n++) {
        double numerator = -n * (n - a);
        b += 2.0;
        d = 1.0 / (numerator * d + b);
        c = b + numerator / c;
        value *= c * d;
        if (fabs(c * d - 1.0) < DBL_EPSILON) return value;
    }
    return NAN;
}

hf_tails hf_gamma_tails(double a, double x) {
    if (x <= 0.0) return (hf_tails){0.0, 1.0, a < 1.0 ? HUGE_VAL : a > 1.0 ? 0.0 : 1.0};
    if (isinf(x)) return (hf_tails){1.0, 0.0, 0.0};
    double front = exp(-hf_stirling_error(a) - hf_deviance(a, x)) / sqrt(2.0 * HF_PI * a);
    double density = front * a / x;
    if (x < a + 1.0) {
        double lower = front * lower_series(a, x);
        return (hf_tails){lower, 1.0 - lower, density};
    }
    double upper = front * a * upper_fraction(a, x);
    return (hf_tails){1.0 - upper, upper, density};
}

double hf_gamma_lower(double a, double x) {
    return a > 0.0 && isfinite(a) && x >= 0.0 ? hf_gamma_tails(a, x).lower : NAN;
}

double hf_gamma_upper(double a, double x) {
    return a > 0.0 && isfinite(a) && x >= 0.0 ? hf_gamma_tails(a, x).upper : NAN;
}

double hf_chi2_lower(double x, double nu) {
    return x < 0.0 ? hf_gamma_lower(0.5 * nu, 0.0) : hf_gamma_lower(0.5 * nu, 0.5 * x);
}

double hf_chi2_upper(double x, double nu) {
    return x < 0.0 ? hf_gamma_upper(0.5 * nu, 0.0) : hf_gamma_upper(0.5 * nu, 0.5 * x);
}
