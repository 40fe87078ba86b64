/* Brunner & Munzel (2000), Biometrical J. 42, 17–25. */
#include "holdfast/comparing/outlasts.h"

#include <math.h>
#include <string.h>
#include "comparing/ranks.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"

/* Variance over i of (rank in the pool − rank in the own group) of x: placements P_i = #{y < x_i} + #{y = x_i}/2. */
static double placement_variance(double *placement, const double *x, size_t n, const double *y, size_t m,
                                 double *mean) {
    double s;
    for (size_t i = 0; i < n; i++) placement[i] = 0.5 * hf_twice_below(y, m, x[i]);
    hf_vector_mean_sd(placement, n, mean, &s);
    return s * s;
}

static void logit_interval(hf_outlasts *out, double standard_error, double level) {
    double logit = log(out->chance) - log1p(-out->chance);
    double half = hf_t_quantile_upper(0.5 * level, out->degrees_of_freedom) * standard_error /
                  (out->chance * (1 - out->chance));
    out->low = 1 / (1 + exp(half - logit));
    out->high = 1 / (1 + exp(-half - logit));
}

hf_status hf_outlasts_of(hf_arena *arena, const double *a, size_t n_a, const double *b, size_t n_b,
                         double level, hf_outlasts *out) {
    memset(out, 0, sizeof *out);
    out->chance = out->statistic = out->degrees_of_freedom = out->p = out->low = out->high = NAN;
    if (n_a < 2 || n_b < 2 || !(level > 0 && level < 1)) return HF_RANGE;
    double *placement = HF_ARENA_NEW_ARRAY(arena, double, n_a > n_b ? n_a : n_b);
    if (!placement) return HF_MEMORY;
    double size_a = (double)n_a, size_b = (double)n_b, mean_a, mean_b;
    double variance_a = placement_variance(placement, a, n_a, b, n_b, &mean_a);
    double variance_b = placement_variance(placement, b, n_b, a, n_a, &mean_b);
    out->chance = mean_a / size_b;
    /* Variance of the chance, by parts; placements of A count against n_b and the reverse. */
    double part_a = variance_a / (size_a * size_b * size_b), part_b = variance_b / (size_b * size_a * size_a);
    double sum = part_a + part_b;
    out->separated = !(sum > 0);
    if (out->separated) return HF_OK;
    out->degrees_of_freedom = sum * sum / (part_a * part_a / (size_a - 1) + part_b * part_b / (size_b - 1));
    out->statistic = (out->chance - 0.5) / sqrt(sum);
    out->p = fmin(1, 2 * hf_t_upper(fabs(out->statistic), out->degrees_of_freedom));
    if (out->chance > 0 && out->chance < 1) logit_interval(out, sqrt(sum), level);
    return HF_OK;
}
