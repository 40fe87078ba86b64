/* The ladder of loads a part climbs until it lets go.
 *
 * Most of the way up tells nothing: no part is expected to break there, so the steps may be coarse. Where parts do break, the
 * step decides how well their strength is known, so there the steps are fine: at most half a standard deviation for up to four
 * parts, one for more. The change of speed lies at 0.75 of the load that 0.5 % of all parts are expected not to
 * reach. Rungs move to what the owned weights can really make, with the least handling on the way.
 *
 * Designs that are to be compared climb one ladder: fine, by the finest step wanted there, wherever parts of any of them break. */
#ifndef HOLDFAST_PLANNING_LADDER_H
#define HOLDFAST_PLANNING_LADDER_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/planning/guess.h"
#include "holdfast/planning/weights.h"
#include "holdfast/strength/observation.h"

/* What hangs on the rig and what it may carry. Loads are forces on the part in any one unit. */
typedef struct hf_ladder_rig {
    double tare;               /* force with nothing added, ≥ 0 */
    double rating;             /* never passed; INFINITY: not stated */
    hf_weight_search *weights; /* NULL: any load can be made */
    double
        force_per_value; /* force on the part per unit of weight value (gravity, lever, angle); > 0 with weights */
    double dwell_s;      /* waited on each rung */
    double handling_s; /* for each piece put on or taken off; without weights one piece a rung */
    double mount_s;    /* for each part, before the first rung */
} hf_ladder_rig;

typedef struct hf_ladder_rung {
    double force; /* on the part */
    bool coarse;
    double reached;         /* chance that a part still holds when this rung is hung */
    hf_weight_load weights; /* what hangs; all zero when any load can be made */
} hf_ladder_rung;

typedef enum hf_ladder_end {
    HF_LADDER_ENDS_ABOVE,  /* nearly no part (0.1 %) outlasts it */
    HF_LADDER_ENDS_RATING, /* the next rung would pass the rig's rating */
    HF_LADDER_ENDS_WEIGHTS /* all weights hang */
} hf_ladder_end;

/* Why there is no ladder. */
typedef enum hf_ladder_problem {
    HF_LADDER_NO_PROBLEM,
    HF_LADDER_TARE,     /* the tare alone is as heavy as the mean strength */
    HF_LADDER_STEP,     /* the wanted step is larger than the mean, or not above 0 */
    HF_LADDER_TOO_MANY, /* more than HF_LADDER_MOST rungs */
    HF_LADDER_RATING,   /* the rating does not leave room for one rung */
    HF_LADDER_WEIGHTS   /* the weights cannot make one rung */
} hf_ladder_problem;

enum { HF_LADDER_MOST = 1000 };

typedef struct hf_ladder {
    const hf_ladder_rung *rungs;
    const double *loads; /* their forces, ascending */
    size_t count, coarse_count;
    double change;           /* load where the steps should become fine; at most the tare when all are fine */
    double step_wanted;      /* fine, load */
    double step_widest;      /* widest fine step that came out; 0 with fewer than two fine rungs */
    double expected_rungs;   /* hung per pull */
    double expected_pieces;  /* moved per pull */
    double minutes_per_pull; /* mounting, dwell and handling */
    double run_out;          /* chance that a part outlasts the top rung */
    double below_first;      /* chance that a part does not hold the first rung */
    double over_rating;      /* chance that a part is stronger than the rating; 0 when none is stated */
    double step_coarse;      /* wanted coarse step; NaN without */
    hf_ladder_end end;
    bool rating_below_twice_top; /* caution: a rig should be rated at least twice the top rung */
    bool step_too_wide;          /* some fine step came out wider than wanted */
    hf_ladder_problem problem;
} hf_ladder;

/* Default fine step: half a standard deviation of load for up to 4 parts, one for more. */
double hf_ladder_default_step(const hf_guess *guess, size_t parts);

/* Load where the steps become fine: 0.75 × the 0.5 % point; 0.75·mean·(1 − 2.6·CV) for the normal. Can be ≤ 0. */
double hf_ladder_change(const hf_guess *guess);

/* The two-speed ladder, arrays in the arena. step 0: the default for `parts`. HF_RANGE or HF_NO_RESULT with out->problem set, HF_MEMORY. */
hf_status hf_ladder_plan(hf_arena *arena, const hf_guess *guess, size_t parts, double step,
                         const hf_ladder_rig *rig, hf_ladder *out);

/* A design that climbs a ladder, and the fine step wanted where its parts break. */
typedef struct hf_ladder_design {
    hf_guess guess;
    double step; /* 0: the default for many parts */
} hf_ladder_design;

/* The ladder that `count` designs climb together, judged for the first of them; the rungs do not depend on their order. As above. */
hf_status hf_ladder_plan_common(hf_arena *arena, const hf_ladder_design *designs, size_t count,
                                const hf_ladder_rig *rig, hf_ladder *out);

/* Chances and minutes of an existing ladder (from a file or after `hf_guess` has changed) under a guess: fills reached, the expectations and chances. */
void hf_ladder_judge(const hf_guess *guess, const hf_ladder_rig *rig, hf_ladder_rung *rungs,
                     hf_ladder *ladder);

#endif
