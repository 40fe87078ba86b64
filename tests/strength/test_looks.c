/* Looks, the best of several designs, batches and earlier scatter: published and computed values, and what must hold. */
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"
#include "strength/looks.h"

static hf_look_confidence looked(const hf_look_plan *plan, double content, double confidence) {
    hf_look_confidence out;
    ck_assert_int_eq(hf_looks_confidence(plan, content, confidence, &out), HF_OK);
    return out;
}

/* Own figures of an independent simulation, 200 000 normal sequences (COMPUTED); three decimals, C′ for 0.75 too. */
typedef struct looks_row {
    size_t first, last;
    double plain[3], each[3]; /* 0.95, 0.90, 0.75 */
} looks_row;

static const looks_row looks_rows[] = {
    {3, 6, {.886, .798, .587}, {.9809, .9571, .870}},   {3, 10, {.844, .736, .502}, {.9875, .9713, .907}},
    {3, 15, {.813, .692, .445}, {.9904, .9777, .926}},  {3, 20, {.792, .663, .410}, {.9919, .9810, .936}},
    {3, 30, {.763, .625, .365}, {.9933, .9844, .946}},  {5, 10, {.882, .793, .581}, {.9817, .9586, .873}},
    {5, 15, {.848, .744, .511}, {.9871, .9703, .903}},  {5, 20, {.826, .711, .469}, {.9895, .9755, .918}},
    {5, 30, {.796, .669, .417}, {.9918, .9806, .934}},  {10, 15, {.904, .826, .627}, {.9763, .9478, .846}},
    {10, 20, {.877, .786, .568}, {.9830, .9613, .878}}, {10, 30, {.843, .736, .500}, {.9878, .9720, .907}},
};
enum { LOOKS_ROWS = sizeof looks_rows / sizeof *looks_rows };

START_TEST(looks_after_every_part_agree_with_another_simulation) {
    static const double confidences[] = {0.95, 0.90, 0.75};
    const looks_row *row = &looks_rows[_i];
    size_t parts[HF_LOOKS_MOST], count;
    ck_assert_int_eq(hf_looks_list(row->first, row->last, 1, parts, &count), HF_OK);
    hf_look_plan plan = {parts, count, 0};
    for (size_t c = 0; c < 3; c++) {
        hf_look_confidence got = looked(&plan, 0.90, confidences[c]);
        /* Two standard errors of theirs are added to four of ours: √(p(1 − p)/200 000), and a quarter of it in C′ (an eighth at 0.95). */
        double theirs = sqrt(row->plain[c] * (1 - row->plain[c]) / 200000);
        hf_check_within(got.plain, row->plain[c], 0.0006 + 2 * theirs + 4 * got.plain_error, "COMPUTED");
        double rounding = c == 2 ? 0.0006 : 0.00006;
        hf_check_within(got.confidence, row->each[c], rounding + 0.0004 + 4 * got.standard_error, "COMPUTED");
        ck_assert_double_le(got.standard_error, 0.0005);
    }
}
END_TEST

/* Two and three looks, no table: always simulated. */
START_TEST(few_looks_agree_with_another_simulation) {
    static const struct {
        size_t parts[4], count;
        double plain, each, plain75, each75;
    } rows[] = {{{3, 6}, 2, .912, .9726, .634, .841},     {{5, 10}, 2, .915, .9718, .641, .836},
                {{10, 20}, 2, .917, .9708, .647, .832},   {{3, 5, 10}, 3, .883, .9806, .562, .878},
                {{5, 8, 12}, 3, .894, .9783, .595, .863}, {{5, 10, 15, 20}, 4, .872, .9827, .540, .888}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hf_look_plan plan = {rows[i].parts, rows[i].count, 0};
        hf_look_confidence sure = looked(&plan, 0.90, 0.95), unsure = looked(&plan, 0.90, 0.75);
        hf_check_within(sure.plain, rows[i].plain, 0.0017 + 4 * sure.plain_error, "COMPUTED");
        hf_check_within(sure.confidence, rows[i].each, 0.0005 + 4 * sure.standard_error, "COMPUTED");
        hf_check_within(unsure.plain, rows[i].plain75, 0.0027 + 4 * unsure.plain_error, "COMPUTED");
        hf_check_within(unsure.confidence, rows[i].each75, 0.001 + 4 * unsure.standard_error, "COMPUTED");
    }
}
END_TEST

