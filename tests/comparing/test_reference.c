/* Every line of reference_comparing.txt, which reference_comparing.py makes with scipy, R and brute force. */
#include "check_close.h"
#include "comparing/reference_file.h"
#include "holdfast/comparing/contrast.h"
#include "holdfast/comparing/open_compare.h"
#include "holdfast/comparing/outlasts.h"
#include "holdfast/comparing/ranking.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/comparing/spread.h"
#include "holdfast/comparing/studentized_range.h"

/* scipy's own accuracy: its studentised range is an adaptive quadrature of about 1e-9, its large-ν branch is another formula. */
#define TOLERANCE_SCIPY 1e-9
#define TOLERANCE_RANGE 2e-8
#define TOLERANCE_REGRESSION                                                                                 \
    2e-6 /* R's optimiser stops at a flat top: the estimates are good to about 1e-7 */

static FILE *reference;
static hf_arena *arena;
static hf_reference row = {.kind = "", .line = 0};

static void open_file(void) {
    reference = fopen(HF_TEST_DIR "/comparing/reference_comparing.txt", "r");
    ck_assert_ptr_nonnull(reference);
    arena = hf_arena_create();
    row.line = 0;
}

static void close_file(void) {
    fclose(reference);
    hf_arena_free(arena);
}

static const char *place(void) {
    static char text[80];
    snprintf(text, sizeof text, "reference_comparing.txt:%d %s", row.line, row.kind);
    return text;
}

static const double *a(void) {
    return row.values[0];
}
static const double *b(void) {
    return row.values[1];
}
static double expected(size_t i) {
    return row.values[2][i];
}

static hf_group group_a(void) {
    return hf_group_from_mids(row.values[0], row.count[0], 0);
}
static hf_group group_b(void) {
    return hf_group_from_mids(row.values[1], row.count[1], 0);
}

START_TEST(welch_agrees_with_scipy) {
    int rows = 0;
    for (; hf_reference_next(reference, "welch ", &row); rows++) {
        hf_contrast contrast;
        hf_group x = group_a(), y = group_b();
        ck_assert_int_eq(hf_contrast_groups(&x, &y, NULL, &contrast), HF_OK);
        hf_check_close(contrast.t, expected(0), TOLERANCE_SCIPY, place());
        hf_check_close(contrast.degrees_of_freedom, expected(1), TOLERANCE_SCIPY, place());
        hf_check_close(contrast.p, expected(2), TOLERANCE_SCIPY, place());
        hf_check_close(contrast.low, exp(expected(3)), TOLERANCE_SCIPY, place());
        hf_check_close(contrast.high, exp(expected(4)), TOLERANCE_SCIPY, place());
    }
    ck_assert_int_eq(rows, 8);
}
END_TEST

START_TEST(brunner_munzel_agrees_with_scipy) {
    int rows = 0, separated = 0;
    for (; hf_reference_next(reference, "munzel ", &row); rows++) {
        hf_outlasts out;
        ck_assert_int_eq(hf_outlasts_of(arena, a(), row.count[0], b(), row.count[1], 0.05, &out), HF_OK);
        hf_check_close(out.chance, expected(0), TOLERANCE_SCIPY, place());
        separated += out.separated;
        ck_assert_int_eq(out.separated, isnan(expected(2)));
        if (out.separated) continue;
        hf_check_close(out.statistic, expected(1), TOLERANCE_SCIPY, place());
        hf_check_close(out.p, expected(2), TOLERANCE_SCIPY, place());
        ck_assert(out.low < out.chance && out.chance < out.high && out.low > 0 && out.high < 1);
    }
    ck_assert_int_eq(rows, 8);
    ck_assert_int_lt(separated, 4);
}
END_TEST

START_TEST(spread_tests_agree_with_scipy) {
    int rows = 0;
    for (; hf_reference_next(reference, "levene ", &row); rows++) {
        const hf_value_group groups[] = {{a(), row.count[0]}, {b(), row.count[1]}};
        hf_spread_test test;
        ck_assert_int_eq(hf_levene_test(arena, groups, 2, &test), HF_OK);
        hf_check_close(test.statistic, expected(0), TOLERANCE_SCIPY, place());
        hf_check_close(test.p, expected(1), TOLERANCE_SCIPY, place());
    }
    ck_assert_int_eq(rows, 8);
}
END_TEST

static hf_sample exact_sample(const double *y, size_t n, hf_observation *items) {
    for (size_t i = 0; i < n; i++)
        items[i] = (hf_observation){HF_INTERVAL_EXACT, exp(y[i]), exp(y[i]), false, -1};
    return (hf_sample){items, n};
}

