/* A test bench in numbers: parts of a given law pulled on a given ladder, HF_LANES samples side by side, and the
 * bound that each sample would get. Complete samples take the fast way (family->estimate_lanes, k looked up); samples
 * with open pulls go through hf_bound_family, so both say the same. */
#ifndef HF_PLANNING_BENCH_H
#define HF_PLANNING_BENCH_H

#include <stdbool.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/planning/guess.h"
#include "holdfast/planning/method.h"
#include "planning/governing.h"

typedef struct hf_bench_ladder {
    const double *loads; /* ascending; NULL: continuous readings */
    size_t count;
    double tare; /* lower end of a failure at the first load */
    double first,
        stop; /* continuous readings only: weaker parts break below, stronger ones stay whole; 0 and INFINITY for none */
} hf_bench_ladder;

/* One bound rule with k[n] for every n that may occur. */
typedef struct hf_bench_rule {
    const hf_family *family;
    const hf_planning_method *method;
    double content, confidence;
    const double *k, *k_error, *allowance; /* index n */
    /* As the assessment does: a stated scatter governs unless the pulls contradict it; where no law has a bound, the order statistic
     * does. false: the family's bound or none. */
    bool governing;
    hf_governing_scatter scatter;
} hf_bench_rule;

typedef struct hf_bench {
    hf_guess law;
    hf_bench_ladder ladder;
    hf_bench_rule rule;
    size_t last; /* step number of a part that stays whole; 0 broke below; 1 … last − 1 closed or read */
    size_t half; /* widest stride of the search */
    double *threshold;  /* standard units of the law, padded with infinity */
    double *y, *square; /* middle and squared width of each step, working scale of the bound */
} hf_bench;

/* Pulls made already, for hf_bench lanes that continue a sample. */
typedef struct hf_bench_before {
    hf_sample sample;
    size_t closed; /* stepped ones among them */
    double square; /* sum of squared widths */
    bool open;
} hf_bench_before;

/* Bounds of samples with open pulls, remembered by what happened to the parts: few parts on few loads repeat themselves. */
typedef struct hf_bench_memo {
    size_t slots; /* 0: none */
    uint16_t *keys;
    double *values;
    bool *used;
} hf_bench_memo;

/* Room for HF_LANES samples of up to `rows` parts: value i of sample j at [i·HF_LANES + j]. */
typedef struct hf_bench_lanes {
    size_t rows;
    double *z, *y, *square, *work;
    uint32_t *step;
    uint32_t *sorted;      /* rows */
    hf_observation *items; /* rows */
    hf_bench_memo memo;
    size_t open; /* samples that had open pulls so far */
} hf_bench_lanes;

enum { HF_BENCH_MOST_LOADS = 60000, HF_MEMO_PARTS = 32 };

/* k, its error and the allowance for n = low … high, in the arena. low ≥ 2. */
hf_status hf_bench_rule_start(hf_arena *arena, const hf_family *family, const hf_planning_method *method,
                              double content, double confidence, const size_t sizes[2], hf_bench_rule *out);

/* Lets a stated scatter govern, with its factors for n = 1 … most in the arena. scatter is borrowed; NULL: none. */
hf_status hf_bench_rule_scatter(hf_arena *arena, const hf_stated_scatter *scatter, size_t most,
                                hf_bench_rule *rule);

/* Arrays live in the arena; loads are borrowed. HF_RANGE for loads that do not rise, HF_MEMORY. */
hf_status hf_bench_start(hf_arena *arena, const hf_guess *law, const hf_bench_ladder *ladder,
                         const hf_bench_rule *rule, hf_bench *out);

hf_status hf_bench_lanes_start(hf_arena *arena, size_t rows, size_t memo_slots, hf_bench_lanes *out);

/* Pulls rows [from, to): reads z, fills step, y and square. */
void hf_bench_pull(const hf_bench *bench, hf_bench_lanes *lanes, size_t from, size_t to);

/* Bound of the first n rows of each lane on the working scale of the rule's family; NaN where there is none. before may be NULL; its
 * parts must then fill the first rows of y. */
void hf_bench_bounds(const hf_bench *bench, hf_bench_lanes *lanes, size_t n, const hf_bench_before *before,
                     double out[HF_LANES]);

/* What a part that let go in this step (0 … last) at this y was seen to do. */
hf_observation hf_bench_observation(const hf_bench *bench, uint32_t step, double y);

/* Chance that one part ends open. */
double hf_bench_open_share(const hf_bench *bench);

#endif