/* Early looks at 0.99, a cheap last one. */
START_TEST(strict_early_looks_leave_a_cheap_last_one) {
    static const struct {
        size_t parts[12], count;
        double last;
    } rows[] = {{{5, 10}, 2, .9568},
                {{3, 5, 10}, 3, .9649},
                {{3, 4, 5, 6, 7, 8, 9, 10}, 8, .9783},
                {{5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}, 11, .9762}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hf_look_plan plan = {rows[i].parts, rows[i].count, 0.99};
        hf_look_confidence got = looked(&plan, 0.90, 0.95);
        double worth, error;
        hf_check_within(got.confidence, rows[i].last, 0.0008 + 4 * got.standard_error, "COMPUTED");
        ck_assert_double_lt(got.plain, 0.93); /* of plain looks, all alike */
        ck_assert_int_eq(hf_looks_worth(&plan, 0.90, got.confidence, &worth, &error), HF_OK);
        hf_check_within(worth, 0.95, 4 * error, "definition");
    }
    hf_look_confidence none;
    hf_look_plan loose = {(size_t[]){3, 4, 5, 6, 7, 8, 9, 10}, 8, 0.90};
    ck_assert_int_eq(hf_looks_confidence(&loose, 0.90, 0.95, &none), HF_NO_RESULT);
}
END_TEST

/* Many parts and content 0.5: the pivots become normal, the looks those of a test repeated on growing samples. Pocock's one-sided 5 %
 * constants for 2 … 5 equally spaced looks (MEMORY; simulated elsewhere 1.876, 1.994, 2.070, 2.125). */
START_TEST(many_parts_give_pocock_s_constants) {
    static const double constants[] = {1.875, 1.992, 2.067, 2.122};
    hf_look_plan plan = {(size_t[]){200, 400, 600, 800, 1000}, (size_t)_i + 2, 0};
    hf_look_confidence got;
    ck_assert_int_eq(hf_looks_simulated(&plan, 0.5, 0.95, 40000, &got), HF_OK);
    double z = hf_normal_quantile_lower(got.confidence), slope = exp(hf_normal_log_density(z));
    ck_assert_double_le(got.standard_error / slope, 0.009);
    hf_check_within(z, constants[_i], 0.002 + 3.5 * got.standard_error / slope, "Pocock, MEMORY");
}
END_TEST

/* The simulated pivots against a plain one: whole samples, mean and deviation anew at every look. */
START_TEST(sequences_drawn_the_long_way_agree) {
    enum { SEQUENCES = 60000, PARTS = 7 };
    static const size_t parts[] = {3, 5, 7};
    hf_look_plan plan = {parts, 3, 0};
    hf_look_confidence got;
    double k[3], error, y[PARTS], m, s, q = -hf_normal_quantile_lower(0.95);
    hf_random random;
    size_t right = 0;
    ck_assert_int_eq(hf_looks_simulated(&plan, 0.95, 0.90, 60000, &got), HF_OK);
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(hf_family_find("normal")->factor(parts[i], 0.95, 0.90, &k[i], &error), HF_OK);
    hf_random_start(&random, 8, 0);
    for (size_t i = 0; i < SEQUENCES; i++) {
        bool holds = true;
        hf_random_fill_normal(&random, y, PARTS);
        for (int look = 0; look < 3; look++) {
            ck_assert_int_eq(hf_family_find("normal")->estimate(y, parts[look], &m, &s), HF_OK);
            holds &= m - k[look] * s <= q;
        }
        right += holds;
    }
    double share = (double)right / SEQUENCES;
    hf_check_within(got.plain, share, 4 * hypot(sqrt(share * (1 - share) / SEQUENCES), got.plain_error),
                    "by definition");
}
END_TEST

