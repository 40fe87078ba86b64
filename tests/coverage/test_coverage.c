/* The promise of the bound, quick subset of the study: worst true confidence over steps and ladder places (methods.md 3).
 * A cell counts as low only when it is low by three standard errors and again with a new seed and ten times the samples. */
#include <string.h>
#include "coverage/scatter.h"
#include "coverage/study.h"
#include "holdfast/numeric/parallel.h"
#include "planning/reference_planning.h"

typedef struct promise_row {
    const char *family;
    size_t n;
    double content, confidence, floor, published; /* published: worst found, methods.md 3 */
} promise_row;

static const promise_row rows[] = {
    {"normal", 2, 0.90, 0.95, 0.95, 0.988},    {"normal", 3, 0.90, 0.95, 0.95, 0.956},
    {"normal", 5, 0.90, 0.95, 0.95, 0.951},    {"normal", 10, 0.90, 0.95, 0.95, 0.953},
    {"normal", 5, 0.99, 0.95, 0.95, 0.951},    {"normal", 4, 0.95, 0.90, 0.90, 0.901},
    {"normal", 3, 0.95, 0.75, 0.743, 0.743},   {"weibull", 3, 0.90, 0.95, 0.95, 0.966},
    {"weibull", 5, 0.90, 0.95, 0.95, 0.955},   {"weibull", 10, 0.90, 0.95, 0.95, 0.953},
    {"lognormal", 5, 0.90, 0.95, 0.95, 0.951},
};

/* The checks allow for the standard error, so that fewer samples make them weaker, not wrong. */
#if defined(__SANITIZE_ADDRESS__)
enum { SAMPLE_DIVISOR = 8 };
#else
enum { SAMPLE_DIVISOR = 1 };
#endif

enum { ROWS = sizeof rows / sizeof *rows };

static hf_study_search search_of(const promise_row *row) {
    static const double steps[] = {0.3, 0.5, 1, 1.5, 2, 2.5, 3, 4};
    hf_study_search search = {.steps = steps,
                              .step_count = 8,
                              .offsets = 10,
                              .samples = 6000 / SAMPLE_DIVISOR,
                              .refined = 60000 / SAMPLE_DIVISOR,
                              .floor = row->floor};
    search.cell = (hf_coverage_cell){.truth = hf_family_find(row->family),
                                     .cv = 0.12,
                                     .family = hf_family_find(row->family),
                                     .n = row->n,
                                     .content = row->content,
                                     .confidence = row->confidence,
                                     .ladder = HF_LADDER_WORKING,
                                     .seed = 100};
    return search;
}

START_TEST(the_promise_holds_at_every_step_and_place) {
    hf_study_search search = search_of(&rows[_i]);
    hf_study_worst worst = hf_study_find_worst(&search);
    ck_assert_msg(!worst.low, "%s n=%zu %g/%g: %.4f ± %.4f at step %g offset %g", rows[_i].family, rows[_i].n,
                  rows[_i].content, rows[_i].confidence, worst.coverage, worst.error, worst.step,
                  worst.offset);
    /* Fewer cells than the study, so the worst found can be better than the published one, not worse. */
    ck_assert_double_ge(worst.coverage + 4 * worst.error + 0.001, rows[_i].published);
}
END_TEST

/* Exact readings have exactly the stated confidence (C01, C05): a two-sided check. */
START_TEST(exact_readings_have_the_stated_confidence) {
    static const size_t sizes[] = {2, 3, 5, 10, 30};
    hf_coverage got;
    for (size_t i = 0; i < 5; i++) {
        hf_coverage_cell cell = {.truth = hf_family_at((size_t)_i),
                                 .cv = 0.12,
                                 .family = hf_family_at((size_t)_i),
                                 .n = sizes[i],
                                 .content = 0.90,
                                 .confidence = 0.95,
                                 .replicates = 40000 / SAMPLE_DIVISOR,
                                 .seed = 9};
        ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
        if (fabs(got.coverage - 0.95) > 3 * got.standard_error) {
            cell.seed = 10;
            cell.replicates *= 10;
            ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
        }
        hf_check_within(got.coverage, 0.95, 3 * got.standard_error, "definition of the factor");
    }
}
END_TEST

