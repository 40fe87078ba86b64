/* How often a bound by a stated scatter is right, the earlier parts being pulled in numbers too. */
#ifndef HF_TESTS_COVERAGE_SCATTER_H
#define HF_TESTS_COVERAGE_SCATTER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/strength/family.h"

typedef struct hf_scatter_promise {
    double content, confidence, floor;
} hf_scatter_promise;

enum { HF_SCATTER_PROMISES = 4, HF_SCATTER_MOST_PARTS = 128 };
extern const hf_scatter_promise hf_scatter_promises[HF_SCATTER_PROMISES];

typedef struct hf_scatter_cell {
    const hf_family *truth;
    double cv;      /* true */
    double times;   /* true cv over that of the earlier parts, or over the assumed one; 1: as stated */
    double degrees; /* of the earlier parts (one more part); INFINITY: assumed */
    size_t n;
    double step;  /* of load, in standard deviations; 0: exact readings */
    double place; /* of a rung above the mean, in steps */
    size_t held;  /* so many of the parts are run out at the mean if they get there */
    bool unconfronted;
    size_t replicates;
    uint64_t seed;
} hf_scatter_cell;

typedef struct hf_scatter_coverage {
    double right[HF_SCATTER_PROMISES]; /* share of samples without a wrong promise */
    double error[HF_SCATTER_PROMISES];
    double contradicted, given; /* share of samples */
} hf_scatter_coverage;

/* Same bits on any number of threads. Ends the program with a message when a cell cannot be simulated. */
hf_scatter_coverage hf_scatter_coverage_of(const hf_scatter_cell *cell);

/* The worst of several ladder places for each promise, the worst place again with `refined` samples and a new seed. */
hf_scatter_coverage hf_scatter_worst(const hf_scatter_cell *cell, size_t places, size_t refined);

#endif
