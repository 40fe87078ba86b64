/* Exact normal readings: bound X̄ − k·S. P(bound ≥ x) = P(T ≥ k√n), T noncentral t with n − 1 degrees of freedom and
 * δ = √n(m − x)/s (Owen 1963). E S = s·c4. Lognormal: E exp(X̄ − kS) = exp(m + s²/2n)·E exp(−k·s·W), W = √(χ²/ν). */
#include <math.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "planning/how_many.h"

bool hf_how_many_is_closed(const hf_how_many_setup *setup) {
    return !setup->loads && !setup->scatter && setup->law == setup->family &&
           setup->family->spread_divides_by_n_minus_1;
}

typedef struct point_search {
    double n, k, target;
} point_search;

/* x = m − d·s; P(bound ≥ x) − target. */
static double point_excess(double d, void *context) {
    const point_search *search = context;
    double root = sqrt(search->n);
    return hf_noncentral_t_upper(search->k * root, search->n - 1, root * d) - search->target;
}

/* d with P(bound ≥ m − d·s) = target, 0.1 ≤ target ≤ 0.9: the bound lies below the mean, which strays by less than 5/√n. */
static hf_status point(double n, double k, double target, double *d) {
    point_search search = {n, k, target};
    return hf_solve_root(point_excess, &search, -5 / sqrt(n), 10 + 6 * k, 1e-10, 1e-12, d);
}

typedef struct spread_integral {
    double nu, factor; /* factor k·s */
} spread_integral;

/* exp(−factor·w) times the density of W in u = ln w. */
static double spread_integrand(double u, void *context) {
    const spread_integral *integral = context;
    double nu = integral->nu, w = exp(u), half = 0.5 * nu;
    double log_density = log(2.0) + half * log(half) - hf_log_gamma(half) + nu * u - half * w * w;
    return exp(log_density - integral->factor * w);
}

static hf_status expected(const hf_guess *law, double n, double k, double *out) {
    double nu = n - 1;
    if (!law->family->log_scale) {
        double c4 = sqrt(2 / nu) * exp(hf_log_gamma(0.5 * n) - hf_log_gamma(0.5 * nu));
        *out = law->m - k * law->s * c4;
        return HF_OK;
    }
    spread_integral integral = {nu, k * law->s};
    double mean;
    hf_status status = hf_integrate(spread_integrand, &integral, -40 / nu - 3, 3, 0, 1e-11, &mean, NULL);
    *out = exp(law->m + law->s * law->s / (2 * n)) * mean;
    return status;
}

/* P(bound ≥ m − d·s). A wanted bound 30 standard errors above the mean is out of reach (below 1e-190). */
static double assurance(double n, double k, double d) {
    double shift = sqrt(n) * d;
    if (isinf(d)) return 1;
    return shift < -30 ? 0 : hf_noncentral_t_upper(k * sqrt(n), n - 1, shift);
}

hf_status hf_how_many_closed(const hf_how_many_setup *setup, const hf_guess *law, const hf_bench_rule *rule,
                             hf_how_many_row *rows) {
    static const double above[3] = {0.9, 0.5, 0.1};
    for (size_t n = HF_LEAST_PARTS; n <= setup->most; n++) {
        hf_how_many_row *row = &rows[n - HF_LEAST_PARTS];
        double *points[3] = {&row->low, &row->middle, &row->high}, d, k = rule->k[n], size = (double)n;
        hf_status status = expected(law, size, k, &row->expected);
        for (int i = 0; i < 3 && status == HF_OK; i++) {
            status = point(size, k, above[i], &d);
            if (status == HF_OK) *points[i] = hf_family_load(law->family, law->m - d * law->s);
        }
        if (status != HF_OK) return status;
        if (isnan(setup->required)) continue;
        bool negative = law->family->log_scale && setup->required <= 0;
        d = negative ? INFINITY : (law->m - hf_family_working(law->family, setup->required)) / law->s;
        row->assurance = assurance(size, k, d);
    }
    return HF_OK;
}
