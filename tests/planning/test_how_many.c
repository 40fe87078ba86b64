/* The table of parts and the forecast, against an independent simulation and closed forms. */
#include <stdlib.h>
#include "holdfast/numeric/parallel.h"
#include "holdfast/planning/how_many.h"
#include "holdfast/planning/ladder.h"
#include "holdfast/planning/next.h"
#include "planning/reference_planning.h"

static const double source_replicates = 200000;

/* Four standard errors of both simulations together, plus what the simulated factor of the reference is unsure of. */
static void check_told(const char *group, const char *what, double got, double own_error,
                       double factor_error) {
    char name[120];
    snprintf(name, sizeof name, "%s.%s", group, what);
    hf_told told = hf_told_of(name);
    double allowed =
        4 * sqrt(told.error * told.error + own_error * own_error) + factor_error + 1e-5 * fabs(told.value);
    hf_check_within(got, told.value, allowed, name);
}

static void check_row(const char *group, const hf_how_many *table, size_t n, double factor_error) {
    const hf_how_many_row *row = &table->rows[n - 2];
    double factor = table->exact ? 0 : sqrt(400000 / source_replicates); /* own error from the reference's */
    static const char *const points[] = {"low", "middle", "high"};
    double values[] = {row->low, row->middle, row->high};
    ck_assert_uint_eq(row->n, n);
    check_told(group, "expected", row->expected, row->expected_error, factor_error);
    for (int i = 0; i < 3; i++) {
        char name[120];
        snprintf(name, sizeof name, "%s.%s", group, points[i]);
        check_told(group, points[i], values[i], factor * hf_told_of(name).error, factor_error);
    }
    check_told(group, "assurance", row->assurance, row->assurance_error, factor_error > 0 ? 0.004 : 0);
}

static hf_how_many_setup setup_of(const char *law, const char *family, double cv, double required) {
    return (hf_how_many_setup){.law = hf_family_find(law),
                               .family = hf_family_find(family),
                               .mean = 900,
                               .cv = cv,
                               .content = 0.90,
                               .confidence = 0.95,
                               .required = required,
                               .minutes_per_pull = 7,
                               .seed = 7,
                               .replicates = (size_t)source_replicates};
}

START_TEST(closed_forms_agree_with_simulation) {
    hf_arena *arena = hf_arena_create();
    hf_how_many table;
    hf_how_many_setup setup = setup_of("normal", "normal", 0.12, 600);
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert(table.exact);
    check_row("normal_exact_5", &table, 5, 0);
    setup = setup_of("lognormal", "lognormal", 0.2, 550);
    setup.content = 0.95;
    setup.confidence = 0.75;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert(table.exact);
    check_row("lognormal_exact_4", &table, 4, 0);
    hf_arena_free(arena);
}
END_TEST

START_TEST(stepped_tables_agree_with_simulation) {
    double even[47], uneven[17];
    size_t count = 0;
    hf_arena *arena = hf_arena_create();
    hf_how_many table;
    for (int i = 0; i < 47; i++) even[i] = 20 + 40 * i;
    hf_how_many_setup setup = setup_of("weibull", "weibull", 0.12, 450);
    setup.loads = even;
    setup.load_count = 47;
    setup.most = 10;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    check_row("weibull_stepped_5", &table, 5, 1);
    check_row("weibull_stepped_10", &table, 10, 0.5);
    for (double load = 60; load < 480 && load < 461; load += 200) uneven[count++] = load;
    for (double load = 550; load < 1700; load += 90) uneven[count++] = load;
    setup = setup_of("normal", "weibull", 0.10, 500);
    setup.loads = uneven;
    setup.load_count = count;
    setup.most = 6;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    check_row("normal_law_weibull_bound_6", &table, 6, 1);
    hf_arena_free(arena);
}
END_TEST