/* A weaker allowance or a habit must be caught: the search has to be able to fail. */
START_TEST(the_search_finds_broken_promises) {
    static const char *const broken[] = {"twelfth", "middle", "failing_load"};
    for (int i = 0; i < 3; i++) {
        static const double steps[] = {1, 2.5, 2.75, 3};
        hf_study_search search = search_of(&rows[3]); /* normal, n = 10, 90/95 */
        search.steps = steps;
        search.step_count = 4;
        search.offsets = 25;
        search.cell.method = hf_planning_method_find(broken[i]);
        hf_study_worst worst = hf_study_find_worst(&search);
        ck_assert_msg(worst.low, "%s passes with %.4f", broken[i], worst.coverage);
    }
}
END_TEST

START_TEST(habits_agree_with_an_independent_simulation) {
    static const char *const names[] = {"formula", "twelfth", "middle", "failing_load", "held_load"};
    for (int i = 0; i < 5; i++) {
        char name[80];
        hf_coverage got;
        hf_coverage_cell cell = {.truth = hf_family_find("normal"),
                                 .cv = 0.12,
                                 .family = hf_family_find("normal"),
                                 .n = 5,
                                 .content = 0.90,
                                 .confidence = 0.95,
                                 .ladder = HF_LADDER_WORKING,
                                 .step = 1,
                                 .offset = 0.3,
                                 .replicates = 400000 / SAMPLE_DIVISOR,
                                 .seed = 3};
        cell.method = hf_planning_method_find(names[i]);
        snprintf(name, sizeof name, "coverage.%s", names[i]);
        ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
        hf_told told = hf_told_of(name);
        hf_check_within(got.coverage, told.value, 4 * hypot(told.error, got.standard_error), name);
    }
}
END_TEST

START_TEST(the_governing_rule_keeps_its_promise_for_every_law) {
    static const double steps[] = {0, 1};
    hf_study_search search = {.steps = steps,
                              .step_count = 2,
                              .offsets = 10,
                              .samples = 10000 / SAMPLE_DIVISOR,
                              .refined = 100000 / SAMPLE_DIVISOR,
                              .floor = 0.945}; /* methods.md 3: at least 0.945, CV ≤ 25 %, exact data */
    for (size_t n = 3; n <= 10; n += 7) {
        search.cell = (hf_coverage_cell){.truth = hf_family_at((size_t)_i),
                                         .cv = 0.12,
                                         .n = n,
                                         .content = 0.90,
                                         .confidence = 0.95,
                                         .ladder = HF_LADDER_LOAD,
                                         .seed = 50};
        hf_study_worst worst = hf_study_find_worst(&search);
        ck_assert_msg(!worst.low, "%s n=%zu: %.4f ± %.4f at step %g", hf_family_at((size_t)_i)->name, n,
                      worst.coverage, worst.error, worst.step);
    }
}
END_TEST

START_TEST(open_pulls_keep_the_promise) {
    static const double shares[] = {0.4, 0.7, 0.9};
    static const double steps[] = {0.5, 1};
    for (int i = 0; i < 3; i++) {
        hf_study_search search = {.steps = steps,
                                  .step_count = 2,
                                  .offsets = 4,
                                  .samples = 1500 / SAMPLE_DIVISOR,
                                  .refined = 8000 / SAMPLE_DIVISOR,
                                  .floor = 0.948}; /* methods.md 3: 0.949 at worst */
        search.cell = (hf_coverage_cell){.truth = hf_family_find("weibull"),
                                         .cv = 0.12,
                                         .n = 5,
                                         .content = 0.90,
                                         .confidence = 0.95,
                                         .ladder = HF_LADDER_WORKING,
                                         .stop_share = shares[i],
                                         .seed = 70};
        hf_study_worst worst = hf_study_find_worst(&search);
        ck_assert_msg(!worst.low, "stop at %g: %.4f ± %.4f", shares[i], worst.coverage, worst.error);
        ck_assert_double_gt(worst.bound_share, 0.1);
    }
}
END_TEST

