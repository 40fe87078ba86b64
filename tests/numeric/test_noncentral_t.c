/* Noncentral t against 28-digit values, and against itself. */
#include "holdfast/numeric/noncentral_t.h"

#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "numeric/table.h"

#define TOLERANCE_ROUND_TRIP 1e-11 /* probability of its own quantile */

static int kinds[3];

static void compare(const table_row *row) {
    double a = row->argument[0], b = row->argument[1], c = row->argument[2];
    if (strcmp(row->name, "lower") == 0) {
        kinds[0]++;
        hf_check_close(hf_noncentral_t_lower(a, b, c), row->value, HF_TOLERANCE_SPECIAL, row->source);
    } else if (strcmp(row->name, "upper") == 0) {
        kinds[1]++;
        hf_check_close(hf_noncentral_t_upper(a, b, c), row->value, HF_TOLERANCE_SPECIAL, row->source);
    } else {
        kinds[2]++;
        double t = (double)NAN;
        ck_assert_str_eq(row->name, "factor");
        ck_assert_int_eq(hf_noncentral_t_quantile(c, a - 1.0, hf_normal_quantile_lower(b) * sqrt(a), &t),
                         HF_OK);
        hf_check_close(t / sqrt(a), row->value, HF_TOLERANCE_FACTOR, row->source);
    }
}

START_TEST(test_reference_values) {
    (void)table_each("reference_noncentral_t.csv", compare);
    ck_assert_int_ge(kinds[0], 40);
    ck_assert_int_ge(kinds[1], 40);
    ck_assert_int_eq(kinds[2], 8 * 4 * 6);
}
END_TEST

START_TEST(test_reference_values_of_extreme_arguments) {
    kinds[0] = kinds[1] = 0;
    (void)table_each("reference_noncentral_t_far.csv", compare);
    ck_assert_int_ge(kinds[0], 80);
    ck_assert_int_ge(kinds[1], 80);
}
END_TEST

/* Every finite argument is answered, in bounded time: in order, between 0 and 1, both tails together 1. */
START_TEST(test_any_argument_is_answered) {
    const double nus[] = {1, 2, 7.5, 1e3, 1e6, 1e9, 1e12}, deltas[] = {0, 3, 499, 501, 1e4, 1e9, 1e30, 1e300},
                 ts[] = {1e-300, 1e-9, 1, 5e2, 1e4, 1e9, 1e30, 1e300};
    for (size_t i = 0; i < sizeof nus / sizeof *nus; i++)
        for (size_t j = 0; j < sizeof deltas / sizeof *deltas; j++)
            for (int sign = -1; sign <= 1; sign += 2) {
                double before = 0;
                for (size_t k = 0; k < sizeof ts / sizeof *ts; k++) {
                    double delta = sign * deltas[j], lower = hf_noncentral_t_lower(ts[k], nus[i], delta),
                           upper = hf_noncentral_t_upper(ts[k], nus[i], delta);
                    ck_assert_msg(lower >= before && lower <= 1 && fabs(lower + upper - 1) < 1e-10,
                                  "t %g, nu %g, delta %g: %g and %g after %g", ts[k], nus[i], delta, lower,
                                  upper, before);
                    before = lower * (1 - 1e-10);
                }
            }
}
END_TEST

START_TEST(test_extreme_quantiles) {
    const double nus[] = {1, 2, 4.5, 30, 999, 1e6, 1e9}, deltas[] = {501, 1e4, 7e8, 1e15},
                 ps[] = {1e-12, 1e-6, 0.05, 0.5, 0.975, 0.999999};
    for (size_t i = 0; i < sizeof nus / sizeof *nus; i++)
        for (size_t j = 0; j < sizeof deltas / sizeof *deltas; j++) {
            double before = -HUGE_VAL;
            for (size_t k = 0; k < sizeof ps / sizeof *ps; k++) {
                double t = (double)NAN, p = ps[k];
                char source[120];
                (void)snprintf(source, sizeof source, "p %g, nu %g, delta %g", p, nus[i], deltas[j]);
                ck_assert_msg(hf_noncentral_t_quantile(p, nus[i], deltas[j], &t) == HF_OK, "%s", source);
                ck_assert_msg(t > before, "%s: %g after %g", source, t, before);
                before = t;
                double width = sqrt(1 + t * t / (2 * nus[i])), rounding = 4e-16 * t / width;
                hf_check_within(hf_noncentral_t_lower(t, nus[i], deltas[j]) / p, 1,
                                1e-10 + 100 * rounding / fmin(1, p / (1 - p)), source);
            }
        }
}
END_TEST

START_TEST(test_without_noncentrality_it_is_students_t) {
    const double nus[] = {0.5, 0.625, 1.0, 1.9, 2.0, 4.5, 9.0, 42.0, 999.0, 9999.0};
    for (size_t i = 0; i < sizeof nus / sizeof nus[0]; i++) {
        for (double t = -12.0; t <= 12.0; t += 0.75) {
            hf_check_close(hf_noncentral_t_lower(t, nus[i], 0.0), hf_t_lower(t, nus[i]), HF_TOLERANCE_SPECIAL,
                           "Student");
            hf_check_close(hf_noncentral_t_upper(t, nus[i], 0.0), hf_t_upper(t, nus[i]), HF_TOLERANCE_SPECIAL,
                           "Student");
        }
        double t = (double)NAN;
        ck_assert_int_eq(hf_noncentral_t_quantile(0.95, nus[i], 0.0, &t), HF_OK);
        hf_check_close(t, hf_t_quantile_lower(0.95, nus[i]), HF_TOLERANCE_SPECIAL, "Student");
    }
}
END_TEST