/* From guess, weights and rig to the table, as `plan` goes. */
START_TEST(the_proposed_ladder_agrees_with_simulation) {
    static const int64_t grams[] = {20000, 10000, 5000, 2000, 1000};
    static const int counts[] = {4, 3, 1, 2, 1};
    const double gravity = 9.80665;
    hf_weight_kind kinds[5];
    hf_arena *arena = hf_arena_create();
    hf_weight_search *search;
    hf_guess guess;
    hf_ladder ladder;
    hf_how_many table;
    for (int i = 0; i < 5; i++) kinds[i] = (hf_weight_kind){grams[i], counts[i]};
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 5, &search), HF_OK);
    ck_assert_int_eq(hf_guess_of(hf_family_find("weibull"), 900, 0.12, &guess), HF_OK);
    hf_ladder_rig rig = {2.6 * gravity, 2500, search, gravity / 1000, 30, 5, 120};
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 5, 0, &rig, &ladder), HF_OK);
    ck_assert_uint_eq(ladder.count, 10);
    for (size_t i = 0; i < ladder.count; i++) {
        char name[40];
        snprintf(name, sizeof name, "proposed.rung_%zu", i + 1);
        hf_check_close(ladder.loads[i], hf_told_of(name).value, 1e-5, name); /* six figures in the file */
    }
    hf_how_many_setup setup = setup_of("weibull", "weibull", 0.12, 360);
    setup.loads = ladder.loads;
    setup.load_count = ladder.count;
    setup.tare = rig.tare;
    setup.most = 10;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    check_row("weibull_proposed_4", &table, 4, 1);
    check_row("weibull_proposed_5", &table, 5, 1);
    check_row("weibull_proposed_10", &table, 10, 0.5);
    hf_arena_free(arena);
}
END_TEST

/* Every row leans on it, the more parts the better. */
START_TEST(a_stated_scatter_governs_every_row) {
    double loads[40];
    hf_stated_scatter scatter = {.cv = 0.12, .degrees_of_freedom = _i ? 15 : INFINITY};
    hf_arena *arena = hf_arena_create();
    hf_how_many with, without;
    for (int i = 0; i < 40; i++) loads[i] = 40 + 40 * i;
    hf_how_many_setup setup = setup_of("weibull", "weibull", 0.12, 450);
    setup.loads = loads;
    setup.load_count = 40;
    setup.replicates = 4000;
    setup.most = 6;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &without), HF_OK);
    ck_assert_ptr_null(without.one);
    ck_assert_uint_eq(without.by_scatter, 0);
    setup.scatter = &scatter;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &with), HF_OK);
    ck_assert_uint_eq(with.by_scatter, 6);
    ck_assert_uint_eq(with.one->n, 1);
    ck_assert_double_gt(with.rows[1].expected, without.rows[1].expected + 100);
    for (size_t i = 0; i < with.count; i++)
        ck_assert_double_gt(with.rows[i].expected, without.rows[i].expected);
    ck_assert_uint_ge(with.recommended, 2); /* never one */
    setup.most = 1;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &with), HF_OK);
    ck_assert_uint_eq(with.count, 0);
    ck_assert_uint_eq(with.recommended, 0);
    setup.required = NAN;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &with), HF_OK);
    ck_assert_int_eq(with.reason, HF_PARTS_ONLY_ONE);
    hf_arena_free(arena);
}
END_TEST

START_TEST(the_forecast_agrees_with_simulation) {
    static const double data[] = {812, 905, 871, 1010, 934};
    hf_observation items[5];
    hf_arena *arena = hf_arena_create();
    hf_next next;
    for (int i = 0; i < 5; i++) items[i] = (hf_observation){HF_INTERVAL_EXACT, data[i], data[i], false, -1};
    hf_next_setup setup = {.sample = {items, 5},
                           .family = hf_family_find("normal"),
                           .content = 0.90,
                           .confidence = 0.95,
                           .required = 700,
                           .more = 3,
                           .seed = 3,
                           .replicates = (size_t)source_replicates};
    ck_assert_int_eq(hf_next_parts(arena, &setup, &next), HF_OK);
    const hf_next_row *row = &next.rows[1];
    ck_assert_uint_eq(row->n, 7);
    check_told("next_2", "expected", row->expected, row->expected_error, 0);
    check_told("next_2", "low", row->low, 0.5, 0);
    check_told("next_2", "middle", row->middle, 0.12, 0);
    check_told("next_2", "high", row->high, 0.04, 0);
    check_told("next_2", "assurance", row->chance, row->chance_error, 0);
    hf_arena_free(arena);
}
END_TEST

