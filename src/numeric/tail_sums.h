/* The inner loops of the noncentral t, to be compiled at every width. */
#ifndef HOLDFAST_NUMERIC_TAIL_SUMS_H
#define HOLDFAST_NUMERIC_TAIL_SUMS_H

#include <stddef.h>
#include "numeric/vector_loops.h"

enum { HF_TAIL_CHUNK = 64 };

/* The nodes of a quadrature over W. z is t·v + shift: v = W, shift = −δ, or with less rounding for many degrees of
 * freedom v = W − 1, shift = t − δ. */
typedef struct hf_tail_nodes {
    double *w, *v, *weight;
    size_t count;
} hf_tail_nodes;

/* Node i at u = ln W = start + i·step: weight = scale·exp(ν(u − (e^2u − 1)/2)). */
typedef struct hf_tail_grid {
    double nu, start, step, scale;
    double base; /* 0 or 1: v = W − base */
} hf_tail_grid;

HF_KERNEL void hf_loop_tail_nodes(const hf_tail_grid *grid, hf_tail_nodes *nodes) {
    double *w = nodes->w, *v = nodes->v, *weight = nodes->weight;
    double nu = grid->nu, start = grid->start, step = grid->step, scale = grid->scale, base = grid->base;
    int count = (int)nodes->count;
    for (int i = 0; i < count; i++) {
        double u = start + step * i;
        double less_one = hf_kernel_expm1(u);
        w[i] = hf_kernel_exp(u);
        v[i] = base * less_one + (1.0 - base) * w[i];
        weight[i] = scale * hf_kernel_exp(nu * (u - 0.5 * (less_one * (less_one + 2.0))));
    }
}

/* Sums of weight·P(Z > z), weight·W·e^(−z²/2) and weight·W²·z·e^(−z²/2) in out[0..2]. */
HF_KERNEL void hf_loop_tail_sums(const hf_tail_nodes *nodes, double t, double shift, double out[3]) {
    const double *w = nodes->w, *v = nodes->v, *weight = nodes->weight;
    double lane[3][8] = {{0.0}};
    for (size_t start = 0; start < nodes->count; start += HF_TAIL_CHUNK) {
        size_t length = nodes->count - start < HF_TAIL_CHUNK ? nodes->count - start : HF_TAIL_CHUNK;
        double upper[HF_TAIL_CHUNK] = {0.0}, first[HF_TAIL_CHUNK] = {0.0}, second[HF_TAIL_CHUNK] = {0.0};
        for (size_t i = 0; i < length; i++) {
            double z = t * v[start + i] + shift;
            hf_kernel_normal_tail tail = hf_kernel_normal(z);
            uint64_t negative = 0U - (hf_kernel_bits(z) >> 63);
            double moment = weight[start + i] * w[start + i] * tail.power;
            upper[i] = weight[start + i] * hf_kernel_pick(negative, 1.0 - tail.upper, tail.upper);
            first[i] = moment;
            second[i] = moment * w[start + i] * z;
        }
        for (size_t i = 0; i < length; i += 8) {
            for (size_t j = 0; j < 8; j++) lane[0][j] += upper[i + j];
            for (size_t j = 0; j < 8; j++) lane[1][j] += first[i + j];
            for (size_t j = 0; j < 8; j++) lane[2][j] += second[i + j];
        }
    }
    for (size_t k = 0; k < 3; k++) out[k] = hf_loop_add_lanes(lane[k]);
}

#endif
