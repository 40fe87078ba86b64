/* Plotting positions and lines of probability paper. */
#include <math.h>
#include <stdlib.h>
#include "check_close.h"
#include "holdfast/base/arena.h"
#include "holdfast/numeric/special.h"
#include "holdfast/study/probability_plot.h"

static hf_observation closed(double lower, double upper) {
    return (hf_observation){HF_INTERVAL_CLOSED, lower, upper, false, -1};
}

static hf_observation below(double upper) {
    return (hf_observation){HF_INTERVAL_BELOW, 0, upper, false, -1};
}

static hf_observation whole(double lower) {
    return (hf_observation){HF_INTERVAL_ABOVE, lower, INFINITY, false, -1};
}

static hf_observation reading(double value) {
    return (hf_observation){HF_INTERVAL_EXACT, value, value, false, -1};
}

typedef struct placed {
    hf_arena *arena;
    const hf_probability_mark *marks;
    size_t count, failed;
} placed;

static placed place(const hf_observation *items, size_t count) {
    placed out = {.arena = hf_arena_create(), .count = count};
    ck_assert_int_eq(hf_probability_marks(out.arena, (hf_sample){items, count}, &out.marks, &out.failed),
                     HF_OK);
    return out;
}

START_TEST(whole_readings_should_stand_at_hazens_positions) {
    const hf_observation items[] = {reading(930), reading(870), reading(910), reading(840), reading(1010)};
    placed p = place(items, 5);
    ck_assert_uint_eq(p.failed, 5);
    for (size_t i = 0; i < 5; i++) {
        hf_check_close(p.marks[i].share, ((double)i + 0.5) / 5, HF_TOLERANCE_SPECIAL,
                       "(i - 1/2)/n, Hazen 1914");
        if (i) ck_assert_double_gt(p.marks[i].lower, p.marks[i - 1].lower);
    }
    hf_arena_free(p.arena);
}
END_TEST

START_TEST(equal_readings_should_share_their_jump) {
    const hf_observation items[] = {reading(870), reading(910), reading(870), reading(870), reading(840)};
    placed p = place(items, 5);
    for (size_t i = 0; i < 5; i++) {
        hf_check_close(p.marks[i].share, ((double)i + 0.5) / 5, HF_TOLERANCE_SPECIAL,
                       "(i - 1/2)/n, Hazen 1914");
        ck_assert_double_eq(p.marks[i].share_log, p.marks[i].share);
        ck_assert_double_eq(hf_probability_mark_load(&p.marks[i], _i != 0), p.marks[i].upper);
    }
    hf_arena_free(p.arena);
}
END_TEST

START_TEST(pulls_of_one_step_should_stand_in_its_middle) {
    const hf_observation items[] = {closed(700, 740), closed(740, 780), closed(740, 780), closed(740, 780),
                                    closed(820, 860)};
    const double share[] = {0.1, 0.5, 0.5, 0.5, 0.9};
    placed p = place(items, 5);
    for (size_t i = 0; i < 5; i++) {
        hf_check_close(p.marks[i].share, share[i], 1e-6, "by hand: middles of the rises 1/5, 3/5, 1/5");
        hf_check_close(p.marks[i].share_log, share[i], 1e-6, "the middle on a logarithmic axis, too");
    }
    hf_check_close(hf_probability_mark_load(&p.marks[1], false), 760, HF_TOLERANCE_EXACT, "(740 + 780)/2");
    hf_check_close(hf_probability_mark_load(&p.marks[1], true), sqrt(740.0 * 780), HF_TOLERANCE_SPECIAL,
                   "geometric middle");
    hf_arena_free(p.arena);
}
END_TEST

/* Wheels inspected once each: load, seen, cracked (Nelson 1982; datasets/turbine-wheel-cracks.csv). */
static const struct {
    double load;
    size_t seen, cracked;
    double pooled;
} wheels[] = {{4, 39, 0, 0},           {10, 53, 4, 6.0 / 86},   {14, 33, 2, 6.0 / 86},  {18, 73, 7, 7.0 / 73},
              {22, 30, 5, 5.0 / 30},   {26, 39, 9, 18.0 / 81},  {30, 42, 9, 18.0 / 81}, {34, 13, 6, 6.0 / 13},
              {38, 34, 22, 43.0 / 74}, {42, 40, 21, 43.0 / 74}, {46, 36, 21, 21.0 / 36}};

