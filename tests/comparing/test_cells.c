/* Operating characteristics of the comparison, a quick part of comparison_study: levels and intervals hold where methods.md 7 says so, and the
 * cautions stand where they do not. */
#include "comparing/cells.h"
#include <math.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/numeric/parallel.h"

enum { SEED = 4711, SAMPLES = 3000 };

static const size_t numbers[][2] = {{3, 3}, {5, 5}, {10, 10}, {3, 6}, {5, 10}, {3, 10}};
static const double scatters[] = {1, 2, 3, 1.0 / 2, 1.0 / 3}, steps[] = {0, 0.25, 0.5, 1, 2};
enum { NUMBERS = 6, SCATTERS = 5, STEPS = 5 };

static hf_comparison_cell cell_of(int number, int scatter, double step) {
    double smaller = fmin(1, scatters[scatter]);
    return (hf_comparison_cell){
        .a = {.n = numbers[number][0], .spread = 0.1, .step = step * smaller},
        .b = {.n = numbers[number][1], .spread = 0.1 * scatters[scatter], .step = step * smaller},
        .ratio = 1,
        .seed = SEED + (uint64_t)(100 * number + 10 * scatter)};
}

/* methods.md 7: 0.90–0.93 only where a caution is due. Low means three standard errors below, twice, the second time with a new seed and ten times the
 * samples. */
START_TEST(intervals_hold) {
    for (int scatter = 0; scatter < SCATTERS; scatter++)
        for (int step = 0; step < STEPS; step++)
            for (int apart = 0; apart < 2; apart++) {
                hf_cell_search search = {cell_of(_i, scatter, steps[step]), 2, apart, SAMPLES, 0};
                search.cell.ratio = apart ? exp(0.17) : 1;
                search.floor = hf_cell_is_cautioned(&search.cell) ? 0.90 : 0.93;
                hf_cell_worst worst = hf_cell_find_worst(&search);
                ck_assert_msg(!worst.low, "%zu against %zu, scatter 1 : %g, step %g: coverage %.4f, floor %g",
                              numbers[_i][0], numbers[_i][1], scatters[scatter], steps[step],
                              worst.seen.coverage, search.floor);
            }
}
END_TEST

/* Steps of 4 standard deviations: what the caution wide_steps is for. Steps of 2 still hold whatever the law. */
START_TEST(wide_steps) {
    hf_cell_search search = {cell_of(2, 0, 4), 3, true, SAMPLES, 0.90};
    search.cell.truth = hf_family_find("weibull");
    ck_assert(hf_cell_find_worst(&search).low);
    search.cell.a.step = search.cell.b.step = 0.2 / 0.1;
    search.floor = 0.94;
    ck_assert(!hf_cell_find_worst(&search).low);
}
END_TEST

/* Where an interval covers less than 0.94 by more than chance, samples carry one of the cautions or the cell is Welch's own weakness with three parts
 * against many of equal scatter; and where they are due by the true scatters they mostly fire. */
START_TEST(cautions_stand_where_measured) {
    for (int number = 0; number < NUMBERS; number++)
        for (int scatter = 0; scatter < SCATTERS; scatter++) {
            hf_comparison_cell cell = cell_of(number, scatter, 0.25);
            cell.replicates = 20000;
            hf_comparison_coverage seen = hf_cell_look(&cell);
            bool low = seen.coverage + 3 * seen.coverage_error < 0.945;
            bool three_against_many = cell.a.n == 3 && cell.b.n >= 6;
            ck_assert_msg(!low || hf_cell_is_cautioned(&cell) || three_against_many,
                          "%zu, %zu, 1 : %g: %.4f without a caution", cell.a.n, cell.b.n, scatters[scatter],
                          seen.coverage);
            double fires = fmax(seen.caution_small, seen.caution_scatter);
            if (hf_cell_is_cautioned(&cell)) ck_assert_double_gt(fires, 0.6);
            if (cell.a.n == cell.b.n) ck_assert(seen.caution_small == 0);
            if (number == 2 && scatter == 0) ck_assert_double_lt(fires, 0.10);
        }
}
END_TEST

/* Without the allowance the middles pretend to be readings: below 0.85 for ten parts on steps of 4 standard deviations, where the rule still covers
 * 0.90 (methods.md 7: 0.81 at the worst). */
START_TEST(without_the_allowance_it_fails) {
    hf_cell_search search = {cell_of(2, 0, 4), 4, true, SAMPLES, 0.89};
    ck_assert(!hf_cell_find_worst(&search).low);
    search.cell.rule = HF_RULE_WITHOUT_ALLOWANCE;
    hf_cell_worst worst = hf_cell_find_worst(&search);
    ck_assert_msg(worst.low && worst.seen.coverage < 0.85, "coverage %g", worst.seen.coverage);
}
END_TEST

/* Level and coverage are two sides of one thing when there is no difference; the sides are alike when the designs are. */
START_TEST(parts_fit_together) {
    hf_comparison_cell cell = cell_of(1, 0, 0.5), turned;
    cell.replicates = 40000;
    hf_comparison_coverage seen = hf_cell_look(&cell), other;
    hf_check_within(seen.rejected + seen.coverage, 1, 1e-12, "definition");
    hf_check_within(seen.wrong_side, 0.5 * seen.rejected, 3 * sqrt(0.25 * seen.rejected / 40000), "symmetry");
    turned = cell_of(3, 1, 0.5);
    turned.replicates = cell.replicates;
    seen = hf_cell_look(&turned);
    turned.a = (hf_comparison_side){
        .n = 6,
        .spread = 0.2,
        .step = 0.25}; /* the same two the other way round; steps count in the first one's spread */
    turned.b = (hf_comparison_side){.n = 3, .spread = 0.1, .step = 0.25};
    other = hf_cell_look(&turned);
    hf_check_within(other.coverage, seen.coverage, 4 * seen.coverage_error, "turned round");
    ck_assert_double_gt(seen.coverage, 0.9);
}
END_TEST

