/* The relabeling test: its rules for ties and zeros, ladders, floor, threads. Values against brute force are in test_reference.c. */
#include "check_close.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/numeric/parallel.h"
#include "strength/random_sample.h"

static hf_arena *arena;
static void start(void) {
    arena = hf_arena_create();
}
static void stop(void) {
    hf_arena_free(arena);
}

static hf_sample exact(const double *loads, size_t n, hf_observation *items) {
    for (size_t i = 0; i < n; i++)
        items[i] = (hf_observation){HF_INTERVAL_EXACT, loads[i], loads[i], false, -1};
    return (hf_sample){items, n};
}

static hf_sample stepped(const double *lower, double step, size_t n, hf_observation *items) {
    for (size_t i = 0; i < n; i++)
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, lower[i], lower[i] + step, false, -1};
    return (hf_sample){items, n};
}

START_TEST(floor_of_three_against_three) {
    /* 20 ways, mirror images alike: 2/20. */
    const double a[] = {101.3, 104.9, 108.2}, b[] = {81.7, 84.4, 90.1};
    hf_observation x[3], y[3];
    hf_relabel out;
    ck_assert_int_eq(hf_relabel_test(arena, exact(a, 3, x), exact(b, 3, y), NULL, &out), HF_OK);
    hf_check_close(out.p, 0.1, HF_TOLERANCE_ROUNDING, "2/20");
    hf_check_close(out.p_floor, 0.1, HF_TOLERANCE_ROUNDING, "2/20");
    hf_check_close(hf_relabel_ways(10, 10), 184756, HF_TOLERANCE_EXACT, "C(20, 10)");
}
END_TEST

START_TEST(zero_over_zero_and_infinity) {
    /* Two values only. All of A at 90, all of B at 80: d/0, tied with its mirror: 2 of 20. All equal: 0/0 = 0, p = 1. */
    const double high[] = {90, 90, 90}, low[] = {80, 80, 80}, mixed[] = {90, 80, 80, 90};
    hf_observation x[4], y[4];
    hf_relabel out;
    ck_assert_int_eq(hf_relabel_test(arena, exact(high, 3, x), exact(low, 3, y), NULL, &out), HF_OK);
    ck_assert(isinf(out.statistic) && out.statistic > 0);
    hf_check_close(out.p, 0.1, HF_TOLERANCE_ROUNDING, "2/20");
    ck_assert_int_eq(hf_relabel_test(arena, exact(high, 3, x), exact(high, 3, y), NULL, &out), HF_OK);
    hf_check_close(out.statistic, 0, HF_TOLERANCE_EXACT, "0/0");
    hf_check_close(out.p, 1, HF_TOLERANCE_EXACT, "0/0 counts as 0");
    /* 2 of 4 against 2 of 4: d = 0, everything is at least as extreme; the floor is the two sharings-out with d/0 of 70. */
    ck_assert_int_eq(hf_relabel_test(arena, exact(mixed, 4, x), exact(mixed, 4, y), NULL, &out), HF_OK);
    hf_check_close(out.p, 1, HF_TOLERANCE_EXACT, "d = 0");
    hf_check_close(out.p_floor, 2.0 / 70, HF_TOLERANCE_ROUNDING, "2/C(8, 4)");
}
END_TEST

START_TEST(steps_on_one_ladder_are_left_alone) {
    const double a[] = {80, 100, 100, 120}, b[] = {60, 80, 80, 60};
    hf_observation x[4], y[4];
    hf_relabel out;
    ck_assert_int_eq(hf_relabel_test(arena, stepped(a, 20, 4, x), stepped(b, 20, 4, y), NULL, &out), HF_OK);
    ck_assert(!out.coarsened && out.full);
    /* Brute force over 70 sharings-out with the widths going along, reference_relabel_steps.py: 6 at least as extreme. */
    hf_check_close(out.p, 6.0 / 70, HF_TOLERANCE_ROUNDING, "reference_relabel_steps.py");
}
END_TEST

START_TEST(different_ladders_are_coarsened_to_common_rungs) {
    /* A in steps of 20 from 60, B in steps of 30 from 60: the rungs both could stop at are 60, 120, 180. */
    const double a[] = {80, 100, 120, 140}, b[] = {60, 90, 120, 90}, rungs[] = {60, 120, 180};
    hf_observation x[4], y[4], xc[4], yc[4];
    hf_relabel out, known, by_hand;
    ck_assert_int_eq(hf_relabel_test(arena, stepped(a, 20, 4, x), stepped(b, 30, 4, y), NULL, &out), HF_OK);
    ck_assert(out.coarsened);
    hf_relabel_options options = {.rungs = rungs, .rung_count = 3};
    ck_assert_int_eq(hf_relabel_test(arena, stepped(a, 20, 4, x), stepped(b, 30, 4, y), &options, &known),
                     HF_OK);
    ck_assert(known.coarsened);
    ck_assert_uint_eq(known.common_rungs, 3);
    const double ac[] = {60, 60, 120, 120}, bc[] = {60, 60, 120, 60};
    ck_assert_int_eq(hf_relabel_test(arena, stepped(ac, 60, 4, xc), stepped(bc, 60, 4, yc), NULL, &by_hand),
                     HF_OK);
    hf_check_close(known.p, by_hand.p, HF_TOLERANCE_EXACT, "coarsened by hand");
    hf_check_close(known.statistic, by_hand.statistic, HF_TOLERANCE_ROUNDING, "coarsened by hand");
}
END_TEST