START_TEST(first_load_failures_should_stand_at_the_pooled_shares) {
    hf_observation items[432];
    size_t count = 0;
    for (size_t k = 0; k < sizeof wheels / sizeof *wheels; k++)
        for (size_t i = 0; i < wheels[k].seen; i++)
            items[count++] = i < wheels[k].cracked ? below(wheels[k].load) : whole(wheels[k].load);
    placed p = place(items, count);
    ck_assert_uint_eq(p.failed, 106);
    for (size_t i = 0; i < p.failed; i++) {
        size_t k = 0;
        while (wheels[k].load != p.marks[i].upper) k++;
        hf_check_close(p.marks[i].share, wheels[k].pooled, 1e-5,
                       "pooled adjacent violators by hand (Ayer et al. 1955)");
        ck_assert_double_eq(hf_probability_mark_load(&p.marks[i], true), wheels[k].load);
    }
    hf_arena_free(p.arena);
}
END_TEST

START_TEST(all_failed_at_one_load_should_leave_half_a_pull_above) {
    const hf_observation items[] = {below(400), below(400), below(400), below(400), below(400)};
    placed p = place(items, 5);
    for (size_t i = 0; i < 5; i++)
        hf_check_close(p.marks[i].share, 0.9, HF_TOLERANCE_SPECIAL, "by hand: 1 - 0.5/5");
    hf_arena_free(p.arena);
}
END_TEST

enum { SAMPLES = 60, PARTS = 100, RUNGS = 6 };

/* One sample of a normal law, mean 900, standard deviation 90, on rungs of 45 from 810 on; uniform numbers of a linear congruential
 * generator (Knuth 1997, The Art of Computer Programming 2, section 3.3.4: multiplier of MMIX). */
static void draw_stepped(uint64_t *state, hf_observation *items) {
    for (size_t i = 0; i < PARTS; i++) {
        *state = *state * 6364136223846793005U + 1442695040888963407U;
        double strength =
            900 + 90 * hf_normal_quantile_lower(((double)(*state >> 11) + 0.5) / 9007199254740992.0);
        double rung = ceil((strength - 810) / 45);
        items[i] = rung <= 0       ? below(810)
                   : rung >= RUNGS ? whole(810 + 45 * (RUNGS - 1))
                                   : closed(810 + 45 * (rung - 1), 810 + 45 * rung);
    }
}

START_TEST(marks_of_a_stepped_sample_should_scatter_around_the_law_they_come_from) {
    uint64_t state = 20261125;
    double off[2] = {0, 0};
    size_t marks[2] = {0, 0}, most = 0;
    for (size_t sample = 0; sample < SAMPLES; sample++) {
        hf_observation items[PARTS];
        draw_stepped(&state, items);
        placed p = place(items, PARTS);
        for (size_t i = 0; i < p.failed; i++) {
            bool log = _i != 0, high = p.marks[i].upper > 900;
            double load = hf_probability_mark_load(&p.marks[i], log),
                   law = hf_normal_lower((load - 900) / 90),
                   share = log ? p.marks[i].share_log : p.marks[i].share;
            off[high] += share - law;
            marks[high]++;
        }
        most += p.failed;
        hf_arena_free(p.arena);
    }
    ck_assert_uint_gt(most, SAMPLES * PARTS / 2);
    /* Standard error of a share here: 0.5/√6000 = 0.0065; a mark at the end of its step would be 0.1 off. */
    for (size_t high = 0; high < 2; high++) ck_assert_double_le(fabs(off[high]) / (double)marks[high], 0.015);
}
END_TEST

