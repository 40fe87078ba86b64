/* Do the batches differ?
 *
 * Parts made on another day or from another roll may be another population; then pooling them hides a weak
 * batch. The k-sample Anderson–Darling test (Scholz & Stephens 1987) compares the batches without assuming a law, and the between-batch
 * share of the variance says how much of the scatter comes from changing batch. */
#ifndef HOLDFAST_STRENGTH_BATCH_H
#define HOLDFAST_STRENGTH_BATCH_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

typedef struct hf_batch_test {
    bool available;
    const char *reason; /* when not: "one_batch", "too_few", "open_observations", "one_value" */
    size_t batches, parts;
    double a2;            /* right-continuous version */
    double a2_midrank;    /* for ties; the one that is judged */
    double sigma;         /* its standard deviation when the batches agree */
    double adk, critical; /* a2_midrank/(k − 1) and the handbook's 2.5 % point (MIL-HDBK-17-1F 8.3.2.2) */
    double significance;  /* interpolated in the published percentage points, between 0.0005 and 0.9 */
    bool differ;          /* adk > critical */
    double between_share; /* σ_between²/(σ_between² + σ_within²), from mean squares, not below 0 */
} hf_batch_test;

/* value[i] belongs to batch[i] in 0 … batches − 1. HF_NO_RESULT with a reason, HF_MEMORY, or HF_OK. */
hf_status hf_batch_test_values(const double *value, const int *batch, size_t count, size_t batches,
                               hf_batch_test *out);

/* The same on the middles (in load) of exact and closed pulls with a stated batch; batches with fewer than two parts are left out.
 * Open observations: not available. */
hf_status hf_batch_test_run(hf_sample sample, hf_batch_test *out);

#endif
