/* Gamma and chi-square laws.
 *
 * x^a e^−x/Γ(a+1) in Loader's form (2000, "Fast and accurate computation of binomial probabilities"), times a series
 * below the middle and a continued fraction above it. */
#include "holdfast/numeric/special.h"

#include <float.h>
#include <math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sf_psi.h>
#include "numeric/library.h"
#include "numeric/tails.h"

enum { MOST_TERMS = 100000 };
static const double uniform_from = 1e5;

double hf_log_gamma(double x) {
    hf_library_start();
    if (!(x > 0.0)) return NAN;
    if (isinf(x)) return x;
    gsl_sf_result result;
    return gsl_sf_lngamma_e(x, &result) == GSL_SUCCESS ? result.val : NAN;
}

double hf_digamma(double x) {
    hf_library_start();
    gsl_sf_result result;
    return x > 0.0 && gsl_sf_psi_e(x, &result) == GSL_SUCCESS ? result.val : NAN;
}

double hf_trigamma(double x) {
    hf_library_start();
    gsl_sf_result result;
    return x > 0.0 && gsl_sf_psi_1_e(x, &result) == GSL_SUCCESS ? result.val : NAN;
}

double hf_tetragamma(double x) {
    hf_library_start();
    gsl_sf_result result;
    return x > 0.0 && gsl_sf_psi_n_e(2, x, &result) == GSL_SUCCESS ? result.val : NAN;
}

/* 1/ψ′ is nearly straight and convex, so Newton's method on it rises to the root from ½ + 1/x, which is below it (Smyth 2004). */
double hf_trigamma_inverse(double x) {
    if (!(x >= 0.0) || x == 0.0) return x == 0.0 ? HUGE_VAL : NAN;
    if (x > 1e7) return 1.0 / sqrt(x);
    if (x < 1e-6) return 1.0 / x + 0.5;
    double y = 0.5 + 1.0 / x;
    for (int step = 0; step < 50; step++) {
        double value = hf_trigamma(y), change = value * (1.0 - value / x) / hf_tetragamma(y);
        y += change;
        if (fabs(change) <= 1e-14 * y) return y;
    }
    return NAN;
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

static double polynomial(const double *coefficient, int degree, double x) {
    double sum = 0.0;
    for (int i = degree; i >= 0; i--) sum = sum * x + coefficient[i];
    return sum;
}

/* Temme's uniform expansion (1979; coefficients of DiDonato & Morris 1986): series and fraction would take √a terms. From a = 1e5 on
 * every tail that a double can hold has |η| below 0.12. */
static hf_tails uniform_tails(double a, double x) {
    static const double c0[] = {-1.0 / 3,
                                1.0 / 12,
                                -2.0 / 135,
                                1.0 / 864,
                                1.0 / 2835,
                                -139.0 / 777600,
                                1.0 / 25515,
                                -571.0 / 261273600,
                                -1.85406221071516e-6,
                                8.29671134095309e-7,
                                -1.76659527368261e-7},
                        c1[] = {-1.0 / 540,           -1.0 / 288,          1.0 / 378,
                                -77.0 / 77760,        2.05761316872428e-4, -4.01877572016461e-7,
                                -1.80985503344900e-5, 7.64916091608111e-6},
                        c2[] = {4.13359788359788e-3, -2.68132716049383e-3, 7.71604938271605e-4};
    double far = hf_deviance(a, x);
    if (far > 745.0) return (hf_tails){x > a ? 1.0 : 0.0, x > a ? 0.0 : 1.0, 0.0};
    double eta = copysign(sqrt(2.0 * far / a), x - a);
    double front = exp(-far) / sqrt(2.0 * HF_PI * a);
    double rest =
        front * (polynomial(c0, 10, eta) + (polynomial(c1, 7, eta) + polynomial(c2, 2, eta) / a) / a);
    double z = copysign(sqrt(2.0 * far), x - a);
    return (hf_tails){hf_normal_lower(z) - rest, hf_normal_upper(z) + rest,
                      exp(-hf_stirling_error(a)) * front * a / x};
}

hf_tails hf_gamma_tails(double a, double x) {
    if (x <= 0.0) return (hf_tails){0.0, 1.0, a < 1.0 ? HUGE_VAL : a > 1.0 ? 0.0 : 1.0};
    if (isinf(x)) return (hf_tails){1.0, 0.0, 0.0};
    if (a >= uniform_from) return uniform_tails(a, x);
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
