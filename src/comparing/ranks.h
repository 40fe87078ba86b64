/* Midranks of pooled values. */
#ifndef HF_COMPARING_RANKS_H
#define HF_COMPARING_RANKS_H

#include <stddef.h>

/* Twice the number of pairs in which values[i] is above `x`, plus ties once: 2·#{y < x} + #{y = x}, over y[0..n). */
static inline double hf_twice_below(const double *y, size_t n, double x) {
    double sum = 0;
    for (size_t i = 0; i < n; i++) sum += y[i] < x ? 2 : y[i] == x ? 1 : 0;
    return sum;
}

#endif
