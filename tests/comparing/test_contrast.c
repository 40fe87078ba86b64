/* Welch's contrast: published examples (published-checks C15, C26, C30), verdicts, properties. */
#include "check_close.h"
#include "holdfast/comparing/contrast.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "strength/random_sample.h"

/* C15: NIST/SEMATECH e-Handbook 7.3.1, data and t, df from memory; the rest computed with R. */
static const double c15_old[] = {32, 37, 35, 28, 41, 44, 35, 31, 34, 38, 42};
static const double c15_new[] = {36, 31, 30, 31, 34, 36, 29, 32, 31};
/* C26: pairs a and c of the public worked example, t(a) and both p seen, df recomputed with R. */
static const double c26_a1[] = {27.5, 21.0, 19.0, 23.6, 17.0, 17.9, 16.9, 20.1,
                                21.9, 22.6, 23.1, 19.6, 19.0, 21.7, 21.4};
static const double c26_a2[] = {27.1, 22.0, 20.8, 23.4, 23.4, 23.5, 25.8, 22.0,
                                24.8, 20.2, 21.9, 22.1, 22.9, 20.5, 24.4};
static const double c26_c1[] = {19.8, 20.4, 19.6, 17.8, 18.5, 18.9, 18.3, 18.9, 19.5, 22.0};
static const double c26_c2[] = {28.2, 26.6, 20.1, 23.3, 25.2, 22.1, 17.7, 27.6, 20.6, 13.7,
                                23.2, 17.5, 20.6, 18.0, 23.9, 21.6, 24.3, 20.4, 24.0, 13.2};

typedef struct welch_row {
    const char *source;
    const double *a, *b;
    size_t n_a, n_b;
    double t, nu, p, low, high; /* of the difference of the values as they stand */
} welch_row;

static const welch_row welch_rows[] = {
    {"C15 NIST 7.3.1", c15_old, c15_new, 11, 9, 2.26937313, 15.5325144, 0.0378794761, 0.245943, 7.491430},
    {"C26 pair a", c26_a1, c26_a2, 15, 15, -2.4553564, 24.9885293, 0.0213780015, -3.984096, -0.349237},
    {"C26 pair c", c26_c1, c26_c2, 10, 20, -2.21924092, 24.4962231, 0.035972271, NAN, NAN},
};

#define TOLERANCE_PRINTED 2e-8 /* nine digits printed */

START_TEST(published_welch_examples) {
    const welch_row *row = &welch_rows[_i];
    hf_group a = hf_group_from_mids(row->a, row->n_a, 0), b = hf_group_from_mids(row->b, row->n_b, 0);
    hf_contrast out;
    ck_assert_int_eq(hf_contrast_groups(&a, &b, NULL, &out), HF_OK);
    hf_check_close(out.t, row->t, TOLERANCE_PRINTED, row->source);
    hf_check_close(out.degrees_of_freedom, row->nu, TOLERANCE_PRINTED, row->source);
    hf_check_close(out.p, row->p, TOLERANCE_PRINTED, row->source);
    if (isnan(row->low)) return;
    hf_check_within(log(out.low), row->low, 5e-7, row->source);
    hf_check_within(log(out.high), row->high, 5e-7, row->source);
}
END_TEST

/* Two batches of 2 and 3 on steps of 10 % by the formulas of group.h, m̃ = 2.4. Parts of a batch of their own give the parts
 * back. */
