/* How often a bound keeps its promise, found by pulling parts that exist only as numbers.
 *
 * A bound with confidence 95 % may be wrong one time in twenty, not more. Whether it is can be seen when the truth is known: parts of a
 * known law are pulled on a ladder, the bound is taken, and it is counted how often it lies at or below the load that
 * the promised share of all parts really carries. What people do with bounds can be tried as well: look after every pull, choose the best of
 * several designs, pull parts of several batches, count on the scatter of earlier designs. A study may be cut into shards that run on different machines: counts are whole
 * numbers, and the shards together give the bits of one run. */
#ifndef HOLDFAST_PLANNING_COVERAGE_H
#define HOLDFAST_PLANNING_COVERAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/planning/method.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/looks.h"

typedef enum hf_coverage_ladder {
    HF_LADDER_CONTINUOUS, /* every strength is read exactly */
    HF_LADDER_WORKING,    /* equal steps on the true law's working scale */
    HF_LADDER_LOAD,       /* equal steps of load */
    HF_LADDER_TWO_SPEED, /* equal steps of load; coarse ones up to 0.75 × the load that 0.5 % do not reach */
    HF_LADDER_IRREGULAR /* steps of load between 0.5 and 1.5 times the wanted one, drawn with the ladder seed */
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
    /* Looks: a bound at each of these parts, all at `confidence`; right is a sample whose bounds are right in all looks. NULL: one look, at n,
     * which is the last one of a plan. Planned early confidences are not simulated. */
    const hf_look_plan *looks;
    size_t
        designs; /* so many designs of this law are pulled and the one whose (last) bound is highest counts; 0, 1: one */
    /* Batches of so many parts, n in all, a share of the variance between them; the bound is the lower of the batch bound and the
     * family's. Batches differ by a normal amount of ln load and the parts follow the law about it; or (`batches_skewed`) batches and
     * parts are skewed alike, so that all parts together follow the law exactly. NULL: parts of one kind. */
    const size_t *batches;
    size_t batch_count;
    double between_share; /* 0 ≤ share ≤ 1 */
    bool batches_skewed;
    bool batch_alone; /* the batch bound by itself */
    bool
        between_stated; /* of one batch: the bound counts the true scatter between batches, stated; log scale only */
    /* The scatter of so many earlier designs, each of past_parts parts (2 or more) in steps of past_step standard deviations (0: exact), counts;
     * n may then be 1. Every design, the new one too, scatters e^(past_apart·z) times as much as the law, z standard normal. Exact readings
     * or steps equal in ln load. 0: no earlier designs. */
    size_t past_designs, past_parts;
    double past_apart, past_step;
    size_t replicates;          /* ≥ 1, rounded up to a multiple of HF_LANES */
    uint64_t seed, ladder_seed; /* ladder_seed: which irregular ladder */
} hf_coverage_cell;

/* What is counted, as whole numbers, so that shards add up exactly. */
typedef struct hf_coverage_counts {
    uint64_t replicates, given, right, open;
    int64_t margin; /* sum of (location − bound)/s in units of 2⁻¹⁶, of samples with a bound */
} hf_coverage_counts;

typedef struct hf_coverage {
    double coverage; /* share of samples without a wrong promise: bound right, or no bound given */
    double standard_error;
    double given_bound; /* share that is right among samples with a bound; NaN without any */
    double bound_share; /* share of samples that got a bound */
    double open_share;  /* share of samples with open pulls (of all looks, of all designs) */
    double
        mean_margin; /* mean of (location − bound)/s on the true working scale; only when both scales are the same, else NaN */
    double true_quantile; /* load that the content really carries, mean strength being 1 */
    size_t replicates;
} hf_coverage;

/* One shard of a cell, 0 ≤ shard < shards: every shards-th block of samples. Same bits on any number of threads; statuses as below. */
hf_status hf_coverage_count(const hf_coverage_cell *cell, size_t shard, size_t shards,
                            hf_coverage_counts *out);
/* Adds the counts of another shard. */
void hf_coverage_add(hf_coverage_counts *sum, const hf_coverage_counts *other);
/* What the counts of all shards say. HF_NO_RESULT without samples. */
hf_status hf_coverage_summary(const hf_coverage_cell *cell, const hf_coverage_counts *counts,
                              hf_coverage *out);

/* Simulates one cell. Same bits on any number of threads. HF_RANGE for arguments outside the ranges (also where the one formula is
 * not proven for steps, unless the method is another), HF_MEMORY, or the status of the factor. */
hf_status hf_coverage_of(const hf_coverage_cell *cell, hf_coverage *out);

#endif
