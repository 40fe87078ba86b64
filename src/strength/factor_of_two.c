/* The Weibull factor of two parts. Two values have one shape: with y₁ < y₂, d = y₂ − y₁ the estimates are m̂ = y₁ + a·d, ŝ = b·d,
 * a and b from the pair (0, 1). For standard exponential A, B: y₁ = ln(A/2), d = ln(1 + 2B/A). So W = (m̂ − q)/ŝ > w says
 * ln(A/2L) > c·d with L = −ln P, c = b·w − a, and given A = x that is a tail of B: one integral over x = 2L·e^{±v} is left. */
#include <math.h>
#include "holdfast/numeric/solve.h"
#include "strength/weibull.h"

static const double farthest =
    60; /* of x beyond 2L, of v, and of asinh c: what lies beyond is below rounding */

typedef struct pair_law {
    double a, b, twice; /* twice: 2L */
    double c;
    double log_tail;
} pair_law;

static double integrand(double v, void *context) {
    const pair_law *law = context;
    double x = law->twice * exp(law->c > 0 ? v : -v), exponent = 0.5 * x * expm1(v / fabs(law->c));
    return x * exp(-x) * (law->c > 0 ? -expm1(-exponent) : exp(-exponent));
}

/* P(W > w) for c = sinh u, against the wanted tail. */
static double excess(double u, void *context) {
    pair_law law = *(pair_law *)context;
    double beyond = 0, high = u > 0 ? log1p(farthest / law.twice) : farthest;
    law.c = sinh(u);
    if (u != 0 && hf_integrate(integrand, &law, 0, high, 0, 1e-11, &beyond, NULL) != HF_OK) return NAN;
    if (u <= 0) beyond += exp(-law.twice);
    return log(beyond) - law.log_tail;
}

hf_status hf_weibull_factor_of_two(double content, double confidence, double *w) {
    static const double pair[2] = {0, 1};
    pair_law law = {.twice = -2 * log(content), .log_tail = log1p(-confidence)};
    double u;
    hf_status status = hf_weibull_estimate(pair, 2, &law.a, &law.b);
    if (status == HF_OK) status = hf_solve_root(excess, &law, -farthest, farthest, 1e-13, 1e-13, &u);
    if (status == HF_OK) *w = (sinh(u) + law.a) / law.b;
    return status == HF_MEMORY || status == HF_OK ? status : HF_NUMERIC;
}
