/* One part pulled to find the range.
 *
 * When nothing is known, equal steps are either far too many or far too coarse. A pilot climbs a ladder whose rungs
 * grow by a constant factor; whatever the strength, one pull then fixes it within that factor. The pilot is kept as its own
 * wide interval, and the guess is moved to it: how far depends on how sure the guess was. */
#ifndef HOLDFAST_PLANNING_PILOT_H
#define HOLDFAST_PLANNING_PILOT_H

#include "holdfast/planning/ladder.h"

/* Rungs start, start·ratio, … up to at least `top`, as rig and weights allow. 0 < start < top, 1 < ratio ≤ 4; start above the
 * tare. Chances and minutes in *out are NaN: nothing is known. HF_RANGE or HF_NO_RESULT with out->problem set, HF_MEMORY. */
hf_status hf_pilot_ladder(hf_arena *arena, double start, double top, double ratio, const hf_ladder_rig *rig,
                          hf_ladder *out);

/* A mean strength and how well it is known: standard uncertainty of its logarithm, INFINITY when nothing is known. */
typedef struct hf_pilot_belief {
    double mean;
    double uncertainty;
    double low, high; /* 90 % range of the mean */
} hf_pilot_belief;

/* The guess after a pilot. The pull's middle is one part of a kind with coefficient of variation cv, known to its step: ln of it
 * has the variance cv² + (ln b − ln a)²/12; it is weighed against `before` (NULL: nothing known) by precision. HF_NO_RESULT for a pull
 * that ended open (broke at the first rung: start lighter; still whole: go on heavier), HF_RANGE for cv outside (0, 1]. */
hf_status hf_pilot_update(const hf_pilot_belief *before, double cv, hf_observation pull,
                          hf_pilot_belief *after);

#endif