/* 3 … 10 restoring C_d for d = 2, 3, 5 (COMPUTED), and C′^(1/d), which falls short. */
START_TEST(the_best_of_several_designs_with_looks) {
    static const size_t designs[] = {2, 3, 5};
    static const double each[] = {.9941, .9961, .9979}, worth[] = {.947, .944, .938};
    size_t parts[HF_LOOKS_MOST], count;
    ck_assert_int_eq(hf_looks_list(3, 10, 1, parts, &count), HF_OK);
    hf_look_plan plan = {parts, count, 0};
    double plain = looked(&plan, 0.90, 0.95).confidence;
    for (int i = 0; i < 3; i++) {
        hf_look_confidence got = looked(&plan, 0.90, hf_best_of_confidence(0.95, designs[i]));
        hf_check_within(got.confidence, each[i], 0.00015 + 4 * got.standard_error, "COMPUTED");
        double one, error;
        ck_assert_int_eq(hf_looks_worth(&plan, 0.90, hf_best_of_confidence(plain, designs[i]), &one, &error),
                         HF_OK);
        hf_check_within(pow(one, (double)designs[i]), worth[i], 0.003 + 4 * error * (double)designs[i],
                        "COMPUTED");
    }
}
END_TEST

/* k and C_d COMPUTED; w simulated for this test. */
START_TEST(choosing_the_best_bound) {
    static const struct {
        size_t designs;
        double each, worth, k5, k10, w5, w10;
    } rows[] = {{2, .9747, .902, 4.151, 2.641, 8.141, 4.897},
                {3, .9830, .857, 4.643, 2.814, 9.072, 5.216},
                {5, .9898, .774, 5.332, 3.039, 10.413, 5.632},
                {10, .9949, .60, 6.409, 3.356, 12.475, 6.208}};
    const hf_family *normal = hf_family_find("normal"), *weibull = hf_family_find("weibull");
    for (size_t i = 0; i < 4; i++) {
        double c = hf_best_of_confidence(0.95, rows[i].designs), k, error;
        hf_check_within(c, rows[i].each, 0.00005, "COMPUTED");
        hf_check_within(hf_best_of_worth(0.95, rows[i].designs), rows[i].worth, 0.0052,
                        "COMPUTED, two or three figures");
        ck_assert_int_eq(normal->factor(5, 0.90, c, &k, &error), HF_OK);
        hf_check_within(k, rows[i].k5, 0.0006, "COMPUTED");
        ck_assert_int_eq(normal->factor(10, 0.90, c, &k, &error), HF_OK);
        hf_check_within(k, rows[i].k10, 0.0006, "COMPUTED");
        ck_assert_int_eq(weibull->factor(5, 0.90, c, &k, &error), HF_OK);
        hf_check_within(k, rows[i].w5, 0.0028 * rows[i].w5 + 3 * error, "2 000 000 samples of other seeds");
        ck_assert_int_eq(weibull->factor(10, 0.90, c, &k, &error), HF_OK);
        hf_check_within(k, rows[i].w10, 0.0015 * rows[i].w10 + 3 * error, "2 000 000 samples of other seeds");
    }
    hf_check_close(hf_best_of_worth(hf_best_of_confidence(0.9, 7), 7), 0.9, HF_TOLERANCE_ROUNDING, "inverse");
    ck_assert(isnan(hf_best_of_confidence(0.95, 0)) && isnan(hf_best_of_worth(1, 2)));
}
END_TEST

START_TEST(the_table_is_what_the_simulation_says) {
    static const size_t plans[][2] = {{2, 3}, {2, 30}, {4, 9}, {7, 30}, {15, 16}, {15, 30}};
    for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
        size_t parts[HF_LOOKS_MOST], count;
        ck_assert_int_eq(hf_looks_list(plans[i][0], plans[i][1], 1, parts, &count), HF_OK);
        hf_look_plan plan = {parts, count, 0};
        for (size_t p = 0; p < HF_LOOKS_CONTENTS; p++)
            for (size_t c = 0; c < HF_LOOKS_CONFIDENCES; c++) {
                hf_look_confidence tabled = looked(&plan, hf_looks_contents[p], hf_looks_confidences[c]),
                                   drawn;
                ck_assert_int_eq(
                    hf_looks_simulated(&plan, hf_looks_contents[p], hf_looks_confidences[c], 20000, &drawn),
                    HF_OK);
                hf_check_within(tabled.confidence, drawn.confidence,
                                4.5 * hypot(drawn.standard_error, tabled.standard_error) + 1e-5,
                                "simulation");
                hf_check_within(tabled.plain, drawn.plain,
                                4.5 * hypot(drawn.plain_error, tabled.plain_error) + 1e-5, "simulation");
                ck_assert(tabled.standard_error > 0 && tabled.standard_error < 0.0005);
                ck_assert_double_gt(tabled.confidence, hf_looks_confidences[c]);
            }
    }
}
END_TEST

