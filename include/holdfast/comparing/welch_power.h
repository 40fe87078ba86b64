/* The power that Welch's test really has.
 *
 * power.h takes Welch's degrees of freedom as if the scatter were known. With ten parts or more that is right to less than a hundredth; with five
 * it claims 0.80 where 0.777 is true, with three 0.696, since the test's degrees of freedom follow the scatter seen. The share B of the scatter
 * that falls on the first design is beta distributed and independent of its sum, so two integrals give the power as it is. */
#ifndef HOLDFAST_COMPARING_WELCH_POWER_H
#define HOLDFAST_COMPARING_WELCH_POWER_H

#include "holdfast/comparing/power.h"

/* Chance that Welch's test on normal data finds this true difference (one-sided: a > b; two-sided: either tail). Absolute error below 1e-6. NaN
 * outside the ranges of power.h. Above 400 parts, or where one variance is 0, it is hf_power_of. */
double hf_welch_power_of(const hf_power_setup *setup, double difference);

/* As hf_power_smallest_difference, with that power. */
hf_status hf_welch_power_smallest_difference(const hf_power_setup *setup, double power, double *difference);

/* As hf_power_parts, with that power; *n is whole here: the least number of parts of each that reaches it. */
hf_status hf_welch_power_parts(const hf_power_setup *setup, double difference, double power, double *n);

#endif