START_TEST(groups_of_batches) {
    hf_observation items[5];
    const double lower[] = {700, 740, 800, 720, 760};
    const int batch[] = {4, 4, 1, 1, 1};
    hf_arena *arena = hf_arena_create();
    hf_sample sample = {items, 5};
    hf_group parts, batches;
    for (int i = 0; i < 5; i++)
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, lower[i], 1.1 * lower[i], false, batch[i]};
    ck_assert_int_eq(hf_group_of_batches(arena, sample, &batches), HF_OK);
    double first = log(1.1) / 2 + (log(700) + log(740)) / 2,
           other = log(1.1) / 2 + (log(800) + log(720) + log(760)) / 3;
    ck_assert_uint_eq(batches.n, 2);
    hf_check_close(batches.mean, (first + other) / 2, 1e-14, "mean of means");
    hf_check_close(batches.variance, (first - other) * (first - other) / 2 + log(1.1) * log(1.1) / 2.4 / 8,
                   1e-12, "v + h²/(8 m)");
    for (int i = 0; i < 5; i++) items[i].batch = i;
    ck_assert_int_eq(hf_group_of_batches(arena, sample, &batches), HF_OK);
    ck_assert_int_eq(hf_group_of(arena, sample, &parts), HF_OK);
    hf_check_close(batches.variance, parts.variance, 1e-14, "a batch each");
    items[2].batch = -1;
    ck_assert_int_eq(hf_group_of_batches(arena, sample, &batches), HF_NO_RESULT);
    for (int i = 0; i < 5; i++) items[i].batch = 7;
    ck_assert_int_eq(hf_group_of_batches(arena, sample, &batches), HF_NO_RESULT);
    hf_arena_free(arena);
}
END_TEST

START_TEST(two_one_sided_tests_from_summary_figures) {
    /* C30: Lakens (2017), from memory: t −2.69, p 0.004; recomputed with R. */
    hf_group a = hf_group_from_summary(95, 5.25, 0.95, 0), b = hf_group_from_summary(89, 5.22, 0.83, 0);
    hf_contrast out;
    hf_contrast_options options = {.same_within = expm1(0.43 * sqrt((0.95 * 0.95 + 0.83 * 0.83) / 2))};
    ck_assert_int_eq(hf_contrast_groups(&a, &b, &options, &out), HF_OK);
    hf_check_within(out.degrees_of_freedom, 181.134, 5e-4, "C30");
    hf_check_within(out.p_same, 0.00387552, 5e-9, "C30");
    hf_check_close(hf_t_quantile_upper(out.p_not_higher, out.degrees_of_freedom), 2.69277144,
                   TOLERANCE_PRINTED, "C30");
    hf_check_close(hf_t_quantile_upper(out.p_not_lower, out.degrees_of_freedom), 3.14973015,
                   TOLERANCE_PRINTED, "C30");
}
END_TEST

START_TEST(steps_widen_the_interval_by_the_allowance) {
    /* Two groups in one step each: s = 0, so all of the standard error is the allowance h²/8, redone by hand. */
    hf_observation a[3], b[3];
    hf_group x, y;
    hf_contrast out;
    hf_arena *arena = hf_arena_create();
    for (int i = 0; i < 3; i++) {
        a[i] = (hf_observation){HF_INTERVAL_CLOSED, 800, 840, false, -1};
        b[i] = (hf_observation){HF_INTERVAL_CLOSED, 600, 640, i == 2, -1};
    }
    ck_assert_int_eq(hf_group_of(arena, (hf_sample){a, 3}, &x), HF_OK);
    ck_assert_int_eq(hf_group_of(arena, (hf_sample){b, 3}, &y), HF_OK);
    ck_assert_int_eq(hf_contrast_groups(&x, &y, NULL, &out), HF_OK);
    double wa = log(840.0 / 800), wb = log(640.0 / 600), hb2 = (2 * wb * wb + 4 * wb * wb) / 3;
    hf_check_close(out.standard_error, sqrt((wa * wa + hb2) / 24), HF_TOLERANCE_ROUNDING * 10,
                   "methods.md 7");
    hf_check_close(out.ratio, sqrt(800.0 * 840 / (600.0 * 640)), HF_TOLERANCE_ROUNDING * 10,
                   "geometric mids");
    hf_arena_free(arena);
}
END_TEST

