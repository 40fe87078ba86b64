/* Open pulls: regressions, the carried-over Welch test, the curve without a law (published-checks C31), draws. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "check_close.h"
#include "holdfast/comparing/contrast.h"
#include "holdfast/comparing/open_compare.h"
#include "holdfast/comparing/quantile_difference.h"
#include "holdfast/comparing/survival_curve.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/bound.h"
#include "strength/random_sample.h"

static hf_arena *arena;
static void start(void) {
    arena = hf_arena_create();
}
static void stop(void) {
    hf_arena_free(arena);
}

/* Stops every pull at `top`. */
static void stop_at(hf_observation *items, size_t n, double top) {
    for (size_t i = 0; i < n; i++)
        if (items[i].upper > top)
            items[i] = (hf_observation){HF_INTERVAL_ABOVE, fmin(items[i].lower, top), INFINITY, false, -1};
}

START_TEST(whole_data_give_students_test) {
    /* Lognormal, common s, whole data: the t reference of the likelihood ratio is exactly the pooled two-sample t test. */
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_open_compare out;
    hf_group a, b;
    hf_random_start(&random, 6200, (uint64_t)_i);
    hf_sample sx = hf_test_sample(&random, 3 + (size_t)_i, 0, x), sy = hf_test_sample(&random, 6, 0, y);
    ck_assert(hf_group_of(arena, sx, &a) == HF_OK && hf_group_of(arena, sy, &b) == HF_OK);
    hf_open_compare_options options = {.common_spread = true};
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), sx, sy, &options, &out), HF_OK);
    double n_a = (double)a.n, n_b = (double)b.n, nu = n_a + n_b - 2;
    double pooled = ((n_a - 1) * a.s * a.s + (n_b - 1) * b.s * b.s) / nu,
           error = sqrt(pooled * (1 / n_a + 1 / n_b));
    double half = hf_t_quantile_upper(0.025, nu) * error;
    hf_check_close(out.p, 2 * hf_t_upper(fabs(a.mean - b.mean) / error, nu), 1e-7, "pooled t");
    hf_check_close(out.ratio, exp(a.mean - b.mean), 1e-8, "pooled t");
    hf_check_close(out.low, exp(a.mean - b.mean - half), 1e-7, "pooled t");
    hf_check_close(out.high, exp(a.mean - b.mean + half), 1e-7, "pooled t");
}
END_TEST

START_TEST(without_open_pulls_it_is_the_contrast) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_open_compare out;
    hf_contrast contrast;
    hf_group a, b;
    hf_random_start(&random, 6300, (uint64_t)_i);
    hf_sample sx = hf_test_sample(&random, 4 + (size_t)_i, 31.7, x),
              sy = hf_test_sample(&random, 7, _i % 2 ? 31.7 : 0, y);
    ck_assert(hf_group_of(arena, sx, &a) == HF_OK && hf_group_of(arena, sy, &b) == HF_OK);
    ck_assert_int_eq(hf_contrast_test(&a, &b, NULL, &contrast), HF_OK);
    ck_assert_int_eq(hf_open_compare_welch(hf_family_find("lognormal"), sx, sy, NULL, &out), HF_OK);
    hf_check_close(out.p, contrast.p, 1e-9, "contrast.h");
    hf_check_close(out.low, contrast.low, 1e-9, "contrast.h");
    hf_check_close(out.degrees_of_freedom, contrast.degrees_of_freedom, 1e-9, "contrast.h");
}
END_TEST

