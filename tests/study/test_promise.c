/* At which confidence a bound is taken, and what the promise is worth, at every place among the looks. Figures of worth: own, of an
 * independent simulation (COMPUTED), three decimals; here twenty thousand sequences and their reflections. */
#include <math.h>
#include "check_close.h"
#include "holdfast/study/promise.h"

static const double simulated =
    0.004; /* four standard errors of the worth of looks that are not tabled, and three decimals */

static hf_promise promise(hf_stated_looks looks, size_t now, size_t planned) {
    const hf_goal goal = {.content = 0.90, .confidence = 0.95, .looks = looks};
    hf_promise out;
    ck_assert_int_eq(hf_promise_of(&goal, goal.content, goal.confidence, now, planned, 0, &out), HF_OK);
    ck_assert(out.content == 0.90 && out.confidence == 0.95);
    return out;
}

static const size_t five_to_ten[] = {5, 6, 7, 8, 9, 10}, two[] = {5, 10}, one[] = {10};
static const hf_stated_looks every = {true, five_to_ten, 6, 5, 10, 1, 0}, pair = {true, two, 2, 5, 10, 0, 0},
                             alone = {true, one, 1, 10, 10, 0, 0}, strict = {true, two, 2, 5, 10, 5, 0.99};

START_TEST(a_stated_look_takes_its_share) {
    hf_promise p = promise(every, 7, 3);
    ck_assert_int_eq(p.looks.stand, HF_LOOK_STATED);
    ck_assert_uint_eq(p.looks.number, 3);
    ck_assert_uint_eq(p.looks.next, 8);
    hf_check_within(p.used, 0.9817, 0.0003, "C' of 5 ... 10");
    ck_assert(isnan(p.looks.worth) && p.looks.on_to == 0);
    p = promise(every, 10, 0);
    ck_assert_int_eq(p.looks.stand, HF_LOOK_STATED);
    ck_assert_uint_eq(p.looks.next, 0);
    hf_check_within(p.used, p.looks.each.confidence, 0, "the last is no better");
    hf_check_within(promise(pair, 10, 0).used, 0.9718, 0.001, "C' of 5, 10");
}
END_TEST

START_TEST(one_look_costs_nothing) {
    hf_promise p = promise(alone, 10, 0);
    ck_assert_int_eq(p.looks.stand, HF_LOOK_STATED);
    ck_assert(p.used == 0.95);
}
END_TEST

START_TEST(strict_early_looks_make_a_cheap_last_one) {
    hf_promise early = promise(strict, 5, 5), last = promise(strict, 10, 0);
    ck_assert(early.used == 0.99);
    hf_check_within(last.used, 0.9568, 0.001, "last look");
}
END_TEST

START_TEST(no_stated_look) {
    hf_promise before = promise(every, 4, 6), between = promise(pair, 7, 3);
    ck_assert_int_eq(before.looks.stand, HF_LOOK_BEFORE_FIRST);
    ck_assert_uint_eq(before.looks.next, 5);
    ck_assert(before.used == before.looks.each.confidence && before.looks.worth < 0.95);
    ck_assert_int_eq(between.looks.stand, HF_LOOK_BETWEEN);
    ck_assert(between.used == between.looks.each.confidence);
    ck_assert(between.looks.worth < 0.95 && between.looks.worth > 0.90);
}
END_TEST

/* Past the last look what was promised is used, never C', and the look is one more on top of all: less is left than by one fixed plan. */
START_TEST(past_the_last_look) {
    hf_promise p = promise(pair, 12, 0);
    ck_assert_int_eq(p.looks.stand, HF_LOOK_PAST_LAST);
    ck_assert(p.used == 0.95);
    ck_assert(p.looks.worth < 0.95 && p.looks.worth > 0.85);
    hf_check_within(promise((hf_stated_looks){true, two, 1, 5, 5, 0, 0}, 10, 0).looks.worth, 0.915, simulated,
                    "a fixed plan, and then more");
}
END_TEST

START_TEST(not_stated_nothing_is_adjusted_and_its_price_is_told) {
    hf_promise p = promise((hf_stated_looks){0}, 5, 5);
    ck_assert_int_eq(p.looks.stand, HF_LOOK_NOT_STATED);
    ck_assert(p.used == 0.95);
    ck_assert_uint_eq(p.looks.on_to, 10);
    hf_check_within(p.looks.worth, 0.915, simulated, "5, then 5 more");
    hf_check_within(p.looks.worth_every, 0.882, simulated, "after every pull");
    p = promise((hf_stated_looks){0}, 3, 0);
    ck_assert_uint_eq(p.looks.on_to, 0);
    ck_assert_int_eq(hf_promise_go_on(&p, 0), HF_OK);
    ck_assert_uint_eq(p.looks.on_to, 6);
    hf_check_within(p.looks.worth, 0.912, simulated, "3, then 6");
    hf_check_within(p.looks.worth_every, 0.886, simulated, "3 ... 6");
}
END_TEST

/* First the designs, then the looks: C' restores 0.95^(1/3); own figure of another simulation (COMPUTED), four decimals. */
START_TEST(the_best_of_three_and_then_looks) {
    const size_t parts[] = {3, 4, 5, 6, 7, 8, 9, 10};
    hf_goal goal = {.content = 0.90, .confidence = 0.95};
    hf_promise p;
    ck_assert_int_eq(hf_promise_of(&goal, 0.90, 0.95, 10, 0, 3, &p), HF_OK);
    hf_check_within(p.used, 0.98304757, 1e-8, "0.95^(1/3)");
    goal.looks = (hf_stated_looks){true, parts, 8, 3, 10, 1, 0};
    ck_assert_int_eq(hf_promise_of(&goal, 0.90, 0.95, 10, 0, 3, &p), HF_OK);
    hf_check_within(p.used, 0.9961, 0.0003, "C' of 3 ... 10 for the best of three");
    ck_assert_uint_eq(p.picked_from, 3);
    ck_assert_int_eq(hf_promise_of(&goal, 0.90, 0.95, 10, 0, 1, &p), HF_OK);
    ck_assert_uint_eq(p.picked_from, 0);
}
END_TEST

static Suite *promise_suite(void) {
    Suite *suite = suite_create("promise");
    TCase *tests = tcase_create("looks");
    tcase_add_test(tests, a_stated_look_takes_its_share);
    tcase_add_test(tests, one_look_costs_nothing);
    tcase_add_test(tests, strict_early_looks_make_a_cheap_last_one);
    tcase_add_test(tests, no_stated_look);
    tcase_add_test(tests, past_the_last_look);
    tcase_add_test(tests, not_stated_nothing_is_adjusted_and_its_price_is_told);
    tcase_add_test(tests, the_best_of_three_and_then_looks);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(promise_suite)
