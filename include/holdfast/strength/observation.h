/* What one pull says about a part's strength.
 *
 * A scale read continuously gives a value. A stepped pull only says between which two loads the part let
 * go. A part that broke at the very first load is only known to be weaker than that; one that was still whole when the weights ran out
 * is only known to be stronger. Fit and bound use all four kinds for what they are. Loads are positive
 * numbers in any one unit. */
#ifndef HOLDFAST_STRENGTH_OBSERVATION_H
#define HOLDFAST_STRENGTH_OBSERVATION_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/load/interval.h"

typedef struct hf_observation {
    hf_interval_kind kind; /* never NONE */
    double lower, upper;
    bool
        dropped; /* the failing step was dropped on: likelihood up to lower + 2(upper − lower), width doubled */
    int batch; /* number of the batch from 0; −1 when not stated */
} hf_observation;

typedef struct hf_sample {
    const hf_observation *items;
    size_t count;
} hf_sample;

typedef struct hf_sample_counts {
    size_t exact, closed, below, above;
} hf_sample_counts;

/* The load that the part is known not to have held, as the likelihood takes it: `upper`, and for a closed step that was dropped on
 * lower + 2(upper − lower), because a sudden load peaks at twice the step (methods, section 1). INFINITY when open above. */
double hf_observation_upper(const hf_observation *item);

hf_sample_counts hf_sample_count(hf_sample sample);

/* Root mean square width of the closed steps in load (dropped ones doubled); 0 when there are none. */
double hf_sample_step(hf_sample sample);

#endif