START_TEST(open_swap_and_scale) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_open_compare out, swapped, scaled;
    hf_random_start(&random, 6400, (uint64_t)_i);
    const hf_family *family = hf_family_at(1 + (size_t)_i % 2);
    hf_sample a = hf_test_sample(&random, 9, 31.7, x), b = hf_test_sample(&random, 7, 31.7, y);
    hf_open_compare_options options = {.common_spread = _i % 4 < 2};
    stop_at(x, a.count, 900);
    ck_assert_int_eq(hf_open_compare_likelihood(family, a, b, &options, &out), HF_OK);
    ck_assert_int_eq(hf_open_compare_likelihood(family, b, a, &options, &swapped), HF_OK);
    ck_assert(out.low < out.ratio && out.ratio < out.high);
    hf_check_within(swapped.statistic, out.statistic, 1e-8, "swap");
    hf_check_close(swapped.ratio, 1 / out.ratio, 1e-6, "swap");
    hf_check_close(swapped.low, 1 / out.high, 1e-6, "swap");
    hf_test_scale(x, a.count, 4.448);
    hf_test_scale(y, b.count, 4.448);
    ck_assert_int_eq(hf_open_compare_likelihood(family, a, b, &options, &scaled), HF_OK);
    hf_check_close(scaled.ratio, out.ratio, 1e-6, "scale");
    hf_check_within(scaled.p, out.p, 1e-7, "scale");
}
END_TEST

START_TEST(a_design_that_never_failed) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_open_compare out;
    hf_random_start(&random, 6500, 0);
    hf_sample a = hf_test_sample(&random, 6, 31.7, x), b = hf_test_sample(&random, 6, 31.7, y);
    hf_test_scale(y, b.count, 0.7);
    stop_at(x, a.count, 0.5);
    for (size_t i = 0; i < a.count; i++) x[i].lower = 950;
    hf_open_compare_options options = {.common_spread = true};
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), a, b, &options, &out), HF_OK);
    ck_assert(isinf(out.ratio) && isinf(out.high) && out.low > 1 && out.p < 0.05);
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), b, a, &options, &out), HF_OK);
    ck_assert(out.ratio == 0 && out.low == 0 && out.high < 1);
    options.common_spread = false;
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), a, b, &options, &out),
                     HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "too_few");
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("normal"), a, b, &options, &out),
                     HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "not_log_scale");
}
END_TEST

static hf_observation in_step(double lower, double upper) {
    return (hf_observation){HF_INTERVAL_CLOSED, lower, upper, false, -1};
}
static hf_observation below(double upper) {
    return (hf_observation){HF_INTERVAL_BELOW, 0, upper, false, -1};
}
static hf_observation whole(double lower) {
    return (hf_observation){HF_INTERVAL_ABOVE, lower, INFINITY, false, -1};
}

static hf_open_compare common_scatter(hf_sample a, hf_sample b) {
    hf_open_compare out;
    hf_open_compare_options options = {.common_spread = true};
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), a, b, &options, &out), HF_OK);
    return out;
}

/* Seven whole at 268.1714, two broke; against parts that all broke in one wide step: the likelihood is flat to 1e-12 over 1e-5 of the ratio. */
START_TEST(flat_top_is_found_by_its_slope) {
    /* mpmath, 40 digits: root of both derivatives in m and s, the other design's median being the middle of its step by symmetry. */
    static const struct {
        double lower, upper, ratio;
        size_t count;
    } rows[] = {{295.2448, 347.8557, 0.859814458878828, 5}, {276.0883, 516.88, 0.73990081841741, 4}};
    hf_observation x[9], y[5];
    for (int i = 0; i < 7; i++) x[i] = whole(268.1714);
    x[7] = in_step(250.3313, 256.278);
    x[8] = in_step(262.2247, 268.1714);
    for (size_t i = 0; i < rows[_i].count; i++) y[i] = in_step(rows[_i].lower, rows[_i].upper);
    hf_sample a = {x, 9}, b = {y, rows[_i].count};
    hf_check_close(common_scatter(a, b).ratio, rows[_i].ratio, 1e-9, "mpmath");
    hf_check_close(common_scatter(b, a).ratio, 1 / rows[_i].ratio, 1e-9, "mpmath");
}
END_TEST

START_TEST(a_design_that_broke_at_its_first_load) {
    /* It may be as weak as it likes: the likelihood of the other design alone is the maximum. */
    const hf_observation x[] = {below(322), below(322), below(322)};
    const hf_observation y[] = {below(289),        in_step(331, 374), in_step(331, 374),
                                in_step(374, 417), in_step(374, 417), below(289)};
    hf_sample a = {x, 3}, b = {y, 6};
    hf_fit alone;
    ck_assert_int_eq(hf_fit_maximum(hf_family_find("lognormal"), b, &alone), HF_OK);
    hf_open_compare out = common_scatter(a, b), turned = common_scatter(b, a);
    ck_assert(out.ratio == 0 && out.low == 0 && isfinite(out.high));
    ck_assert(isinf(turned.ratio) && isinf(turned.high) && turned.low > 0);
    hf_check_close(turned.low, 1 / out.high, 1e-6, "swap");
    hf_check_close(out.log_likelihood, alone.log_likelihood, 1e-12, "the other design alone");
    hf_check_close(turned.p, out.p, 1e-9, "swap");
    ck_assert(out.p > 0 && out.p <= 1);
}
END_TEST

