/* Failure modes, two-ended parts, fittings in a row. */
#include "check_close.h"
#include "holdfast/comparing/modes.h"
#include "holdfast/comparing/two_ended.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/fit.h"

enum { PARTS = 40 };

static hf_arena *arena;
static void start(void) {
    arena = hf_arena_create();
}
static void stop(void) {
    hf_arena_free(arena);
}

/* PARTS pulls in steps of `step` of parts with two modes, ln strengths m + s·Z each. */
static hf_mode_data two_modes(uint64_t seed, size_t n, double step, hf_observation *items, int *mode) {
    double z[2 * PARTS];
    hf_random random;
    hf_random_start(&random, seed, 0);
    hf_random_fill_normal(&random, z, 2 * n);
    for (size_t i = 0; i < n; i++) {
        double first = 800 * exp(0.11 * z[2 * i]), second = 860 * exp(0.14 * z[2 * i + 1]),
               load = fmin(first, second);
        double low = step * floor(load / step);
        mode[i] = second < first;
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, low, low + step, false, -1};
    }
    return (hf_mode_data){{items, n}, mode, 2};
}

START_TEST(other_modes_are_open_above_at_what_was_held) {
    const hf_observation items[] = {{HF_INTERVAL_CLOSED, 700, 720, true, 2},
                                    {HF_INTERVAL_EXACT, 655, 655, false, 1},
                                    {HF_INTERVAL_BELOW, 0, 300, false, 0},
                                    {HF_INTERVAL_ABOVE, 800, INFINITY, false, 1}};
    const int mode[] = {0, 1, 1, HF_MODE_NONE};
    hf_mode_data data = {{items, 4}, mode, 2};
    hf_observation out[4];
    ck_assert_uint_eq(hf_mode_sample(&data, 0, out), 3); /* held 0 says nothing about the other mode */
    ck_assert(out[0].kind == HF_INTERVAL_CLOSED && out[0].dropped && out[0].upper == 720);
    ck_assert(out[1].kind == HF_INTERVAL_ABOVE && out[1].lower == 655 && isinf(out[1].upper) &&
              out[1].batch == 1);
    ck_assert(out[2].kind == HF_INTERVAL_ABOVE && out[2].lower == 800);
    ck_assert_uint_eq(hf_mode_sample(&data, 1, out), 4);
    ck_assert(out[0].kind == HF_INTERVAL_ABOVE && out[0].lower == 700 && !out[0].dropped);
    ck_assert(out[2].kind == HF_INTERVAL_BELOW && out[2].upper == 300);
}
END_TEST

START_TEST(quantile_solves_the_product) {
    const double m[] = {6.61, 6.72, 6.9}, s[] = {0.13, 0.21, 0.05};
    for (size_t f = 0; f < HF_FAMILY_COUNT; f++) {
        const hf_family *family = hf_family_at(f);
        for (int i = 0; i < 6; i++) {
            double content = 0.51 + 0.09 * i, x, product = 1;
            if (i == 5) content = 0.9999;
            hf_mode_content of_three = hf_mode_content_of(family, 3, content);
            hf_mode_content of_one = hf_mode_content_of(family, 1, content);
            ck_assert_int_eq(hf_modes_quantile(family, m, s, 3, &of_three, &x), HF_OK);
            for (int j = 0; j < 3; j++) product *= family->upper((x - m[j]) / s[j]);
            hf_check_close(product, content, 1e-9, "definition");
            ck_assert_int_eq(hf_modes_quantile(family, m, s, 1, &of_one, &x), HF_OK);
            hf_check_close(x, m[0] + family->quantile_upper(content) * s[0], 1e-12, "one mode");
        }
    }
}
END_TEST

