/* Comparing what can be trusted, not the average.
 *
 * A design with the higher mean may still have the weaker tail. Here the chosen lower quantile (the load that the share
 * P of all parts carries) of A is set against that of B: both are drawn many times from what the pulls leave open about m
 * and s, and the interval of their ratio is read off the draws. */
#ifndef HOLDFAST_COMPARING_QUANTILE_DIFFERENCE_H
#define HOLDFAST_COMPARING_QUANTILE_DIFFERENCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

/* `count` draws of (m, s) on the working scale of `family`, given the sample. Without open pulls: m̂ − S·m₀/s₀, S/s₀ with m₀, s₀ the estimates of
 * standard samples of the same size and S = √(s² + h²/8). With open pulls: from the conditional distribution behind the open bound
 * (prior 1/s, closed steps at their mids), stretched about m̂ by √(1 + h²/(8·s′²)). Same bits on any number of
 * threads. HF_NO_RESULT with fewer than two finished pulls, without any scatter to see, or when open pulls meet equal mids; HF_MEMORY,
 * HF_NUMERIC. */
hf_status hf_conditional_draws(const hf_family *family, hf_sample sample, uint64_t seed, size_t count,
                               double *m, double *s);

typedef struct hf_quantile_difference {
    const hf_family *family;
    double content, level;
    double quantile_a, quantile_b;                      /* point estimates, load; middle of the draws */
    double difference, difference_low, difference_high; /* A − B, load; middle and interval of the draws */
    double ratio, ratio_low, ratio_high;                /* NaN for a family that allows negative loads */
    double p; /* twice the smaller share of draws on one side of no difference, at least 1/draws */
    size_t draws;
} hf_quantile_difference;

/* 0.5 ≤ content < 1, 0 < level < 1 (HF_RANGE otherwise); draws 0 means 40 000. Statuses of hf_conditional_draws. */
hf_status hf_quantile_difference_of(hf_arena *arena, const hf_family *family, hf_sample a, hf_sample b,
                                    double content, double level, uint64_t seed, size_t draws,
                                    hf_quantile_difference *out);

#endif
