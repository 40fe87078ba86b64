/* The one formula and its k: properties every lower bound must have, and the conditional way against closed forms. */
#include "check_close.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/order_statistic.h"
#include "shuffle.h"
#include "strength/conditional.h"
#include "strength/random_sample.h"

static const double contents[] = {0.75, 0.87, 0.90, 0.95, 0.99};
static const double confidences[] = {0.90, 0.95, 0.99};

static double bound_of(const hf_family *family, hf_sample sample, double content, double confidence) {
    hf_bound bound;
    hf_status status = hf_bound_family(family, sample, content, confidence, &bound);
    ck_assert_msg(status == HF_OK, "%s: %s", family->name, hf_bound_reason_code(bound.reason));
    return bound.value;
}

START_TEST(the_bound_falls_with_content_and_confidence) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_random random;
    hf_random_start(&random, 5501, (uint64_t)_i);
    for (int round = 0; round < 8; round++) {
        hf_observation items[HF_TEST_PARTS];
        hf_sample sample =
            hf_test_sample(&random, 3 + hf_random_below(&random, 25), round % 2 ? 41.7 : 0, items);
        for (size_t p = 0; p < 5; p++)
            for (size_t c = 0; c < 3; c++) {
                double value = bound_of(family, sample, contents[p], confidences[c]);
                if (p) ck_assert_double_lt(value, bound_of(family, sample, contents[p - 1], confidences[c]));
                if (c) ck_assert_double_lt(value, bound_of(family, sample, contents[p], confidences[c - 1]));
            }
    }
}
END_TEST

START_TEST(the_factor_falls_with_n_towards_the_quantile) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    static const size_t sizes[] = {2,  3,  4,  5,  7,   10,  14,  23,  41,   60,
                                   61, 79, 80, 81, 119, 250, 251, 700, 1000, 5000};
    for (size_t p = 0; p < 5; p++)
        for (size_t c = 0; c < 3; c++) {
            double before = INFINITY, k, error;
            for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
                ck_assert_int_eq(family->factor(sizes[i], contents[p], confidences[c], &k, &error), HF_OK);
                ck_assert_msg(k < before, "%s n=%zu: k %.8g not below %.8g", family->name, sizes[i], k,
                              before);
                ck_assert_double_gt(k, -family->quantile_upper(contents[p]));
                before = k;
            }
        }
}
END_TEST

START_TEST(the_bound_lies_below_the_fitted_quantile) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_random random;
    hf_random_start(&random, 77, (uint64_t)_i);
    for (int round = 0; round < 60; round++) {
        hf_observation items[HF_TEST_PARTS];
        hf_sample sample = hf_test_sample(&random, 3 + hf_random_below(&random, 30),
                                          round % 3 ? 25.0 * (round % 3) : 0, items);
        hf_fit fit;
        if (hf_fit_maximum(family, sample, &fit) != HF_OK) continue;
        double quantile = hf_family_load(family, fit.m + fit.s * family->quantile_upper(0.90));
        ck_assert_double_lt(bound_of(family, sample, 0.90, 0.95), quantile);
    }
}
END_TEST

START_TEST(units_and_order_do_not_matter) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_random random;
    hf_random_start(&random, 2027, (uint64_t)_i);
    for (int round = 0; round < 40; round++) {
        hf_observation items[HF_TEST_PARTS], other[HF_TEST_PARTS];
        size_t n = 3 + hf_random_below(&random, 12), order[HF_TEST_PARTS];
        hf_sample sample = hf_test_sample(&random, n, round % 2 ? 61.1 : 0, items);
        if (round % 4 == 1)
            items[0] = (hf_observation){HF_INTERVAL_ABOVE, items[0].lower, INFINITY, false, -1};
        if (round % 8 == 5) items[1] = (hf_observation){HF_INTERVAL_BELOW, 0, 700.3, false, -1};
        for (size_t i = 0; i < n; i++) order[i] = i;
        hf_random_shuffle(&random, order, n);
        for (size_t i = 0; i < n; i++) other[i] = items[order[i]];
        hf_bound first, second;
        hf_bound_family(family, sample, 0.90, 0.95, &first);
        hf_bound_family(family, (hf_sample){other, n}, 0.90, 0.95, &second);
        ck_assert_int_eq(first.method, second.method);
        if (first.method == HF_BOUND_NONE) continue;
        hf_check_close(second.value, first.value, 1e-9, "permuted pulls");
        hf_test_scale(items, n, 0.2248089431);
        hf_bound_family(family, sample, 0.90, 0.95, &second);
        hf_check_close(second.value, 0.2248089431 * first.value, 1e-9, "methods.md 9: loads times c");
    }
}
END_TEST