START_TEST(refuses_with_a_reason) {
    const double y[] = {6.1, 6.1, 6.1}, z[] = {6.2, 6.5};
    hf_group one = hf_group_from_mids(y, 1, 0.1), flat = hf_group_from_mids(y, 3, 0),
             two = hf_group_from_mids(z, 2, 0);
    hf_observation open = {HF_INTERVAL_ABOVE, 700, INFINITY, false, -1},
                   zero = {HF_INTERVAL_CLOSED, 0, 40, false, -1};
    hf_contrast out;
    hf_group group;
    hf_arena *arena = hf_arena_create();
    ck_assert_int_eq(hf_contrast_groups(&one, &two, NULL, &out), HF_NO_RESULT);
    ck_assert_str_eq(hf_contrast_reason_code(out.reason), "one_part");
    ck_assert_int_eq(hf_contrast_groups(&flat, &flat, NULL, &out), HF_NO_RESULT);
    ck_assert_str_eq(hf_contrast_reason_code(out.reason), "one_value");
    ck_assert_int_eq(hf_contrast_groups(&two, &flat, &(hf_contrast_options){.level = 1.5}, &out), HF_RANGE);
    ck_assert_str_eq(hf_contrast_reason_code(out.reason), "range");
    ck_assert_int_eq(hf_contrast_groups(&two, &flat, NULL, &out), HF_OK); /* one group's scatter is enough */
    ck_assert_int_eq(hf_group_of(arena, (hf_sample){&open, 1}, &group), HF_NO_RESULT);
    ck_assert_int_eq(hf_group_of(arena, (hf_sample){&zero, 1}, &group), HF_RANGE);
    hf_arena_free(arena);
}
END_TEST

START_TEST(swap_inverts_and_scale_does_not_matter) {
    hf_random random;
    hf_arena *arena = hf_arena_create();
    hf_random_start(&random, 7101, (uint64_t)_i);
    hf_observation items[2][HF_TEST_PARTS];
    hf_group a, b, c;
    hf_contrast ab, ba, cb;
    hf_sample x = hf_test_sample(&random, 3 + hf_random_below(&random, 12), _i % 2 ? 37.3 : 0, items[0]);
    hf_sample y = hf_test_sample(&random, 3 + hf_random_below(&random, 12), _i % 3 ? 37.3 : 0, items[1]);
    hf_contrast_options options = {.same_within = 0.173};
    ck_assert(hf_group_of(arena, x, &a) == HF_OK && hf_group_of(arena, y, &b) == HF_OK);
    ck_assert(hf_contrast_groups(&a, &b, &options, &ab) == HF_OK &&
              hf_contrast_groups(&b, &a, &options, &ba) == HF_OK);
    hf_check_close(ab.p, ba.p, HF_TOLERANCE_EXACT, "swap");
    hf_check_close(ab.ratio, 1 / ba.ratio, HF_TOLERANCE_ROUNDING, "swap");
    hf_check_close(ab.low, 1 / ba.high, HF_TOLERANCE_ROUNDING, "swap");
    hf_check_close(ab.p_same, ba.p_same, HF_TOLERANCE_EXACT, "swap");
    hf_check_close(ab.smallest_visible_ratio, ba.smallest_visible_ratio, HF_TOLERANCE_SPECIAL, "swap");
    hf_test_scale(items[0], x.count, 7.31);
    hf_test_scale(items[1], y.count, 7.31);
    ck_assert(hf_group_of(arena, x, &c) == HF_OK && hf_group_of(arena, y, &b) == HF_OK);
    ck_assert_int_eq(hf_contrast_groups(&c, &b, &options, &cb), HF_OK);
    hf_check_close(cb.ratio, ab.ratio, 1e-12, "scale");
    hf_check_close(cb.p, ab.p, 1e-9, "scale");
    hf_arena_free(arena);
}
END_TEST

START_TEST(last_figures_agree_with_the_power_function) {
    hf_group a = hf_group_from_summary(6, 6.71, 0.113, 0.04), b = hf_group_from_summary(9, 6.62, 0.081, 0.04);
    hf_contrast out;
    ck_assert_int_eq(hf_contrast_groups(&a, &b, NULL, &out), HF_OK);
    hf_power_setup setup = {6, 9, a.variance, b.variance, 0.05, false};
    hf_check_close(hf_welch_power_of(&setup, log(out.smallest_visible_ratio)), 0.80, 1e-8, "definition");
    setup.n_a = setup.n_b = out.parts_to_settle;
    ck_assert_double_ge(hf_welch_power_of(&setup, out.difference), 0.80);
    setup.n_a = setup.n_b = out.parts_to_settle - 1;
    ck_assert_double_lt(hf_welch_power_of(&setup, out.difference), 0.80);
}
END_TEST

