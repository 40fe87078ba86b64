/* How many parts to pull.
 *
 * Few parts give a low bound: not because the parts are weak but because little is known. For each number n the bound is worked
 * out that would come of it if the guess were true: what to expect, the range that chance leaves, and the chance that a wanted bound is
 * reached. Continuous readings and a normal or lognormal bound have closed forms; everything else is pulled in numbers, on the very
 * ladder that is proposed and with the bound code of the assessment. All n and all scatters share their random numbers, so
 * that differences between rows are real. */
#ifndef HOLDFAST_PLANNING_HOW_MANY_H
#define HOLDFAST_PLANNING_HOW_MANY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/planning/guess.h"
#include "holdfast/strength/stated_scatter.h"

typedef struct hf_how_many_setup {
    const hf_family *law; /* of the guess; NULL: the family of the bound */
    double mean, cv;
    const hf_family *family; /* of the bound; NULL: the governing rule */
    double content, confidence;
    const double *loads; /* ladder, ascending forces; NULL: continuous readings */
    size_t load_count;
    double tare;      /* lower end of a failure at the first load */
    double required;  /* wanted bound; NaN: none */
    double assurance; /* wanted chance of it; 0: 0.80 */
    const hf_stated_scatter
        *scatter;            /* governs unless the pulls contradict it, as in the assessment; NULL: none */
    size_t most;             /* last n of the table, 2 … 1000, with a stated scatter also 1; 0: 30 */
    double minutes_per_pull; /* for the minutes column; NaN when unknown */
    uint64_t seed;
    size_t
        replicates; /* 0: 4 000; 400 when more than 1 % of single pulls end open; fewer, down to 200, where the many open
                                samples would take longer than about a second */
} hf_how_many_setup;

typedef struct hf_how_many_row {
    size_t n;
    double k, k_error;
    double expected,
        expected_error; /* mean bound (of the samples that get one) and its standard error; 0 when exact */
    double share;       /* expected ÷ guessed mean */
    double low, middle,
        high; /* 10, 50 and 90 % points of the bound; samples without one count as lowest (−INFINITY) */
    double assurance,
        assurance_error;  /* chance that the bound is at least `required`; NaN without a requirement */
    double without_bound; /* share of samples that give no bound; never above 0.05 in the recommended row */
    double open;          /* share of samples with open pulls */
    double minutes;       /* n · minutes_per_pull */
} hf_how_many_row;

typedef enum hf_how_many_reason {
    HF_PARTS_ASSURED,     /* assured: the smallest n that reaches the assurance */
    HF_PARTS_NOT_ASSURED, /* not_assured: no n of the table reaches it; recommended is 0 */
    HF_PARTS_IMPOSSIBLE, /* above_quantile: the wanted bound is above what the content carries if the guess is true; recommended 0 */
    HF_PARTS_LEVELLED, /* levelled: from this n on every further row lifts the best expected bound so far by less than 1 % of the mean */
    HF_PARTS_ONLY_ONE, /* only_one: the table ends at one part, and one part cannot show that the stated scatter is wrong */
    HF_PARTS_NOT_BROKEN, /* not_broken: most parts would outlast the ladder, and no bound is wanted that they could prove; recommended 0 */
    HF_PARTS_STILL_RISING, /* still_rising: one more part still lifts it by more at the end of the table; recommended is the last n */
    HF_PARTS_BROKEN_AT_FIRST, /* broken_at_first: most parts would break at the first rung of the ladder; recommended 0 */
    HF_PARTS_NO_BOUND /* no_bound: more than 5 % of the tests of that size would end without any bound; recommended 0 */
} hf_how_many_reason;

/* The code of a reason. Static. */
const char *hf_how_many_reason_code(hf_how_many_reason reason);

typedef struct hf_how_many {
    const hf_how_many_row *rows; /* n = 2 … most */
    size_t count;
    const hf_how_many_row *one; /* what one part would give, from the stated scatter; NULL without one */
    size_t by_scatter;          /* rows up to this n lean on the stated scatter: all of them; 0: none */
    size_t recommended;         /* 0: none; never 1: one part cannot contradict the stated scatter */
    hf_how_many_reason reason;
    bool exact;           /* closed forms */
    size_t replicates;    /* 0 when exact */
    double true_quantile; /* load that the content carries if the guess is true */
    double open_share;    /* chance that one pull ends open */
} hf_how_many;

/* Fills the table, rows in the arena. HF_RANGE for arguments outside their ranges, HF_MEMORY, or the status of the factor. Same bits on
 * any number of threads. */
hf_status hf_how_many_parts(hf_arena *arena, const hf_how_many_setup *setup, hf_how_many *out);

#endif
