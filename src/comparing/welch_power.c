#include "holdfast/comparing/welch_power.h"

#include <math.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"

static const double half_pi = 1.57079632679489661923, many_degrees = 400;
enum { NODES = 400, NODES_MORE = 20 };

/* Power when the share b of the scatter seen falls on the first design. W = Σ ν·s²/σ² is chi-square with ν degrees of freedom and independent
 * of b, and the squared standard error seen is W·c(b): the statistic is T′(ν, δ)·√(true variance/(ν·c)). */
static double power_given(const hf_power_setup *setup, double delta, double b) {
    double nu_a = setup->n_a - 1, nu_b = setup->n_b - 1, nu = nu_a + nu_b;
    double part_a = b * setup->variance_a / (nu_a * setup->n_a),
           part_b = (1 - b) * setup->variance_b / (nu_b * setup->n_b);
    double c = part_a + part_b, truth = setup->variance_a / setup->n_a + setup->variance_b / setup->n_b;
    double seen_nu = c * c / (part_a * part_a / nu_a + part_b * part_b / nu_b);
    double critical = hf_t_quantile_upper(setup->one_sided ? setup->level : 0.5 * setup->level, seen_nu) *
                      sqrt(nu * c / truth);
    double power = hf_noncentral_t_upper(critical, nu, delta);
    return setup->one_sided ? power : power + hf_noncentral_t_upper(critical, nu, -delta);
}

double hf_welch_power_of(const hf_power_setup *setup, double difference) {
    double known = hf_power_of(setup, difference);
    if (isnan(known) || fmin(setup->n_a, setup->n_b) > many_degrees ||
        !(setup->variance_a > 0 && setup->variance_b > 0))
        return known;
    double nu_a = setup->n_a - 1, nu_b = setup->n_b - 1, weights = 0, sum = 0;
    double truth = sqrt(setup->variance_a / setup->n_a + setup->variance_b / setup->n_b);
    double delta = setup->one_sided ? difference / truth : fabs(difference) / truth,
           top = nu_a / (nu_a + nu_b);
    double log_top =
        0.5 * (nu_a - 1) * log(fmax(top, 1e-300)) + 0.5 * (nu_b - 1) * log(fmax(1 - top, 1e-300));
    int nodes = NODES + (int)(NODES_MORE * sqrt(fmin(nu_a + nu_b, 1e6)));
    for (int i = 0; i < nodes; i++) { /* b = sin²θ: the density of θ is sin^(ν_a − 1)·cos^(ν_b − 1) */
        double angle = half_pi * (i + 0.5) / nodes, sine = sin(angle), cosine = cos(angle);
        double weight = exp((nu_a - 1) * log(sine) + (nu_b - 1) * log(cosine) - log_top);
        if (weight < 1e-12) continue;
        weights += weight;
        sum += weight * power_given(setup, delta, sine * sine);
    }
    return sum / weights;
}
