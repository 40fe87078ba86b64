/* How often a bound keeps its promise, found by pulling parts that exist only as numbers.
 *
 * A bound with confidence 95 % may be wrong one time in twenty, not more. Whether it is can be seen when the truth is known: parts of a
 * known law are pulled on a ladder, the bound is taken, and it is counted how often it lies at or below the load that
 * the promised share of all parts really carries. */
#ifndef HOLDFAST_PLANNING_COVERAGE_H
#define HOLDFAST_PLANNING_COVERAGE_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/planning/method.h"
#include "holdfast/strength/family.h"

typedef enum hf_coverage_ladder {
    HF_LADDER_CONTINUOUS, /* every strength is read exactly */
    HF_LADDER_WORKING,    /* equal steps on the true law's working scale */
    HF_LADDER_LOAD,       /* equal steps of load */
    HF_LADDER_TWO_SPEED, /* equal steps of load; coarse ones up to 0.75 × the load that 0.5 % do not reach */
    HF_LADDER_IRREGULAR /* steps of load between 0.5 and 1.5 times the wanted one, drawn with the seed of the cell */
} hf_coverage_ladder;

enum { HF_COVERAGE_LADDERS = 5 };

/* "continuous", "working", "load", "two_speed", "irregular". Static. */
const char *hf_coverage_ladder_name(hf_coverage_ladder kind);

typedef struct hf_coverage_cell {
    const hf_family *truth;
    double
        cv; /* of the true law, 0 < cv ≤ 1; matters wherever the ladder or the bound is not on its working scale */
    const hf_family *family;          /* of the bound; NULL: the governing rule */
    const hf_planning_method *method; /* NULL: formula */
    size_t n;                         /* 2 … 10 000 */
    double content, confidence;
    hf_coverage_ladder ladder;
    double
        step; /* in standard deviations of strength: on the working scale for HF_LADDER_WORKING, of load for the others; > 0 */
    double
        offset; /* one rung lies this many standard deviations above the mean (two-speed: above the change of speed) */
    double coarse; /* coarse step over fine step, ≥ 1 (two-speed only) */
    double
        stop_share; /* the highest rung is the highest that at most this share of all parts does not hold; 0: no run-outs */
    double
        first_share; /* the first rung is the lowest that at least this share does not hold; 0: as low as can be */
    size_t replicates; /* ≥ 1, rounded up to a multiple of HF_LANES */
    uint64_t seed;
} hf_coverage_cell;

typedef struct hf_coverage {
    double coverage; /* share of samples without a wrong promise: bound right, or no bound given */
    double standard_error;
    double given_bound; /* share that is right among samples with a bound; NaN without any */
    double bound_share; /* share of samples that got a bound */
    double open_share;  /* share of samples with open pulls */
    double
        mean_margin; /* mean of (location − bound)/s on the true working scale; only when both scales are the same, else NaN */
    double true_quantile; /* load that the content really carries, mean strength being 1 */
    size_t replicates;
} hf_coverage;

/* Simulates one cell. Same bits on any number of threads. HF_RANGE for arguments outside the ranges (also where the one formula is
 * not proven for steps, unless the method is another), HF_MEMORY, or the status of the factor. */
hf_status hf_coverage_of(const hf_coverage_cell *cell, hf_coverage *out);

#endif