START_TEST(one_pull_each_with_a_stated_scatter) {
    /* ln(1000/800) = 0.22314; √(2·ln(1 + 0.1²)) = 0.141069; z = 1.58180; p = 0.113694 (redone with R's pnorm). */
    hf_observation a = {HF_INTERVAL_EXACT, 1000, 1000, false, -1},
                   b = {HF_INTERVAL_EXACT, 800, 800, false, -1};
    hf_stated_scatter known = {.cv = 0.1, .degrees_of_freedom = INFINITY},
                      loose = {.cv = 0.1, .degrees_of_freedom = 4}, none = {.degrees_of_freedom = INFINITY};
    hf_sample x = {&a, 1}, y = {&b, 1};
    hf_contrast out, wider, stepped;
    ck_assert_int_eq(hf_contrast_stated(x, y, known, known, NULL, &out), HF_OK);
    double z = log(1.25) / sqrt(2 * log1p(0.01));
    hf_check_close(out.p, 2 * hf_normal_upper(z), HF_TOLERANCE_ROUNDING, "normal reference");
    hf_check_close(out.high / out.ratio, out.ratio / out.low, HF_TOLERANCE_ROUNDING,
                   "symmetry on the log scale");
    ck_assert_int_eq(hf_contrast_stated(x, y, loose, loose, NULL, &wider), HF_OK);
    hf_check_close(wider.degrees_of_freedom, 8, HF_TOLERANCE_ROUNDING, "equal parts of 4 degrees each");
    ck_assert(wider.p > out.p && wider.low < out.low);
    a = (hf_observation){HF_INTERVAL_CLOSED, 980, 1020, false, -1};
    ck_assert_int_eq(hf_contrast_stated(x, y, known, known, NULL, &stepped), HF_OK);
    ck_assert(stepped.p > out.p && stepped.low < out.low && stepped.high > out.high);
    hf_check_close(stepped.low / out.low, 0.98, HF_TOLERANCE_ROUNDING * 10, "lower end of the step");
    a = (hf_observation){HF_INTERVAL_ABOVE, 1000, INFINITY, false, -1};
    ck_assert_int_eq(hf_contrast_stated(x, y, known, known, NULL, &stepped), HF_OK);
    ck_assert(isinf(stepped.high) && stepped.low == out.low);
    ck_assert_int_eq(hf_contrast_stated(x, y, known, none, NULL, &out), HF_NO_RESULT);
    ck_assert_str_eq(hf_contrast_reason_code(out.reason), "scatter_not_stated");
}
END_TEST

START_TEST(cautions_for_unequal_groups) {
    hf_group a = hf_group_from_summary(4, 6.7, 0.12, 0), b = hf_group_from_summary(9, 6.6, 0.1, 0);
    hf_group even = hf_group_from_summary(7, 6.6, 0.05, 0), twice = hf_group_from_summary(8, 6.6, 0.05, 0);
    hf_contrast out;
    ck_assert_int_eq(hf_contrast_test(&a, &b, NULL, &out), HF_OK);
    ck_assert(out.caution_small_group && !out.caution_scatter);
    ck_assert_int_eq(hf_contrast_test(&a, &even, NULL, &out), HF_OK);
    ck_assert(!out.caution_small_group && out.caution_scatter);
    ck_assert_int_eq(hf_contrast_test(&a, &twice, NULL, &out), HF_OK);
    ck_assert(out.caution_small_group && out.caution_scatter);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("contrast");
    TCase *t = tcase_create("welch");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, published_welch_examples, 0, (int)(sizeof welch_rows / sizeof *welch_rows));
    tcase_add_test(t, groups_of_batches);
    tcase_add_test(t, two_one_sided_tests_from_summary_figures);
    tcase_add_test(t, steps_widen_the_interval_by_the_allowance);
    tcase_add_test(t, refuses_with_a_reason);
    tcase_add_loop_test(t, swap_inverts_and_scale_does_not_matter, 0, 12);
    tcase_add_test(t, last_figures_agree_with_the_power_function);
    tcase_add_test(t, one_pull_each_with_a_stated_scatter);
    tcase_add_test(t, cautions_for_unequal_groups);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
