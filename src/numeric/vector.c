#include "holdfast/numeric/vector.h"

#include <math.h>
#include "numeric/vector_loops.h"

HF_VECTOR_CLONES void hf_vector_exp(const double *x, double *out, size_t count) {
    hf_loop_exp(x, out, count);
}

HF_VECTOR_CLONES void hf_vector_log(const double *x, double *out, size_t count) {
    hf_loop_log(x, out, count);
}

HF_VECTOR_CLONES void hf_vector_normal_lower(const double *z, double *out, size_t count) {
    hf_loop_normal_lower(z, out, count);
}

HF_VECTOR_CLONES void hf_vector_normal_quantile(const double *p, double *out, size_t count) {
    hf_loop_normal_quantile(p, out, count);
}

HF_VECTOR_CLONES double hf_vector_sum(const double *x, size_t count) {
    return hf_loop_sum(x, count);
}

HF_VECTOR_CLONES static double sum_squares(const double *x, double centre, size_t count) {
    return hf_loop_sum_squares(x, centre, count);
}

void hf_vector_mean_sd(const double *x, size_t count, double *mean, double *sd) {
    double n = (double)count;
    *mean = hf_vector_sum(x, count) / n;
    *sd = sqrt(sum_squares(x, *mean, count) / (n - 1.0));
}