/* With one and with three threads, and the row of n = 5 in a short and in a long table. */
START_TEST(threads_and_table_length_do_not_matter) {
    double loads[20];
    hf_arena *arena = hf_arena_create();
    hf_how_many tables[3];
    for (int i = 0; i < 20; i++) loads[i] = 240 + 60 * i;
    hf_how_many_setup setup = setup_of("weibull", "weibull", 0.15, 400);
    setup.loads = loads;
    setup.load_count = 20;
    setup.replicates = 1000;
    for (int i = 0; i < 3; i++) {
        setup.most = i == 2 ? 5 : 12;
        hf_parallel_set_threads(i == 1 ? 3 : 1);
        ck_assert_int_eq(hf_how_many_parts(arena, &setup, &tables[i]), HF_OK);
    }
    hf_parallel_set_threads(0);
    ck_assert_double_gt(tables[0].rows[10].open, 0); /* the open way is in it */
    for (size_t i = 0; i < tables[0].count; i++) {
        ck_assert_mem_eq(&tables[0].rows[i].expected, &tables[1].rows[i].expected, sizeof(double));
        ck_assert_mem_eq(&tables[0].rows[i].high, &tables[1].rows[i].high, sizeof(double));
    }
    for (size_t i = 0; i < tables[2].count; i++)
        ck_assert_mem_eq(&tables[0].rows[i].expected, &tables[2].rows[i].expected, sizeof(double));
    hf_arena_free(arena);
}
END_TEST

START_TEST(recommendations_follow_from_the_rows) {
    hf_arena *arena = hf_arena_create();
    hf_how_many table;
    hf_how_many_setup setup = setup_of("normal", "normal", 0.12, 600);
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert_int_eq(table.reason, HF_PARTS_ASSURED);
    ck_assert_double_ge(table.rows[table.recommended - 2].assurance, 0.80);
    ck_assert_double_lt(table.rows[table.recommended - 3].assurance, 0.80);
    hf_check_close(table.rows[3].minutes, 35, HF_TOLERANCE_ROUNDING, "5 parts of 7 minutes");
    hf_check_close(table.true_quantile, 900 * (1 - 0.12 * 1.2815515655446004), HF_TOLERANCE_ROUNDING,
                   "10 % point");
    setup.required = 780; /* above the 10 % point 761.6 */
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert_int_eq(table.reason, HF_PARTS_IMPOSSIBLE);
    ck_assert_uint_eq(table.recommended, 0);
    setup.required = 755;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert_int_eq(table.reason, HF_PARTS_NOT_ASSURED);
    setup.required = NAN;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert_int_eq(table.reason, HF_PARTS_LEVELLED);
    size_t i = table.recommended - 2;
    for (size_t j = i; j + 1 < table.count; j++)
        ck_assert_double_lt(table.rows[j + 1].expected - table.rows[j].expected, 9);
    ck_assert_double_ge(table.rows[i].expected - table.rows[i - 1].expected, 9);
    setup.most = 4;
    ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
    ck_assert_int_eq(table.reason, HF_PARTS_STILL_RISING);
    hf_arena_free(arena);
}
END_TEST

/* Two ladders that no number of parts helps: one breaks most at once, one tells too little. */
START_TEST(a_ladder_that_cannot_tell_gets_no_recommendation) {
    double heavy[] = {1000, 1100}, wide[] = {700, 1400};
    hf_arena *arena = hf_arena_create();
    hf_how_many table;
    for (int required = 0; required < 2; required++) {
        hf_how_many_setup setup = setup_of("weibull", "weibull", 0.12, required ? 100 : NAN);
        setup.replicates = 400;
        setup.loads = heavy;
        setup.load_count = 2;
        ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
        ck_assert_int_eq(table.reason, HF_PARTS_BROKEN_AT_FIRST);
        ck_assert_uint_eq(table.recommended, 0);
        setup.loads = wide;
        ck_assert_int_eq(hf_how_many_parts(arena, &setup, &table), HF_OK);
        ck_assert_double_gt(table.rows[10].without_bound, 0.05);
        ck_assert_int_eq(table.reason, HF_PARTS_NO_BOUND);
        ck_assert_uint_eq(table.recommended, 0);
    }
    hf_arena_free(arena);
}
END_TEST

