/* What looks buy. */
#include "check_close.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/planning/looks_gain.h"

enum { REPLICATES = 40000 };

static hf_looks_gain gain_of(const hf_looks_gain_setup *setup, const hf_look_plan *plan, double each) {
    hf_looks_gain out;
    ck_assert_int_eq(hf_looks_gain_of(setup, plan, each, &out), HF_OK);
    return out;
}

static hf_looks_gain_setup normal_setup(double required) {
    hf_looks_gain_setup setup = {.family = hf_family_find("normal"),
                                 .content = 0.90,
                                 .required = required,
                                 .replicates = REPLICATES,
                                 .seed = 5};
    ck_assert_int_eq(hf_guess_of(hf_family_find("normal"), 1000, 0.1, &setup.law), HF_OK);
    return setup;
}

/* Where ten parts reach the required bound four times in five, looks 5 … 15 reach it 84.5 times in 100 with 9.9 parts on the average, 5 … 20
 * 94.3 times with 10.9 (COMPUTED). */
START_TEST(looks_reach_it_more_often_with_as_many_parts) {
    static const size_t last[] = {15, 20};
    static const double reached[] = {0.845, 0.943}, parts[] = {9.9, 10.9};
    hf_look_plan ten = {(size_t[]){10}, 1, 0};
    double low = 500, high = 1000;
    for (int i = 0; i < 40; i++) {
        hf_looks_gain_setup setup = normal_setup(0.5 * (low + high));
        if (gain_of(&setup, &ten, 0.95).reached > 0.8)
            low = setup.required;
        else
            high = setup.required;
    }
    hf_looks_gain_setup setup = normal_setup(low);
    hf_looks_gain fixed = gain_of(&setup, &ten, 0.95);
    hf_check_within(fixed.reached, 0.8, 0.001, "by the search");
    ck_assert(fixed.parts == 10 && fixed.parts_error == 0);
    for (int i = 0; i < 2; i++) {
        size_t list[HF_LOOKS_MOST], count;
        hf_look_confidence each;
        ck_assert_int_eq(hf_looks_list(5, last[i], 1, list, &count), HF_OK);
        hf_look_plan plan = {list, count, 0};
        ck_assert_int_eq(hf_looks_confidence(&plan, 0.90, 0.95, &each), HF_OK);
        hf_looks_gain got = gain_of(&setup, &plan, each.confidence);
        hf_check_within(got.reached, reached[i], 0.004 + 4 * got.reached_error, "COMPUTED");
        hf_check_within(got.parts, parts[i], 0.05 + 0.05 + 4 * got.parts_error, "COMPUTED, one decimal");
    }
}
END_TEST

/* Strict early looks stop less often; the Weibull law follows the same road; threads do not matter. */
START_TEST(what_must_hold) {
    hf_look_plan plan = {(size_t[]){5, 10}, 2, 0}, strict = {(size_t[]){5, 10}, 2, 0.99};
    hf_looks_gain_setup setup = normal_setup(770);
    hf_looks_gain alike = gain_of(&setup, &plan, 0.97), early = gain_of(&setup, &strict, 0.97);
    ck_assert_double_gt(early.parts, alike.parts);
    ck_assert_double_le(early.reached, alike.reached);
    setup.family = NULL;
    hf_looks_gain weibull[2];
    for (int i = 0; i < 2; i++) {
        hf_parallel_set_threads(1 + 2 * i);
        weibull[i] = gain_of(&setup, &plan, 0.97);
    }
    hf_parallel_set_threads(0);
    ck_assert_mem_eq(&weibull[0], &weibull[1], sizeof weibull[0]);
    ck_assert(weibull[0].reached > 0 && weibull[0].reached < alike.reached);
    hf_looks_gain out;
    hf_look_plan falling = {(size_t[]){5, 4}, 2, 0};
    ck_assert_int_eq(hf_looks_gain_of(&setup, &falling, 0.97, &out), HF_RANGE);
    setup.required = -1;
    ck_assert_int_eq(hf_looks_gain_of(&setup, &plan, 0.97, &out), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("looks gain");
    TCase *t = tcase_create("gain");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, looks_reach_it_more_often_with_as_many_parts);
    tcase_add_test(t, what_must_hold);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
