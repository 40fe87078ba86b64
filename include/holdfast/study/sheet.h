/* Test day on paper: which part next, what to hang next.
 *
 * From the plan in the campaign file come the planned parts in their order and for each design the rungs of its ladder, with
 * what to add and take off from one rung to the next. Loads are newtons; everything lives in the arena. */
#ifndef HOLDFAST_STUDY_SHEET_H
#define HOLDFAST_STUDY_SHEET_H

#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/campaign/write_plan.h"
#include "holdfast/study/plan.h"

typedef struct hf_sheet_rung {
    double force;             /* on the part */
    double recorded;          /* added or total, as the rig records */
    const char *doing;        /* "take off 5 and 2 kg, add 2×10 kg"; "" when no weights are written */
    const char *hangs;        /* "4x10kg 1x5kg" */
    double hung;              /* all that hangs, in hung_unit */
    const hf_unit *hung_unit; /* NULL: no weights are written, or not all are masses */
} hf_sheet_rung;

typedef struct hf_sheet_ladder {
    const hf_design *design;
    const hf_sheet_rung *rungs;
    size_t count;
} hf_sheet_ladder;

typedef struct hf_sheet_part {
    const hf_specimen *specimen;
    const hf_sheet_ladder *ladder; /* NULL: none planned for its design */
} hf_sheet_part;

typedef struct hf_sheet {
    const hf_campaign *campaign;
    const hf_unit *plates; /* that all listed weights are in; NULL: none are listed, or in several units */
    const hf_sheet_ladder *ladders;
    size_t ladder_count;
    const hf_sheet_part *parts; /* planned ones, in order */
    size_t part_count;
} hf_sheet;

/* HF_NO_RESULT when nothing is planned (says what to run first), HF_USAGE for an unknown design (NULL: all), HF_BAD_DATA for a rung
 * whose weights are not listed or do not make its load. */
hf_status hf_sheet_make(hf_arena *arena, const hf_campaign *campaign, const char *design,
                        const hf_sheet **out, hf_error *error);

/* The plan as it is written into its campaign, all designs of its day: the number of parts recommended, less those still planned and those
 * pulled on the very same ladder, in random interleaved order, and the ladder. HF_NO_RESULT when no number can be recommended. */
hf_status hf_plan_writing_make(hf_arena *arena, const hf_plan *plan, const char *today, hf_plan_writing *out,
                               hf_error *error);

/* The same plan for another text of the campaign, in which other parts are there already. */
hf_status hf_plan_writing_again(hf_arena *arena, const hf_campaign *campaign, const hf_plan_writing *writing,
                                hf_plan_writing *out, hf_error *error);

#endif
