/* P(T > t) = E[P(W < (Z + δ)/t)] over the standard normal Z: the chi law of W is smooth at the scale of Z here, so that the trapezoidal
 * rule with half steps is exact to rounding (its error is about e^{−2π²/h²} = e^{−79}). */
#include "numeric/noncentral_t_far.h"

#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "numeric/tails.h"

static const double far_from = 500, wide = 2e4;
/* The integrand peaks at most 3 below 0: a tail above 1e−308 falls by less than e^{1444/δ} for each unit of Z. */
static const double first_z = -14, last_z = 11, step = 0.5;

bool hf_noncentral_t_is_far(double nu, double delta) {
    return fabs(delta) > far_from && delta * delta > wide * nu;
}

double hf_noncentral_t_far(double t, double nu, double delta, bool is_upper) {
    double sum = 0;
    if (delta < 0) return is_upper ? 0 : 1; /* beyond Φ(−500) */
    int count = (int)((last_z - first_z) / step);
    for (int i = 0; i <= count; i++) {
        double z = first_z + step * i, w = (delta + z) / t;
        hf_tails of_w = hf_gamma_tails(0.5 * nu, 0.5 * nu * w * w);
        sum += exp(hf_normal_log_density(z)) * (is_upper ? of_w.lower : of_w.upper);
    }
    return step * sum > 1 ? 1 : step * sum;
}

typedef struct far_search {
    double nu, delta, log_goal;
    bool is_upper;
} far_search;

static double excess(double log_t, void *context) {
    const far_search *search = context;
    double tail = hf_noncentral_t_far(exp(log_t), search->nu, search->delta, search->is_upper);
    return (tail > 0 ? log(tail) : -1e4) - search->log_goal;
}

/* T is nearly δ/W: W's own quantile is a guess that is right to a few parts in δ. */
hf_status hf_noncentral_t_far_quantile(double goal, double nu, double delta, bool is_upper, double *t) {
    far_search search = {nu, delta, log(goal), is_upper};
    double square = is_upper ? hf_chi2_quantile_lower(goal, nu) : hf_chi2_quantile_upper(goal, nu);
    double guess = log(delta) - 0.5 * log(square / nu), reach = 100 / delta, log_t;
    if (!isfinite(guess)) return HF_NUMERIC;
    for (int k = 0; k < 12; k++, reach *= 4) {
        bool below = (excess(guess - reach, &search) > 0) == is_upper;
        bool above = (excess(guess + reach, &search) > 0) != is_upper;
        if (!below || !above) continue;
        hf_status status = hf_solve_root(excess, &search, guess - reach, guess + reach, 1e-14, 1e-15, &log_t);
        if (status == HF_OK) *t = exp(log_t);
        return status;
    }
    return HF_NUMERIC;
}