/* A quick part of the study: the lowest cells of one scatter known well and one known badly, and what a false one leaves. */
START_TEST(a_stated_scatter_keeps_its_promise) {
    static const double degrees[] = {4, 30, INFINITY};
    static const size_t sizes[] = {1, 3, 5, 10};
    for (int d = 0; d < 3; d++)
        for (int i = 0; i < 4; i++) {
            hf_scatter_cell cell = {.truth = hf_family_at((size_t)_i),
                                    .cv = 0.12,
                                    .times = 1,
                                    .degrees = degrees[d],
                                    .n = sizes[i],
                                    .step = i % 2 ? 0.5 : 0,
                                    .place = 0.3,
                                    .replicates = 8000 / SAMPLE_DIVISOR,
                                    .seed = 12};
            hf_scatter_coverage seen = hf_scatter_coverage_of(&cell);
            for (size_t p = 0; p < HF_SCATTER_PROMISES; p++)
                ck_assert_msg(seen.right[p] + 4 * seen.error[p] >= hf_scatter_promises[p].floor,
                              "%s, %g degrees, n=%zu, promise %zu: %.4f", cell.truth->name, degrees[d],
                              cell.n, p, seen.right[p]);
        }
    hf_scatter_cell twice = {.truth = hf_family_at((size_t)_i),
                             .cv = 0.12,
                             .times = 2,
                             .degrees = 30,
                             .n = 5,
                             .replicates = 8000 / SAMPLE_DIVISOR,
                             .seed = 13};
    hf_scatter_coverage with = hf_scatter_coverage_of(&twice);
    twice.unconfronted = true;
    ck_assert_double_gt(with.right[0], hf_scatter_coverage_of(&twice).right[0] + 0.1);
}
END_TEST

START_TEST(threads_do_not_change_a_bit) {
    static const hf_coverage_ladder kinds[] = {HF_LADDER_CONTINUOUS, HF_LADDER_WORKING, HF_LADDER_TWO_SPEED};
    for (int kind = 0; kind < 3; kind++) {
        hf_coverage got[3];
        for (int i = 0; i < 3; i++) {
            hf_coverage_cell cell = {.truth = hf_family_find("weibull"),
                                     .cv = 0.12,
                                     .n = 6,
                                     .content = 0.90,
                                     .confidence = 0.95,
                                     .ladder = kinds[kind],
                                     .step = 0.8,
                                     .offset = 0.1,
                                     .coarse = 4,
                                     .stop_share = 0.9,
                                     .replicates = 5000,
                                     .seed = 4};
            hf_parallel_set_threads(1 + 2 * i);
            ck_assert_int_eq(hf_coverage_of(&cell, &got[i]), HF_OK);
            ck_assert_mem_eq(&got[i].coverage, &got[0].coverage, sizeof(double));
            ck_assert_mem_eq(&got[i].mean_margin, &got[0].mean_margin, sizeof(double));
        }
        ck_assert_double_gt(got[0].open_share, 0.3);
    }
    hf_parallel_set_threads(0);
}
END_TEST

START_TEST(impossible_cells_are_refused) {
    const hf_coverage_cell sound = {.truth = hf_family_find("normal"),
                                    .cv = 0.12,
                                    .family = hf_family_find("normal"),
                                    .n = 5,
                                    .content = 0.90,
                                    .confidence = 0.95,
                                    .ladder = HF_LADDER_TWO_SPEED,
                                    .step = 1,
                                    .coarse = 4,
                                    .replicates = 100,
                                    .seed = 1};
    hf_coverage_cell bad[] = {sound, sound, sound, sound, sound, sound, sound};
    hf_coverage out;
    bad[0].n = 1;
    bad[1].cv = 0;
    bad[2].step = 0;
    bad[3].coarse = 0.5;
    bad[4].content = 0.6; /* steps are not proven there */
    bad[5].replicates = 0;
    bad[6].step = 1e-7;
    ck_assert_int_eq(hf_coverage_of(&sound, &out), HF_OK);
    for (int i = 0; i < 7; i++) ck_assert_int_eq(hf_coverage_of(&bad[i], &out), HF_RANGE);
}
END_TEST

static hf_coverage_cell exact_cell(const char *law, size_t n, double confidence, size_t replicates) {
    return (hf_coverage_cell){.truth = hf_family_find(law),
                              .cv = 0.12,
                              .family = hf_family_find(law),
                              .n = n,
                              .content = 0.90,
                              .confidence = confidence,
                              .replicates = replicates / SAMPLE_DIVISOR,
                              .seed = 21};
}

static void covers(const hf_coverage_cell *cell, double wanted, double rounding) {
    hf_coverage got;
    ck_assert_int_eq(hf_coverage_of(cell, &got), HF_OK);
    hf_check_within(got.coverage, wanted, rounding + 3.5 * got.standard_error, "COMPUTED elsewhere");
}