START_TEST(likelihood_that_levels_out_names_no_ratio) {
    /* One strength at a shared rung could explain each design: as the scatter shrinks to 0 the likelihood nears that of free cells,
     * Σ count·ln(count/n), and a whole stretch of ratios gives it. */
    const hf_observation x[] = {in_step(126, 139), in_step(126, 139), in_step(126, 139),
                                in_step(126, 139), in_step(126, 139), in_step(139, 151)};
    const hf_observation y[] = {whole(154), in_step(150, 154), whole(154), in_step(150, 154),
                                in_step(150, 154)};
    hf_sample a = {x, 6}, b = {y, 5};
    hf_open_compare out = common_scatter(a, b), turned = common_scatter(b, a);
    ck_assert(isnan(out.ratio) && isnan(out.difference) && isnan(turned.ratio));
    ck_assert(out.high < 1 && out.low > 0.8 && out.p < 1e-4);
    double cells = 5 * log(5.0 / 6) + log(1.0 / 6) + 3 * log(0.6) + 2 * log(0.4);
    hf_check_close(out.log_likelihood, cells, 1e-10, "free cells");
    hf_check_close(turned.p, out.p, 1e-6, "swap");
    hf_check_close(turned.low, 1 / out.high, 1e-6, "swap");
}
END_TEST

START_TEST(steps_that_meet_give_one_answer_from_both_sides) {
    /* One broke at the last rung, two held it; three broke in two steps that meet. Whether the search happens on the one difference at which all
     * pulls lie in one place must not matter. */
    const hf_observation x[] = {in_step(846, 851), whole(851), whole(851)};
    const hf_observation y[] = {in_step(331, 336), in_step(331, 336), in_step(326, 331)};
    for (int i = 0; i < 40; i++) {
        hf_observation moved[3];
        for (int k = 0; k < 3; k++) {
            moved[k] = y[k];
            moved[k].lower *= 1 + 0.013 * i;
            moved[k].upper *= 1 + 0.013 * i;
        }
        hf_sample a = {x, 3}, b = {moved, 3};
        hf_open_compare out = common_scatter(a, b), turned = common_scatter(b, a);
        hf_check_close(turned.p, out.p, 1e-6, "swap");
        hf_check_close(turned.low, 1 / out.high, 1e-6, "swap");
        ck_assert(isnan(out.ratio) && isnan(turned.ratio) && out.p < 0.01);
        double cells = 2 * (2 * log(2.0 / 3) + log(1.0 / 3));
        hf_check_close(out.log_likelihood, cells, 1e-12, "two cells each");
    }
}
END_TEST

START_TEST(search_may_begin_where_the_places_meet) {
    const hf_observation x[] = {in_step(846, 851), in_step(846, 851), whole(851)};
    const hf_observation y[] = {in_step(300, 305), in_step(300, 305), whole(305)};
    hf_open_compare out = common_scatter((hf_sample){x, 3}, (hf_sample){y, 3});
    ck_assert(out.low > 1 && out.low < out.high && isfinite(out.p) && out.p > 0);
    hf_open_compare same = common_scatter((hf_sample){x, 3}, (hf_sample){x, 3});
    ck_assert(same.low < 1 && same.high > 1 && same.p == 1);
}
END_TEST

START_TEST(all_in_one_step_each_shows_no_scatter) {
    const hf_observation x[] = {in_step(300, 310), in_step(300, 310)}, y[] = {in_step(200, 205), whole(195)};
    hf_sample a = {x, 2}, b = {y, 2};
    hf_open_compare out;
    hf_open_compare_options options = {.common_spread = true};
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), a, b, &options, &out),
                     HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "no_maximum");
    ck_assert_int_eq(hf_open_compare_likelihood(hf_family_find("lognormal"), b, a, &options, &out),
                     HF_NO_RESULT);
    ck_assert_str_eq(out.reason, "no_maximum");
}
END_TEST