/* methods.md 9: the conditional quadrature on complete normal data is the noncentral t. */
START_TEST(the_conditional_way_meets_the_noncentral_t) {
    const hf_family *family = hf_family_at((size_t)_i);
    static const double y[] = {6.7117, 6.6024, 6.8123, 6.7611, 6.6559,
                               6.8571, 6.7334, 6.7797, 6.8048, 6.6412};
    for (size_t n = 2; n <= 10; n++)
        for (size_t p = 0; p < 5; p++)
            for (size_t c = 0; c < 3; c++) {
                const hf_open_data data = {.y = y, .count = n};
                double m, s, limit, k, error;
                ck_assert_int_eq(
                    hf_conditional_bound(family, &data, contents[p], confidences[c], &m, &s, &limit), HF_OK);
                ck_assert_int_eq(family->factor(n, contents[p], confidences[c], &k, &error), HF_OK);
                hf_check_close((m - limit) / s, k, n == 2 ? 1e-4 : 1e-6,
                               "methods.md 9: noncentral t, n ≥ 3 1e-6, n = 2 1e-4");
            }
}
END_TEST

/* The Weibull's one-dimensional way and the general two-dimensional one are different code for the same integral. */
START_TEST(two_ways_to_the_weibull_limit_agree) {
    static const double y[] = {6.7117, 6.6024, 6.8123, 6.7611, 6.6559, 6.8571}, above[] = {6.83, 6.79};
    hf_family general = *hf_family_find("weibull");
    general.limit_by_mixture = NULL;
    for (size_t n = 2; n <= 6; n++)
        for (size_t open = 0; open <= 2; open++) {
            const hf_open_data data = {.y = y, .count = n, .above = above, .above_count = open};
            double m, s, one, two;
            ck_assert_int_eq(hf_conditional_bound(hf_family_find("weibull"), &data, 0.90, 0.95, &m, &s, &one),
                             HF_OK);
            ck_assert_int_eq(hf_conditional_bound(&general, &data, 0.90, 0.95, &m, &s, &two), HF_OK);
            hf_check_close((m - two) / s, (m - one) / s, n == 2 ? 1e-4 : 1e-6,
                           "the same integral by other code");
        }
}
END_TEST

/* The same with parts broken at the first load, where the short way multiplies out; at one load and at several. */
START_TEST(first_rung_failures_multiply_out) {
    static const double y[] = {6.7117, 6.6024, 6.8123, 6.7611, 6.6559, 6.8571}, above[] = {6.83, 6.83};
    static const double below[][4] = {{6.55, 6.55, 6.55, 6.55}, {6.55, 6.61, 6.55, 6.47}};
    hf_family general = *hf_family_find("weibull");
    general.limit_by_mixture = NULL;
    for (size_t n = 3; n <= 6; n++)
        for (size_t open = 0; open <= 2; open++)
            for (size_t lower = 1; lower <= 4; lower++) {
                const hf_open_data data = {.y = y,
                                           .count = n,
                                           .above = above,
                                           .above_count = open,
                                           .below = below[_i],
                                           .below_count = lower};
                double m, s, one, two;
                ck_assert_int_eq(
                    hf_conditional_bound(hf_family_find("weibull"), &data, 0.90, 0.95, &m, &s, &one), HF_OK);
                ck_assert_int_eq(hf_weibull_limit(&data, 0.90, 0.05, m, s, &one), HF_OK);
                ck_assert_int_eq(hf_conditional_bound(&general, &data, 0.90, 0.95, &m, &s, &two), HF_OK);
                hf_check_close((m - one) / s, (m - two) / s, 1e-6, "the same integral by other code");
            }
}
END_TEST