/* A 90/95 bound looked at after 3, 4 … 10 parts is right in all looks 84.4 times in 100; with C′ at every look 95 times, for the Weibull
 * law too. Steps make it conservative. */
START_TEST(looks_cost_what_another_simulation_says) {
    static const size_t parts[] = {3, 4, 5, 6, 7, 8, 9, 10};
    static const double steps[] = {0.5, 1, 2}, stepped[] = {0.970, 0.991, 0.999};
    hf_look_plan plan = {parts, 8, 0};
    hf_coverage_cell cell = exact_cell("normal", 10, 0.95, 40000);
    cell.looks = &plan;
    covers(&cell, 0.844, 0.0005);
    cell.confidence = 0.9875;
    covers(&cell, 0.950, 0.0005);
    cell.ladder = HF_LADDER_WORKING;
    for (int i = 0; i < 3; i++) {
        cell.step = steps[i];
        covers(&cell, stepped[i], 0.004);
    }
    cell = exact_cell("weibull", 10, 0.9875, 40000);
    cell.looks = &plan;
    covers(&cell, 0.950, 0.001);
}
END_TEST

/* C^d, and C^(1/d), which holds. */
START_TEST(the_best_bound_of_several_designs) {
    static const size_t designs[] = {2, 3, 5, 10};
    for (int i = 0; i < 4; i++) {
        hf_coverage_cell cell = exact_cell(i % 2 ? "weibull" : "normal", 5, 0.95, 20000);
        cell.designs = designs[i];
        covers(&cell, hf_best_of_worth(0.95, designs[i]), 0.0005);
        cell.confidence = hf_best_of_confidence(0.95, designs[i]);
        covers(&cell, 0.95, 0.0005);
    }
}
END_TEST

/* One batch with a share of the variance between batches: 90/95 of five parts, lognormal. */
START_TEST(one_batch_does_not_speak_for_the_next) {
    static const double shares[] = {0.05, 0.1, 0.2, 0.3, 0.5}, five[] = {0.942, 0.933, 0.912, 0.886, 0.806};
    static const double twenty[] = {0.906, 0.861, 0.771, 0.686, 0.533};
    static const size_t batches[] = {5}, more[] = {20};
    for (int i = 0; i < 5; i++) {
        hf_coverage_cell cell = exact_cell("lognormal", 5, 0.95, 20000);
        cell.batches = batches;
        cell.batch_count = 1;
        cell.between_share = shares[i];
        covers(&cell, five[i], 0.0015);
        cell.n = 20;
        cell.batches = more;
        covers(&cell, twenty[i], 0.002);
    }
}
END_TEST

/* Five batches of two Weibull parts, batches normal on ln load: the batch bound alone falls short (.905 over three laws, COMPUTED
 * elsewhere), the lower of the two holds. Where batches are as skewed as the parts it does not (docs/coverage.md); the simulation sees it. */
START_TEST(the_lower_of_batch_and_weibull_bound) {
    static const size_t batches[] = {2, 2, 2, 2, 2};
    static const double shares[] = {0, 0.3, 0.7, 0.97};
    hf_coverage_cell cell = exact_cell("weibull", 10, 0.95, 8000);
    hf_coverage got;
    double lowest = 1;
    cell.batches = batches;
    cell.batch_count = 5;
    for (int i = 0; i < 4; i++) {
        cell.between_share = shares[i];
        cell.batch_alone = true;
        ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
        lowest = fmin(lowest, got.coverage + 3 * got.standard_error);
        cell.batch_alone = false;
        ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
        ck_assert_msg(got.coverage + 3 * got.standard_error >= 0.949, "share %g: %.4f", shares[i],
                      got.coverage);
    }
    ck_assert_double_lt(lowest, 0.945);
    cell.batches_skewed = true;
    ck_assert_int_eq(hf_coverage_of(&cell, &got), HF_OK);
    ck_assert_double_lt(got.coverage + 3 * got.standard_error, 0.93);
}
END_TEST

