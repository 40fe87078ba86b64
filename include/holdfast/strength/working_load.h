/* From a bound to a load one may work with.
 *
 * The rig's own error is common to all pulls: it is taken off once, not averaged. Then the bound is
 * divided by the design factor the user has chosen; where the first permanent movement was watched, its bound is divided by its own
 * factor and the smaller counts. Rounding goes down. */
#ifndef HOLDFAST_STRENGTH_WORKING_LOAD_H
#define HOLDFAST_STRENGTH_WORKING_LOAD_H

#include <stdbool.h>
#include <stddef.h>

/* Multiplier max(0, 1 − max(1.645, z_C)·u). u: combined relative standard uncertainty at the bound. The multiplier used for z is returned in *z. */
double hf_calibration_multiplier(double u, double confidence, double *z);

#endif