/* Many parts below a load that the others hold with ease: the short way must say so, the answer comes all the same. */
START_TEST(terms_that_would_cancel_are_left_to_the_general_way) {
    static const double y[] = {6.7117, 6.7024, 6.7123}, below[] = {6.1, 6.1, 6.1, 6.1, 6.1, 6.1};
    const hf_open_data data = {.y = y, .count = 3, .below = below, .below_count = 6};
    double m, s, limit;
    ck_assert_int_eq(hf_conditional_bound(hf_family_find("weibull"), &data, 0.90, 0.95, &m, &s, &limit),
                     HF_OK);
    ck_assert(limit < 6.1);
}
END_TEST

/* methods.md 3 range rule. */
START_TEST(the_step_allowance_keeps_to_its_range) {
    const hf_observation stepped[] = {{HF_INTERVAL_CLOSED, 761.5, 802.5, false, -1},
                                      {HF_INTERVAL_CLOSED, 802.5, 843.5, false, -1},
                                      {HF_INTERVAL_CLOSED, 843.5, 884.5, false, -1}};
    hf_bound bound;
    const hf_family *family = hf_family_at((size_t)_i);
    hf_sample sample = {stepped, 3};
    ck_assert_int_eq(hf_bound_family(family, sample, 0.90, 0.74, &bound), HF_RANGE);
    ck_assert_int_eq(bound.reason, HF_REASON_STEP_RANGE);
    ck_assert_int_eq(hf_bound_family(family, sample, 0.80, 0.89, &bound), HF_RANGE);
    ck_assert_int_eq(hf_bound_family(family, sample, 0.74, 0.95, &bound), HF_RANGE);
    ck_assert_int_eq(hf_bound_family(family, sample, 0.80, 0.90, &bound), HF_OK);
    hf_check_close(bound.value, hf_bound_value(family, bound.m, bound.s, bound.h, bound.k, bound.allowance),
                   0, "the one formula");
    hf_check_close(bound.allowance * bound.k * bound.k,
                   fmax(bound.k * bound.k * family->step_allowance, 0.25), HF_TOLERANCE_ROUNDING,
                   "methods.md 3: max(A·k², 1/4)");
    ck_assert_int_eq(hf_bound_family(family, sample, 1.0, 0.95, &bound), HF_RANGE);
    ck_assert_int_eq(bound.reason, HF_REASON_RANGE);
}
END_TEST

/* The allowance is the law's own: a record with 1/16 gets its bounds with it, whole and open. */
START_TEST(the_step_allowance_is_the_law_s_own) {
    const hf_observation items[] = {{HF_INTERVAL_CLOSED, 761.5, 802.5, false, -1},
                                    {HF_INTERVAL_CLOSED, 802.5, 843.5, false, -1},
                                    {HF_INTERVAL_CLOSED, 843.5, 884.5, false, -1},
                                    {HF_INTERVAL_ABOVE, 900.5, INFINITY, false, -1}};
    static const double promises[][3] = {
        {0.90, 0.95, 16}, {0.95, 0.90, 16}, {0.95, 0.75, 16}, {0.89, 0.95, 16}};
    hf_family law = *hf_family_at((size_t)_i);
    law.step_allowance = 1.0 / 16;
    for (size_t i = 0; i < 8; i++) {
        const double *promise = promises[i / 2];
        hf_bound bound;
        ck_assert_int_eq(hf_bound_family(&law, (hf_sample){items, 3 + i % 2}, promise[0], promise[1], &bound),
                         HF_OK);
        double by_hand = bound.m - bound.k * sqrt(bound.s * bound.s + bound.h * bound.h / promise[2]);
        hf_check_close(bound.value, hf_family_load(&law, by_hand), HF_TOLERANCE_ROUNDING, "the one formula");
        ck_assert(bound.h > 0 && bound.k > 2 && bound.allowance == 1 / promise[2]);
    }
}
END_TEST

START_TEST(all_in_one_step_has_a_bound) {
    const hf_observation item = {HF_INTERVAL_CLOSED, 760.5, 801.5, false, -1};
    const hf_observation same[] = {item, item, item, item};
    const hf_family *family = hf_family_at((size_t)_i);
    hf_bound bound;
    ck_assert_int_eq(hf_bound_family(family, (hf_sample){same, 4}, 0.90, 0.95, &bound), HF_OK);
    double k, error, low = hf_family_working(family, 760.5), high = hf_family_working(family, 801.5);
    ck_assert_int_eq(family->factor(4, 0.90, 0.95, &k, &error), HF_OK);
    double by_hand = 0.5 * (low + high) - k * (high - low) * sqrt(family->step_allowance);
    hf_check_close(bound.value, hf_family_load(family, by_hand), HF_TOLERANCE_ROUNDING,
                   "methods.md 3 with s = 0");
}
END_TEST

