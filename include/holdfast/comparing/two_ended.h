/* A part with a fitting at each end, and several fittings in a row.
 *
 * A strap pulled with the same fitting at both ends breaks at the weaker one. Read as if it were one fitting, the mean comes out
 * 0.56 standard deviations low. The right reading: the broken end failed in that step, the other end is known to be
 * stronger than what was last held. Each end goes to its own design. */
#ifndef HOLDFAST_COMPARING_TWO_ENDED_H
#define HOLDFAST_COMPARING_TWO_ENDED_H

#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

typedef enum hf_end_broke { HF_END_NEITHER, HF_END_FIRST, HF_END_SECOND, HF_END_BOTH } hf_end_broke;

/* What the pull says about each end. An open-above pull counts as HF_END_NEITHER whatever is said. A whole end of a pull whose lower end is 0 says
 * nothing: its observation gets lower 0 and the caller leaves it out (hf_end_says_nothing). HF_RANGE when a failure names no end. */
hf_status hf_two_ended_split(const hf_observation *pull, hf_end_broke broke, hf_observation ends[2]);

/* Open above from 0: nothing learned. */
int hf_end_says_nothing(const hf_observation *end);

/* The bound of `in_row` equal fittings one after another: the chain carries x when each does, so its content P is the content P^(1/in_row)
 * of the single fitting. in_row ≥ 1. out->content is that of the single fitting. Statuses of hf_bound_family. */
hf_status hf_bound_in_a_row(const hf_family *family, hf_sample sample, size_t in_row, double content,
                            double confidence, hf_bound *out);

#endif
