/* Anderson–Darling: what is simulated eight samples at a time is what one sample at a time gives. */
#include "check_close.h"
#include "holdfast/numeric/random.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/fit_test.h"

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
            items[i] = (hf_observation){HF_OBSERVED_EXACT, load, load, false, -1};
        }
        ck_assert_int_eq(hf_fit_test_run(family, (hf_sample){items, n}, SEED, REPLICATES, &test), HF_OK);
        ck_assert_uint_eq(test.replicates, REPLICATES);
        size_t expected = exceeding_one_by_one(family, n, test.a2);
        hf_check_close(test.significance * REPLICATES, (double)expected, HF_TOLERANCE_ROUNDING,
                       "the same samples, one by one");
    }
}
END_TEST

static Suite *fit_test_suite(void) {
    Suite *suite = suite_create("goodness of fit");
    TCase *t = tcase_create("Anderson–Darling");
    tcase_add_loop_test(t, eight_samples_at_a_time_are_eight_samples, 0, HF_FAMILY_COUNT);
    suite_add_tcase(suite, t);
    return suite;
}

HF_TEST_MAIN(fit_test_suite)
