/* Maximum likelihood for whole, stepped and unfinished pulls.
 *
 * In the parametrisation z = b·y − a with b = 1/s, a = m/s the log-likelihood of exact, closed and open
 * observations is concave (Pratt 1981; Burridge 1981), so Newton's method with a step-halving line search
 * reaches the one maximum from any start. Where no maximum exists (all failures in one step, or in two
 * neighbouring steps, …) that is a finding, not a crash. */
#ifndef HOLDFAST_STRENGTH_FIT_H
#define HOLDFAST_STRENGTH_FIT_H

#include <stdbool.h>
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

typedef enum hf_fit_stop {
    HF_FIT_CONVERGED,
    HF_FIT_TOO_FEW,       /* fewer than two failures */
    HF_FIT_ONE_STEP,      /* all failures in one step (or equal readings): s → 0 raises the likelihood */
    HF_FIT_TWO_STEPS,     /* all failures in two neighbouring steps and nothing else */
    HF_FIT_ONE_STEP_OPEN, /* one step, with open observations ending at its ends */
    HF_FIT_NOT_CONVERGED,
    HF_FIT_ENDLESS_SCATTER /* only run-outs and first-rung failures, and those do not separate: s → ∞ raises the likelihood */
} hf_fit_stop;

typedef struct hf_fit {
    const hf_family *family;
    double m, s;            /* working scale; NaN when there is no maximum */
    double se_m, se_s, cov; /* standard errors and covariance from observed information */
    double
        log_likelihood; /* of the loads themselves: density per unit for exact, probability for intervals */
    size_t exact;       /* exact readings, whose density makes the likelihood depend on the unit */
    int iterations;
    hf_fit_stop stop;
} hf_fit;

/* Fits `family`. HF_OK with stop == HF_FIT_CONVERGED, or HF_NO_RESULT with the stop reason filled in. HF_NUMERIC for
 * HF_FIT_NOT_CONVERGED. Allocates only for more than 64 exact values (HF_MEMORY). */
hf_status hf_fit_maximum(const hf_family *family, hf_sample sample, hf_fit *out);

/* The code ("one_step") and sentence of a stop reason. Static. */
const char *hf_fit_stop_code(hf_fit_stop stop);
const char *hf_fit_stop_text(hf_fit_stop stop);

#endif
