/* Looking after every pull, without breaking the promise.
 *
 * Who takes a bound after the 3rd, the 4th … the 10th part and stops when it is enough takes eight chances of being wrong, and a 90/95 bound
 * is then right in all its looks only 84 times in 100. How much is lost depends on the plan of looks and on the confidence, not on the law:
 * the error of the bound at n parts is the pivot √n·(mean − q)/s, the same for every normal law, and close to it for the Weibull. So one
 * higher confidence C′, used for the factor at every look, restores the promise C, and this file finds it: it draws sequences of
 * parts in numbers, and C′ is the C quantile of the highest confidence that a sequence needs at any of its looks.
 *
 * Exact for readings on the scale of a normal law; steps make it conservative; content matters in the third figure at most. Shapes: a plan
 * is a rising list of part numbers. The simulation has fixed seeds and the same bits on any number of threads; it allocates once. */
#ifndef HOLDFAST_STRENGTH_LOOKS_H
#define HOLDFAST_STRENGTH_LOOKS_H

#include <stddef.h>
#include "holdfast/base/status.h"

enum { HF_LOOKS_MOST = 64, HF_LOOKS_LAST = 1000 };

typedef struct hf_look_plan {
    const size_t *parts; /* at so many parts a bound is taken; rising, 2 … HF_LOOKS_LAST; borrowed */
    size_t count;        /* 1 … HF_LOOKS_MOST */
    double
        early; /* confidence of every look but the last, stated (strict early looks, a cheap last one); 0: all looks alike */
} hf_look_plan;

typedef struct hf_look_confidence {
    double confidence;     /* C′ of every look; where `early` is stated, of the last one */
    double standard_error; /* of it, from the simulation */
    double plain; /* how often all looks are right when each is taken at the promised confidence itself */
    double plain_error;
} hf_look_confidence;

/* Looks at first, first + every … up to last, into parts[HF_LOOKS_MOST]; *count of them. HF_RANGE unless 2 ≤ first ≤ last ≤ HF_LOOKS_LAST,
 * every ≥ 1, and the places suffice. The last one is a look even where `every` does not reach it. */
hf_status hf_looks_list(size_t first, size_t last, size_t every, size_t *parts, size_t *count);

/* C′ for a plan, content P and promised confidence C. One look: C itself, error 0. Looks after every part that the committed table holds
 * (first 2 … 15, last up to 30; content 0.90, 0.95, 0.99; confidence 0.75, 0.90, 0.95, 0.99) are read from it, any other plan is simulated.
 * The best of d designs: give C^(1/d) as the confidence. HF_RANGE for 0.5 ≤ P < 1, 0.5 ≤ C < 0.9999 or a plan that breaks its ranges,
 * HF_NO_RESULT when the stated early looks alone already break the promise, HF_MEMORY, HF_NUMERIC. */
hf_status hf_looks_confidence(const hf_look_plan *plan, double content, double confidence,
                              hf_look_confidence *out);

/* How often all looks of a plan are right when each is taken at `each` (and those before the last at plan->early, where it is stated): what a
 * promise is worth when looks were taken that were not planned. *standard_error of it. */
hf_status hf_looks_worth(const hf_look_plan *plan, double content, double each, double *worth,
                         double *standard_error);

/* Choosing the best of d designs by their bounds: every bound at C^(1/d) together keeps C, whatever the law and the rule of choice
 * (independent samples); and what the own bound of the one that came out best is worth, C^d. d ≥ 1; NaN outside. */
double hf_best_of_confidence(double confidence, size_t designs);
double hf_best_of_worth(double confidence, size_t designs);

#endif
