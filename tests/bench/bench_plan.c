#define _GNU_SOURCE
#include "bench/bench_plan.h"

#include <math.h>
#include <stdio.h>
#include <time.h>
#include "holdfast/planning/coverage.h"
#include "holdfast/planning/how_many.h"
#include "holdfast/planning/ladder.h"

enum { RUNS = 5, KINDS = 12 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* 12 kinds from 0.25 to 25 kg, 40 pieces, in grams. */
static const hf_weight_kind owned[KINDS] = {{25000, 2}, {20000, 4}, {15000, 2}, {10000, 6},
                                            {7500, 2},  {5000, 4},  {2500, 4},  {2000, 4},
                                            {1250, 4},  {1000, 4},  {500, 2},   {250, 2}};

/* The search from its start to the last rung of a ladder for 900 N. */
static double ladder_time(hf_arena *arena, const hf_guess *guess, double rating, hf_ladder *ladder) {
    hf_weight_search *search;
    double start = now();
    if (hf_weight_search_create(arena, owned, KINDS, &search) != HF_OK) return NAN;
    hf_ladder_rig rig = {25.5, rating, search, 9.80665e-3, 30, 5, 120};
    if (hf_ladder_plan(arena, guess, 5, 0, &rig, ladder) != HF_OK) return NAN;
    return 1e3 * (now() - start);
}

static double table_time(hf_arena *arena, const hf_ladder *ladder, double cv, hf_how_many *table) {
    hf_how_many_setup setup = {.law = hf_family_find("weibull"),
                               .mean = 900,
                               .cv = cv,
                               .content = 0.90,
                               .confidence = 0.95,
                               .loads = ladder->loads,
                               .load_count = ladder->count,
                               .tare = 25.5,
                               .required = 450,
                               .minutes_per_pull = ladder->minutes_per_pull,
                               .seed = 1};
    double start = now();
    if (hf_how_many_parts(arena, &setup, table) != HF_OK) return NAN;
    return 1e3 * (now() - start);
}

static double cell_time(double step) {
    hf_coverage_cell cell = {.truth = hf_family_find("normal"),
                             .cv = 0.12,
                             .family = hf_family_find("normal"),
                             .n = 10,
                             .content = 0.90,
                             .confidence = 0.95,
                             .ladder = step > 0 ? HF_LADDER_WORKING : HF_LADDER_CONTINUOUS,
                             .step = step,
                             .offset = 0.3,
                             .replicates = 60000,
                             .seed = 1};
    hf_coverage out;
    double start = now();
    if (hf_coverage_of(&cell, &out) != HF_OK) return NAN;
    return 1e3 * (now() - start);
}

static void show(const char *what, double ms, double aim) {
    printf("%-46s %12.4g %-16s", what, ms, "ms");
    if (isfinite(aim)) printf(" %.2f × the aim of %g ms", ms / aim, aim);
    printf("\n");
    fflush(stdout);
}

void bench_plan(void) {
    double best[6] = {INFINITY, INFINITY, INFINITY, INFINITY, INFINITY, INFINITY};
    hf_guess guess;
    hf_ladder whole, short_one;
    hf_how_many table, open_table = {0};
    if (hf_guess_of(hf_family_find("weibull"), 900, 0.12, &guess) != HF_OK) return;
    for (int run = 0; run < RUNS; run++) {
        hf_arena *arena = hf_arena_create();
        if (!arena) return;
        best[0] = fmin(best[0], ladder_time(arena, &guess, 2500, &whole));
        (void)ladder_time(arena, &guess, 1060, &short_one);
        best[1] = fmin(best[1], table_time(arena, &whole, 0.12, &table));
        double others =
            table_time(arena, &whole, 0.06, &open_table) + table_time(arena, &whole, 0.24, &open_table);
        best[5] = fmin(best[5], best[1] + others);
        best[2] = fmin(best[2], table_time(arena, &short_one, 0.12, &open_table));
        best[3] = fmin(best[3], cell_time(1));
        best[4] = fmin(best[4], cell_time(0));
        if (run == RUNS - 1)
            printf("plan tables: %zu tests a row where %.2g %% of the pulls end open, %zu where %.2g %% do\n",
                   table.replicates, 100 * table.open_share, open_table.replicates,
                   100 * open_table.open_share);
        hf_arena_free(arena);
    }
    show("plan, n = 2 to 30, stepped Weibull", best[1], 1000);
    show("the same with half and double scatter", best[5], 1000);
    show("the first where more than 1 % end open", best[2], NAN);
    show("coverage cell, 60 000 stepped, n = 10, normal", best[3], 50);
    show("coverage cell, 60 000 exact, n = 10, normal", best[4], 50);
    show("ladder from 40 weights of 12 kinds", best[0], 100);
}