START_TEST(the_table_scales_with_the_unit) {
    double loads[2][24];
    hf_arena *arena = hf_arena_create();
    hf_how_many tables[2];
    for (int i = 0; i < 24; i++) {
        loads[0][i] = 200 + 64 * i;
        loads[1][i] = loads[0][i] * 0.25;
    }
    for (int i = 0; i < 2; i++) {
        hf_how_many_setup setup = setup_of("weibull", "weibull", 0.12, i ? 112.5 : 450);
        setup.mean = i ? 225 : 900;
        setup.loads = loads[i];
        setup.load_count = 24;
        setup.most = 8;
        setup.replicates = 800;
        ck_assert_int_eq(hf_how_many_parts(arena, &setup, &tables[i]), HF_OK);
    }
    for (size_t i = 0; i < tables[0].count; i++) {
        hf_check_close(tables[1].rows[i].expected, 0.25 * tables[0].rows[i].expected, 1e-9,
                       "methods.md 9: loads × c");
        hf_check_close(tables[1].rows[i].assurance, tables[0].rows[i].assurance, 1e-9, "loads × c");
    }
    hf_arena_free(arena);
}
END_TEST

START_TEST(a_forecast_after_steps_and_run_outs_runs) {
    static const double lower[] = {700, 760, 820, 880, 820, 940};
    hf_observation items[6];
    double loads[16];
    hf_arena *arena = hf_arena_create();
    hf_next next[2];
    for (int i = 0; i < 16; i++) loads[i] = 400 + 60 * i;
    for (int i = 0; i < 6; i++)
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, lower[i], lower[i] + 60, false, -1};
    for (int run_out = 0; run_out < 2; run_out++) {
        if (run_out) items[5] = (hf_observation){HF_INTERVAL_ABOVE, 1000, INFINITY, false, -1};
        hf_next_setup setup = {.sample = {items, 6},
                               .content = 0.90,
                               .confidence = 0.95,
                               .loads = loads,
                               .load_count = 16,
                               .tare = 20,
                               .required = 650,
                               .more = 6,
                               .seed = 5};
        ck_assert_int_eq(hf_next_parts(arena, &setup, &next[run_out]), HF_OK);
        ck_assert(isfinite(next[run_out].now));
        ck_assert_double_gt(next[run_out].rows[5].middle, next[run_out].now); /* more parts, shorter margin */
        ck_assert_double_gt(next[run_out].rows[5].chance, next[run_out].rows[0].chance);
    }
    hf_next_setup single = {.sample = {items, 1}, .content = 0.90, .confidence = 0.95, .required = NAN};
    ck_assert_int_eq(hf_next_parts(arena, &single, next), HF_NO_RESULT);
    hf_arena_free(arena);
}
END_TEST

START_TEST(impossible_questions_are_refused) {
    double falling[] = {500, 400};
    hf_arena *arena = hf_arena_create();
    hf_how_many table;
    const hf_how_many_setup sound = setup_of("weibull", "weibull", 0.12, 450);
    hf_how_many_setup bad[] = {sound, sound, sound, sound, sound, sound};
    bad[0].cv = 0;
    bad[1].cv = 1.01;
    bad[2].mean = -1;
    bad[3].content = 0.4;
    bad[4].most = 1;
    bad[5].loads = falling;
    bad[5].load_count = 2;
    for (int i = 0; i < 6; i++) ck_assert_int_eq(hf_how_many_parts(arena, &bad[i], &table), HF_RANGE);
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planning_how_many");
    TCase *t = tcase_create("how_many");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, closed_forms_agree_with_simulation);
    tcase_add_test(t, stepped_tables_agree_with_simulation);
    tcase_add_test(t, the_proposed_ladder_agrees_with_simulation);
    tcase_add_loop_test(t, a_stated_scatter_governs_every_row, 0, 2);
    tcase_add_test(t, the_forecast_agrees_with_simulation);
    tcase_add_test(t, threads_and_table_length_do_not_matter);
    tcase_add_test(t, recommendations_follow_from_the_rows);
    tcase_add_test(t, a_ladder_that_cannot_tell_gets_no_recommendation);
    tcase_add_test(t, the_table_scales_with_the_unit);
    tcase_add_test(t, a_forecast_after_steps_and_run_outs_runs);
    tcase_add_test(t, impossible_questions_are_refused);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