/* methods.md 3, open observations: which rule. */
START_TEST(open_samples_follow_the_rules) {
    const hf_family *family = hf_family_at((size_t)_i);
    const hf_observation step = {HF_INTERVAL_CLOSED, 760.5, 801.5, false, -1};
    const hf_observation other = {HF_INTERVAL_CLOSED, 842.5, 883.5, false, -1};
    const hf_observation above = {HF_INTERVAL_ABOVE, 950.5, INFINITY, false, -1};
    const hf_observation low_above = {HF_INTERVAL_ABOVE, 700.5, INFINITY, false, -1};
    const hf_observation below = {HF_INTERVAL_BELOW, 0, 400.5, false, -1};
    hf_bound bound, complete;
    ck_assert_int_eq(
        hf_bound_family(family, (hf_sample){(hf_observation[]){step, above}, 2}, 0.9, 0.95, &bound),
        HF_NO_RESULT);
    ck_assert_int_eq(bound.reason, HF_REASON_TOO_FEW);
    ck_assert_int_eq(
        hf_bound_family(family, (hf_sample){(hf_observation[]){step, step, below}, 3}, 0.9, 0.95, &bound),
        HF_NO_RESULT);
    ck_assert_int_eq(bound.reason, HF_REASON_ONE_STEP_AND_BELOW);
    ck_assert_int_eq(
        hf_bound_family(family, (hf_sample){(hf_observation[]){step, other, above}, 3}, 0.9, 0.95, &bound),
        HF_OK);
    ck_assert_int_eq(bound.method, HF_BOUND_CONDITIONAL);
    ck_assert_int_eq(
        hf_bound_family(family, (hf_sample){(hf_observation[]){step, step, low_above}, 3}, 0.9, 0.95, &bound),
        HF_OK);
    ck_assert_int_eq(bound.method, HF_BOUND_FACTOR);
    hf_bound_family(family, (hf_sample){(hf_observation[]){step, step}, 2}, 0.9, 0.95, &complete);
    hf_check_close(bound.value, complete.value, 0, "rule (i): the factor for d parts");
    ck_assert_int_eq(
        hf_bound_family(family, (hf_sample){(hf_observation[]){step, step, above}, 3}, 0.9, 0.95, &bound),
        HF_OK);
    ck_assert_double_le(bound.value, complete.value);
}
END_TEST

START_TEST(the_content_at_a_load_inverts_the_bound) {
    const hf_family *family = hf_family_at((size_t)_i);
    hf_random random;
    hf_observation items[HF_TEST_PARTS];
    hf_random_start(&random, 31, 0);
    hf_sample sample = hf_test_sample(&random, 12, 0, items);
    double content;
    for (size_t p = 0; p < 5; p++) {
        double load = bound_of(family, sample, contents[p], 0.95);
        ck_assert_int_eq(hf_bound_content_at(family, sample, load, 0.95, &content), HF_OK);
        hf_check_close(1 - content, 1 - contents[p], HF_TOLERANCE_FIT, "the bound solved for the content");
    }
    ck_assert_int_eq(hf_bound_content_at(family, sample, 1200, 0.95, &content), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("strength bound");
    TCase *t = tcase_create("bound");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, the_bound_falls_with_content_and_confidence, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, the_factor_falls_with_n_towards_the_quantile, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, the_bound_lies_below_the_fitted_quantile, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, units_and_order_do_not_matter, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, the_conditional_way_meets_the_noncentral_t, 0, 2);
    tcase_add_test(t, two_ways_to_the_weibull_limit_agree);
    tcase_add_loop_test(t, first_rung_failures_multiply_out, 0, 2);
    tcase_add_test(t, terms_that_would_cancel_are_left_to_the_general_way);
    tcase_add_loop_test(t, the_step_allowance_keeps_to_its_range, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, the_step_allowance_is_the_law_s_own, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, all_in_one_step_has_a_bound, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, open_samples_follow_the_rules, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, the_content_at_a_load_inverts_the_bound, 0, HF_FAMILY_COUNT);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
