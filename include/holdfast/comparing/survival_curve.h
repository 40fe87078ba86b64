/* The share that holds, without any law.
 *
 * From steps and unfinished pulls alone, the share of parts that carries a load is known only at certain loads: the estimate
 * (Peto 1973; Turnbull 1976) puts weight on the few steps where pulls overlap as closely as they can, and nowhere else.
 * It is what a fitted curve is to be held against. */
#ifndef HOLDFAST_COMPARING_SURVIVAL_CURVE_H
#define HOLDFAST_COMPARING_SURVIVAL_CURVE_H

#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

typedef struct hf_survival_step {
    double lower,
        upper; /* weight lies in (lower, upper], load; equal for an exact reading; upper may be INFINITY */
    double mass;
} hf_survival_step;

typedef struct hf_survival_curve {
    const hf_survival_step *steps; /* ascending, mass > 0 or the maximum needs none there */
    size_t count;
    double log_likelihood;
    double gap; /* largest violation of the optimum's condition, 0 at the maximum */
    int iterations;
} hf_survival_curve;

/* Nonparametric maximum likelihood; 2000 pulls take some hundredths of a second. Arrays in `arena`. HF_NO_RESULT for an empty sample,
 * HF_NUMERIC when 30 000 steps leave a gap above 1e-9 (the result is filled in; some hundred are usual), HF_MEMORY. */
hf_status hf_survival_curve_of(hf_arena *arena, hf_sample sample, hf_survival_curve *out);

#endif
