/* Normal family. Factor k = t′(C; n − 1, z_P·√n)/√n (Owen 1963; MIL-HDBK-17-1F 8.3.4.3). */
#include "strength/normal.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "numeric/kernel.h"
#include "holdfast/strength/family.h"

double hf_standard_normal_quantile_upper(double p) {
    return hf_normal_quantile_upper(p);
}

void hf_standard_normal_log_density(double z, double out[3]) {
    out[0] = hf_normal_log_density(z);
    out[1] = -z;
    out[2] = -1;
}

void hf_standard_normal_log_lower(double z, double out[3]) {
    out[0] = hf_normal_log_lower(z);
    double ratio = exp(hf_normal_log_density(z) - out[0]);
    out[1] = ratio;
    out[2] = -ratio * (z + ratio);
}

void hf_standard_normal_log_upper(double z, double out[3]) {
    hf_standard_normal_log_lower(-z, out);
    out[1] = -out[1];
}

double hf_standard_normal_log_interval(double low, double high) {
    if (!(low < high)) return -INFINITY;
    if (high <= 0 || low >= 0) {
        double far = low >= 0 ? high : -low, near = low >= 0 ? low : -high; /* both ≥ 0, upper tails */
        double log_near = hf_normal_log_lower(-near);
        return isinf(far) ? log_near : log_near + log(-expm1(hf_normal_log_lower(-far) - log_near));
    }
    return log1p(-(hf_normal_lower(low) + hf_normal_upper(high)));
}

void hf_standard_normal_curvature(double z, double out[3]) {
    out[0] = z * z - 1;
    out[1] = 2 * z;
    out[2] = 2;
}

hf_status hf_mean_deviation_estimate(const double *y, size_t n, double *m, double *s) {
    if (n < 2) return HF_RANGE;
    bool equal = true;
    for (size_t i = 1; i < n && equal; i++) equal = y[i] == y[0];
    hf_vector_mean_sd(y, n, m, s);
    if (equal) { /* rounding of the mean must not pass for scatter */
        *m = y[0];
        *s = 0;
    }
    return HF_OK;
}

hf_status hf_mean_deviation_counted(const double *y, const double *count, size_t n, double *m, double *s) {
    double all = 0, sum = 0, squares = 0, top = -INFINITY, bottom = INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (!(count[i] > 0)) continue;
        top = fmax(top, y[i]);
        bottom = fmin(bottom, y[i]);
        all += count[i];
        sum += count[i] * y[i];
    }
    if (all < 2) return HF_RANGE;
    *m = top > bottom ? sum / all : top;
    for (size_t i = 0; i < n; i++) squares += count[i] > 0 ? count[i] * (y[i] - *m) * (y[i] - *m) : 0;
    *s = top > bottom ? sqrt(squares / (all - 1)) : 0;
    return HF_OK;
}

hf_status hf_normal_factor(size_t n, double content, double confidence, double *k, double *standard_error) {
    *standard_error = 0;
    if (n < 2 || !(content > 0 && content < 1) || !(confidence > 0 && confidence < 1)) return HF_RANGE;
    double root = sqrt((double)n), t;
    hf_status status =
        hf_noncentral_t_quantile(confidence, (double)n - 1, hf_normal_quantile_lower(content) * root, &t);
    if (status == HF_OK) *k = t / root;
    return status;
}

double hf_normal_handbook_significance(double a2, size_t n) {
    double size = (double)n, star = (1 + 4 / size - 25 / (size * size)) * a2;
    return 1 / (1 + exp(-0.48 + 0.78 * log(star) + 4.58 * star));
}

void hf_normal_log_tails(const double *z, double *log_lower, double *log_upper, size_t count) {
    for (size_t i = 0; i < count; i++) log_upper[i] = -z[i];
    hf_vector_normal_lower(log_upper, log_upper, count);
    hf_vector_log(log_upper, log_upper, count);
    if (!log_lower) return;
    hf_vector_normal_lower(z, log_lower, count);
    hf_vector_log(log_lower, log_lower, count);
}

HF_VECTOR_CLONES
void hf_mean_deviation_lanes(const double *y, size_t n, double *work, double *m, double *s) {
    double sum[HF_LANES] = {0}, squares[HF_LANES] = {0}, top[HF_LANES], bottom[HF_LANES];
    (void)work;
    for (size_t lane = 0; lane < HF_LANES; lane++) top[lane] = bottom[lane] = y[lane];
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double value = y[i * HF_LANES + lane];
            sum[lane] += value;
            top[lane] = value > top[lane] ? value : top[lane];
            bottom[lane] = value < bottom[lane] ? value : bottom[lane];
        }
    for (size_t lane = 0; lane < HF_LANES; lane++) m[lane] = sum[lane] / (double)n;
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double residual = y[i * HF_LANES + lane] - m[lane];
            squares[lane] += residual * residual;
        }
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        bool equal = top[lane] == bottom[lane]; /* as in the single estimate */
        m[lane] = equal ? top[lane] : m[lane];
        s[lane] = equal ? 0 : sqrt(squares[lane] / (double)(n - 1));
    }
}

void hf_normal_log_density_sums(const double *y, size_t n, double s, const double *m, double *out,
                                size_t count) {
    double mean = 0, squares = 0, size = (double)n;
    for (size_t i = 0; i < n; i++) mean += y[i];
    mean /= n ? size : 1;
    for (size_t i = 0; i < n; i++) squares += (y[i] - mean) * (y[i] - mean);
    for (size_t j = 0; j < count; j++) {
        double shift = m[j] - mean;
        out[j] = -size * HF_LN_SQRT_2PI - (size * shift * shift + squares) / (2 * s * s);
    }
}

/* The d values alone bend the log-likelihood by d/s², and open terms only bend it further. */
double hf_normal_likelihood_reach(double d, double drop) {
    return sqrt(2 * drop / d);
}

const hf_family hf_family_normal = {.name = "normal", .label = "normal", .log_scale = false, HF_NORMAL_LAW};
