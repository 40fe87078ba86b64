/* The Weibull factor over all it is known for: steady, monotone, with its standard error, and refused beyond. */
#include <math.h>
#include <stdlib.h>
#include "check_close.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"
#include "strength/weibull.h"

static const hf_family *weibull(void) {
    return hf_family_find("weibull");
}

/* From corner to corner, nodes and places between, and hard by the nodes. */
static const double contents[] = {0.5,    0.500001, 0.53,    0.6,      0.66,     0.71,      0.8,     0.88,
                                  0.9,    0.91,     0.94,    0.96,     0.985,    0.9949,    0.999,   0.9991,
                                  0.9995, 0.99995,  0.99999, 0.999991, 0.999995, 0.9999989, 0.999999};
static const double confidences[] = {0.5,     0.500001, 0.55,   0.61,    0.7,      0.77,    0.85,  0.9,
                                     0.93,    0.95,     0.9501, 0.98,    0.99,     0.994,   0.998, 0.999,
                                     0.99901, 0.9992,   0.9995, 0.99951, 0.999701, 0.99989, 0.9999};
enum {
    CONTENTS = sizeof contents / sizeof *contents,
    CONFIDENCES = sizeof confidences / sizeof *confidences
};

static double factor(size_t n, double content, double confidence) {
    double k, error;
    ck_assert_int_eq(weibull()->factor(n, content, confidence, &k, &error), HF_OK);
    ck_assert_msg(n == 2 ? error == 0 : error > 0, "n %zu: a simulated factor has a standard error", n);
    ck_assert_msg(n == 2 || error < 0.04 * fabs(k) + 0.01, "n %zu, %g, %g: k %g with standard error %g", n,
                  content, confidence, k, error);
    return k;
}

START_TEST(it_grows_with_content_and_with_confidence) {
    static const size_t sizes[] = {2,  3,   4,   5,   7,   11,   19,   33,    60,     61,
                                   75, 119, 200, 251, 999, 1000, 1001, 20000, 1000000};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        for (size_t p = 0; p < CONTENTS; p++)
            for (size_t c = 0; c < CONFIDENCES; c++) {
                double k = factor(sizes[i], contents[p], confidences[c]);
                ck_assert_msg(c == 0 || k > factor(sizes[i], contents[p], confidences[c - 1]),
                              "n %zu, content %g: not above at confidence %g", sizes[i], contents[p],
                              confidences[c]);
                ck_assert_msg(p == 0 || k > factor(sizes[i], contents[p - 1], confidences[c]),
                              "n %zu, confidence %g: not above at content %g", sizes[i], confidences[c],
                              contents[p]);
            }
}
END_TEST

START_TEST(it_falls_with_n) {
    static const size_t more[] = {61,  62,  70,  79,  80,   81,   100,   119,    121,
                                  249, 251, 600, 999, 1001, 1500, 10000, 1000000};
    for (size_t p = 0; p < CONTENTS; p++)
        for (size_t c = 0; c < CONFIDENCES; c++) {
            double before = INFINITY;
            for (size_t n = 2; n <= 60 + sizeof more / sizeof *more; n++) {
                size_t size = n <= 60 ? n : more[n - 61];
                double k = factor(size, contents[p], confidences[c]);
                /* With half of the samples above, the factor of two parts is not the larger one. */
                bool median = confidences[c] < 0.55;
                ck_assert_msg(median || k < before, "n %zu, content %g, confidence %g: %.8g after %.8g", size,
                              contents[p], confidences[c], k, before);
                before = k;
            }
        }
}
END_TEST

START_TEST(beyond_what_the_samples_bear_it_is_refused) {
    double k, error;
    hf_factor_reach reach = weibull()->factor_reach();
    ck_assert_double_eq(reach.most_confidence, 0.9999);
    ck_assert_double_eq(reach.most_content, 0.999999);
    static const double beyond[][2] = {
        {0.9, 0.99991}, {0.9, 0.999999999}, {0.9, 0.49}, {0.9999999, 0.9}, {0.49, 0.9}};
    for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++)
        ck_assert_int_eq(weibull()->factor(5, beyond[i][0], beyond[i][1], &k, &error), HF_NO_RESULT);
}
END_TEST

/* reference_factor_of_two.py */
static const struct {
    double content, tail, w;
} of_two[] = {
    {0.5, 1e-2, 44.7966195858239},      {0.5, 1e-4, 4423.35312296443},
    {0.5, 1e-6, 442276.588011748},      {0.5, 1e-9, 442275995.186526},
    {0.9, 1e-2, 239.326209334889},      {0.9, 1e-4, 23875.6933071556},
    {0.9, 1e-6, 2387510.60023857},      {0.9, 1e-9, 2387510007.41273},
    {0.999999, 1e-2, 1625.51505057887}, {0.999999, 1e-4, 162498.830713476},
    {0.999999, 1e-6, 16249824.3834021}, {0.999999, 1e-9, 16249823790.5806},
};

START_TEST(of_two_parts_it_is_exact) {
    double k, error;
    ck_assert_int_eq(weibull()->factor(2, of_two[_i].content, 1 - of_two[_i].tail, &k, &error), HF_OK);
    double digits = 2e-16 / of_two[_i].tail; /* 1 − C has lost these already */
    hf_check_close(k, of_two[_i].w, 1e-9 + digits, "mpmath");
}
END_TEST

/* The same quantile of samples of its own, where the table has no node: near its corners the interpolation is bent most. */
START_TEST(between_the_nodes_it_is_what_samples_show) {
    enum { SAMPLES = 400000 };
    static const struct {
        size_t n;
        double content, confidence;
    } places[] = {{3, 0.53, 0.53},      {3, 0.9999989, 0.9985}, {5, 0.55, 0.97},  {12, 0.53, 0.55},
                  {12, 0.999995, 0.55}, {40, 0.52, 0.94},       {40, 0.65, 0.53}, {70, 0.53, 0.55},
                  {100, 0.985, 0.985},  {180, 0.53, 0.93}};
    double *memory = malloc(3 * SAMPLES * sizeof *memory);
    ck_assert_ptr_nonnull(memory);
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        double w, error, k, table_error;
        ck_assert_int_eq(hf_weibull_pivots(places[i].n, SAMPLES, 77, memory, memory + SAMPLES), HF_OK);
        hf_weibull_factor_of_pivots(memory, memory + SAMPLES, SAMPLES, places[i].content,
                                    places[i].confidence, memory + 2 * SAMPLES, &w, &error);
        ck_assert_int_eq(
            weibull()->factor(places[i].n, places[i].content, places[i].confidence, &k, &table_error), HF_OK);
        double deviations = (k - w) / hypot(error, table_error);
        ck_assert_msg(fabs(deviations) < 4,
                      "n %zu, content %g, confidence %g: %.7g, samples %.7g: %.1f standard errors",
                      places[i].n, places[i].content, places[i].confidence, k, w, deviations);
    }
    free(memory);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("factor");
    TCase *c = tcase_create("weibull");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, it_grows_with_content_and_with_confidence);
    tcase_add_test(c, it_falls_with_n);
    tcase_add_test(c, between_the_nodes_it_is_what_samples_show);
    tcase_add_test(c, beyond_what_the_samples_bear_it_is_refused);
    tcase_add_loop_test(c, of_two_parts_it_is_exact, 0, sizeof of_two / sizeof *of_two);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
