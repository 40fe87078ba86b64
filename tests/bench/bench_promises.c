#define _GNU_SOURCE
#include "bench/bench_promises.h"

#include <math.h>
#include <stdio.h>
#include <time.h>
#include "holdfast/strength/batch_bound.h"
#include "holdfast/strength/looks.h"
#include "holdfast/strength/scatter_library.h"

enum { RUNS = 5, BOUNDS = 2000, DESIGNS = 1000 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* 28 looks that no table holds: content 0.93. */
static double looks_time(double confidence) {
    size_t parts[HF_LOOKS_MOST], count;
    hf_look_confidence out;
    double start = now();
    if (hf_looks_list(3, 30, 1, parts, &count) != HF_OK) return NAN;
    hf_look_plan plan = {parts, count, 0};
    if (hf_looks_confidence(&plan, 0.93, confidence, &out) != HF_OK) return NAN;
    return 1e3 * (now() - start);
}

/* From logarithms to the bound: five batches of four, each time a little farther apart. */
static double batch_time(void) {
    double y[20], start = now();
    int batch[20];
    hf_batch_bound out;
    for (int i = 0; i < 20; i++) batch[i] = i / 4;
    for (int bound = 0; bound < BOUNDS; bound++) {
        for (int i = 0; i < 20; i++) y[i] = 0.1 * (i % 4) + (0.02 + 1e-5 * bound) * (i / 4);
        if (hf_batch_bound_values(y, batch, 20, 0.05, 0.90, 0.95, &out) != HF_OK) return NAN;
    }
    return 1e6 * (now() - start) / BOUNDS;
}

static double library_time(void) {
    static hf_earlier_scatter earlier[DESIGNS];
    hf_scatter_library out;
    for (int i = 0; i < DESIGNS; i++) earlier[i] = (hf_earlier_scatter){0.05 + 1e-4 * i, 2 + i % 12};
    double start = now();
    return hf_scatter_library_of(earlier, DESIGNS, &out) == HF_OK ? 1e3 * (now() - start) : NAN;
}

static void show(const char *what, double value, const char *unit, double aim) {
    printf("%-46s %12.4g %-16s %.2f × the aim of %g %s\n", what, value, unit, value / aim, aim, unit);
    fflush(stdout);
}

void bench_promises(void) {
    double best[4] = {INFINITY, INFINITY, INFINITY, INFINITY};
    for (int run = 0; run < RUNS; run++) {
        best[0] = fmin(best[0], looks_time(0.95));
        best[1] = fmin(best[1], looks_time(0.75));
        best[2] = fmin(best[2], batch_time());
        best[3] = fmin(best[3], library_time());
    }
    show("C' of 28 looks, no table, C = 0.95", best[0], "ms", 50);
    show("C' of 28 looks, no table, C = 0.75", best[1], "ms", 50);
    show("a batch bound, five batches of four", best[2], "us", 10);
    show("scatter of 1 000 earlier designs", best[3], "ms", 5);
}
