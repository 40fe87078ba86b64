/* What hangs on a rung of a written ladder.
 *
 * A rung is a load and, beside it, the weights that make it: "4x10kg 1x5kg". The two are written by a program but may be changed by
 * hand, and on test day the weights are what somebody hangs. So they must add up. */
#ifndef HOLDFAST_CAMPAIGN_HANGING_H
#define HOLDFAST_CAMPAIGN_HANGING_H

#include "holdfast/campaign/campaign.h"
#include "holdfast/load/weight_list.h"

typedef struct hf_hanging {
    hf_weight_item items[HF_WEIGHT_LIST_MOST];
    size_t count;
} hf_hanging;

/* The weights of one rung into *out (count 0 when none are written). HF_BAD_DATA when they cannot be read, when more hang than
 * campaign->weights lists (if it lists any), or when they put more than 0.5 % more or less on the part than the rung's load does;
 * the message says what was found and what was expected, without the place. */
hf_status hf_hanging_read(const hf_campaign *campaign, const hf_written_rung *rung, hf_hanging *out,
                          hf_error *error);

#endif
