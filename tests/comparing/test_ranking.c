/* Several designs (published-checks C27, C36), ranks (C29), spread (C25), parts against each other. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/comparing/outlasts.h"
#include "holdfast/comparing/ranking.h"
#include "holdfast/comparing/sign_test.h"
#include "holdfast/comparing/spread.h"
#include "holdfast/comparing/studentized_range.h"
#include "holdfast/numeric/special.h"

static hf_arena *arena;
static void start(void) {
    arena = hf_arena_create();
}
static void stop(void) {
    hf_arena_free(arena);
}

START_TEST(tukey_interval_of_the_handbook) {
    /* C27: NIST/SEMATECH 7.4.7.1, from memory; R gives 4.04609304 (its quantile stops at 1e-4 of its last step), scipy
     * 4.046093060626182; interval (1.132632, 5.307368) for means 3 − 1. */
    double q;
    ck_assert_int_eq(hf_studentized_range_quantile_upper(0.05, 4, 16, &q), HF_OK);
    hf_check_within(q, 4.04609304, 5e-8, "C27");
    hf_check_close(q, 4.046093060626182, 1e-9, "scipy studentized_range.isf(0.05, 4, 16)");
    hf_check_within(3.22 - q * sqrt(1.33075 / 5), 1.132632, 5e-7, "C27");
    hf_check_within(3.22 + q * sqrt(1.33075 / 5), 5.307368, 5e-7, "C27");
}
END_TEST

START_TEST(two_means_are_student_t) {
    /* With two groups the range over √2 is |t|. */
    for (int i = 0; i < 20; i++) {
        double t = 0.17 + 0.61 * i, nu = 1 + 1.7 * i;
        hf_check_close(hf_studentized_range_upper(t * HF_SQRT2, 2, nu), 2 * hf_t_upper(t, nu), 1e-9,
                       "two groups");
    }
}
END_TEST

START_TEST(games_howell_pair) {
    /* C36: penguin body mass, from memory; recomputed with the studentised range. */
    hf_group a = hf_group_from_summary(151, 3700.662252, 458.566126, 0),
             b = hf_group_from_summary(68, 3733.088235, 384.335081, 0);
    hf_games_howell out;
    ck_assert_int_eq(hf_games_howell_pair(&a, &b, 3, 0.05, &out), HF_OK);
    hf_check_within(out.difference, -32.4259836, 1e-6, "C36");
    hf_check_within(out.standard_error, 59.706437, 5e-7, "C36");
    hf_check_within(out.t, -0.543090247, 2e-8, "C36, means printed to six decimals");
    hf_check_within(out.degrees_of_freedom, 152.454796, 5e-7, "C36");
    hf_check_within(out.p, 0.850154024, 5e-8, "C36");
    double q;
    ck_assert_int_eq(hf_studentized_range_quantile_upper(0.05, 3, out.degrees_of_freedom, &q), HF_OK);
    hf_check_close(out.high - out.low, 2 * q * out.standard_error / HF_SQRT2, HF_TOLERANCE_SPECIAL,
                   "definition");
}
END_TEST

START_TEST(holm_in_place_with_gaps) {
    double p[] = {0.03, NAN, 0.01, 0.02, 0};
    const double expected[] = {0.04, NAN, 0.03, 0.04, 0}; /* by hand: 4·0, 3·0.01, 2·0.02, max(0.04, 0.03) */
    hf_holm_adjust(p, 5, p);
    for (int i = 0; i < 5; i++) hf_check_close(p[i], expected[i], HF_TOLERANCE_ROUNDING, "by hand");
}
END_TEST

START_TEST(groups_that_cannot_be_told_apart) {
    /* 0-1-2 alike, 2-3 alike, 4 alone. */
    enum { N = 5 };
    bool differ[N * N] = {false};
    for (size_t i = 0; i < N; i++)
        for (size_t j = i + 1; j < N; j++) differ[i * N + j] = !(j <= 2 || (i == 2 && j == 3));
    uint64_t groups[8];
    size_t count;
    ck_assert_int_eq(hf_ranking_groups(differ, N, groups, 8, &count), HF_OK);
    ck_assert_uint_eq(count, 3);
    ck_assert_uint_eq(groups[0], 0x7);
    ck_assert_uint_eq(groups[1], 0xc);
    ck_assert_uint_eq(groups[2], 0x10);
    ck_assert_int_eq(hf_ranking_groups(differ, N, groups, 2, &count), HF_NO_RESULT);
    ck_assert_int_eq(hf_ranking_groups(differ, 65, groups, 8, &count), HF_RANGE);
}
END_TEST