/* Exact readings, equal scatter: the t test's level is 5 % and Welch's below it (0.0354 for 3 against 3 by quadrature of welch_power.h at 0). */
START_TEST(level_of_exact_readings) {
    hf_comparison_cell cell = cell_of(0, 0, 0);
    cell.replicates = 200000;
    hf_comparison_coverage seen = hf_cell_look(&cell);
    hf_power_setup setup = {3, 3, 1, 1, 0.05, false};
    hf_check_within(seen.rejected, hf_welch_power_of(&setup, 0), 3 * seen.rejected_error, "welch_power.h");
    cell.level = 0.01;
    seen = hf_cell_look(&cell);
    setup.level = 0.01;
    hf_check_within(seen.rejected, hf_welch_power_of(&setup, 0), 3 * seen.rejected_error, "welch_power.h");
}
END_TEST

/* Run-outs: the rule of `compare` keeps its level for equal scatter; 3 parts that scatter three times as much as 10 are its measured limit. */
START_TEST(run_outs) {
    hf_comparison_cell cell = cell_of(1, 0, 0.5);
    cell.stop_share = 0.7;
    cell.replicates = 2000;
    hf_comparison_coverage seen = hf_cell_look(&cell);
    ck_assert_double_gt(seen.open_share, 0.9);
    ck_assert_double_gt(seen.coverage + 3 * seen.coverage_error, 0.95);
    ck_assert_double_gt(seen.given, 0.9);
    cell = cell_of(5, 4, 0.5);
    cell.stop_share = 0.7;
    cell.replicates = 2000;
    seen = hf_cell_look(&cell);
    ck_assert_msg(seen.coverage > 0.82 && seen.coverage < 0.90, "coverage %g, the caution says 0.84",
                  seen.coverage);
}
END_TEST

START_TEST(same_bits_on_any_threads) {
    hf_comparison_cell cell = cell_of(3, 3, 0.5);
    hf_comparison_coverage first, second;
    cell.stop_share = 0.9;
    cell.replicates = 3000;
    hf_parallel_set_threads(1);
    first = hf_cell_look(&cell);
    hf_parallel_set_threads(3);
    second = hf_cell_look(&cell);
    hf_parallel_set_threads(0);
    ck_assert(memcmp(&first, &second, sizeof first) == 0);
}
END_TEST

START_TEST(out_of_range) {
    hf_comparison_cell good = cell_of(0, 0, 0.5);
    hf_comparison_coverage out;
    good.replicates = 100;
    ck_assert_int_eq(hf_comparison_coverage_of(&good, &out), HF_OK);
    hf_comparison_cell bad[8];
    for (int i = 0; i < 8; i++) bad[i] = good;
    bad[0].a.n = 1;
    bad[1].b.spread = 0;
    bad[2].ratio = 0;
    bad[3].level = 1;
    bad[4].stop_share = 1;
    bad[5].a.step = -1;
    bad[6].truth = hf_family_find("normal");
    bad[7].replicates = 0;
    for (int i = 0; i < 8; i++) ck_assert_int_eq(hf_comparison_coverage_of(&bad[i], &out), HF_RANGE);
}
END_TEST

/* Two equal designs of one batch of five, or ten, each, a quarter of the variance between batches: OWN RESULT of another simulation, 0.175 and 0.328 with
 * errors not stated; docs/coverage.md has 0.1817 and 0.3227. On the means of batches the level holds. */
START_TEST(batches) {
    static const size_t fives[] = {5, 5, 5}, tens[] = {10, 10, 10};
    static const double told_apart[] = {0.1817, 0.3227};
    for (int i = 0; i < 2; i++) {
        hf_comparison_side side = {.spread = 0.1, .batches = i ? tens : fives, .batch_count = 1};
        side.n = side.batches[0];
        hf_comparison_cell cell = {
            .a = side, .b = side, .ratio = 1, .between_share = 0.25, .replicates = 40000, .seed = SEED};
        hf_comparison_coverage seen = hf_cell_look(&cell);
        hf_check_within(seen.rejected, told_apart[i], 4 * seen.rejected_error, "one batch each");
        cell.a.batch_count = cell.b.batch_count = 3;
        cell.a.n = cell.b.n = 3 * side.n;
        seen = hf_cell_look(&cell);
        ck_assert_double_gt(seen.coverage + 3 * seen.coverage_error, 0.95);
        cell.rule = HF_RULE_BY_PARTS;
        seen = hf_cell_look(&cell);
        ck_assert_double_gt(seen.rejected, 0.15);
    }
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("operating characteristics of comparisons");
    TCase *t = tcase_create("cells");
    tcase_set_timeout(t, 240);
    tcase_add_loop_test(t, intervals_hold, 0, NUMBERS);
    tcase_add_test(t, cautions_stand_where_measured);
    tcase_add_test(t, wide_steps);
    tcase_add_test(t, without_the_allowance_it_fails);
    tcase_add_test(t, parts_fit_together);
    tcase_add_test(t, level_of_exact_readings);
    tcase_add_test(t, run_outs);
    tcase_add_test(t, batches);
    tcase_add_test(t, same_bits_on_any_threads);
    tcase_add_test(t, out_of_range);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
