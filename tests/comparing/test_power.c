/* Parts for a comparison: published figures (published-checks C23, C24) and the relabeling test's own needs. */
#include "check_close.h"
#include "holdfast/comparing/power.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/comparing/relabel_power.h"
#include "holdfast/numeric/parallel.h"

typedef struct parts_row {
    const char *source;
    double effect, power, n; /* two-sided 5 % */
} parts_row;

/* C23: Cohen (1988), printed figures from memory, real-valued n recomputed with the noncentral t. C24: R's power.t.test(delta = 1, sd = 1,
 * power = 0.90, strict = TRUE) prints 22.02110; its default root tolerance leaves 22.0210906, with tol = 1e-12 it gives the value here. */
static const parts_row parts_rows[] = {
    {"C23 d 0.2", 0.2, 0.80, 393.406},
    {"C23 d 0.5", 0.5, 0.80, 63.766},
    {"C23 d 0.8", 0.8, 0.80, 25.525},
    {"C23 d 0.2", 0.2, 0.90, 526.333},
    {"C23 d 0.5", 0.5, 0.90, 85.031},
    {"C23 d 0.8", 0.8, 0.90, 33.826},
    {"C24 R, tol = 1e-12", 1, 0.90, 22.0210884264},
};

START_TEST(published_parts) {
    const parts_row *row = &parts_rows[_i];
    double n;
    ck_assert_int_eq(hf_power_parts_for_effect(row->effect, row->power, 0.05, false, &n), HF_OK);
    hf_check_within(n, row->n, row->n == 22.0210884264 ? 1e-9 : 5e-4, row->source);
}
END_TEST

START_TEST(published_power) {
    /* C24: R's power.t.test(n = 20, delta = 1, sd = 1) counts one tail: 0.8689528; the other adds less than 1e-6. */
    hf_power_setup setup = {20, 20, 1, 1, 0.05, false};
    hf_check_within(hf_power_of(&setup, 1), 0.8689528, 1e-6, "C24");
}
END_TEST

START_TEST(smallest_difference_inverts_power) {
    for (int i = 0; i < 6; i++) {
        hf_power_setup setup = {3 + 2.0 * i, 4 + 1.0 * i, 0.0131, 0.0243 * (i + 1), 0.05, i % 2 == 1};
        double difference, n;
        ck_assert_int_eq(hf_power_smallest_difference(&setup, 0.83, &difference), HF_OK);
        hf_check_close(hf_power_of(&setup, difference), 0.83, HF_TOLERANCE_SPECIAL, "definition");
        ck_assert_int_eq(hf_power_parts(&setup, difference, 0.83, &n), HF_OK);
        ck_assert_double_lt(n, fmax(setup.n_a, setup.n_b) + 1e-9);
    }
    hf_check_close(hf_power_ratio_of_effect(hf_power_effect_of_ratio(1.23, 0.17), 0.17), 1.23,
                   HF_TOLERANCE_ROUNDING, "inverse");
}
END_TEST

START_TEST(edges_are_told) {
    double n;
    ck_assert_int_eq(hf_power_parts_for_effect(50, 0.8, 0.05, false, &n), HF_OK);
    hf_check_close(n, 2, HF_TOLERANCE_EXACT, "two are enough");
    ck_assert_int_eq(hf_power_parts_for_effect(0, 0.8, 0.05, false, &n), HF_OK);
    ck_assert(isinf(n));
    ck_assert_int_eq(hf_power_parts_for_effect(1, 0.04, 0.05, false, &n), HF_RANGE);
    ck_assert_int_eq(hf_power_parts_for_effect(1, 0.8, 0, false, &n), HF_RANGE);
    ck_assert(isnan(hf_power_of(&(hf_power_setup){1, 5, 1, 1, 0.05, false}, 1)));
}
END_TEST

START_TEST(relabeling_needs_four_each_for_two_sided_5_percent) {
    hf_relabel_plan plan = {.effect = 9.3, .power = 0.8, .level = 0.05, .seed = 5};
    double power, error;
    size_t n;
    ck_assert_int_eq(hf_relabel_power(&plan, 3, &power, &error), HF_OK);
    hf_check_close(power, 0, HF_TOLERANCE_EXACT, "2/20 > 0.05");
    ck_assert_int_eq(hf_relabel_parts(&plan, 100, &n, &power), HF_OK);
    ck_assert_uint_eq(n, 4);
    plan.one_sided = true;
    ck_assert_int_eq(hf_relabel_parts(&plan, 100, &n, &power), HF_OK);
    ck_assert_uint_eq(n, 3); /* 1/20 = 0.05 */
    plan.effect = 0.05;
    ck_assert_int_eq(hf_relabel_parts(&plan, 100, &n, &power), HF_NO_RESULT);
}
END_TEST

START_TEST(relabeling_power_is_near_t_and_repeats) {
    hf_relabel_plan plan = {.effect = 1.2, .power = 0.8, .level = 0.05, .seed = 11, .replicates = 1000};
    double first, again, error;
    size_t n;
    hf_power_setup setup = {12, 12, 1, 1, 0.05, false};
    ck_assert_int_eq(hf_relabel_power(&plan, 12, &first, &error), HF_OK);
    hf_check_within(first, hf_power_of(&setup, 1.2), 0.02, "nearly as powerful as t on normal data");
    hf_parallel_set_threads(3);
    ck_assert_int_eq(hf_relabel_power(&plan, 12, &again, &error), HF_OK);
    hf_parallel_set_threads(0);
    hf_check_close(again, first, HF_TOLERANCE_EXACT, "threads");
    double t_parts;
    ck_assert_int_eq(hf_power_parts_for_effect(1.2, 0.8, 0.05, false, &t_parts), HF_OK);
    ck_assert_int_eq(hf_relabel_parts(&plan, 100, &n, &first), HF_OK);
    ck_assert(n >= (size_t)t_parts && n <= (size_t)t_parts + 2);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("power of comparisons");
    TCase *t = tcase_create("power");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, published_parts, 0, (int)(sizeof parts_rows / sizeof *parts_rows));
    tcase_add_test(t, published_power);
    tcase_add_test(t, smallest_difference_inverts_power);
    tcase_add_test(t, edges_are_told);
    tcase_add_test(t, relabeling_needs_four_each_for_two_sided_5_percent);
    tcase_add_test(t, relabeling_power_is_near_t_and_repeats);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
