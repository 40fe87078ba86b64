/* Loads that the listed weights can make. */
#ifndef HF_CAMPAIGN_MAKEABLE_H
#define HF_CAMPAIGN_MAKEABLE_H

#include "holdfast/campaign/campaign.h"

typedef struct hf_makeable {
    double *
        sums; /* N, ascending from 0; NULL: nothing is listed, loads are not added weights, or too many can be made */
    size_t count;
} hf_makeable;

/* What slips of the pen and of the arithmetic may differ by. */
#define HF_MAKEABLE_TOLERANCE 1e-6

/* All loads up to `most` (N, recorded). hf_makeable_free must follow. */
hf_makeable hf_makeable_up_to(const hf_campaign *campaign, double most);
void hf_makeable_free(hf_makeable *made);

/* Whether the load can be made, and the nearest that can. Both want made->sums. */
bool hf_makeable_is(const hf_makeable *made, double load);
double hf_makeable_nearest(const hf_makeable *made, double load);

/* All listed weights together, N. */
double hf_all_weights(const hf_campaign *campaign);

#endif
