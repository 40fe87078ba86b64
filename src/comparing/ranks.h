/* Midranks of pooled values (ln loads). */
#ifndef HF_COMPARING_RANKS_H
#define HF_COMPARING_RANKS_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include "holdfast/strength/sample.h"

/* Equal up to rounding. */
static inline bool hf_tied(double a, double b) {
    return fabs(a - b) <= HF_SAME * fmax(1, fabs(b));
}

/* Twice the number of pairs in which values[i] is above `x`, plus ties once: 2·#{y < x} + #{y = x}, over y[0..n). */
static inline double hf_twice_below(const double *y, size_t n, double x) {
    double sum = 0;
    for (size_t i = 0; i < n; i++) sum += hf_tied(y[i], x) ? 1 : y[i] < x ? 2 : 0;
    return sum;
}

#endif
