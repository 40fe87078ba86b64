/* The standard normal and the standard smallest extreme value law. */
#include "holdfast/numeric/special.h"

#include <math.h>
#include "numeric/kernel.h"

double hf_normal_lower(double z) {
    return hf_kernel_normal_lower(z);
}

double hf_normal_upper(double z) {
    return hf_kernel_normal_lower(-z);
}

/* Upper tail over e^(−x²/2) for x ≥ 0; beyond the kernel's range by its asymptotic series. */
static double mills(double x) {
    if (x <= 39.0) return hf_kernel_normal(x).mills;
    double y = 1.0 / (x * x);
    return exp(-HF_LN_SQRT_2PI) / x * (1.0 - y * (1.0 - 3.0 * y * (1.0 - 5.0 * y * (1.0 - 7.0 * y))));
}

double hf_normal_log_lower(double z) {
    if (z > 0.0) return log1p(-hf_normal_upper(z));
    if (z > -1.0) return log(hf_normal_lower(z));
    if (isinf(z)) return -HUGE_VAL;
    return log(mills(-z)) - 0.5 * z * z;
}

double hf_normal_log_density(double z) {
    return -0.5 * z * z - HF_LN_SQRT_2PI;
}

double hf_normal_quantile_lower(double p) {
    return hf_kernel_normal_quantile(p);
}

double hf_normal_quantile_upper(double p) {
    return -hf_kernel_normal_quantile(p);
}

double hf_sev_lower(double z) {
    return -expm1(-exp(z));
}

double hf_sev_upper(double z) {
    return exp(-exp(z));
}

double hf_sev_log_lower(double z) {
    double hazard = exp(z);
    if (z > 0.0) return log1p(-exp(-hazard));
    if (z > -30.0) return log(-expm1(-hazard));
    return z - 0.5 * hazard;
}

double hf_sev_quantile_lower(double p) {
    return log(-log1p(-p));
}

double hf_sev_quantile_upper(double p) {
    return log(-log(p));
}
