/* The guess a plan starts from: a law, a mean, a scatter.
 *
 * Before the first pull nobody knows the strength; but "about 900 N, maybe 12 % scatter" is enough to choose steps and to see
 * what a number of parts will bring. The guess only serves the planning: no bound ever uses it. Loads are positive
 * numbers in any one unit. */
#ifndef HOLDFAST_PLANNING_GUESS_H
#define HOLDFAST_PLANNING_GUESS_H

#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

typedef struct hf_guess {
    const hf_family *family;
    double mean;      /* of load, > 0 */
    double deviation; /* standard deviation of load, cv·mean */
    double m, s;      /* location and scale on the family's working scale */
} hf_guess;

/* Law with this mean and coefficient of variation. HF_RANGE unless mean > 0 (finite) and 0 < cv ≤ 1. */
hf_status hf_guess_of(const hf_family *family, double mean, double cv, hf_guess *out);

/* Mean and coefficient of variation of load of the law with this m and s. HF_RANGE where hf_guess_of would refuse them. */
hf_status hf_guess_from_fit(const hf_family *family, double m, double s, hf_guess *out);

/* Load that the share `weaker` of all parts does not reach, 0 < weaker < 1. */
double hf_guess_quantile(const hf_guess *guess, double weaker);

/* Share of all parts stronger than `load`; 1 for load ≤ 0 in the log families. */
double hf_guess_stronger(const hf_guess *guess, double load);

#endif
