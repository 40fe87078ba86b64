/* Writing a plan into the campaign file.
 *
 * The plan adds planned parts, in the order they are to be pulled, and the ladder they are to climb; it touches no part that is
 * there already and no other byte of the file. */
#ifndef HOLDFAST_CAMPAIGN_WRITE_PLAN_H
#define HOLDFAST_CAMPAIGN_WRITE_PLAN_H

#include <stdint.h>
#include "holdfast/campaign/campaign.h"

/* One rung as it is recorded. */
typedef struct hf_plan_rung {
    double newtons;      /* recorded load (added or total, as the rig records), N */
    const char *weights; /* "4x10kg 1x5kg", or "" */
} hf_plan_rung;

typedef struct hf_plan_design {
    const char *id;
    size_t wanted;       /* parts of the plan, those that are there included */
    size_t parts;        /* to add; may be 0 when enough are there */
    size_t there;        /* in the file already and counted towards the plan */
    const size_t *order; /* parts: 1 … of all planned parts together, added behind the orders in the file */
    size_t batches;      /* over which its parts are spread; 0: nothing is said of batches */
    const size_t *batch; /* parts: 1 … batches, written as "batch 1" …; NULL: nothing is said */
    const hf_plan_rung *rungs;
    size_t rung_count;
    const hf_stated_looks *looks; /* to be stated in its goal; NULL: its goal stays */
    bool pilot;                   /* its one part is <design>-pilot */
} hf_plan_design;

/* "batch 1", the batch that a plan gives to parts whose batch has no name yet; the number of a name of that form, 0 of any other. */
enum { HF_BATCH_NAME = 32 };
const char *hf_planned_batch_name(size_t number, char name[HF_BATCH_NAME]);
size_t hf_planned_batch_number(const char *name);

typedef struct hf_plan_writing {
    uint64_t seed;
    const char *made; /* date, "2026-05-01" */
    const hf_plan_design *designs;
    size_t count;
} hf_plan_writing;

/* The campaign's text with the plan, appended to *out and validated. Part ids are <design>-01, -02, … behind the highest such number
 * in the file, of a pilot <design>-pilot, then <design>-pilot-02, …; HF_BAD_DATA when the result would not be valid. Ladders of designs
 * that are not written stay. */
hf_status hf_campaign_write_plan(hf_arena *arena, const hf_campaign *campaign, const hf_plan_writing *plan,
                                 hf_text *out, hf_error *error);

/* Whether a plan made from `then` still holds for `now`: all that it was made from is the same, that is unit, gravity, rig, weights, goal and
 * guess of the file, and of each design everything but its name and its pulls. *where: the first key that differs, static text. */
bool hf_campaign_same_basis(const hf_campaign *then, const hf_campaign *now, const char **where);

#endif
