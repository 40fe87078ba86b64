/* What was stated when pulls were already there.
 *
 * Looks, a scatter from earlier, the choice of the best and a law other than the usual one keep their promise only if they were settled before anybody
 * saw how the pulls come out. The file cannot show when that was; the journal beside it can, as far as it reaches back without a gap: the file
 * as it was before a statement is put together from it, and the pulls that stood there are counted. Without a journal nothing is known, and
 * nothing is said. */
#ifndef HOLDFAST_CAMPAIGN_LATE_H
#define HOLDFAST_CAMPAIGN_LATE_H

#include "holdfast/campaign/campaign.h"

/* What can be stated too late. */
typedef enum hf_late_kind {
    HF_LATE_LOOKS,
    HF_LATE_SCATTER, /* of earlier parts or designs, or assumed */
    HF_LATE_BETWEEN, /* the scatter between batches */
    HF_LATE_CHOICE,  /* that the best is picked by this test */
    HF_LATE_LAW,
    HF_LATE_KINDS
} hf_late_kind;

/* How many pulls each design of the campaign had when what now stands there was stated, as far as the journal of the file at `path` tells: written to
 * designs[i].late. HF_MEMORY; a journal that cannot be read tells nothing. */
hf_status hf_late_look_back(const char *path, const hf_campaign *campaign);

#endif
