/* The generator against published outputs, its streams, and the moments of what it fills. */
#include "holdfast/numeric/random.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"

enum { COUNT = 200000 };
#define FIVE_SIGMA 5.0 /* with a fixed seed it passes or fails for good */

START_TEST(test_published_outputs) {
    /* xoshiro256++ from state 1, 2, 3, 4: output of the authors' C code (Blackman & Vigna, xoshiro256plusplus.c). */
    const uint64_t expected[] = {41943041U,
                                 58720359U,
                                 3588806011781223U,
                                 3591011842654386U,
                                 9228616714210784205U,
                                 9973669472204895162U,
                                 14011001112246962877U,
                                 12406186145184390807U,
                                 15849039046786891736U,
                                 10450023813501588000U};
    hf_random random = {{1, 2, 3, 4}};
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++)
        ck_assert_uint_eq(hf_random_bits(&random), expected[i]);
}
END_TEST

START_TEST(test_streams_differ_and_repeat) {
    hf_random a, b;
    uint64_t first[64];
    for (uint64_t stream = 0; stream < 64; stream++) {
        hf_random_start(&a, 7, stream);
        hf_random_start(&b, 7, stream);
        first[stream] = hf_random_bits(&a);
        ck_assert_uint_eq(first[stream], hf_random_bits(&b));
        for (uint64_t other = 0; other < stream; other++) ck_assert_uint_ne(first[stream], first[other]);
    }
    hf_random_start(&a, 8, 0);
    ck_assert_uint_ne(first[0], hf_random_bits(&a));
    hf_random_start(&a, 0, 0);
    ck_assert((a.state[0] | a.state[1] | a.state[2] | a.state[3]) != 0);
}
END_TEST

START_TEST(test_streams_are_uncorrelated) {
    static double x[COUNT], y[COUNT];
    hf_random a, b;
    hf_random_start(&a, 7, 0);
    hf_random_start(&b, 7, 1);
    hf_random_fill_normal(&a, x, COUNT);
    hf_random_fill_normal(&b, y, COUNT);
    double product = 0.0;
    for (int i = 0; i < COUNT; i++) product += x[i] * y[i];
    hf_check_within(product / COUNT, 0.0, FIVE_SIGMA / sqrt(COUNT),
                    "independent: mean product 0, sd 1/sqrt(n)");
}
END_TEST

START_TEST(test_one_draw_per_value) {
    static double filled[1000];
    void (*const fills[])(hf_random *, double *, size_t) = {hf_random_fill_uniform, hf_random_fill_normal,
                                                            hf_random_fill_sev};
    for (int kind = 0; kind < 3; kind++) {
        hf_random a, b;
        hf_random_start(&a, 3, 9);
        hf_random_start(&b, 3, 9);
        fills[kind](&a, filled, 1000);
        for (int i = 0; i < 1000; i++) {
            double u = hf_random_uniform(&b);
            const double expected[] = {u, hf_normal_quantile_lower(u), hf_sev_quantile_upper(u)};
            hf_check_close(filled[i], expected[kind], HF_TOLERANCE_ROUNDING, "transform of the single draw");
        }
        ck_assert_int_eq(memcmp(&a, &b, sizeof a), 0);
    }
}
END_TEST

START_TEST(test_cut_does_not_matter) {
    double whole[700], pieces[700];
    hf_random a, b;
    hf_random_start(&a, 1, 2);
    hf_random_start(&b, 1, 2);
    hf_random_fill_normal(&a, whole, 700);
    hf_random_fill_normal(&b, pieces, 3);
    hf_random_fill_normal(&b, pieces + 3, 500);
    hf_random_fill_normal(&b, pieces + 503, 197);
    ck_assert_int_eq(memcmp(whole, pieces, sizeof whole), 0);
}
END_TEST

/* FNV-1a over the bytes of the values, least significant byte first. */
static uint64_t hash(const double *x, size_t count) {
    uint64_t h = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < count; i++) {
        uint64_t bits;
        memcpy(&bits, &x[i], sizeof bits);
        for (int byte = 0; byte < 8; byte++)
            h = (h ^ ((bits >> (8 * byte)) & 0xffU)) * UINT64_C(1099511628211);
    }
    return h;
}

START_TEST(test_same_bits_on_every_machine) {
    /* Our own first result, kept: only + − · / and whole-number work are behind it, so no compiler, processor or
     * optimisation level may change a bit. */
    const uint64_t kept[] = {12348049245472607566U, 9142312484081028577U, 5923782375149707699U};
    void (*const fills[])(hf_random *, double *, size_t) = {hf_random_fill_uniform, hf_random_fill_normal,
                                                            hf_random_fill_sev};
    double x[1000];
    for (int kind = 0; kind < 3; kind++) {
        hf_random random;
        hf_random_start(&random, 7, 1);
        fills[kind](&random, x, 1000);
        ck_assert_uint_eq(hash(x, 1000), kept[kind]);
    }
}
END_TEST

