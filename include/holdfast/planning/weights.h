/* Which weights to hang next.
 *
 * A rig has a heap of weights, a few of each kind. For every rung of the ladder some of them must hang, and every change is
 * handling: a piece put on or taken off. For the next rung the combination is wanted that needs the least handling from the
 * one that hangs now. The search is exact: the kinds are split into two halves, all combinations of each half are listed,
 * and the two sorted lists are walked against each other (Horowitz & Sahni 1974). Values are whole numbers in any unit
 * the caller likes, grams for instance, so that sums are exact. */
#ifndef HOLDFAST_PLANNING_WEIGHTS_H
#define HOLDFAST_PLANNING_WEIGHTS_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"

enum { HF_WEIGHT_KINDS = 64, HF_WEIGHT_HALF = 1 << 22 }; /* most kinds; most combinations of one half */

typedef struct hf_weight_kind {
    int64_t value; /* > 0, at most 10^12 */
    int count;     /* owned, 1 … 10 000 */
} hf_weight_kind;

/* What hangs: pieces of each kind, in the order the kinds were given. */
typedef struct hf_weight_load {
    int64_t total;
    int pieces;   /* that hang */
    int handling; /* put on or taken off since the load before */
    int count[HF_WEIGHT_KINDS];
} hf_weight_load;

typedef struct hf_weight_search hf_weight_search;

/* Prepares a search over `count` kinds (kinds of one value may repeat), memory in the arena. HF_RANGE for numbers outside their range or
 * too many combinations (more than HF_WEIGHT_HALF in each half: about 44 single pieces, more when there are several of a
 * kind), HF_MEMORY. Not for several threads at once. */
hf_status hf_weight_search_create(hf_arena *arena, const hf_weight_kind *kinds, size_t count,
                                  hf_weight_search **out);

/* Largest total ≤ limit that can be made (0 when nothing fits and limit ≥ 0); HF_NO_RESULT for a negative limit. */
hf_status hf_weight_largest(const hf_weight_search *search, int64_t limit, int64_t *total);

/* Smallest total > above that can be made; HF_NO_RESULT when all weights together do not reach it. */
hf_status hf_weight_smallest(const hf_weight_search *search, int64_t above, int64_t *total);

/* From what hangs now (`now`, all zero for an empty hanger) the load with low ≤ total ≤ high of least handling; among
 * those the largest total, then the fewest pieces. HF_NO_RESULT when none can be made. */
hf_status hf_weight_next(hf_weight_search *search, const hf_weight_load *now, int64_t low, int64_t high,
                         hf_weight_load *out);

#endif
