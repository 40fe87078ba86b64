/* The power that Welch's test really has.
 *
 * power.h takes Welch's degrees of freedom as if the scatter were known. With five parts or more that is right to a hundredth; with three
 * or two the test itself is more careful than that, since its degrees of freedom follow the scatter seen. Given the share B of the scatter
 * that falls on the first design (beta distributed) the statistic is a noncentral t, so one integral over B gives the power as it is. */
#ifndef HOLDFAST_COMPARING_WELCH_POWER_H
#define HOLDFAST_COMPARING_WELCH_POWER_H

#include "holdfast/comparing/power.h"

/* Chance that Welch's test on normal data finds this true difference (one-sided: a > b; two-sided: either tail). Absolute error below 1e-5. NaN
 * outside the ranges of power.h. */
double hf_welch_power_of(const hf_power_setup *setup, double difference);

#endif