/* Four machines: the sum of their counts is, bit for bit, that of one, and so is what it says. */
START_TEST(four_shards_are_one_study) {
    static const size_t looks[] = {3, 6}, batches[] = {3, 1, 2};
    hf_look_plan plan = {looks, 2, 0};
    for (int kind = 0; kind < 4; kind++) {
        hf_coverage_cell cell = exact_cell("weibull", 6, 0.95, 20000);
        hf_coverage_counts sum = {0}, whole, part;
        hf_coverage together, once;
        cell.ladder = kind < 3 ? HF_LADDER_WORKING : HF_LADDER_CONTINUOUS;
        cell.step = 0.7;
        if (kind == 1) cell.looks = &plan;
        if (kind == 1) cell.stop_share = 0.9;
        if (kind == 2) cell.designs = 3;
        if (kind == 3) {
            cell.batches = batches;
            cell.batch_count = 3;
            cell.between_share = 0.4;
        }
        for (size_t shard = 0; shard < 4; shard++) {
            ck_assert_int_eq(hf_coverage_count(&cell, 3 - shard, 4, &part), HF_OK);
            ck_assert_uint_gt(part.replicates, 0);
            hf_coverage_add(&sum, &part);
        }
        ck_assert_int_eq(hf_coverage_count(&cell, 0, 1, &whole), HF_OK);
        ck_assert_mem_eq(&sum, &whole, sizeof sum);
        ck_assert_int_eq(hf_coverage_summary(&cell, &sum, &together), HF_OK);
        ck_assert_int_eq(hf_coverage_of(&cell, &once), HF_OK);
        ck_assert_mem_eq(&together, &once, sizeof once);
        ck_assert(once.coverage > 0.8 && once.replicates == cell.replicates);
    }
    hf_coverage_cell few = exact_cell("normal", 5, 0.95, 8 * SAMPLE_DIVISOR);
    hf_coverage_counts none;
    hf_coverage nothing;
    ck_assert_int_eq(hf_coverage_count(&few, 3, 4, &none), HF_OK);
    ck_assert_uint_eq(none.replicates, 0);
    ck_assert_int_eq(hf_coverage_summary(&few, &none, &nothing), HF_NO_RESULT);
    ck_assert_int_eq(hf_coverage_count(&few, 4, 4, &none), HF_RANGE);
}
END_TEST

START_TEST(impossible_looks_and_batches_are_refused) {
    static const size_t parts[] = {3, 5, 4};
    hf_look_plan wrong_end = {parts, 1, 0}, falling = {parts, 3, 0}, early = {parts, 2, 0.99},
                 sound = {parts, 2, 0};
    const hf_look_plan *const plans[] = {&wrong_end, &falling, &early};
    hf_coverage out;
    hf_coverage_cell cell = exact_cell("normal", 5, 0.95, 100 * SAMPLE_DIVISOR);
    cell.looks = &sound;
    ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_OK);
    for (int i = 0; i < 3; i++) {
        cell.looks = plans[i];
        ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_RANGE);
    }
    cell.looks = NULL;
    cell.batches = parts;
    cell.batch_count = 1; /* three parts of five */
    ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_RANGE);
    cell.n = 8;
    cell.batch_count = 2;
    ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_RANGE); /* the normal has no bound on ln load */
    cell.family = hf_family_find("weibull");
    ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_OK);
    cell.between_share = 1.1;
    ck_assert_int_eq(hf_coverage_of(&cell, &out), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("coverage");
    TCase *t = tcase_create("coverage");
    tcase_set_timeout(t, 300);
    tcase_add_loop_test(t, the_promise_holds_at_every_step_and_place, 0, ROWS);
    tcase_add_loop_test(t, exact_readings_have_the_stated_confidence, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, the_search_finds_broken_promises);
    tcase_add_test(t, habits_agree_with_an_independent_simulation);
    tcase_add_loop_test(t, the_governing_rule_keeps_its_promise_for_every_law, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, open_pulls_keep_the_promise);
    tcase_add_loop_test(t, a_stated_scatter_keeps_its_promise, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, looks_cost_what_another_simulation_says);
    tcase_add_test(t, the_best_bound_of_several_designs);
    tcase_add_test(t, one_batch_does_not_speak_for_the_next);
    tcase_add_test(t, the_lower_of_batch_and_weibull_bound);
    tcase_add_test(t, four_shards_are_one_study);
    tcase_add_test(t, impossible_looks_and_batches_are_refused);
    tcase_add_test(t, threads_do_not_change_a_bit);
    tcase_add_test(t, impossible_cells_are_refused);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
