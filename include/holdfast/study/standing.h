/* How far a campaign has come.
 *
 * Between two pulls somebody at the rig asks: what is done, what is left, which part is next and what hangs first, how long will it take, and is
 * anything odd among what was written down. */
#ifndef HOLDFAST_STUDY_STANDING_H
#define HOLDFAST_STUDY_STANDING_H

#include "holdfast/campaign/sanity.h"
#include "holdfast/study/sheet.h"

typedef struct hf_standing_design {
    const hf_design *design;
    size_t failed, held, rig, voided, planned;
    double minutes; /* that its planned parts will take, about; NaN without a ladder or a known strength */
} hf_standing_design;

typedef struct hf_standing {
    const hf_campaign *campaign;
    const hf_standing_design *designs;
    size_t count;
    const hf_specimen *next; /* NULL: nothing is planned */
    const hf_design *next_design;
    const hf_sheet_rung *rung; /* its first; NULL without a ladder */
    double minutes;            /* all planned parts; NaN where one is not known */
    const hf_doubt *doubts;    /* about pulls that are there */
    size_t doubt_count;
} hf_standing;

/* HF_BAD_DATA for a ladder whose weights are not there, HF_MEMORY. */
hf_status hf_standing_make(hf_arena *arena, const hf_campaign *campaign, const hf_standing **out,
                           hf_error *error);

/* Seconds that a pull takes, about: mounting, then dwell and two pieces handled on each rung up to the first above `known` (N on the part); NaN
 * without a ladder or a known strength. */
double hf_pull_seconds(const hf_campaign *campaign, const hf_sheet_ladder *ladder, double known);

#endif
