/* A law that the library does not have, for the test that one file and one row are enough: the largest of many, ln load = m − s·Z with Z
 * smallest extreme value (Fréchet). No factor is proven for it, so it is fitted, tested, drawn and simulated, and gives no bound. */
#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"
#include "strength/weibull.h"

static double lower(double z) {
    return hf_sev_upper(-z);
}

static double upper(double z) {
    return hf_sev_lower(-z);
}

static double quantile_upper(double p) {
    return -log(-log1p(-p));
}

static void mirrored(void (*function)(double z, double out[3]), double z, double out[3]) {
    function(-z, out);
    out[1] = -out[1];
}

static void log_density(double z, double out[3]) {
    mirrored(hf_family_weibull.log_density, z, out);
}

static void log_lower(double z, double out[3]) {
    mirrored(hf_family_weibull.log_upper, z, out);
}

static void log_upper(double z, double out[3]) {
    mirrored(hf_family_weibull.log_lower, z, out);
}

static double log_interval(double low, double high) {
    return hf_family_weibull.log_interval(-high, -low);
}

static void curvature(double z, double out[3]) {
    mirrored(hf_family_weibull.curvature, z, out);
}

enum { MOST = 1000 };

static hf_status estimate_counted(const double *y, const double *count, size_t n, double *m, double *s) {
    double turned[MOST];
    if (n > MOST) return HF_RANGE;
    for (size_t i = 0; i < n; i++) turned[i] = -y[i];
    hf_status status = hf_family_weibull.estimate_counted(turned, count, n, m, s);
    *m = -*m;
    return status;
}

static hf_status estimate(const double *y, size_t n, double *m, double *s) {
    double turned[MOST];
    if (n > MOST) return HF_RANGE;
    for (size_t i = 0; i < n; i++) turned[i] = -y[i];
    hf_status status = hf_weibull_estimate(turned, n, m, s);
    *m = -*m;
    return status;
}

static void estimate_lanes(const double *y, size_t n, double *work, double *m, double *s) {
    for (size_t i = 0; i < n * HF_LANES; i++) work[i] = -y[i];
    hf_weibull_estimate_lanes(work, n, work, m, s);
    for (size_t lane = 0; lane < HF_LANES; lane++) m[lane] = -m[lane];
}

static void fill(hf_random *random, double *out, size_t count) {
    hf_random_fill_sev(random, out, count);
    for (size_t i = 0; i < count; i++) out[i] = -out[i];
}

static void log_tails(const double *z, double *log_of_lower, double *log_of_upper, size_t count) {
    for (size_t i = 0; i < count; i++) log_of_upper[i] = hf_sev_log_lower(-z[i]);
    for (size_t i = 0; i < count; i++) log_of_lower[i] = -exp(-z[i]);
}

static void log_density_sums(const double *y, size_t n, double s, const double *m, double *out,
                             size_t count) {
    for (size_t j = 0; j < count; j++) {
        out[j] = 0;
        for (size_t i = 0; i < n; i++) out[j] -= (y[i] - m[j]) / s + exp((m[j] - y[i]) / s);
    }
}

/* E e^{−sZ} = Γ(1 − s). */
static double log_moment(double s) {
    return s < 1 ? hf_log_gamma(1 - s) : INFINITY;
}

static double excess(double s, void *context) {
    double cv = *(const double *)context;
    return expm1(log_moment(2 * s) - 2 * log_moment(s)) - cv * cv;
}

static double spread_of_cv(double cv) {
    double s;
    return hf_solve_root(excess, &cv, 1e-7, 0.4999, 1e-14, 1e-14, &s) == HF_OK ? s : NAN;
}

/* A² does not change in the mirror. */
static double handbook_significance(double a2, size_t n) {
    return hf_family_weibull.handbook_significance(a2, n);
}

const hf_family hf_family_frechet = {
    .name = "frechet",
    .label = "Fréchet",
    .log_scale = true,
    .step_allowance = 0.125,
    .has_shape = true,
    .mean_z = HF_EULER,
    .deviation_z = 1.2825498301618641, /* π/√6 */
    .log_moment = log_moment,
    .spread_of_cv = spread_of_cv,
    .lower = lower,
    .upper = upper,
    .quantile_upper = quantile_upper,
    .log_density = log_density,
    .log_lower = log_lower,
    .log_upper = log_upper,
    .log_interval = log_interval,
    .curvature = curvature,
    .estimate = estimate,
    .estimate_counted = estimate_counted,
    .handbook_significance = handbook_significance,
    .factor = NULL, /* none is proven: it may not govern */
    .fill = fill,
    .estimate_lanes = estimate_lanes,
    .log_tails = log_tails,
    .log_density_sums = log_density_sums,
};
