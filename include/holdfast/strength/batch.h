/* Do the batches differ?
 *
 * Parts made on another day or from another roll may be another population; then pooling them hides a weak
 * batch. The k-sample Anderson–Darling test (Scholz & Stephens 1987) compares the batches without assuming a law, and the between-batch
 * share of the variance says how much of the scatter comes from changing batch. Where batches are small that test cannot speak: of three
 * batches of two it says nothing whatever the pulls. So the one-way F test on ln load stands beside it, by all ways of dealing the parts
 * into such batches where they are few, with the least significance those could reach. */
#ifndef HOLDFAST_STRENGTH_BATCH_H
#define HOLDFAST_STRENGTH_BATCH_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

/* One-way analysis of variance on ln load. Batches of one part count. */
typedef struct hf_batch_f {
    bool available;
    size_t batches, parts;
    double
        f; /* mean square between over mean square within; INFINITY where all batches are of one value each */
    double by_law; /* its significance by the F law: batches normal, with one scatter */
    double
        significance; /* by all ways of dealing the parts into batches of these sizes; the same as by_law where they are too many */
    double least; /* the least significance that those ways could give; 0 for the F law */
    bool exact;   /* all ways were dealt */
    bool differ;  /* significance ≤ 0.05; where the ways are too few to reach that, by_law ≤ 0.05 */
} hf_batch_f;

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
    hf_batch_f one_way;   /* of hf_batch_test_run only */
} hf_batch_test;

/* Whether either test, where it is available, tells them apart. */
bool hf_batches_differ(const hf_batch_test *test);

/* value[i] belongs to batch[i] in 0 … batches − 1. HF_NO_RESULT with a reason, HF_MEMORY, or HF_OK. */
hf_status hf_batch_test_values(const double *value, const int *batch, size_t count, size_t batches,
                               hf_batch_test *out);

/* y[i], ln load, belongs to batch[i] in 0 … batches − 1. Needs two batches, more parts than batches, and two different values. HF_MEMORY,
 * HF_NO_RESULT or HF_OK. */
hf_status hf_batch_f_values(const double *y, const int *batch, size_t count, size_t batches, hf_batch_f *out);

/* Both on the middles (in load; of ln load for F) of exact and closed pulls with a stated batch. Batches with fewer than two parts are
 * left out of the k-sample test, not of F. Open observations: not available. */
hf_status hf_batch_test_run(hf_sample sample, hf_batch_test *out);

#endif