START_TEST(part_is_weaker_than_each_of_its_modes) {
    hf_observation items[PARTS];
    int mode[PARTS];
    hf_modes out, again;
    hf_mode_data data = two_modes(71 + (uint64_t)_i, 16, 20, items, mode);
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    ck_assert_int_eq(hf_modes_of(arena, family, &data, 0.90, 0.95, 5, 0, &out), HF_OK);
    ck_assert_uint_eq(out.modes[0].failures + out.modes[1].failures, 16);
    hf_check_close(out.modes[0].share + out.modes[1].share, 1, HF_TOLERANCE_ROUNDING, "shares");
    for (int j = 0; j < 2; j++) {
        const hf_mode_result *other = &out.modes[1 - j];
        ck_assert(out.modes[j].fitted);
        /* Without mode j the part is the other mode: its draws must give its bound. */
        hf_check_within(out.modes[j].without, other->bound.value, 5 * out.modes[j].without_error, "bound.h");
        ck_assert_double_lt(out.bound, out.modes[j].without + out.modes[j].without_error);
    }
    hf_parallel_set_threads(3);
    ck_assert_int_eq(hf_modes_of(arena, family, &data, 0.90, 0.95, 5, 0, &again), HF_OK);
    hf_parallel_set_threads(0);
    hf_check_close(again.bound, out.bound, HF_TOLERANCE_EXACT, "threads");
}
END_TEST

START_TEST(one_mode_is_the_plain_bound) {
    hf_observation items[PARTS];
    int mode[PARTS] = {0};
    hf_modes out;
    hf_mode_data data = two_modes(83, 12, 20, items, mode);
    for (int i = 0; i < PARTS; i++) mode[i] = 0;
    data.mode_count = 1;
    ck_assert_int_eq(hf_modes_of(arena, hf_family_find("weibull"), &data, 0.90, 0.95, 5, 0, &out), HF_OK);
    hf_check_within(out.bound, out.modes[0].bound.value, 5 * out.standard_error, "bound.h");
    ck_assert(isnan(out.modes[0].without));
}
END_TEST

START_TEST(a_rare_mode_is_named_not_fitted) {
    hf_observation items[PARTS];
    int mode[PARTS];
    hf_modes out;
    hf_mode_data data = two_modes(89, 10, 20, items, mode);
    for (int i = 0; i < 10; i++) mode[i] = i == 3;
    ck_assert_int_eq(hf_modes_of(arena, hf_family_find("lognormal"), &data, 0.90, 0.95, 5, 0, &out), HF_OK);
    ck_assert(out.modes[0].fitted && !out.modes[1].fitted && out.modes[1].failures == 1);
    ck_assert_uint_eq(out.unfitted_failures, 1);
    hf_check_close(out.modes[1].share, 0.1, HF_TOLERANCE_ROUNDING, "1 of 10");
    data.mode_count = 1; /* mode 1 is then out of range */
    ck_assert_int_eq(hf_modes_of(arena, hf_family_find("lognormal"), &data, 0.90, 0.95, 5, 0, &out),
                     HF_RANGE);
    data.sample.count = 1;
    ck_assert_int_eq(hf_modes_of(arena, hf_family_find("lognormal"), &data, 0.90, 0.95, 5, 0, &out),
                     HF_NO_RESULT);
}
END_TEST

START_TEST(two_ends_remove_the_bias) {
    /* The weaker of two equal normal ends lies 1/√π = 0.5642 standard deviations below the single one (0.56 in methods.md); reading the ends
     * apart takes that off. */
    enum { STRAPS = 4000 };
    double *z = HF_ARENA_NEW_ARRAY(arena, double, 2 * STRAPS), sum = 0;
    hf_observation *ends = HF_ARENA_NEW_ARRAY(arena, hf_observation, 2 * STRAPS);
    const double mean = 900, sd = 80, step = 10;
    hf_random random;
    hf_random_start(&random, 4711, 0);
    hf_random_fill_normal(&random, z, 2 * STRAPS);
    for (size_t i = 0; i < STRAPS; i++) {
        double first = mean + sd * z[2 * i], second = mean + sd * z[2 * i + 1], load = fmin(first, second);
        double low = step * floor(load / step);
        hf_observation pull = {HF_INTERVAL_CLOSED, low, low + step, false, -1};
        sum += low + 0.5 * step;
        ck_assert_int_eq(
            hf_two_ended_split(&pull, first < second ? HF_END_FIRST : HF_END_SECOND, &ends[2 * i]), HF_OK);
    }
    double naive = (sum / STRAPS - mean) / sd, error = 0.83 / sqrt(STRAPS);
    hf_check_within(naive, -1 / sqrt(HF_PI), 4 * error, "least of two normal values");
    hf_fit fit;
    ck_assert_int_eq(hf_fit_maximum(hf_family_find("normal"), (hf_sample){ends, 2 * STRAPS}, &fit), HF_OK);
    hf_check_within(fit.m, mean, 4 * fit.se_m, "the truth of the simulation");
    hf_check_within(fit.s, sd, 4 * fit.se_s, "the truth of the simulation");
    ck_assert_double_lt(4 * fit.se_m, 0.1 * sd);
}
END_TEST

