#include "numeric/vector_widths.h"

#include "numeric/vector_loops.h"

#define WIDTH(suffix, attribute)                                                                             \
    attribute static void exp_##suffix(const double *x, double *out, size_t n) {                             \
        hf_loop_exp(x, out, n);                                                                              \
    }                                                                                                        \
    attribute static void log_##suffix(const double *x, double *out, size_t n) {                             \
        hf_loop_log(x, out, n);                                                                              \
    }                                                                                                        \
    attribute static void lower_##suffix(const double *x, double *out, size_t n) {                           \
        hf_loop_normal_lower(x, out, n);                                                                     \
    }                                                                                                        \
    attribute static void quantile_##suffix(const double *x, double *out, size_t n) {                        \
        hf_loop_normal_quantile(x, out, n);                                                                  \
    }                                                                                                        \
    attribute static void sev_##suffix(const double *x, double *out, size_t n) {                             \
        hf_loop_sev_quantile(x, out, n);                                                                     \
    }                                                                                                        \
    attribute static void uniform_##suffix(const uint64_t *x, double *out, size_t n) {                       \
        hf_loop_uniform(x, out, n);                                                                          \
    }                                                                                                        \
    attribute static double sum_##suffix(const double *x, size_t n) {                                        \
        return hf_loop_sum(x, n);                                                                            \
    }                                                                                                        \
    attribute static double squares_##suffix(const double *x, double centre, size_t n) {                     \
        return hf_loop_sum_squares(x, centre, n);                                                            \
    }                                                                                                        \
    attribute static void nodes_##suffix(const hf_tail_grid *grid, hf_tail_nodes *nodes) {                   \
        hf_loop_tail_nodes(grid, nodes);                                                                     \
    }                                                                                                        \
    attribute static void tail_##suffix(const hf_tail_nodes *nodes, double t, double shift, double out[3]) { \
        hf_loop_tail_sums(nodes, t, shift, out);                                                             \
    }
#define ROW(bits, suffix)                                                                                    \
    {                                                                                                        \
        bits, exp_##suffix, log_##suffix, lower_##suffix, quantile_##suffix, sev_##suffix, uniform_##suffix, \
            sum_##suffix, squares_##suffix, nodes_##suffix, tail_##suffix                                    \
    }

WIDTH(128, )
#if HF_VECTOR_WIDTHS
WIDTH(256, __attribute__((target("avx2"))))
WIDTH(512, __attribute__((target("avx512f"))))
#endif

static const hf_vector_width table[] = {
    ROW(128, 128),
#if HF_VECTOR_WIDTHS
    ROW(256, 256),
    ROW(512, 512),
#endif
};

size_t hf_vector_widths(void) {
#if HF_VECTOR_WIDTHS
    if (__builtin_cpu_supports("avx512f")) return 3;
    if (__builtin_cpu_supports("avx2")) return 2;
#endif
    return 1;
}

const hf_vector_width *hf_vector_width_table(void) {
    return table;
}
