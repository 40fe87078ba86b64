/* What simulated bounds say: mean, range, share that reaches a wanted one. */
#ifndef HF_PLANNING_SPREAD_H
#define HF_PLANNING_SPREAD_H

#include <stddef.h>

typedef struct hf_spread {
    double mean, mean_error;       /* of the finite values; NaN with fewer than two */
    double low, middle, high;      /* 10, 50, 90 % points of all */
    double reached, reached_error; /* share ≥ required; NaN when required is NaN */
    double missing;                /* share that is −INFINITY */
} hf_spread;

/* Sorts `values` (−INFINITY: no bound). count ≥ 1. */
hf_spread hf_spread_of(double *values, size_t count, double required);

#endif
