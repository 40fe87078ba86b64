/* Climbing rung by rung: the one place where a wanted window of load becomes a load that can be made. */
#ifndef HF_PLANNING_CLIMB_H
#define HF_PLANNING_CLIMB_H

#include "holdfast/planning/ladder.h"

typedef struct hf_climb {
    const hf_ladder_rig *rig;
    hf_ladder_rung *rungs; /* HF_LADDER_MOST */
    size_t count;
    double force; /* on the part now */
    hf_weight_load hanging;
} hf_climb;

hf_status hf_climb_start(hf_arena *arena, const hf_ladder_rig *rig, hf_climb *out);

typedef enum hf_climb_result { HF_CLIMBED, HF_CLIMB_RATING, HF_CLIMB_WEIGHTS, HF_CLIMB_FULL } hf_climb_result;

/* One rung up by at most `step`: the least handling among the last quarter of it, else the highest load within it, else the next
 * higher one that can be made. */
hf_climb_result hf_climb_up(hf_climb *climb, double step, bool coarse);

/* Up to just this: `total` of the weights, which can be made, or where any load can be made `force`. */
void hf_climb_to(hf_climb *climb, int64_t total, double force);

/* Copies forces to the arena and hands the rungs to the ladder. */
hf_status hf_climb_finish(hf_arena *arena, const hf_climb *climb, hf_ladder *out);

#endif