/* C31: Finkelstein & Wolfe (1985); masses from Fay & Shaw (2010) by memory, recomputed to seven digits. */
static const hf_survival_step c31[] = {{4, 5, 0.0463468},   {6, 7, 0.0333634},   {7, 8, 0.0886674},
                                       {11, 12, 0.0707529}, {24, 25, 0.0926458}, {33, 34, 0.0817858},
                                       {38, 40, 0.1208798}, {46, 48, 0.4655581}};

START_TEST(curve_without_a_law) {
    hf_observation items[64];
    size_t n = 0, found = 0;
    char line[200];
    FILE *file = fopen(HF_DATASETS_DIR "/breast-cosmesis-radiation.csv", "r");
    ck_assert_msg(file != NULL, "breast-cosmesis-radiation.csv is missing");
    while (fgets(line, sizeof line, file) && n < 64) {
        char *comma = strchr(line, ',');
        if (line[0] == '#' || line[0] == 'l' || !comma) continue;
        double lower = strtod(line, NULL);
        int open = comma[1] < '0';
        items[n] = (hf_observation){HF_INTERVAL_CLOSED, lower, strtod(comma + 1, NULL), false, -1};
        if (open) items[n] = (hf_observation){HF_INTERVAL_ABOVE, lower, INFINITY, false, -1};
        n++;
    }
    fclose(file);
    ck_assert_uint_eq(n, 46);
    hf_survival_curve curve;
    ck_assert_int_eq(hf_survival_curve_of(arena, (hf_sample){items, n}, &curve), HF_OK);
    hf_check_within(curve.log_likelihood, -58.06, 5e-3, "C31");
    for (size_t i = 0; i < curve.count; i++) {
        if (curve.steps[i].mass < 1e-6) continue; /* a maximal step that needs no weight */
        ck_assert_uint_lt(found, 8);
        hf_check_close(curve.steps[i].lower, c31[found].lower, HF_TOLERANCE_EXACT, "C31");
        hf_check_within(curve.steps[i].mass, c31[found].mass, 2e-6, "C31");
        found++;
    }
    ck_assert_uint_eq(found, 8);
    /* The same data, parametric (computed with R). */
    hf_fit fit;
    ck_assert_int_eq(hf_fit_maximum(hf_family_find("weibull"), (hf_sample){items, n}, &fit), HF_OK);
    hf_check_close(fit.m, 4.0520127, 1e-7, "C31");
    hf_check_close(fit.s, 0.89157324, 1e-7, "C31");
    hf_check_close(fit.log_likelihood, -64.731471, 1e-8, "C31");
}
END_TEST

START_TEST(curve_of_readings_is_the_step_function) {
    const double loads[] = {31.2, 30.1, 35.6, 30.1};
    hf_observation items[5];
    for (int i = 0; i < 4; i++) items[i] = (hf_observation){HF_INTERVAL_EXACT, loads[i], loads[i], false, -1};
    items[4] = (hf_observation){HF_INTERVAL_ABOVE, 33, INFINITY, false, -1};
    hf_survival_curve curve;
    ck_assert_int_eq(hf_survival_curve_of(arena, (hf_sample){items, 5}, &curve), HF_OK);
    ck_assert_uint_eq(curve.count, 3);
    /* Kaplan–Meier by hand: 2/5, 1/5, then the whole rest. */
    hf_check_within(curve.steps[0].mass, 0.4, 1e-6, "by hand");
    hf_check_within(curve.steps[1].mass, 0.2, 1e-6, "by hand");
    hf_check_within(curve.steps[2].mass, 0.4, 1e-6, "by hand");
}
END_TEST

