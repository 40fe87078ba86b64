/* How many parts tell two designs apart, and what a given number can see.
 *
 * A comparison of few parts overlooks most differences. Power is the chance that the test notices a
 * difference that is really there: it follows from the noncentral t distribution. Differences are of ln load (the ln of
 * a ratio), scatter is the standard deviation of ln load; an effect is the difference counted in such deviations. Both tails
 * count in a two-sided test. */
#ifndef HOLDFAST_COMPARING_POWER_H
#define HOLDFAST_COMPARING_POWER_H

#include <stdbool.h>
#include "holdfast/base/status.h"

typedef struct hf_power_setup {
    double n_a, n_b;               /* parts; > 1, need not be whole */
    double variance_a, variance_b; /* of ln load, step allowance included; not both 0 */
    double level;                  /* of the test, 0 < level < 1 */
    bool one_sided;
} hf_power_setup;

/* Welch–Satterthwaite degrees of freedom; 2n − 2 for equal n and variance. */
double hf_power_degrees_of_freedom(const hf_power_setup *setup);

/* Chance that Welch's test finds this true difference of ln load (one-sided: a > b). NaN outside the ranges. */
double hf_power_of(const hf_power_setup *setup, double difference);

/* Least difference (≥ 0) seen with the wanted power, level < power < 1; exp of it is the smallest visible ratio.
 * HF_RANGE outside, HF_NUMERIC when the root does not settle. Relative error 1e-9. */
hf_status hf_power_smallest_difference(const hf_power_setup *setup, double power, double *difference);

/* Parts per design, the same for both, so that `difference` is seen with the wanted power; n_a and n_b of the setup are not read.
 * *n is not rounded (round up); it is 2 when 2 are already enough, and INFINITY when a million are not. HF_RANGE outside. */
hf_status hf_power_parts(const hf_power_setup *setup, double difference, double power, double *n);

/* The same for equal scatter and an effect in standard deviations (Cohen's d; C23, C24). */
hf_status hf_power_parts_for_effect(double effect, double power, double level, bool one_sided, double *n);

/* Effect of a ratio of geometric means at a coefficient of variation: |ln ratio|/√ln(1 + cv²). NaN unless both are > 0. */
double hf_power_effect_of_ratio(double ratio, double cv);
double hf_power_ratio_of_effect(double effect, double cv);

#endif
