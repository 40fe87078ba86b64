/* What each pull brought.
 *
 * After every part that was pulled the same question can be asked: which load may one work with now? The row of answers shows what a single
 * pull is worth, how the answer settles, and, with what more parts would bring, whether going on pays. It is a look back: only the last of
 * these answers was meant to be taken, and the pulls before it were not looked at for stopping. Loads are newtons. */
#ifndef HOLDFAST_STUDY_SO_FAR_H
#define HOLDFAST_STUDY_SO_FAR_H

#include "holdfast/planning/next.h"
#include "holdfast/study/assess.h"

enum { HF_SO_FAR_MOST = 40 }; /* rows; of more pulls only every second, third … is looked at */

typedef struct hf_so_far_row {
    size_t parts; /* used, the first so many in the order of pulling */
    double
        load; /* working load before it is rounded, or where none is stated the bound; NaN: there was none */
} hf_so_far_row;

typedef struct hf_so_far {
    const hf_design *design;
    bool working_load; /* the rows are working loads */
    bool
        order_stated; /* every part states its "order", or a date with its time; else they stand as in the file */
    double asked;     /* service load, or where the rows are bounds the required bound; NaN: none */
    const hf_so_far_row *rows;
    size_t count;
    const hf_next *next; /* of bounds; NULL: the pulls are too few to foretell anything */
    double share;        /* of the last row's load in its bound: what a bound foretold comes to */
} hf_so_far;

/* Assesses the design after its second, third, … part. HF_NO_RESULT when no number of parts gives an answer. Lives in the arena. */
hf_status hf_so_far_of(hf_arena *arena, const hf_campaign *campaign, const hf_design *design, uint64_t seed,
                       hf_so_far *out, hf_error *error);

#endif
