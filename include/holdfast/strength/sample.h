/* The same pulls, whatever the order and the unit they were written in.
 *
 * A sample is a set: which pull stands first in the file means nothing. But sums round by their order, and a load that was computed on two ways
 * (75 kg as weights, or as newtons) differs in its last digits, while the ties of stepped pulls are real: two parts that
 * failed in one step failed in the same step. So a sample is put into one order, by its numbers alone, and loads that differ by less than
 * any balance can tell become one load, before anything is fitted, tested or drawn at random. */
#ifndef HOLDFAST_STRENGTH_SAMPLE_H
#define HOLDFAST_STRENGTH_SAMPLE_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

/* Relative distance below which two loads are the same, and two statistics tie. */
#define HF_SAME 1e-9

/* Whether two loads ≥ 0 (INFINITY allowed) are the same. */
bool hf_same_load(double a, double b);

/* −1, 0, 1: by lower end, upper end, kind, dropped, batch. 0 for pulls that say the same. */
int hf_observation_order(const hf_observation *a, const hf_observation *b);

/* Whether every part states its batch: one without could be of any. *several (NULL: not wanted): they name two or more. */
bool hf_sample_in_batches(hf_sample sample, bool *several);

/* Ends that lie within HF_SAME of the next lower one become the lowest of their row; a step that closes so becomes an exact reading. Changes
 * items in place, keeps their order. HF_MEMORY. */
hf_status hf_sample_join_neighbours(hf_observation *items, size_t count);

/* Joins neighbours, then puts the items into their order. HF_MEMORY. */
hf_status hf_sample_settle(hf_observation *items, size_t count);

/* −1, 0, 1: the shorter sample first, then by the first pull that differs. Both in order. */
int hf_sample_order(hf_sample a, hf_sample b);

#endif
