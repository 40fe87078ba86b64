#include "holdfast/numeric/solve.h"

#include <stdlib.h>
#include "check_close.h"
#include "holdfast/numeric/special.h"

static double cosine_less_x(double x, void *context) {
    (void)context;
    return cos(x) - x;
}

static double cube(double x, void *context) {
    const double *root = context;
    return (x - *root) * (x - *root) * (x - *root);
}

static double never_a_number(double x, void *context) {
    (void)context;
    return x > 0.3 && x < 0.7 ? (double)NAN : x - 0.5;
}

static double jump(double x, void *context) {
    (void)context;
    return x < 0.25 ? -1.0 : 1.0;
}

START_TEST(test_root) {
    double x = (double)NAN, root = 1.25;
    ck_assert_int_eq(hf_solve_root(cosine_less_x, NULL, 0.0, 2.0, 0.0, 1e-14, &x), HF_OK);
    hf_check_close(x, 0.73908513321516064166, HF_TOLERANCE_ROUNDING, "fixed point of cos, OEIS A003957");
    ck_assert_int_eq(hf_solve_root(cube, &root, -3.0, 9.0, 1e-9, 0.0, &x), HF_OK);
    hf_check_within(x, root, 1e-9, "triple root");
    ck_assert_int_eq(hf_solve_root(jump, NULL, -1.0, 1.0, 1e-12, 0.0, &x), HF_OK);
    hf_check_within(x, 0.25, 1e-12, "a jump counts as a root");
    ck_assert_int_eq(hf_solve_root(cube, &root, 1.25, 9.0, 1e-9, 0.0, &x), HF_OK);
    hf_check_close(x, 1.25, HF_TOLERANCE_EXACT, "a root at the end");
}
END_TEST

START_TEST(test_root_refuses) {
    double x = 42.0, root = 1.25;
    ck_assert_int_eq(hf_solve_root(cube, &root, 2.0, 3.0, 1e-9, 0.0, &x), HF_RANGE);
    ck_assert_int_eq(hf_solve_root(cube, &root, 3.0, -2.0, 1e-9, 0.0, &x), HF_RANGE);
    ck_assert_int_eq(hf_solve_root(never_a_number, NULL, 0.0, 1.0, 1e-9, 0.0, &x), HF_NUMERIC);
    ck_assert_int_eq(hf_solve_root(never_a_number, NULL, 0.5, 1.0, 1e-9, 0.0, &x), HF_NUMERIC);
}
END_TEST

static double bell(double x, void *context) {
    (void)context;
    return exp(-x * x);
}

static double decay(double x, void *context) {
    (void)context;
    return exp(-x);
}

static double root_of(double x, void *context) {
    (void)context;
    return sqrt(x);
}

static double reciprocal(double x, void *context) {
    (void)context;
    return 1.0 / x;
}

START_TEST(test_integrals) {
    double value = (double)NAN, error = (double)NAN;
    ck_assert_int_eq(hf_integrate(bell, NULL, -HUGE_VAL, HUGE_VAL, 0.0, 1e-10, &value, &error), HF_OK);
    hf_check_close(value, sqrt(HF_PI), HF_TOLERANCE_SPECIAL, "sqrt(pi)");
    ck_assert(error >= 0.0 && error <= 1e-10 * value);
    ck_assert_int_eq(hf_integrate(bell, NULL, -HUGE_VAL, 0.0, 0.0, 1e-10, &value, NULL), HF_OK);
    hf_check_close(value, 0.5 * sqrt(HF_PI), HF_TOLERANCE_SPECIAL, "sqrt(pi)/2");
    ck_assert_int_eq(hf_integrate(decay, NULL, 2.0, HUGE_VAL, 0.0, 1e-10, &value, NULL), HF_OK);
    hf_check_close(value, exp(-2.0), HF_TOLERANCE_SPECIAL, "e^-2");
    ck_assert_int_eq(hf_integrate(root_of, NULL, 0.0, 1.0, 0.0, 1e-10, &value, NULL), HF_OK);
    hf_check_close(value, 2.0 / 3.0, HF_TOLERANCE_SPECIAL, "2/3");
    ck_assert_int_eq(hf_integrate(reciprocal, NULL, 0.0, 1.0, 0.0, 1e-10, &value, NULL), HF_NUMERIC);
}
END_TEST

START_TEST(test_gauss_legendre) {
    double x[200], w[200];
    hf_gauss_legendre(5, x, w);
    hf_check_close(x[4], 0.90617984593866399280, HF_TOLERANCE_ROUNDING, "Abramowitz & Stegun table 25.4");
    hf_check_close(w[4], 0.23692688505618908751, HF_TOLERANCE_ROUNDING, "Abramowitz & Stegun table 25.4");
    hf_check_close(w[2], 128.0 / 225.0, HF_TOLERANCE_ROUNDING, "Abramowitz & Stegun table 25.4");
    for (size_t n = 1; n <= 200; n++) {
        hf_gauss_legendre(n, x, w);
        double sum = 0.0, high = 0.0;
        int degree = 2 * (int)n - 2; /* the highest even power that is exact */
        for (size_t i = 0; i < n; i++) {
            ck_assert(i == 0 || x[i] > x[i - 1]);
            sum += w[i];
            high += w[i] * pow(x[i], degree);
        }
        hf_check_close(sum, 2.0, HF_TOLERANCE_ROUNDING, "integral of 1");
        hf_check_close(high, 2.0 / (degree + 1.0), 1e-12, "integral of x^(2n-2)");
    }
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("solve");
    TCase *c = tcase_create("solve");
    tcase_add_test(c, test_root);
    tcase_add_test(c, test_root_refuses);
    tcase_add_test(c, test_integrals);
    tcase_add_test(c, test_gauss_legendre);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
