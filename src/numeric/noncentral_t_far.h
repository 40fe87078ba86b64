/* The noncentral t far out, where δ is so large that the normal edge is a hair beside the scatter of W = √(χ²_ν/ν). */
#ifndef HF_NUMERIC_NONCENTRAL_T_FAR_H
#define HF_NUMERIC_NONCENTRAL_T_FAR_H

#include <stdbool.h>
#include "holdfast/base/status.h"

/* Whether this branch is to be taken. */
bool hf_noncentral_t_is_far(double nu, double delta);

/* One tail at t > 0, any sign of δ. */
double hf_noncentral_t_far(double t, double nu, double delta, bool is_upper);

/* t > 0 whose tail is `goal`, δ > 0. */
hf_status hf_noncentral_t_far_quantile(double goal, double nu, double delta, bool is_upper, double *t);

#endif