/* Mean and variance of x[0..COUNT) within five standard errors; fourth: E(x − mean)⁴/variance². */
static void check_moments(const double *x, double mean, double variance, double fourth) {
    double got_mean, got_sd, n = COUNT;
    hf_vector_mean_sd(x, COUNT, &got_mean, &got_sd);
    hf_check_within(got_mean, mean, FIVE_SIGMA * sqrt(variance / n), "mean of the law");
    hf_check_within(got_sd * got_sd, variance, FIVE_SIGMA * variance * sqrt((fourth - 1.0) / n),
                    "variance of the law");
}

/* Largest distance between the empirical and the true law, Kolmogorov: 1.95/√n has probability 0.001. */
static void check_shape(double *x, double (*lower)(double)) {
    hf_vector_sort(x, COUNT);
    double worst = 0.0;
    for (int i = 0; i < COUNT; i++) {
        double p = lower(x[i]);
        worst = fmax(worst, fmax(p - i / (double)COUNT, (i + 1) / (double)COUNT - p));
    }
    ck_assert_msg(worst < 1.95 / sqrt(COUNT), "distance %g", worst);
}

static double uniform_lower(double x) {
    return x;
}

START_TEST(test_moments_and_shape) {
    static double x[COUNT];
    hf_random random;
    hf_random_start(&random, 2026, 0);
    hf_random_fill_uniform(&random, x, COUNT);
    for (int i = 0; i < COUNT; i++) ck_assert(x[i] > 0.0 && x[i] < 1.0);
    check_moments(x, 0.5, 1.0 / 12.0, 1.8);
    check_shape(x, uniform_lower);
    hf_random_fill_normal(&random, x, COUNT);
    check_moments(x, 0.0, 1.0, 3.0);
    check_shape(x, hf_normal_lower);
    hf_random_fill_sev(&random, x, COUNT);
    check_moments(x, -HF_EULER, HF_PI * HF_PI / 6.0, 5.4);
    check_shape(x, hf_sev_lower);
}
END_TEST

START_TEST(test_below_is_uniform) {
    hf_random random;
    hf_random_start(&random, 4, 4);
    int counts[7] = {0};
    for (int i = 0; i < 70000; i++) counts[hf_random_below(&random, 7)]++;
    for (int k = 0; k < 7; k++)
        hf_check_within(counts[k], 10000.0, FIVE_SIGMA * sqrt(10000.0 * 6.0 / 7.0), "n p");
    for (int i = 0; i < 1000; i++) ck_assert_uint_eq(hf_random_below(&random, 1), 0);
    /* With n just above 2^63 nearly half of all draws must be refused; plain remainders would favour the low half. */
    uint64_t n = (UINT64_C(1) << 63) + 1;
    int low = 0;
    for (int i = 0; i < 20000; i++) low += hf_random_below(&random, n) < n / 2;
    hf_check_within(low, 10000.0, FIVE_SIGMA * sqrt(5000.0), "half");
}
END_TEST

START_TEST(binomial_numbers_have_their_mean_and_variance) {
    static const double laws[][2] = {{1, 0.3},  {7, 0.5},    {100, 0.02},     {100, 0.97},
                                     {40, 0.4}, {5000, 0.5}, {100000, 0.003}, {100000, 0.8}};
    enum { DRAWS = 20000 };
    for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) {
        double n = laws[i][0], p = laws[i][1], sum = 0, squares = 0, variance = n * p * (1 - p);
        hf_random random;
        hf_random_start(&random, 99, i);
        for (int k = 0; k < DRAWS; k++) {
            double drawn = hf_random_binomial(&random, n, p);
            ck_assert(drawn >= 0 && drawn <= n && drawn == floor(drawn));
            sum += drawn - n * p;
            squares += (drawn - n * p) * (drawn - n * p);
        }
        hf_check_within(sum / DRAWS, 0, 4.5 * sqrt(variance / DRAWS), "mean");
        double kurtosis = 2 + (1 - 6 * p * (1 - p)) / variance;
        hf_check_within(squares / DRAWS / variance, 1, 4.5 * sqrt(kurtosis / DRAWS), "variance");
    }
    hf_random random;
    hf_random_start(&random, 99, 100);
    ck_assert_double_eq(hf_random_binomial(&random, 50, 0), 0);
    ck_assert_double_eq(hf_random_binomial(&random, 50, 1), 50);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("random");
    TCase *c = tcase_create("random");
    tcase_add_test(c, test_published_outputs);
    tcase_add_test(c, test_streams_differ_and_repeat);
    tcase_add_test(c, test_streams_are_uncorrelated);
    tcase_add_test(c, test_one_draw_per_value);
    tcase_add_test(c, test_cut_does_not_matter);
    tcase_add_test(c, test_same_bits_on_every_machine);
    tcase_add_test(c, test_moments_and_shape);
    tcase_add_test(c, test_below_is_uniform);
    tcase_add_test(c, binomial_numbers_have_their_mean_and_variance);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
