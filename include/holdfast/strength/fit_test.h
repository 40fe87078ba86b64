/* Does the law fit, and is one pull out of line?
 *
 * The Anderson–Darling statistic measures how far the data stray from a fitted law, most of all in the
 * tails. Its null distribution is simulated for the very sample size (and, for stepped pulls, on the same ladder). The
 * maximum normed residual asks whether the farthest value is farther than chance allows; a part is never dropped for it. */
#ifndef HOLDFAST_STRENGTH_FIT_TEST_H
#define HOLDFAST_STRENGTH_FIT_TEST_H

#include <stdbool.h>
#include <stdint.h>
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

typedef struct hf_fit_test {
    bool available;
    const char *reason;  /* code when not available: "open_observations", "one_value", "too_few" */
    double a2;           /* Anderson–Darling statistic of the mids */
    double significance; /* share of simulated samples that stray more; shipped or simulated */
    double standard_error;
    size_t
        replicates; /* samples simulated: fewer than asked when the law clearly fits (significance above 0.2 after 256) */
    double handbook; /* significance by the handbook formula for n ≥ 8, NaN below */
    bool rejected;   /* significance < 0.05 */
} hf_fit_test;

/* A² of working-scale values y (any order) against the fitted (m, s). n ≥ 2. Reorders y. */
double hf_anderson_darling(const hf_family *family, double *y, size_t n, double m, double s);

/* The test with `replicates` simulated samples from `seed`. Uses malloc once for its workspace. */
hf_status hf_fit_test_run(const hf_family *family, hf_sample sample, uint64_t seed, size_t replicates,
                          hf_fit_test *out);

typedef struct hf_outlier_test {
    bool available;
    double statistic; /* max |x − mean| / s of the mids (load scale) */
    double critical;  /* 5 % two-sided (C11) */
    size_t index;     /* of the farthest observation in the sample */
    bool flagged;
} hf_outlier_test;

/* Maximum normed residual on the mids in load; n ≥ 3, closed and exact observations only. */
void hf_outlier_test_run(hf_sample sample, hf_outlier_test *out);
/* Critical value for n ≥ 3 at two-sided level alpha. */
double hf_outlier_critical(size_t n, double alpha);

#endif