/* Pull i of a made-up campaign whose steps overlap in long chains. */
static hf_observation overlapping(hf_random *random, size_t i) {
    double strength = 800 * exp(0.12 * hf_normal_quantile_lower(hf_random_uniform(random))),
           lower = strength - 50 * hf_random_uniform(random);
    double upper = strength + 50 * hf_random_uniform(random);
    if (i % 13 == 5) return below(upper);
    if (i % 7 == 3) return whole(lower);
    return i % 11 == 5 ? (hf_observation){HF_INTERVAL_EXACT, lower, lower, false, -1} : in_step(lower, upper);
}

static bool may_lie_in(const hf_observation *item, const hf_survival_step *step) {
    if (item->kind == HF_INTERVAL_EXACT) return step->lower == step->upper && step->upper == item->lower;
    if (step->lower == step->upper) return item->lower < step->upper && step->upper <= item->upper;
    return item->lower <= step->lower && step->upper <= item->upper;
}

START_TEST(curve_of_many_pulls_is_the_optimum_and_quick) {
    /* Gentleman & Geyer (1994): Σ_i 1[j in i]/P_i ≤ n for every step j, equal where there is mass; checked pair by pair. */
    enum { MANY = 2000 };
    static hf_observation items[MANY];
    static double share[MANY];
    hf_random random;
    hf_survival_curve curve;
    hf_random_start(&random, 6700, (uint64_t)_i);
    for (size_t i = 0; i < MANY; i++) items[i] = overlapping(&random, i);
    size_t n = _i < 8 ? 200 : MANY;
    double total = 0, size = (double)n;
    clock_t before = clock();
    ck_assert_int_eq(hf_survival_curve_of(arena, (hf_sample){items, n}, &curve), HF_OK);
    ck_assert_double_lt((double)(clock() - before) / CLOCKS_PER_SEC, 1.0);
    for (size_t j = 0; j < curve.count; j++) total += curve.steps[j].mass;
    hf_check_close(total, 1, 1e-9, "all of the mass");
    for (size_t i = 0; i < n; i++) {
        share[i] = 0;
        for (size_t j = 0; j < curve.count; j++)
            if (may_lie_in(&items[i], &curve.steps[j])) share[i] += curve.steps[j].mass;
        ck_assert_double_gt(share[i], 0);
    }
    for (size_t j = 0; j < curve.count; j++) {
        double sum = 0;
        for (size_t i = 0; i < n; i++)
            if (may_lie_in(&items[i], &curve.steps[j])) sum += 1 / share[i];
        ck_assert_double_le(sum / size, 1 + 1e-8);
        if (curve.steps[j].mass > 1e-6) ck_assert_double_ge(sum / size, 1 - 1e-8);
    }
}
END_TEST

START_TEST(draws_reproduce_the_bound) {
    /* The lower 1 − C quantile of the drawn quantile is the bound of strength/bound.h, which is computed without any draws. */
    enum { DRAWS = 200000 };
    hf_random random;
    hf_observation x[HF_TEST_PARTS];
    hf_random_start(&random, 6600, (uint64_t)_i);
    const hf_family *family = hf_family_at((size_t)_i % 3);
    hf_sample sample = hf_test_sample(&random, 14, _i % 2 ? 17.3 : 0, x);
    if (_i >= 3) stop_at(x, sample.count, 930);
    if (_i >= 6) x[0] = (hf_observation){HF_INTERVAL_BELOW, 0, 760, false, -1};
    double *m = HF_ARENA_NEW_ARRAY(arena, double, DRAWS), *s = HF_ARENA_NEW_ARRAY(arena, double, DRAWS);
    double *again = HF_ARENA_NEW_ARRAY(arena, double, 5000), z = family->quantile_upper(0.9);
    ck_assert_int_eq(hf_conditional_draws(family, sample, 9, DRAWS, m, s), HF_OK);
    hf_parallel_set_threads(3);
    ck_assert_int_eq(hf_conditional_draws(family, sample, 9, 5000, again, s + DRAWS - 5000), HF_OK);
    hf_parallel_set_threads(0);
    for (int i = 0; i < 4096; i++) ck_assert(again[i] == m[i]); /* the first block */
    ck_assert_int_eq(hf_conditional_draws(family, sample, 9, DRAWS, m, s), HF_OK);
    size_t below = 0;
    hf_bound bound;
    ck_assert_int_eq(hf_bound_family(family, sample, 0.9, 0.95, &bound), HF_OK);
    for (size_t i = 0; i < DRAWS; i++) below += hf_family_load(family, m[i] + z * s[i]) < bound.value;
    hf_check_within((double)below / DRAWS, 0.05, 0.0025, "bound.h"); /* five standard errors of the draws */
}
END_TEST

