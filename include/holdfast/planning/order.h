/* The order in which to pull.
 *
 * Glue ages, a rope bank wears, an operator tires: whatever drifts during the day must not fall on one design or one batch
 * alone. Parts are therefore pulled in random order, but interleaved: each design (and within it each batch) is spread evenly
 * over the day. The order follows from the seed. */
#ifndef HOLDFAST_PLANNING_ORDER_H
#define HOLDFAST_PLANNING_ORDER_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"

typedef struct hf_order_part {
    size_t design; /* number of the design */
    size_t batch;  /* number of the batch within the design; all 0 when not stated */
} hf_order_part;

/* order[i] becomes the index of the part to pull as the i-th, i = 0 … count − 1. Each batch of a design with b parts has its j-th part in
 * the j-th of b equal sections of the design's sequence, and each design likewise in the day; which part and where in the section is
 * random. HF_MEMORY. */
hf_status hf_order_random(const hf_order_part *parts, size_t count, uint64_t seed, size_t *order);

#endif
