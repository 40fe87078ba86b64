/* What looks buy: who may stop at the first bound that is enough often needs fewer parts, and reaches it more often.
 *
 * Beside a fixed number of parts stands a plan of looks at C′ (looks.h): parts are pulled until the bound reaches what is required, or to
 * the last look. How often it is reached, and after how many parts on the average, is simulated with the guessed law. */
#ifndef HOLDFAST_PLANNING_LOOKS_GAIN_H
#define HOLDFAST_PLANNING_LOOKS_GAIN_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/planning/guess.h"
#include "holdfast/strength/looks.h"

typedef struct hf_looks_gain_setup {
    hf_guess law;
    const hf_family *family;  /* of the bound, on the law's working scale or not; NULL: the governing one */
    double content, required; /* load that the bound must reach */
    size_t replicates;        /* ≥ 1, rounded up to a multiple of HF_LANES */
    uint64_t seed;
} hf_looks_gain_setup;

typedef struct hf_looks_gain {
    double reached, reached_error; /* chance that one of the looks reaches the required bound */
    double parts,
        parts_error; /* mean number of parts pulled, those who never reach it counted with the last look */
} hf_looks_gain;

/* Exact readings. Every look at `each`, those before the last at plan->early where it is stated. One look with a plan of one number is a
 * fixed number of parts. Same bits on any number of threads. HF_RANGE, HF_MEMORY or the status of the factor. */
hf_status hf_looks_gain_of(const hf_looks_gain_setup *setup, const hf_look_plan *plan, double each,
                           hf_looks_gain *out);

#endif