START_TEST(quantiles_differ_as_they_should) {
    hf_random random;
    hf_observation x[HF_TEST_PARTS], y[HF_TEST_PARTS];
    hf_quantile_difference ab, ba;
    hf_random_start(&random, 6700, (uint64_t)_i);
    const hf_family *family = hf_family_at((size_t)_i % 3);
    hf_sample a = hf_test_sample(&random, 12, 31.7, x), b = hf_test_sample(&random, 12, 31.7, y);
    hf_test_scale(x, a.count, 1.6);
    if (_i >= 3) stop_at(x, a.count, 1500);
    ck_assert_int_eq(hf_quantile_difference_of(arena, family, a, b, 0.9, 0.05, 3, 0, &ab), HF_OK);
    ck_assert_int_eq(hf_quantile_difference_of(arena, family, b, a, 0.9, 0.05, 4, 0, &ba), HF_OK);
    ck_assert(ab.difference_low < ab.difference && ab.difference < ab.difference_high && ab.p < 0.05);
    hf_check_close(ab.difference, -ba.difference, 0.02, "swap, simulated");
    if (family->log_scale)
        hf_check_close(ab.ratio_low, 1 / ba.ratio_high, 0.02, "swap, simulated");
    else
        ck_assert(isnan(ab.ratio));
}
END_TEST

START_TEST(draws_refuse_what_shows_no_scatter) {
    hf_observation same[3] = {{HF_INTERVAL_EXACT, 510.3, 510.3, false, -1},
                              {HF_INTERVAL_EXACT, 510.3, 510.3, false, -1},
                              {HF_INTERVAL_ABOVE, 600, INFINITY, false, -1}};
    double m[8], s[8];
    ck_assert_int_eq(hf_conditional_draws(hf_family_find("weibull"), (hf_sample){same, 3}, 1, 8, m, s),
                     HF_NO_RESULT);
    ck_assert_int_eq(hf_conditional_draws(hf_family_find("weibull"), (hf_sample){same, 2}, 1, 8, m, s),
                     HF_NO_RESULT);
    ck_assert_int_eq(hf_conditional_draws(hf_family_find("lognormal"), (hf_sample){same, 2}, 1, 8, m, s),
                     HF_NO_RESULT);
    ck_assert_int_eq(hf_conditional_draws(hf_family_find("weibull"), (hf_sample){same, 1}, 1, 8, m, s),
                     HF_NO_RESULT);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("open pulls compared");
    TCase *t = tcase_create("open");
    tcase_add_checked_fixture(t, start, stop);
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, whole_data_give_students_test, 0, 4);
    tcase_add_loop_test(t, without_open_pulls_it_is_the_contrast, 0, 4);
    tcase_add_loop_test(t, open_swap_and_scale, 0, 8);
    tcase_add_test(t, a_design_that_never_failed);
    tcase_add_loop_test(t, flat_top_is_found_by_its_slope, 0, 2);
    tcase_add_test(t, a_design_that_broke_at_its_first_load);
    tcase_add_test(t, likelihood_that_levels_out_names_no_ratio);
    tcase_add_test(t, steps_that_meet_give_one_answer_from_both_sides);
    tcase_add_test(t, search_may_begin_where_the_places_meet);
    tcase_add_test(t, all_in_one_step_each_shows_no_scatter);
    tcase_add_test(t, curve_without_a_law);
    tcase_add_loop_test(t, curve_of_many_pulls_is_the_optimum_and_quick, 0, 11);
    tcase_add_test(t, curve_of_readings_is_the_step_function);
    tcase_add_loop_test(t, draws_reproduce_the_bound, 0, 9);
    tcase_add_loop_test(t, quantiles_differ_as_they_should, 0, 6);
    tcase_add_test(t, draws_refuse_what_shows_no_scatter);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