START_TEST(run_outs_should_raise_those_above_them) {
    const hf_observation items[] = {reading(700), whole(720),   reading(735), reading(750),
                                    whole(780),   reading(810), whole(830)};
    /* R's survfit: tests/chart/probability_reference.R */
    const double load[] = {700, 735, 750, 810},
                 share[] = {0.0714285714286, 0.2285714285714, 0.4000000000000, 0.6142857142857};
    placed p = place(items, 7);
    ck_assert_uint_eq(p.failed, 4);
    for (size_t i = 0; i < 4; i++) {
        hf_check_close(p.marks[i].lower, load[i], HF_TOLERANCE_EXACT, "in order of share");
        hf_check_close(p.marks[i].share, share[i], 1e-6, "middles of the Kaplan-Meier jumps");
    }
    for (size_t i = 4; i < 7; i++) {
        ck_assert_int_eq(p.marks[i].kind, HF_INTERVAL_ABOVE);
        ck_assert(isnan(p.marks[i].share));
    }
    hf_arena_free(p.arena);
}
END_TEST

START_TEST(pull_over_several_steps_should_stand_between_them) {
    /* Maximum: 1/2 each in (700, 740] and (780, 820] by symmetry; the middle of the wide pull lies between them. */
    const hf_observation items[] = {closed(700, 740), closed(700, 820), closed(780, 820)};
    placed p = place(items, 3);
    hf_check_close(p.marks[0].share, 0.25, 1e-5, "middle of the rise 1/2");
    hf_check_close(p.marks[1].share, 0.5, 1e-5, "the share between the rises");
    hf_check_close(p.marks[2].share, 0.75, 1e-5, "by symmetry");
    hf_arena_free(p.arena);
}
END_TEST

START_TEST(dropped_step_should_count_double) {
    hf_observation items[] = {closed(700, 740), closed(740, 780)};
    items[0].dropped = true;
    placed p = place(items, 2);
    hf_check_close(p.marks[0].upper, 780, HF_TOLERANCE_EXACT, "700 + 2·40");
    hf_arena_free(p.arena);
}
END_TEST

typedef struct reference_row {
    const char *family;
    double share, load;
} reference_row;

/* R's survreg, intervals and run-outs: tests/chart/probability_reference.R */
static const reference_row reference[] = {
    {"normal", 0.10, 736.3236088},    {"normal", 0.50, 828.0807164},    {"normal", 0.90, 919.8378239},
    {"lognormal", 0.10, 738.1633624}, {"lognormal", 0.50, 825.9996972}, {"lognormal", 0.90, 924.2879483},
    {"weibull", 0.10, 719.9617159},   {"weibull", 0.50, 833.983422},    {"weibull", 0.90, 915.8968587},
};

START_TEST(line_should_be_that_of_survreg) {
    const hf_observation items[] = {closed(700, 740), closed(740, 780), closed(740, 780), closed(780, 820),
                                    closed(780, 820), closed(820, 860), closed(820, 860), closed(860, 900),
                                    whole(900),       whole(900)};
    const reference_row *row = &reference[_i];
    hf_fit fit;
    ck_assert_int_eq(hf_fit_maximum(hf_family_find(row->family), (hf_sample){items, 10}, &fit), HF_OK);
    hf_check_close(hf_probability_line_at(&fit, row->share), row->load, 1e-6, "survreg quantile");
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("probability plot");
    TCase *positions = tcase_create("positions");
    tcase_add_test(positions, whole_readings_should_stand_at_hazens_positions);
    tcase_add_loop_test(positions, equal_readings_should_share_their_jump, 0, 2);
    tcase_add_test(positions, pulls_of_one_step_should_stand_in_its_middle);
    tcase_add_test(positions, first_load_failures_should_stand_at_the_pooled_shares);
    tcase_add_test(positions, all_failed_at_one_load_should_leave_half_a_pull_above);
    tcase_add_loop_test(positions, marks_of_a_stepped_sample_should_scatter_around_the_law_they_come_from, 0,
                        2);
    tcase_add_test(positions, run_outs_should_raise_those_above_them);
    tcase_add_test(positions, pull_over_several_steps_should_stand_between_them);
    tcase_add_test(positions, dropped_step_should_count_double);
    suite_add_tcase(out, positions);
    TCase *line = tcase_create("line");
    tcase_add_loop_test(line, line_should_be_that_of_survreg, 0, sizeof reference / sizeof *reference);
    suite_add_tcase(out, line);
    return out;
}

HF_TEST_MAIN(suite)