START_TEST(relabeling_agrees_with_brute_force) {
    int rows = 0;
    for (; hf_reference_next(reference, "permutation ", &row); rows++) {
        hf_observation items[2][HF_REFERENCE_NUMBERS];
        hf_relabel out;
        hf_sample x = exact_sample(a(), row.count[0], items[0]),
                  y = exact_sample(b(), row.count[1], items[1]);
        ck_assert_int_eq(hf_relabel_test(arena, x, y, NULL, &out), HF_OK);
        ck_assert(out.full);
        hf_check_close(out.relabelings, hf_relabel_ways(x.count, y.count), HF_TOLERANCE_EXACT, place());
        hf_check_close(out.p, expected(0), HF_TOLERANCE_ROUNDING, place());
        hf_check_close(out.p_floor, expected(1), HF_TOLERANCE_ROUNDING, place());
    }
    ck_assert_int_ge(rows, 7);
}
END_TEST

START_TEST(studentised_range_agrees_with_scipy) {
    int rows = 0;
    for (; hf_reference_next(reference, "range ", &row); rows++) {
        double upper = hf_studentized_range_upper(a()[0], (size_t)a()[1], a()[2]), back;
        hf_check_close(upper, expected(0), TOLERANCE_RANGE, place());
        ck_assert_int_eq(hf_studentized_range_quantile_upper(upper, (size_t)a()[1], a()[2], &back), HF_OK);
        if (upper < 0.999) hf_check_close(back, a()[0], TOLERANCE_SCIPY, place());
    }
    ck_assert_int_gt(rows, 100);
}
END_TEST

START_TEST(holm_agrees_with_r) {
    int rows = 0;
    for (; hf_reference_next(reference, "holm ", &row); rows++) {
        double adjusted[HF_REFERENCE_NUMBERS];
        hf_holm_adjust(a(), row.count[0], adjusted);
        for (size_t i = 0; i < row.count[0]; i++)
            hf_check_close(adjusted[i], expected(i), HF_TOLERANCE_ROUNDING, place());
    }
    ck_assert_int_eq(rows, 4);
}
END_TEST

static hf_sample stepped_sample(const double *ends, size_t numbers, hf_observation *items) {
    for (size_t i = 0; i < numbers / 2; i++) {
        double low = ends[2 * i], high = ends[2 * i + 1];
        items[i] =
            (hf_observation){isinf(high) ? HF_INTERVAL_ABOVE : HF_INTERVAL_CLOSED, low, high, false, -1};
    }
    return (hf_sample){items, numbers / 2};
}

static int check_regressions(const char *kind, bool common) {
    int rows = 0;
    rewind(reference);
    row.line = 0;
    for (; hf_reference_next(reference, kind, &row); rows++) {
        hf_observation items[2][HF_REFERENCE_NUMBERS];
        const hf_family *family = hf_family_find(strchr(row.kind, '_') + 1);
        hf_sample x = stepped_sample(a(), row.count[0], items[0]),
                  y = stepped_sample(b(), row.count[1], items[1]);
        hf_open_compare out;
        ck_assert_int_eq(
            hf_open_compare_likelihood(family, x, y, &(hf_open_compare_options){common, 0.05}, &out), HF_OK);
        hf_check_close(out.difference, expected(0), TOLERANCE_REGRESSION, place());
        hf_check_close(out.s_a, expected(1), TOLERANCE_REGRESSION, place());
        hf_check_close(out.log_likelihood, expected(2), TOLERANCE_SCIPY, place());
        hf_check_within(out.statistic, expected(3), TOLERANCE_REGRESSION, place());
    }
    return rows;
}

START_TEST(regressions_agree_with_r) {
    ck_assert_int_eq(check_regressions("common_", true), 12);
    ck_assert_int_eq(check_regressions("separate_", false), 12);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("comparing against scipy and R");
    TCase *t = tcase_create("rows");
    tcase_add_checked_fixture(t, open_file, close_file);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, welch_agrees_with_scipy);
    tcase_add_test(t, brunner_munzel_agrees_with_scipy);
    tcase_add_test(t, spread_tests_agree_with_scipy);
    tcase_add_test(t, relabeling_agrees_with_brute_force);
    tcase_add_test(t, studentised_range_agrees_with_scipy);
    tcase_add_test(t, holm_agrees_with_r);
    tcase_add_test(t, regressions_agree_with_r);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
