#include "holdfast/comparing/power.h"

#include <math.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"

static const double most_parts = 1e6;
/* Beyond these the noncentral t is not needed: the normal law agrees to all digits that matter for planning. */
static const double many_degrees = 9000;

static bool is_share(double x) {
    return x > 0 && x < 1;
}

static bool usable(const hf_power_setup *setup) {
    return setup->n_a > 1 && setup->n_b > 1 && setup->variance_a >= 0 && setup->variance_b >= 0 &&
           setup->variance_a + setup->variance_b > 0 && is_share(setup->level);
}

double hf_power_degrees_of_freedom(const hf_power_setup *setup) {
    double part_a = setup->variance_a / setup->n_a, part_b = setup->variance_b / setup->n_b,
           sum = part_a + part_b;
    return sum * sum / (part_a * part_a / (setup->n_a - 1) + part_b * part_b / (setup->n_b - 1));
}

static double standard_error_of(const hf_power_setup *setup) {
    return sqrt(setup->variance_a / setup->n_a + setup->variance_b / setup->n_b);
}

static double upper_tail(double t, double nu, double delta) {
    return nu > many_degrees ? hf_normal_upper(t - delta) : hf_noncentral_t_upper(t, nu, delta);
}

/* Power at the noncentrality delta = difference over standard error. */
static double power_at(const hf_power_setup *setup, double delta) {
    double nu = hf_power_degrees_of_freedom(setup);
    double critical = hf_t_quantile_upper(setup->one_sided ? setup->level : 0.5 * setup->level, nu);
    double power = upper_tail(critical, nu, delta);
    return setup->one_sided ? power : power + upper_tail(critical, nu, -delta);
}

double hf_power_of(const hf_power_setup *setup, double difference) {
    if (!usable(setup) || hf_power_degrees_of_freedom(setup) < 1) return NAN;
    double delta = difference / standard_error_of(setup);
    return power_at(setup, setup->one_sided ? delta : fabs(delta));
}

typedef struct search {
    hf_power_setup setup;
    double power, difference;
} search;

static double delta_excess(double delta, void *context) {
    const search *s = context;
    return power_at(&s->setup, delta) - s->power;
}

hf_status hf_power_smallest_difference(const hf_power_setup *setup, double power, double *difference) {
    search s = {*setup, power, 0};
    double delta, high = 1;
    if (!usable(setup) || !(power > setup->level && power < 1) || hf_power_degrees_of_freedom(setup) < 1)
        return HF_RANGE;
    while (delta_excess(high, &s) < 0 && high < 1e5) high *= 2;
    hf_status status = hf_solve_root(delta_excess, &s, 0, high, 0, 1e-12, &delta);
    if (status == HF_OK) *difference = delta * standard_error_of(setup);
    return status;
}

static double parts_excess(double log_n, void *context) {
    search *s = context;
    s->setup.n_a = s->setup.n_b = exp(log_n);
    return hf_power_of(&s->setup, s->difference) - s->power;
}

hf_status hf_power_parts(const hf_power_setup *setup, double difference, double power, double *n) {
    search s = {*setup, power, setup->one_sided ? difference : fabs(difference)};
    double low = log(2), high = low, log_n;
    s.setup.n_a = s.setup.n_b = 2;
    if (!usable(&s.setup) || !(power > setup->level && power < 1) || isnan(difference)) return HF_RANGE;
    *n = 2;
    if (parts_excess(low, &s) >= 0) return HF_OK;
    *n = INFINITY;
    do {
        high += log(2);
        if (high > log(most_parts)) return HF_OK;
    } while (parts_excess(high, &s) < 0);
    hf_status status = hf_solve_root(parts_excess, &s, high - log(2), high, 1e-12, 1e-12, &log_n);
    if (status == HF_OK) *n = exp(log_n);
    return status;
}

hf_status hf_power_parts_for_effect(double effect, double power, double level, bool one_sided, double *n) {
    hf_power_setup setup = {2, 2, 1, 1, level, one_sided};
    return hf_power_parts(&setup, effect, power, n);
}

double hf_power_effect_of_ratio(double ratio, double cv) {
    return ratio > 0 && cv > 0 ? fabs(log(ratio)) / sqrt(log1p(cv * cv)) : NAN;
}

double hf_power_ratio_of_effect(double effect, double cv) {
    return effect >= 0 && cv > 0 ? exp(effect * sqrt(log1p(cv * cv))) : NAN;
}
