/* Every printed sum redone from its print (methods.md 9: within one unit of the last printed digit). */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/number.h"
#include "holdfast/numeric/random.h"
#include "report/fixture.h"
#include "report/redo.h"

enum { ROUNDS = 4000 };

static double between(hf_random *random, double low, double high) {
    double u = hf_random_uniform(random);
    return low + (high - low) * u;
}

static double spread_over(hf_random *random, double low, double high) {
    return exp(between(random, log(low), log(high)));
}

static fixture_terms random_terms(hf_random *random, bool wild) {
    fixture_terms t = {.family = (size_t)between(random, 0, 2.999)};
    bool logs = hf_family_at(t.family)->log_scale;
    double load = wild ? spread_over(random, 0.01, 5e6) : spread_over(random, 20, 20000);
    double cv = wild ? spread_over(random, 1e-6, 2) : spread_over(random, 0.01, 0.3);
    double step = wild ? spread_over(random, 1e-7, 2) : spread_over(random, 0.005, 0.3);
    if (wild && between(random, 0, 1) < 0.1) cv = 0;
    if (between(random, 0, 1) < 0.2) step = 0;
    t.m = logs ? log(load) : load;
    t.s = logs ? cv : cv * load;
    t.h = logs ? step : step * load;
    t.k = wild ? spread_over(random, 0.5, 60) : spread_over(random, 1.8, 15);
    t.allowance = between(random, 0, 1) < 0.3 ? fmax(t.k * t.k / 8, 0.25) / (t.k * t.k) : 0.125;
    t.u = between(random, 0, 1) < 0.2 ? 0 : spread_over(random, 1e-5, wild ? 0.9 : 0.2);
    t.design_factor = between(random, 0, 1) < 0.5 ? floor(between(random, 1, 13)) : between(random, 1, 12);
    t.use_factor = between(random, 0, 1) < 0.5 ? 0 : between(random, 1, 4);
    return t;
}

static void redo_many(bool wild, const char *unit) {
    fixture f;
    hf_random random;
    size_t lines = 0, wanted = 0, loose = 0, sums = 0;
    hf_random_start(&random, wild ? 11 : 5, 0);
    fixture_fill(&f);
    f.style.width = 300; /* one line per sum */
    f.style.unit = hf_unit_find(unit, strlen(unit));
    for (int i = 0; i < ROUNDS; i++) {
        char about[200];
        fixture_terms t = random_terms(&random, wild);
        fixture_set_terms(&f, t);
        (void)snprintf(about, sizeof about, "round %d: family %zu m %.9g s %.9g h %.9g k %.9g A %.9g u %.6g",
                       i, t.family, t.m, t.s, t.h, t.k, t.allowance, t.u);
        hf_text text = fixture_report(&f, "text");
        lines += redo_all(text.bytes, about);
        sums += strstr(text.bytes, "Results are rounded") != NULL;
        loose += strstr(text.bytes, "Results are rounded so far") != NULL;
        hf_text_free(&text);
        bool positive = f.assessed.break_event.governing->value > 0;
        wanted +=
            1 + (positive ? (t.u > 0) + (f.assessed.break_event.calibrated > 0 ? 1u + (t.use_factor > 0) : 0u)
                          : 0);
    }
    ck_assert_uint_eq(lines, wanted);
    /* Small differences of large numbers are rare but in the wild. */
    ck_assert_msg(sums > ROUNDS / 2 && (wild || loose * 100 <= sums), "%zu of %zu sums are not rounded down",
                  loose, sums);
}

START_TEST(ordinary_sums_should_redo_in_newtons) {
    redo_many(false, "N");
}
END_TEST
START_TEST(ordinary_sums_should_redo_in_pounds) {
    redo_many(false, "lb");
}
END_TEST
START_TEST(ordinary_sums_should_redo_in_kilonewtons) {
    redo_many(false, "kN");
}
END_TEST
START_TEST(wild_sums_should_redo) {
    redo_many(true, "N");
}
END_TEST

/* Line `begin` of a report, without the newline. */
static void line_of(const hf_text *text, const char *begin, char *out, size_t size) {
    const char *at = strstr(text->bytes, begin);
    ck_assert_msg(at != NULL, "no line \"%s\" in:\n%s", begin, text->bytes);
    (void)snprintf(out, size, "%.*s", (int)strcspn(at, "\n"), at);
}