START_TEST(ends_by_who_broke) {
    hf_observation pull = {HF_INTERVAL_CLOSED, 500, 520, true, 3}, ends[2];
    ck_assert_int_eq(hf_two_ended_split(&pull, HF_END_BOTH, ends), HF_OK);
    ck_assert(ends[0].kind == HF_INTERVAL_CLOSED && ends[1].kind == HF_INTERVAL_CLOSED && ends[1].dropped);
    ck_assert_int_eq(hf_two_ended_split(&pull, HF_END_SECOND, ends), HF_OK);
    ck_assert(ends[0].kind == HF_INTERVAL_ABOVE && ends[0].lower == 500 && ends[0].batch == 3 &&
              !ends[0].dropped);
    ck_assert_int_eq(hf_two_ended_split(&pull, HF_END_NEITHER, ends), HF_RANGE);
    pull = (hf_observation){HF_INTERVAL_BELOW, 0, 100, false, -1};
    ck_assert_int_eq(hf_two_ended_split(&pull, HF_END_FIRST, ends), HF_OK);
    ck_assert(!hf_end_says_nothing(&ends[0]) && hf_end_says_nothing(&ends[1]));
    pull = (hf_observation){HF_INTERVAL_ABOVE, 800, INFINITY, false, -1};
    ck_assert_int_eq(hf_two_ended_split(&pull, HF_END_FIRST, ends), HF_OK);
    ck_assert(ends[0].kind == HF_INTERVAL_ABOVE && ends[1].kind == HF_INTERVAL_ABOVE);
}
END_TEST

START_TEST(a_row_is_weaker_than_one) {
    hf_observation items[PARTS];
    int mode[PARTS];
    hf_mode_data data = two_modes(97, 12, 20, items, mode);
    hf_bound one, row, direct;
    const hf_family *family = hf_family_find("weibull");
    ck_assert_int_eq(hf_bound_in_a_row(family, data.sample, 1, 0.90, 0.95, &one), HF_OK);
    ck_assert_int_eq(hf_bound_in_a_row(family, data.sample, 4, 0.90, 0.95, &row), HF_OK);
    ck_assert_int_eq(hf_bound_family(family, data.sample, 0.90, 0.95, &direct), HF_OK);
    hf_check_close(one.value, direct.value, HF_TOLERANCE_EXACT, "a row of one");
    hf_check_close(row.content, sqrt(sqrt(0.90)), HF_TOLERANCE_ROUNDING,
                   "four in a row carry it when each does");
    ck_assert_double_lt(row.value, one.value);
    ck_assert_int_ne(hf_bound_in_a_row(family, data.sample, 0, 0.90, 0.95, &row), HF_OK);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("modes");
    TCase *t = tcase_create("modes");
    tcase_add_checked_fixture(t, start, stop);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, other_modes_are_open_above_at_what_was_held);
    tcase_add_test(t, quantile_solves_the_product);
    tcase_add_loop_test(t, part_is_weaker_than_each_of_its_modes, 0, 3);
    tcase_add_test(t, one_mode_is_the_plain_bound);
    tcase_add_test(t, a_rare_mode_is_named_not_fitted);
    tcase_add_test(t, two_ends_remove_the_bias);
    tcase_add_test(t, ends_by_who_broke);
    tcase_add_test(t, a_row_is_weaker_than_one);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
