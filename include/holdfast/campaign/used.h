/* Which parts of a design count, and what they state.
 *
 * A part counts where it was pulled, is not void and had not been loaded before. Loads are newtons on the part. */
#ifndef HOLDFAST_CAMPAIGN_USED_H
#define HOLDFAST_CAMPAIGN_USED_H

#include <stdbool.h>
#include "holdfast/campaign/campaign.h"

bool hf_part_used(const hf_specimen *specimen);

/* The end a pull is remembered by: where it failed, or what it held when it did not. */
double hf_pull_reached(const hf_pull *pull);

/* Batches named by the parts used; *without: used parts that name none. */
size_t hf_batches_stated(const hf_design *design, size_t *without);

/* Batches named by any part, planned ones too. */
size_t hf_batches_named(const hf_design *design);

/* Used parts that failed (or, `set`, moved) and of which no load held before is stated, not even 0. */
size_t hf_held_not_stated(const hf_design *design, bool set);

/* The day of the last pull of the design, as the file writes it; NULL: none is stated. */
const char *hf_design_last_day(const hf_design *design);
/* The same of all designs. */
const char *hf_campaign_last_day(const hf_campaign *campaign);

#endif
