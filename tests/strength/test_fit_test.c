/* Anderson–Darling: what is simulated eight samples at a time is what one sample at a time gives. */
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/numeric/random.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/fit_test.h"
#include "strength/fit_test_cells.h"

enum { REPLICATES = 64, MOST = 260, SEED = 11 };

/* Draws of one sample by `fill`, which writes value i of sample j at [i·HF_LANES + j]. */
static size_t exceeding_one_by_one(const hf_family *family, size_t n, double a2) {
    static double block[MOST * HF_LANES], y[MOST];
    hf_random random;
    size_t exceeding = 0;
    hf_random_start(&random, SEED, 0);
    for (size_t done = 0; done < REPLICATES; done += HF_LANES) {
        family->fill(&random, block, n * HF_LANES);
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            double m, s;
            for (size_t i = 0; i < n; i++) y[i] = block[i * HF_LANES + lane];
            ck_assert_int_eq(family->estimate(y, n, &m, &s), HF_OK);
            exceeding += hf_anderson_darling(family, y, n, m, s) >= a2;
        }
    }
    return exceeding;
}

START_TEST(eight_samples_at_a_time_are_eight_samples) {
    const hf_family *family = hf_family_at((size_t)_i);
    static hf_observation items[MOST];
    static double loads[MOST];
    static const size_t sizes[] = {3, 4, 5, 7, 8, 9, 10, 16, 17, 24, 31, 32, 33, 64, 100, MOST};
    for (size_t k = 0; k < sizeof sizes / sizeof *sizes; k++) {
        size_t n = sizes[k];
        hf_random random;
        hf_fit_test test;
        hf_random_start(&random, 5 + k, 0);
        hf_family_find("normal")->fill(&random, loads, n);
        for (size_t i = 0; i < n; i++) {
            double load = 900 + 40 * loads[i];
            items[i] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
        }
        ck_assert_int_eq(hf_fit_test_run(family, (hf_sample){items, n}, SEED, REPLICATES, &test), HF_OK);
        ck_assert_uint_eq(test.replicates, REPLICATES);
        size_t expected = exceeding_one_by_one(family, n, test.a2);
        hf_check_close(test.significance * REPLICATES, (double)expected, HF_TOLERANCE_ROUNDING,
                       "the same samples, one by one");
    }
}
END_TEST

enum { MANY = 2500, ROUNDS = 400 };

static int compare_numbers(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Strengths of the law one by one, as pulls in steps of 25 from 0. */
static void pull_in_steps(const hf_family *family, hf_random *random, hf_observation *items) {
    static double z[MANY];
    double m = hf_family_working(family, 900), s = family->log_scale ? 0.08 : 70;
    family->fill(random, z, MANY);
    for (size_t i = 0; i < MANY; i++) {
        double low = 25 * (ceil(hf_family_load(family, m + s * z[i]) / 25) - 1);
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, low, low + 25, false, -1};
    }
}

static double statistic_of(const hf_family *family, const hf_observation *items) {
    static double y[MANY];
    double m, s;
    for (size_t i = 0; i < MANY; i++)
        y[i] = 0.5 * (hf_family_working(family, items[i].lower) + hf_family_working(family, items[i].upper));
    ck_assert_int_eq(family->estimate(y, MANY, &m, &s), HF_OK);
    return hf_anderson_darling(family, y, MANY, m, s);
}

/* Samples drawn as counts of the steps exceed the quantiles of samples drawn strength by strength as often as they should. */
START_TEST(counts_of_steps_are_the_same_law_as_single_strengths) {
    const hf_family *family = hf_family_at((size_t)_i);
    static hf_observation items[MANY];
    static double seen[ROUNDS];
    hf_random random;
    hf_random_start(&random, 40 + (uint64_t)_i, 0);
    for (size_t i = 0; i < ROUNDS; i++) {
        pull_in_steps(family, &random, items);
        seen[i] = statistic_of(family, items);
    }
    qsort(seen, ROUNDS, sizeof *seen, compare_numbers);
    hf_arena *arena = hf_arena_create();
    hf_cell_job *job;
    double m = hf_family_working(family, 900), s = family->log_scale ? 0.08 : 70;
    ck_assert_int_eq(hf_cell_job_start(arena, family, (hf_sample){items, MANY}, m, s, &job), HF_OK);
    ck_assert_ptr_nonnull(job);
    for (int tenth = 1; tenth < 10; tenth += 4) {
        double share = 0.1 * tenth, exceeding = 0, draws = 2000;
        for (int i = 0; i < (int)draws; i++)
            exceeding += hf_cell_job_exceeds(job, &random, seen[(size_t)(share * ROUNDS)]);
        hf_check_within(exceeding / draws, 1 - share,
                        4 * sqrt(share * (1 - share) * (1.0 / ROUNDS + 1 / draws)), family->name);
    }
    hf_arena_free(arena);
}
END_TEST

START_TEST(counted_values_are_so_many_values) {
    const hf_family *family = hf_family_at((size_t)_i);
    static const double y[] = {6.4, 6.5, 6.6, 6.7, 6.8, 6.9}, count[] = {2, 0, 7, 13, 5, 1};
    double all[28], m, s, counted_m, counted_s;
    size_t n = 0;
    for (size_t i = 0; i < 6; i++)
        for (double k = 0; k < count[i]; k++) all[n++] = y[i];
    ck_assert_uint_eq(n, 28);
    ck_assert_int_eq(family->estimate(all, n, &m, &s), HF_OK);
    ck_assert_int_eq(family->estimate_counted(y, count, 6, &counted_m, &counted_s), HF_OK);
    hf_check_close(counted_m, m, 1e-12, "m");
    hf_check_close(counted_s, s, 1e-9, "s");
    ck_assert_int_eq(family->estimate_counted(y, (const double[]){0, 0, 9, 0, 0, 0}, 6, &m, &s), HF_OK);
    ck_assert_double_eq(s, 0);
}
END_TEST

static Suite *fit_test_suite(void) {
    Suite *suite = suite_create("goodness of fit");
    TCase *t = tcase_create("Anderson–Darling");
    tcase_add_loop_test(t, eight_samples_at_a_time_are_eight_samples, 0, HF_FAMILY_COUNT);
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, counts_of_steps_are_the_same_law_as_single_strengths, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, counted_values_are_so_many_values, 0, HF_FAMILY_COUNT);
    suite_add_tcase(suite, t);
    return suite;
}

HF_TEST_MAIN(fit_test_suite)
