/* The loops behind holdfast/numeric/vector.h and random.h, to be compiled at every width. */
#ifndef HOLDFAST_NUMERIC_VECTOR_LOOPS_H
#define HOLDFAST_NUMERIC_VECTOR_LOOPS_H

#include <stddef.h>
#include "numeric/kernel.h"

HF_KERNEL void hf_loop_exp(const double *x, double *out, size_t count) {
    for (size_t i = 0; i < count; i++) out[i] = hf_kernel_exp(x[i]);
}

HF_KERNEL void hf_loop_log(const double *x, double *out, size_t count) {
    for (size_t i = 0; i < count; i++) out[i] = hf_kernel_log(x[i]);
}

HF_KERNEL void hf_loop_normal_lower(const double *z, double *out, size_t count) {
    for (size_t i = 0; i < count; i++) out[i] = hf_kernel_normal_lower(z[i]);
}

HF_KERNEL void hf_loop_normal_quantile(const double *p, double *out, size_t count) {
    for (size_t i = 0; i < count; i++) out[i] = hf_kernel_normal_quantile(p[i]);
}

HF_KERNEL void hf_loop_sev_quantile(const double *p, double *out, size_t count) {
    for (size_t i = 0; i < count; i++) out[i] = hf_kernel_log(-hf_kernel_log(p[i]));
}

/* 52 random bits to the middle of their cell in (0, 1). */
HF_KERNEL void hf_loop_uniform(const uint64_t *bits, double *out, size_t count) {
    for (size_t i = 0; i < count; i++)
        out[i] = (hf_kernel_from_bits((bits[i] >> 12) | 0x3ff0000000000000U) - 1.0) + 0x1p-53;
}

/* Sums run over 8 lanes, which are then added in this order. */
HF_KERNEL double hf_loop_add_lanes(const double lane[8]) {
    return ((lane[0] + lane[4]) + (lane[2] + lane[6])) + ((lane[1] + lane[5]) + (lane[3] + lane[7]));
}

HF_KERNEL double hf_loop_sum(const double *x, size_t count) {
    double lane[8] = {0.0};
    size_t whole = count - count % 8;
    for (size_t i = 0; i < whole; i += 8)
        for (size_t j = 0; j < 8; j++) lane[j] += x[i + j];
    for (size_t i = whole; i < count; i++) lane[i - whole] += x[i];
    return hf_loop_add_lanes(lane);
}

HF_KERNEL double hf_loop_sum_squares(const double *x, double centre, size_t count) {
    double lane[8] = {0.0};
    size_t whole = count - count % 8;
    for (size_t i = 0; i < whole; i += 8)
        for (size_t j = 0; j < 8; j++) lane[j] += (x[i + j] - centre) * (x[i + j] - centre);
    for (size_t i = whole; i < count; i++) lane[i - whole] += (x[i] - centre) * (x[i] - centre);
    return hf_loop_add_lanes(lane);
}

#endif
