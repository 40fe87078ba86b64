/* What spreading the parts over batches brings.
 *
 * Ten parts of one batch tell much about that batch and little about the next. How much, depends on the share of the variance that lies between
 * batches, which nobody knows beforehand: so a layout of parts is tried at a share that is assumed. The bound is the one that leads after the pulls, of the
 * batch bound and the law's own the lower one; and it is counted how often it is right for parts of any batch. */
#ifndef HOLDFAST_PLANNING_BATCH_GAIN_H
#define HOLDFAST_PLANNING_BATCH_GAIN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

typedef struct hf_batch_gain_setup {
    const hf_family
        *family; /* of the bound that ignores batches, of the log scale; NULL: the governing one */
    double content, confidence;
    double required;   /* margin within which the bound reaches what is required; NaN: nothing is */
    bool batch_alone;  /* the batch bound by itself, which never leads so */
    size_t replicates; /* ≥ 1, rounded up to a multiple of HF_LANES */
    uint64_t seed;
} hf_batch_gain_setup;

/* Margins: how far the bound lies below the mean of ln load, in standard deviations of ln load of parts of any batch. */
typedef struct hf_batch_gain {
    double middle, long_one;   /* of half of all tests, and of one in ten, it is longer */
    double right, right_error; /* share of bounds that are right for parts of any batch */
    double reached;            /* share of tests within `required`; NaN: nothing is */
} hf_batch_gain;

/* Exact readings of parts normal in ln load, batches[i] of batch i, count ≥ 1, 2 parts or more in all. Batches differ by a normal amount of ln load
 * that has the share 0 … 1 of the variance. One batch has no batch bound. HF_RANGE outside (a family of the load scale too), HF_MEMORY, or
 * the status of the factor. Same bits on any number of threads. */
hf_status hf_batch_gain_of(const hf_batch_gain_setup *setup, const size_t *batches, size_t count,
                           double share, hf_batch_gain *out);

#endif