START_TEST(readings_against_steps_are_put_on_the_steps) {
    const double a[] = {83.1, 104.7, 99.2}, b[] = {60, 80, 100};
    hf_observation x[3], y[3], xc[3];
    hf_relabel out, by_hand;
    ck_assert_int_eq(hf_relabel_test(arena, exact(a, 3, x), stepped(b, 20, 3, y), NULL, &out), HF_OK);
    ck_assert(out.coarsened);
    const double ac[] = {80, 100, 80};
    ck_assert_int_eq(hf_relabel_test(arena, stepped(ac, 20, 3, xc), stepped(b, 20, 3, y), NULL, &by_hand),
                     HF_OK);
    hf_check_close(out.p, by_hand.p, HF_TOLERANCE_EXACT, "by hand");
}
END_TEST

START_TEST(same_bits_on_any_number_of_threads_and_after_a_swap) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_relabel one, many, swapped, scaled;
    size_t sizes[] = {6, 9, 15, 30};
    hf_random_start(&random, 991, (uint64_t)_i);
    hf_sample a = hf_test_sample(&random, sizes[_i], 0, x),
              b = hf_test_sample(&random, sizes[_i] - (_i % 2 ? 1U : 0U), 0, y);
    hf_relabel_options options = {.random = 20000, .seed = 3};
    hf_parallel_set_threads(1);
    ck_assert_int_eq(hf_relabel_test(arena, a, b, &options, &one), HF_OK);
    hf_parallel_set_threads(5);
    ck_assert_int_eq(hf_relabel_test(arena, a, b, &options, &many), HF_OK);
    hf_parallel_set_threads(0);
    ck_assert_int_eq(one.full, _i < 2);
    hf_check_close(many.p, one.p, HF_TOLERANCE_EXACT, "threads");
    hf_check_close(many.p_floor, one.p_floor, HF_TOLERANCE_EXACT, "threads");
    ck_assert_int_eq(hf_relabel_test(arena, b, a, &options, &swapped), HF_OK);
    hf_check_close(swapped.statistic, -one.statistic, 1e-12, "swap");
    if (one.full)
        hf_check_close(swapped.p, one.p, HF_TOLERANCE_EXACT, "swap");
    else
        hf_check_within(swapped.p, one.p, 5 * one.standard_error + 5 * swapped.standard_error,
                        "swap, random");
    hf_test_scale(x, a.count, 0.2248);
    hf_test_scale(y, b.count, 0.2248);
    ck_assert_int_eq(hf_relabel_test(arena, a, b, &options, &scaled), HF_OK);
    hf_check_close(scaled.p, one.p, HF_TOLERANCE_EXACT, "scale");
}
END_TEST

START_TEST(random_relabelings_agree_with_all) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_relabel full, drawn;
    hf_random_start(&random, 992, 0);
    hf_sample a = hf_test_sample(&random, 9, 41.7, x), b = hf_test_sample(&random, 7, 41.7, y);
    ck_assert_int_eq(hf_relabel_test(arena, a, b, NULL, &full), HF_OK);
    hf_relabel_options options = {.full_limit = 1, .random = 100000, .seed = 4};
    ck_assert_int_eq(hf_relabel_test(arena, a, b, &options, &drawn), HF_OK);
    ck_assert(!drawn.full && drawn.standard_error > 0);
    hf_check_within(drawn.p, full.p, 4 * drawn.standard_error, "full enumeration");
}
END_TEST

START_TEST(refuses_open_pulls_and_single_parts) {
    hf_observation x[2] = {{HF_INTERVAL_EXACT, 50, 50, false, -1},
                           {HF_INTERVAL_ABOVE, 60, INFINITY, false, -1}};
    hf_relabel out;
    ck_assert_int_eq(hf_relabel_test(arena, (hf_sample){x, 2}, (hf_sample){x, 1}, NULL, &out), HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "open_observations");
    ck_assert_int_eq(hf_relabel_test(arena, (hf_sample){x, 1}, (hf_sample){x, 1}, NULL, &out), HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "one_part");
    ck_assert(!out.available && isnan(out.p));
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("relabeling");
    TCase *t = tcase_create("rules");
    tcase_add_checked_fixture(t, start, stop);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, floor_of_three_against_three);
    tcase_add_test(t, zero_over_zero_and_infinity);
    tcase_add_test(t, steps_on_one_ladder_are_left_alone);
    tcase_add_test(t, different_ladders_are_coarsened_to_common_rungs);
    tcase_add_test(t, readings_against_steps_are_put_on_the_steps);
    tcase_add_loop_test(t, same_bits_on_any_number_of_threads_and_after_a_swap, 0, 4);
    tcase_add_test(t, random_relabelings_agree_with_all);
    tcase_add_test(t, refuses_open_pulls_and_single_parts);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
