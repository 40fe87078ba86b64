#include "holdfast/comparing/welch_power.h"

#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"

/* Beyond this many parts the degrees of freedom are as good as known. */
static const double many_parts = 400, most_parts = 1e6;
static const double half_pi = 1.57079632679489661923, far = 7;
enum { NODES = 48 };

typedef struct rule {
    double x[NODES], weight[NODES]; /* weights sum to 1 */
} rule;

/* A density known up to a factor, by its logarithm, over mode ± far·deviation cut to [low, high]. */
static void make_rule(const rule *base, double (*log_density)(double, const double *), const double *shape,
                      const double range[2], rule *out) {
    double half = 0.5 * (range[1] - range[0]), middle = 0.5 * (range[1] + range[0]), top = -INFINITY, sum = 0;
    for (int i = 0; i < NODES; i++) {
        out->x[i] = middle + half * base->x[i];
        out->weight[i] = log_density(out->x[i], shape);
        top = fmax(top, out->weight[i]);
    }
    for (int i = 0; i < NODES; i++) sum += out->weight[i] = exp(out->weight[i] - top) * base->weight[i];
    for (int i = 0; i < NODES; i++) out->weight[i] /= sum;
}

/* θ with B = sin²θ: sin^(ν_a − 1)·cos^(ν_b − 1). */
static double log_angle(double angle, const double *nu) {
    return (nu[0] - 1) * log(sin(angle)) + (nu[1] - 1) * log(cos(angle));
}

/* √W, W chi-square with ν degrees of freedom. */
static double log_chi(double x, const double *nu) {
    return (nu[0] - 1) * log(x) - 0.5 * x * x;
}

/* Where the density of the angle is worth looking: its mode is inside, or at an end when a design has two parts. */
static void angle_range(double nu_a, double nu_b, double range[2]) {
    double p = fmax(0, nu_a - 1), q = fmax(0, nu_b - 1), sum = p + q;
    double deviation = p > 0 && q > 0 ? 1 / sqrt(2 * sum) : 1 / sqrt(sum), mode = atan2(sqrt(p), sqrt(q));
    range[0] = sum > 0 ? fmax(0, mode - far * deviation) : 0;
    range[1] = sum > 0 ? fmin(half_pi, mode + far * deviation) : half_pi;
}

typedef struct tails {
    bool one_sided;
    rule angle, chi;
    double critical[NODES]; /* of the statistic over √W, at each share B of the scatter seen */
} tails;

/* W = Σ ν·s²/σ² is chi-square with ν degrees of freedom and independent of B; the squared standard error seen is W·c(B). */
static void prepare(const hf_power_setup *setup, tails *out) {
    double nu[2] = {setup->n_a - 1, setup->n_b - 1}, all = nu[0] + nu[1], range[2];
    double truth = setup->variance_a / setup->n_a + setup->variance_b / setup->n_b;
    rule base;
    hf_gauss_legendre(NODES, base.x, base.weight);
    out->one_sided = setup->one_sided;
    angle_range(nu[0], nu[1], range);
    make_rule(&base, log_angle, nu, range, &out->angle);
    double middle = sqrt(fmax(all - 1, 0));
    make_rule(&base, log_chi, &all, (double[2]){fmax(0, middle - far), middle + far}, &out->chi);
    for (int i = 0; i < NODES; i++) {
        double b = sin(out->angle.x[i]) * sin(out->angle.x[i]);
        double part_a = b * setup->variance_a / (nu[0] * setup->n_a),
               part_b = (1 - b) * setup->variance_b / (nu[1] * setup->n_b), c = part_a + part_b;
        double seen_nu = c * c / (part_a * part_a / nu[0] + part_b * part_b / nu[1]);
        out->critical[i] =
            hf_t_quantile_upper(setup->one_sided ? setup->level : 0.5 * setup->level, seen_nu) *
            sqrt(c / truth);
    }
}

/* Power at the noncentrality delta. */
static double power_at(const tails *t, double delta) {
    double sum = 0;
    for (int i = 0; i < NODES; i++)
        for (int j = 0; j < NODES; j++) {
            double edge = t->critical[i] * t->chi.x[j], weight = t->angle.weight[i] * t->chi.weight[j];
            if (weight < 1e-12) continue;
            sum +=
                weight * (hf_normal_upper(edge - delta) + (t->one_sided ? 0 : hf_normal_upper(edge + delta)));
        }
    return sum;
}

static bool follows_the_scatter(const hf_power_setup *setup) {
    return setup->n_a > 1 && setup->n_b > 1 && fmin(setup->n_a, setup->n_b) <= many_parts &&
           setup->variance_a > 0 && setup->variance_b > 0;
}

static double standard_error_of(const hf_power_setup *setup) {
    return sqrt(setup->variance_a / setup->n_a + setup->variance_b / setup->n_b);
}

double hf_welch_power_of(const hf_power_setup *setup, double difference) {
    double known = hf_power_of(setup, difference);
    if (isnan(known) || !follows_the_scatter(setup)) return known;
    tails t;
    prepare(setup, &t);
    double delta = difference / standard_error_of(setup);
    return power_at(&t, setup->one_sided ? delta : fabs(delta));
}

/* --- The other way round --------------------------------------------------------------------------------- */

typedef struct search {
    const tails *tails;
    double power;
} search;

static double excess(double delta, void *context) {
    const search *s = context;
    return power_at(s->tails, delta) - s->power;
}

hf_status hf_welch_power_smallest_difference(const hf_power_setup *setup, double power, double *difference) {
    double known, delta;
    hf_status status = hf_power_smallest_difference(setup, power, &known);
    if (status != HF_OK || !follows_the_scatter(setup)) {
        if (status == HF_OK) *difference = known;
        return status;
    }
    tails t;
    prepare(setup, &t);
    search s = {&t, power};
    double error = standard_error_of(setup), high = known / error;
    while (excess(high, &s) < 0 && high < 1e5) high *= 1.25;
    status = hf_solve_root(excess, &s, 0, high, 0, 1e-12, &delta);
    if (status == HF_OK) *difference = delta * error;
    return status;
}

static double power_with(const hf_power_setup *setup, double n, double difference) {
    hf_power_setup each = *setup;
    each.n_a = each.n_b = n;
    return hf_welch_power_of(&each, difference);
}

hf_status hf_welch_power_parts(const hf_power_setup *setup, double difference, double power, double *n) {
    double by_theory;
    hf_status status = hf_power_parts(setup, difference, power, &by_theory);
    if (status != HF_OK) return status;
    *n = ceil(by_theory - 1e-9);
    if (!isfinite(*n)) return HF_OK;
    while (*n < most_parts && power_with(setup, *n, difference) < power) *n += 1;
    while (*n > 2 && power_with(setup, *n - 1, difference) >= power) *n -= 1;
    return HF_OK;
}
