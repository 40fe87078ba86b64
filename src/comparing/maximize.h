/* The top of a function with one peak. */
#ifndef HF_COMPARING_MAXIMIZE_H
#define HF_COMPARING_MAXIMIZE_H

#include "holdfast/numeric/solve.h"

/* x in [low, high] where `function` is largest, to `tolerance` in x (Brent 1973, golden section with parabolas); *top may be NULL. NaN and
 * −INFINITY count as lowest. */
double hf_maximize(hf_function function, void *context, double low, double high, double tolerance,
                   double *top);

#endif
