/* Bringing pulls from different ladders onto the rungs they share. */
#ifndef HF_COMPARING_COMMON_RUNGS_H
#define HF_COMPARING_COMMON_RUNGS_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

typedef struct hf_rungs {
    const double *loads; /* ascending */
    size_t count;
} hf_rungs;

/* The rungs that no pull steps over, with the lowest and the highest end of all; count 0 when the ladders agree already and nothing
 * has to be done. HF_MEMORY or HF_OK. */
hf_status hf_common_rungs(hf_arena *arena, const hf_observation *items, size_t count, hf_rungs *out);

/* Widens each pull to the rungs around it; the outermost ends stand in where there are none. */
void hf_widen_to_rungs(hf_rungs rungs, hf_observation *items, size_t count);

#endif
