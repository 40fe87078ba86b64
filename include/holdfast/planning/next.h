/* What more parts would bring, given the parts already pulled.
 *
 * The pulls leave the law open to some degree. Laws that fit them are drawn, more parts of each are pulled in numbers, and the
 * bound of old and new parts together is taken: so the bound after one, two, … more parts can be foretold, with its range and the
 * chance that it reaches the goal. Looking at the bound and then deciding to go on is a look more than planned; whoever reports the
 * result must say so. */
#ifndef HOLDFAST_PLANNING_NEXT_H
#define HOLDFAST_PLANNING_NEXT_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"
#include "holdfast/strength/stated_scatter.h"

typedef struct hf_next_setup {
    hf_sample sample;        /* pulled so far */
    const hf_family *family; /* of the bound and of the laws drawn; NULL: the governing rule */
    double content, confidence;
    const double *loads; /* ladder of the next parts; NULL: continuous readings */
    size_t load_count;
    double tare;
    const hf_stated_scatter
        *scatter;    /* governs unless the pulls contradict it, as in the assessment; NULL: none */
    double required; /* wanted bound; NaN: none */
    size_t more;     /* up to how many more parts, 1 … 200; 0: 10 */
    uint64_t seed;
    size_t
        replicates; /* 0: 4 000, or 400 when the sample has open pulls or a new part ends open with a chance above 1 % */
} hf_next_setup;

typedef struct hf_next_row {
    size_t more, n;
    double expected, expected_error; /* of the bound; mean over the replicates that get one */
    double low, middle, high;        /* 10, 50 and 90 % points; −INFINITY where there is no bound */
    double chance, chance_error;     /* that the bound reaches `required`; NaN without */
} hf_next_row;

typedef struct hf_next {
    double now;              /* bound of the sample; NaN when there is none */
    const hf_next_row *rows; /* more = 1, 2, … */
    size_t count;
    size_t replicates;
} hf_next;

/* Rows in the arena. HF_NO_RESULT when the sample is too small to draw laws from (fewer than two finished pulls, no scatter to see),
 * HF_RANGE for arguments outside their ranges, HF_MEMORY, HF_NUMERIC. Same bits on any number of threads. */
hf_status hf_next_parts(hf_arena *arena, const hf_next_setup *setup, hf_next *out);

#endif