/* The example of design.md 5: 812.40 − 3.4066 × √(64.212² + 40²/8) = 588.4; the step has five figures like the rest. */
START_TEST(normal_sum_should_print_as_agreed) {
    fixture f;
    char line[300];
    fixture_fill(&f);
    fixture_set_terms(&f, (fixture_terms){0, 812.4, 64.212, 40, 3.4066, 0.125, 0.018, 3, 0});
    hf_text text = fixture_report(&f, "text");
    line_of(&text, "  bound = ", line, sizeof line);
    ck_assert_str_eq(line, "  bound = 812.40 − 3.4066 × √(64.212² + 40.000²/8) = 588.41 N");
    line_of(&text, "  less the rig", line, sizeof line);
    ck_assert_str_eq(line, "  less the rig's load error: 588.41 × (1 − 1.645 × 0.018000) = 570.98 N");
    line_of(&text, "  ÷ design", line, sizeof line);
    ck_assert_str_eq(line, "  ÷ design factor: 570.98 ÷ 3 = 190.32 N");
    line_of(&text, "  rounded down", line, sizeof line);
    ck_assert_str_eq(line, "  rounded down to three figures: 190 N");
    hf_text_free(&text);
}
END_TEST

START_TEST(numbers_inside_should_carry_five_figures) {
    fixture f;
    size_t six = 0, more = 0;
    hf_random random;
    hf_random_start(&random, 3, 0);
    fixture_fill(&f);
    for (int i = 0; i < 500; i++) {
        fixture_terms t = random_terms(&random, false);
        t.k = between(&random, 1.8, 5);
        t.s = hf_family_at(t.family)->log_scale ? 0.08 : 0.08 * t.m; /* nothing cancels */
        fixture_set_terms(&f, t);
        f.style.width = 300;
        hf_text text = fixture_report(&f, "text");
        char line[400];
        redone r;
        line_of(&text, "  bound = ", line, sizeof line);
        ck_assert(redo_line(line, &r));
        ck_assert_msg(r.fewest == r.most && r.fewest >= 5 && r.most <= 8, "%d to %d figures: %s", r.fewest,
                      r.most, line);
        six += r.most == 6;
        more += r.most > 6; /* a table or the rating lies within a rounding of its next figure: see sum.c */
        hf_text_free(&text);
    }
    ck_assert_msg(six <= 200 && more <= 40, "of 500 sums %zu carry six figures, %zu more", six, more);
}
END_TEST

START_TEST(rating_should_be_rounded_down_in_every_unit) {
    static const char *const units[] = {"N", "kg", "lbf", "kN", "oz"};
    hf_random random;
    fixture f;
    hf_random_start(&random, 8, 0);
    fixture_fill(&f);
    f.assessed.break_event.tests[0].rejected =
        false; /* else the headline of a normal bound gives no rating */
    for (int i = 0; i < 1000; i++) {
        const char *unit = units[i % 5];
        char line[300], *end;
        fixture_set_terms(&f, random_terms(&random, false));
        if (!(f.assessed.working_load > 0)) continue;
        f.style.unit = hf_unit_find(unit, strlen(unit));
        hf_text text = fixture_report(&f, "text");
        line_of(&text, "work with at most ", line, sizeof line);
        double printed = strtod(line + strlen("work with at most "), &end);
        double real = f.assessed.working_load_unrounded / hf_unit_newtons(f.style.unit, f.style.gravity);
        ck_assert_msg(printed <= real * (1 + HF_TOLERANCE_ROUNDING) && printed > real * 0.99,
                      "%s: %s from %.9g", unit, line, real);
        hf_text_free(&text);
    }
}
END_TEST

START_TEST(redo_should_notice_a_wrong_sum) {
    redone r;
    ck_assert(redo_line("  bound = 812.40 − 3.4066 × √(64.212² + 40.000²/8) = 588.46 N", &r));
    ck_assert(fabs(r.value - r.printed) > r.unit);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("printed sums");
    TCase *sums = tcase_create("redone from the print");
    tcase_set_timeout(sums, 120);
    tcase_add_test(sums, ordinary_sums_should_redo_in_newtons);
    tcase_add_test(sums, ordinary_sums_should_redo_in_pounds);
    tcase_add_test(sums, ordinary_sums_should_redo_in_kilonewtons);
    tcase_add_test(sums, wild_sums_should_redo);
    tcase_add_test(sums, normal_sum_should_print_as_agreed);
    tcase_add_test(sums, numbers_inside_should_carry_five_figures);
    tcase_add_test(sums, rating_should_be_rounded_down_in_every_unit);
    tcase_add_test(sums, redo_should_notice_a_wrong_sum);
    suite_add_tcase(out, sums);
    return out;
}

HF_TEST_MAIN(suite)
