/* How often a comparison keeps its promise, found by pulling two designs that exist only as numbers.
 *
 * A test at a level of 5 % may see a difference that is not there one time in twenty, and an interval at 95 % may miss the true ratio
 * one time in twenty. Whether they do, with a handful of parts on a coarse ladder, is found by pulling parts of two known laws
 * and comparing them by the very routines that compare real pulls. */
#ifndef HOLDFAST_PLANNING_COMPARISON_COVERAGE_H
#define HOLDFAST_PLANNING_COMPARISON_COVERAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

typedef struct hf_comparison_side {
    size_t n;      /* 2 … 10 000 */
    double spread; /* true standard deviation of ln load, above 0 and at most 1 */
    double step; /* of the ladder, in standard deviations of the first design's ln load; 0: exact readings */
    double offset; /* one rung lies so many of these above the middle between the two true means of ln load */
    const size_t *batches; /* numbers of parts in its batches, n in all; NULL: parts of no batch */
    size_t batch_count;
} hf_comparison_side;

/* Which test takes samples with open pulls. Samples without any go to Welch's test by the first and the last two, of the
 * batch means where both designs have two batches or more and the rule is not the last. */
typedef enum hf_comparison_rule {
    HF_RULE_AS_COMPARED,       /* what `compare` does, hf_open_compare_of */
    HF_RULE_COMMON_SCATTER,    /* likelihood, one scatter for both */
    HF_RULE_OWN_SCATTER,       /* likelihood, each its own */
    HF_RULE_OPEN_WELCH,        /* Welch's test carried over to open pulls */
    HF_RULE_WITHOUT_ALLOWANCE, /* a habit: middles as if they were exact readings; only without open pulls */
    HF_RULE_BY_PARTS           /* a habit: each part for itself, whatever its batch */
} hf_comparison_rule;

typedef struct hf_comparison_cell {
    const hf_family *truth; /* lognormal or weibull; NULL: lognormal */
    hf_comparison_side a, b;
    double
        between_share; /* of the variance of ln load between batches, 0 … 1, normal from batch to batch, parts of the law about it */
    double ratio;      /* true ratio of the geometric means, A over B, > 0 */
    bool load_steps;   /* steps equal in load, not in per cent: `step` counts at the middle of the means */
    double
        stop_share; /* each ladder ends with the highest rung that at most this share of A's parts does not hold; 0: it goes on, no run-outs */
    double
        first_share; /* each ladder begins with the lowest rung that at least this share of A's parts does not hold; 0: low enough for all */
    hf_comparison_rule rule;
    double level;      /* of the test; 0: 0.05 */
    size_t replicates; /* ≥ 1, rounded up to a multiple of HF_LANES */
    uint64_t seed;
} hf_comparison_cell;

typedef struct hf_comparison_coverage {
    double
        rejected; /* share of samples told apart (p ≤ level): the level when the ratio is 1, else the power */
    double rejected_error; /* its standard error */
    double
        wrong_side; /* share told apart with the weaker called the stronger (ratio other than 1), or in favour of A (ratio 1) */
    double coverage; /* share of samples whose interval holds the true ratio, or that gave none */
    double coverage_error;
    double given;      /* share of samples that gave an interval at all */
    double open_share; /* share of samples with open pulls */
    double caution_small,
        caution_scatter; /* share of samples in which these cautions of contrast.h fired (finished pulls) */
    double mean_width; /* mean of ln(high/low) over the finite intervals, in spreads of A; NaN without any */
    size_t replicates;
} hf_comparison_coverage;

/* Simulates one cell. Same bits on any number of threads. Samples of finished pulls allocate nothing. HF_RANGE for arguments outside
 * the ranges, HF_MEMORY. */
hf_status hf_comparison_coverage_of(const hf_comparison_cell *cell, hf_comparison_coverage *out);

#endif