START_TEST(league_by_bound) {
    const double bounds[] = {412.5, NAN, 733.1, 412.5, NAN, 12.1};
    const size_t expected[] = {2, 0, 3, 5, 1, 4};
    size_t order[6];
    hf_ranking_league(bounds, 6, order);
    for (int i = 0; i < 6; i++) ck_assert_uint_eq(order[i], expected[i]);
}
END_TEST

START_TEST(brunner_munzel_of_its_paper) {
    /* C29: statistic and p in scipy's documentation; effect 0.788 and 17.683 degrees from memory of the paper. */
    const double x[] = {1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 2, 4, 1, 1}, y[] = {3, 3, 4, 3, 1, 2, 3, 1, 1, 5, 4};
    hf_outlasts out, swapped;
    ck_assert_int_eq(hf_outlasts_of(arena, y, 11, x, 14, 0.05, &out), HF_OK);
    hf_check_close(out.statistic, 3.1374674823, 1e-10, "C29");
    hf_check_close(out.p, 0.0057862087, 1e-8, "C29");
    hf_check_within(out.chance, 0.7889610, 5e-8, "C29");
    hf_check_within(out.degrees_of_freedom, 17.683, 5e-4, "C29");
    ck_assert_int_eq(hf_outlasts_of(arena, x, 14, y, 11, 0.05, &swapped), HF_OK);
    hf_check_close(swapped.chance, 1 - out.chance, HF_TOLERANCE_ROUNDING, "swap");
    hf_check_close(swapped.low, 1 - out.high, HF_TOLERANCE_ROUNDING * 10, "swap");
    hf_check_close(swapped.p, out.p, HF_TOLERANCE_ROUNDING * 10, "swap");
}
END_TEST

START_TEST(separated_groups_have_no_interval) {
    const double x[] = {8.1, 9.4, 8.8}, y[] = {5.2, 5.9};
    hf_outlasts out;
    ck_assert_int_eq(hf_outlasts_of(arena, x, 3, y, 2, 0.05, &out), HF_OK);
    ck_assert(out.separated && isnan(out.p) && isnan(out.low));
    hf_check_close(out.chance, 1, HF_TOLERANCE_EXACT, "all pairs");
    ck_assert_int_eq(hf_outlasts_of(arena, x, 1, y, 2, 0.05, &out), HF_RANGE);
}
END_TEST

START_TEST(levene_on_gears) {
    /* C25: NIST/SEMATECH 1.3.5.10, figures recomputed with R. */
    double values[10][10];
    size_t filled[10] = {0};
    char line[200];
    FILE *file = fopen(HF_DATASETS_DIR "/gear-diameters.csv", "r");
    ck_assert_msg(file != NULL, "gear-diameters.csv is missing");
    while (fgets(line, sizeof line, file)) {
        char *comma = strchr(line, ',');
        long batch = strtol(line, NULL, 10);
        if (line[0] == '#' || !comma || batch < 1 || batch > 10 || filled[batch - 1] == 10) continue;
        values[batch - 1][filled[batch - 1]++] = strtod(comma + 1, NULL);
    }
    fclose(file);
    hf_value_group groups[10];
    for (int i = 0; i < 10; i++) groups[i] = (hf_value_group){values[i], filled[i]};
    hf_spread_test levene;
    ck_assert_int_eq(hf_levene_test(arena, groups, 10, &levene), HF_OK);
    hf_check_within(levene.statistic, 1.70592, 5e-6, "C25");
    hf_check_within(levene.p, 0.099083, 5e-7, "C25");
    hf_check_within(hf_f_upper(1.98559, levene.nu1, levene.nu2), 0.05, 1e-6, "C25 critical value");
}
END_TEST