START_TEST(test_at_zero_it_is_normal) {
    for (double delta = -30.0; delta <= 30.0; delta += 2.5) {
        hf_check_close(hf_noncentral_t_lower(0.0, 5.0, delta), hf_normal_lower(-delta), HF_TOLERANCE_ROUNDING,
                       "P(T<=0)");
        double t = (double)NAN;
        if (fabs(delta) > 6.0) continue;
        ck_assert_int_eq(hf_noncentral_t_quantile(hf_normal_lower(-delta), 5.0, delta, &t), HF_OK);
        hf_check_within(t, 0.0, HF_TOLERANCE_SPECIAL, "quantile of P(T<=0)");
    }
}
END_TEST

START_TEST(test_random_laws) {
    hf_random random;
    hf_random_start(&random, 20260501, 0);
    for (int i = 0; i < 4000; i++) {
        double nu = exp(hf_random_uniform(&random) * log(9999.0));
        double delta = (2.0 * hf_random_uniform(&random) - 1.0) * (i % 2 == 0 ? 5.0 : 430.0);
        double p = hf_normal_lower(12.0 * hf_random_uniform(&random) - 6.0), t = (double)NAN,
               mirror = (double)NAN;
        char source[120];
        (void)snprintf(source, sizeof source, "p %.17g, nu %.17g, delta %.17g", p, nu, delta);
        ck_assert_msg(hf_noncentral_t_quantile(p, nu, delta, &t) == HF_OK, "%s", source);
        double lower = hf_noncentral_t_lower(t, nu, delta), upper = hf_noncentral_t_upper(t, nu, delta);
        hf_check_within(lower + upper, 1.0, TOLERANCE_ROUND_TRIP, source);
        if (p < 0.5)
            hf_check_close(lower, p, TOLERANCE_ROUND_TRIP, source);
        else
            hf_check_close(upper, 1.0 - p, TOLERANCE_ROUND_TRIP, source);
        hf_check_close(hf_noncentral_t_lower(-t, nu, -delta), upper, HF_TOLERANCE_EXACT, "reflection");
        if (p < 0.5) continue; /* 1 − p is exact above one half */
        ck_assert_int_eq(hf_noncentral_t_quantile(1.0 - p, nu, -delta, &mirror), HF_OK);
        hf_check_close(mirror, -t, HF_TOLERANCE_SPECIAL, source);
    }
}
END_TEST

START_TEST(test_grows_with_everything_it_should) {
    double before = 0.0;
    for (int n = 2; n < 400; n++) {
        double t = (double)NAN;
        ck_assert_int_eq(hf_noncentral_t_quantile(0.95, n - 1.0, hf_normal_quantile_lower(0.9) * sqrt(n), &t),
                         HF_OK);
        double k = t / sqrt(n);
        ck_assert_msg(n == 2 || k < before, "k must fall with n, at n = %d", n);
        before = k;
    }
    before = -HUGE_VAL;
    for (double p = 0.001; p < 1.0; p += 0.001) {
        double t = (double)NAN;
        ck_assert_int_eq(hf_noncentral_t_quantile(p, 4.0, 2.8, &t), HF_OK);
        ck_assert_msg(t > before, "quantile must grow with p, at p = %g", p);
        before = t;
    }
}
END_TEST

START_TEST(test_outside) {
    double t = 0.0;
    ck_assert_int_eq(hf_noncentral_t_quantile(0.0, 5.0, 1.0, &t), HF_RANGE);
    ck_assert_int_eq(hf_noncentral_t_quantile(1.0, 5.0, 1.0, &t), HF_RANGE);
    ck_assert_int_eq(hf_noncentral_t_quantile((double)NAN, 5.0, 1.0, &t), HF_RANGE);
    ck_assert_int_eq(hf_noncentral_t_quantile(0.5, 0.4, 1.0, &t), HF_RANGE);
    ck_assert_int_eq(hf_noncentral_t_quantile(0.5, 5.0, HUGE_VAL, &t), HF_RANGE);
    ck_assert(isnan(hf_noncentral_t_lower((double)NAN, 5.0, 1.0)) &&
              isnan(hf_noncentral_t_upper(1.0, 0.0, 1.0)));
    ck_assert(isnan(hf_noncentral_t_lower(1.0, 5.0, (double)NAN)) &&
              isnan(hf_noncentral_t_lower(HUGE_VAL, 5.0, 1.0)));
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("noncentral_t");
    TCase *c = tcase_create("noncentral_t");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, test_reference_values);
    tcase_add_test(c, test_reference_values_of_extreme_arguments);
    tcase_add_test(c, test_any_argument_is_answered);
    tcase_add_test(c, test_extreme_quantiles);
    tcase_add_test(c, test_without_noncentrality_it_is_students_t);
    tcase_add_test(c, test_at_zero_it_is_normal);
    tcase_add_test(c, test_random_laws);
    tcase_add_test(c, test_grows_with_everything_it_should);
    tcase_add_test(c, test_outside);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