START_TEST(more_looks_ask_for_more) {
    size_t parts[HF_LOOKS_MOST], count;
    double before = 0.95;
    for (size_t last = 4; last <= 30; last++) {
        ck_assert_int_eq(hf_looks_list(3, last, 1, parts, &count), HF_OK);
        hf_look_plan plan = {parts, count, 0};
        double each = looked(&plan, 0.90, 0.95).confidence;
        ck_assert_double_gt(each, before);
        before = each;
    }
    hf_look_plan one = {(size_t[]){7}, 1, 0};
    hf_look_confidence alone = looked(&one, 0.90, 0.95);
    ck_assert(alone.confidence == 0.95 && alone.plain == 0.95 && alone.standard_error == 0);
}
END_TEST

START_TEST(threads_do_not_change_a_bit_of_looks) {
    hf_look_confidence got[3];
    hf_look_plan plan = {(size_t[]){3, 5, 10}, 3, 0};
    for (int i = 0; i < 3; i++) {
        hf_parallel_set_threads(1 + 2 * i);
        got[i] = looked(&plan, 0.90, 0.95);
        ck_assert_mem_eq(&got[i], &got[0], sizeof got[0]);
    }
    hf_parallel_set_threads(0);
}
END_TEST

START_TEST(impossible_plans_are_refused) {
    hf_look_confidence out;
    size_t parts[HF_LOOKS_MOST], count, many[HF_LOOKS_MOST + 1];
    for (size_t i = 0; i <= HF_LOOKS_MOST; i++) many[i] = i + 2;
    const hf_look_plan bad[] = {{(size_t[]){1, 2}, 2, 0},
                                {(size_t[]){3, 3}, 2, 0},
                                {(size_t[]){5, 4}, 2, 0},
                                {(size_t[]){3, 1001}, 2, 0},
                                {many, 0, 0},
                                {many, HF_LOOKS_MOST + 1, 0},
                                {(size_t[]){3, 4}, 2, 0.5}};
    const hf_look_plan sound = {(size_t[]){3, 4}, 2, 0};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_int_eq(hf_looks_confidence(&bad[i], 0.90, 0.95, &out), HF_RANGE);
    ck_assert_int_eq(hf_looks_confidence(&sound, 0.49, 0.95, &out), HF_RANGE);
    ck_assert_int_eq(hf_looks_confidence(&sound, 0.90, 0.9999, &out), HF_RANGE);
    ck_assert_int_eq(hf_looks_list(1, 5, 1, parts, &count), HF_RANGE);
    ck_assert_int_eq(hf_looks_list(2, 300, 1, parts, &count), HF_RANGE);
    ck_assert_int_eq(hf_looks_list(5, 20, 0, parts, &count), HF_RANGE);
    ck_assert_int_eq(hf_looks_list(5, 16, 5, parts, &count), HF_OK);
    ck_assert(count == 4 && parts[0] == 5 && parts[2] == 15 && parts[3] == 16);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("looks");
    TCase *t = tcase_create("looks");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, looks_after_every_part_agree_with_another_simulation, 0, LOOKS_ROWS);
    tcase_add_test(t, few_looks_agree_with_another_simulation);
    tcase_add_test(t, strict_early_looks_leave_a_cheap_last_one);
    tcase_add_loop_test(t, many_parts_give_pocock_s_constants, 0, 4);
    tcase_add_test(t, sequences_drawn_the_long_way_agree);
    tcase_add_test(t, the_best_of_several_designs_with_looks);
    tcase_add_test(t, choosing_the_best_bound);
    tcase_add_test(t, the_table_is_what_the_simulation_says);
    tcase_add_test(t, more_looks_ask_for_more);
    tcase_add_test(t, threads_do_not_change_a_bit_of_looks);
    tcase_add_test(t, impossible_plans_are_refused);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
