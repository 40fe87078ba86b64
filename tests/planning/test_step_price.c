/* The price of a step against methods.md 6. */
#include "check_close.h"
#include "holdfast/planning/step_price.h"

typedef struct price_row {
    const char *family;
    size_t n;
    double ratio[3]; /* h = 0.5, 1, 2 */
} price_row;

static const price_row rows[] = {
    {"normal", 3, {1.038, 1.136, 1.447}},  {"normal", 5, {1.031, 1.115, 1.398}},
    {"normal", 10, {1.028, 1.106, 1.373}}, {"weibull", 3, {1.049, 1.168, 1.525}},
    {"weibull", 5, {1.035, 1.129, 1.422}}, {"weibull", 10, {1.030, 1.113, 1.380}},
};

START_TEST(prices_agree_with_the_specification) {
    static const double steps[] = {0.5, 1, 2};
    const price_row *row = &rows[_i];
    hf_family law = *hf_family_find(row->family);
    law.step_allowance = 1.0 / 8; /* as in the specification */
    for (int i = 0; i < 3; i++) {
        hf_step_price price;
        ck_assert_int_eq(hf_step_price_of(&law, row->n, steps[i], 0.90, 0.95, &price), HF_OK);
        hf_check_within(price.ratio, row->ratio[i],
                        0.0005 + 4 * price.standard_error + (price.standard_error > 0) * 0.0006,
                        "methods.md 6, three decimals; Weibull figures simulated");
    }
}
END_TEST

/* With less allowance a step of two deviations costs clearly less. */
START_TEST(the_price_follows_the_law_s_allowance) {
    hf_family half = *hf_family_find(_i ? "weibull" : "normal");
    hf_step_price whole, less;
    half.step_allowance /= 2;
    ck_assert_int_eq(hf_step_price_of(hf_family_find(half.name), 5, 2, 0.90, 0.95, &whole), HF_OK);
    ck_assert_int_eq(hf_step_price_of(&half, 5, 2, 0.90, 0.95, &less), HF_OK);
    ck_assert(less.ratio < whole.ratio - 0.06 && less.ratio > 1);
}
END_TEST

/* "margin × 1.12, like losing 0.7 of 5 parts" (issue 4), and the way back: n − lost parts without steps have that margin. */
START_TEST(parts_lost_make_the_same_margin) {
    const hf_family *normal = hf_family_find("normal");
    hf_step_price price;
    double k[3], error;
    ck_assert_int_eq(hf_step_price_of(normal, 5, 1, 0.90, 0.95, &price), HF_OK);
    hf_check_within(price.parts_lost, 0.7, 0.05, "issue 4, one decimal");
    for (size_t n = 3; n <= 5; n++) ck_assert_int_eq(normal->factor(n, 0.90, 0.95, &k[n - 3], &error), HF_OK);
    /* c4 = 0.8862, 0.9213, 0.9400 for n = 3, 4, 5 (any quality handbook). */
    ck_assert_double_lt(price.ratio * k[2] * 0.939986, k[1] * 0.921318);
    /* The step that makes 5 parts as dear as 4 must lose one part. */
    double low = 0.1, high = 3;
    for (int i = 0; i < 60; i++) {
        double h = 0.5 * (low + high);
        ck_assert_int_eq(hf_step_price_of(normal, 5, h, 0.90, 0.95, &price), HF_OK);
        if (price.ratio * k[2] * 0.9399856 < k[1] * 0.9213177)
            low = h;
        else
            high = h;
    }
    hf_check_within(price.parts_lost, 1, 1e-5, "margin of 4 parts, c4 to seven figures");
}
END_TEST

START_TEST(weibull_loses_about_as_much) {
    hf_step_price normal, weibull;
    for (size_t n = 4; n <= 12; n += 4) {
        ck_assert_int_eq(hf_step_price_of(hf_family_find("normal"), n, 1, 0.90, 0.95, &normal), HF_OK);
        ck_assert_int_eq(hf_step_price_of(hf_family_find("weibull"), n, 1, 0.90, 0.95, &weibull), HF_OK);
        ck_assert_double_gt(weibull.parts_lost, 0.5 * normal.parts_lost);
        ck_assert_double_lt(weibull.parts_lost, 2 * normal.parts_lost);
    }
    ck_assert_int_eq(hf_step_price_of(hf_family_find("normal"), 2, 1, 0.90, 0.95, &normal), HF_OK);
    ck_assert_double_nan(normal.parts_lost); /* fewer than 2 cannot be */
    ck_assert_int_eq(hf_step_price_of(hf_family_find("normal"), 1, 1, 0.90, 0.95, &normal), HF_RANGE);
    ck_assert_int_eq(hf_step_price_of(hf_family_find("normal"), 5, 0, 0.90, 0.95, &normal), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planning_step_price");
    TCase *t = tcase_create("step_price");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, prices_agree_with_the_specification, 0, 6);
    tcase_add_loop_test(t, the_price_follows_the_law_s_allowance, 0, 2);
    tcase_add_test(t, parts_lost_make_the_same_margin);
    tcase_add_test(t, weibull_loses_about_as_much);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
