/* At which confidence the bounds of a design are taken, so that what is promised survives what people do.
 *
 * Who looks after every pull and stops when it is enough, or picks the design whose bound came out best, takes many chances of being wrong.
 * Where the file states such looks, each bound is taken at a higher confidence, and all of them together keep the one that is promised
 * (holdfast/strength/looks.h). Nothing is adjusted that was not stated; what the promise is then worth is told instead. */
#ifndef HOLDFAST_STUDY_PROMISE_H
#define HOLDFAST_STUDY_PROMISE_H

#include "holdfast/campaign/campaign.h"
#include "holdfast/strength/looks.h"

/* Where the pulls stand among the looks. */
typedef enum hf_look_stand {
    HF_LOOK_NOT_STATED,
    HF_LOOK_BEFORE_FIRST,
    HF_LOOK_STATED, /* at one of them */
    HF_LOOK_BETWEEN,
    HF_LOOK_PAST_LAST
} hf_look_stand;

#define HF_LOOK_STANDS "not_stated", "before_first", "at_look", "between", "past_last"

typedef struct hf_design_looks {
    hf_look_stand stand;
    hf_stated_looks plan; /* as stated */
    size_t now;           /* parts counted so far */
    size_t number;        /* stated looks up to now, this one included */
    size_t next;          /* parts at the next stated look; 0: none is left */
    hf_look_confidence
        each; /* of every look, with `plain`: what the promise is worth without it; NaN where none are stated */
    double used; /* confidence of the bound at hand */
    double
        worth; /* how often all looks are right, when one more is taken now, or when looks were not stated and one at `on_to`
                     parts follows; NaN: as promised */
    double worth_every; /* not stated: with a look after every pull up to `on_to`; NaN: not worked out */
    size_t
        on_to; /* not stated: parts if the planned ones are pulled, else twice as many, at least five; 0: not worked out */
} hf_design_looks;

typedef struct hf_promise {
    double content, confidence; /* promised */
    double used;                /* confidence of the bounds */
    size_t picked_from; /* so many designs, of which the best is picked; 0: each is used for what it is */
    hf_design_looks looks;
} hf_promise;

/* For `now` counted parts, of the best of picked_from designs (0, 1: no choice), first the confidence of each design, then that of each look,
 * with `planned` more in the file. HF_MEMORY; where C′ cannot be worked out (promise or looks beyond its range) the
 * looks count as not stated and HF_OK is returned with looks.used NaN. */
hf_status hf_promise_of(const hf_goal *goal, double content, double confidence, size_t now, size_t planned,
                        size_t picked_from, hf_promise *out);

/* What going on costs where no looks are stated: a look now and one at the end, or one after every pull. HF_MEMORY. */
hf_status hf_promise_go_on(hf_promise *promise, size_t planned);

#endif