START_TEST(spread_tests_refuse_what_shows_nothing) {
    const double x[] = {6.1, 6.1, 6.1}, y[] = {6.3, 6.5}, z[] = {6.9, 7.1};
    hf_value_group pairs[] = {{y, 2}, {z, 2}}, single[] = {{x, 1}, {y, 2}};
    hf_spread_test out;
    ck_assert_int_eq(hf_levene_test(arena, pairs, 2, &out),
                     HF_NO_RESULT); /* two values lie equally far from their median */
    ck_assert_int_eq(hf_levene_test(arena, single, 2, &out), HF_RANGE);
    ck_assert(isnan(out.p));
}
END_TEST

typedef struct sign_row {
    size_t first, second, more;
    double p;
} sign_row;

/* p = 2·P(Bin(n, 1/2) ≥ larger), by hand: 2/2⁶, 2/2⁵, 2·(1 + 8)/2⁸, 1; 12 of 15 is the first beyond 3 of 6 with p ≤ 0.05. */
static const sign_row sign_rows[] = {
    {6, 0, 0, 0.03125}, {0, 5, 1, 0.0625}, {7, 1, 1, 18.0 / 256}, {3, 3, 9, 1}, {0, 0, 6, 1}};

START_TEST(sign_test_by_hand) {
    const sign_row *row = &sign_rows[_i];
    hf_sign_test out;
    ck_assert_int_eq(hf_sign_test_of(row->first, row->second, 2, 0.05, &out), HF_OK);
    hf_check_close(out.p, row->p, HF_TOLERANCE_ROUNDING * 10, "by hand");
    ck_assert_uint_eq(out.more, row->more);
    ck_assert_uint_eq(out.ties, 2);
    ck_assert(out.low <= out.high &&
              (out.first_won + out.second_won == 0 || (out.low <= out.share && out.share <= out.high)));
}
END_TEST

START_TEST(sign_test_needs) {
    size_t n;
    ck_assert_uint_eq(hf_sign_test_least(0.05),
                      6); /* methods.md 7: 6 of 6 gives 0.031, 5 of 5 does not reach 0.05 */
    ck_assert_uint_eq(hf_sign_test_least(0.01), 8);
    ck_assert_int_eq(hf_sign_test_parts(1, 0.8, 0.05, &n), HF_OK);
    ck_assert_uint_eq(n, 6);
    /* scipy: with chance 0.8 the power first stays at or above 0.8 from n = 23 on (reference_sign_parts.py). */
    ck_assert_int_eq(hf_sign_test_parts(0.8, 0.8, 0.05, &n), HF_OK);
    ck_assert_uint_eq(n, 23);
    ck_assert_int_eq(hf_sign_test_parts(0.5, 0.8, 0.05, &n), HF_RANGE);
    hf_sign_test out;
    ck_assert_int_eq(hf_sign_test_of(1, 1, 0, 0, &out), HF_RANGE);
    /* Clopper–Pearson 6 of 6: lower end 0.025^(1/6). */
    ck_assert_int_eq(hf_sign_test_of(6, 0, 0, 0.05, &out), HF_OK);
    hf_check_close(out.low, pow(0.025, 1.0 / 6), 1e-12, "closed form");
    hf_check_close(out.high, 1, HF_TOLERANCE_EXACT, "closed form");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("ranking");
    TCase *t = tcase_create("ranking");
    tcase_add_checked_fixture(t, start, stop);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, tukey_interval_of_the_handbook);
    tcase_add_test(t, two_means_are_student_t);
    tcase_add_test(t, games_howell_pair);
    tcase_add_test(t, holm_in_place_with_gaps);
    tcase_add_test(t, groups_that_cannot_be_told_apart);
    tcase_add_test(t, league_by_bound);
    tcase_add_test(t, brunner_munzel_of_its_paper);
    tcase_add_test(t, separated_groups_have_no_interval);
    tcase_add_test(t, levene_on_gears);
    tcase_add_test(t, spread_tests_refuse_what_shows_nothing);
    tcase_add_loop_test(t, sign_test_by_hand, 0, (int)(sizeof sign_rows / sizeof *sign_rows));
    tcase_add_test(t, sign_test_needs);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
