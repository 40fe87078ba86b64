/* The batch bound and the scatter of earlier designs: values computed elsewhere, and what must hold. */
#include <string.h>
#include "check_close.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/batch_bound.h"
#include "holdfast/strength/scatter_library.h"

/* Six batches of five: yield of dyestuff, Davies, Statistical Methods in Research and Production (values and their two mean squares,
 * 11271.50 and 2451.25, SEEN in general-purpose packages). */
static const double dyestuff[] = {1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495,
                                  1595, 1550, 1605, 1510, 1560, 1445, 1440, 1595, 1465, 1545,
                                  1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445};
enum { DYESTUFF = 30 };
static const int dyestuff_batch[DYESTUFF] = {0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2,
                                             3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5};

START_TEST(dyestuff_to_all_digits) {
    hf_batch_bound b;
    ck_assert_int_eq(hf_batch_bound_values(dyestuff, dyestuff_batch, DYESTUFF, 0, 0.90, 0.95, &b), HF_OK);
    ck_assert(b.batches == 6 && b.parts == 30 && b.mean_parts == 5 && b.degrees_within == 24);
    hf_check_close(b.mean, 1527.5, HF_TOLERANCE_ROUNDING, "SEEN");
    hf_check_close(5 * b.between, 11271.50, 1e-12, "SEEN");
    hf_check_close(b.within, 2451.25, 1e-12, "SEEN");
    hf_check_within(b.f_quantile, 2.55707, 5e-6, "COMPUTED");
    hf_check_within(b.variance_ratio, 2.15162, 5e-6, "COMPUTED");
    hf_check_within(b.between_share, 0.68270, 5e-6, "COMPUTED");
    hf_check_within(b.degrees_of_freedom, 8.7691, 5e-5, "COMPUTED");
    hf_check_within(b.effective_n, 8.0411, 5e-5, "COMPUTED");
    hf_check_within(b.k, 2.41973, 5e-6, "COMPUTED");
    hf_check_within(b.s, 64.9253, 5e-5, "COMPUTED");
    hf_check_within(b.value, 1370.398, 5e-4, "COMPUTED");
    ck_assert_int_eq(hf_batch_bound_values(dyestuff, dyestuff_batch, DYESTUFF, 0, 0.99, 0.95, &b), HF_OK);
    hf_check_within(b.k, 4.04600, 5e-6, "COMPUTED");
    hf_check_within(b.value, 1264.812, 5e-4, "COMPUTED");
    ck_assert_int_eq(hf_batch_bound_values(dyestuff, dyestuff_batch, DYESTUFF, 0, 0.95, 0.75, &b), HF_OK);
    hf_check_within(b.k, 2.08371, 5e-6, "COMPUTED");
    hf_check_within(b.value, 1392.215, 5e-4, "COMPUTED");
}
END_TEST

/* A sample on ln load is what the values say, whatever the numbers of the batches, and steps widen it by h²/8. */
START_TEST(a_sample_is_its_middles) {
    static const double low[] = {400, 420, 460, 500, 520, 540, 450};
    static const int named[] = {7, 7, 2, 2, 2, 9, -1};
    static const int from_zero[] = {0, 0, 1, 1, 1, 2};
    hf_observation items[7];
    double y[6], width = 0;
    hf_batch_bound got, wanted;
    for (int i = 0; i < 7; i++)
        items[i] = (hf_observation){HF_INTERVAL_CLOSED, low[i], low[i] + 20, false, named[i]};
    for (int i = 0; i < 6; i++) {
        y[i] = 0.5 * (log(low[i]) + log(low[i] + 20));
        double w = log(low[i] + 20) - log(low[i]);
        width += w * w / 6;
    }
    ck_assert_int_eq(hf_batch_bound_of((hf_sample){items, 7}, 0.90, 0.95, &got), HF_OK);
    ck_assert_int_eq(hf_batch_bound_values(y, from_zero, 6, sqrt(width), 0.90, 0.95, &wanted), HF_OK);
    hf_check_close(got.value, exp(wanted.value), 1e-13, "ln load");
    hf_check_close(log(got.value), got.mean - got.k * sqrt(got.s * got.s + got.h * got.h / 8), 1e-13,
                   "by hand");
    ck_assert(got.batches == 3 && got.parts == 6);
    /* m̃ = 3/(1/2 + 1/3 + 1) */
    hf_check_close(got.mean_parts, 18.0 / 11, HF_TOLERANCE_ROUNDING, "by hand");
    items[3].kind = HF_INTERVAL_ABOVE;
    ck_assert_int_eq(hf_batch_bound_of((hf_sample){items, 7}, 0.90, 0.95, &got), HF_NO_RESULT);
    ck_assert(got.reason == HF_REASON_OPEN_OBSERVATIONS && isnan(got.value));
    ck_assert_int_eq(hf_batch_bound_of((hf_sample){items, 2}, 0.90, 0.95, &got), HF_NO_RESULT);
    ck_assert(got.reason == HF_REASON_TOO_FEW);
    ck_assert_int_eq(hf_batch_bound_of((hf_sample){items, 0}, 0.90, 0.95, &got), HF_NO_RESULT);
}
END_TEST

/* One part a batch, or no scatter within: the batch means are the sample, with the normal factor for b values. */
START_TEST(without_scatter_within_the_means_are_the_sample) {
    static const double y[] = {1, 1, 2, 2, 4, 4};
    static const int pairs[] = {0, 0, 1, 1, 2, 2}, singles[] = {0, 1, 2, 3, 4, 5};
    hf_batch_bound b;
    double k, error;
    ck_assert_int_eq(hf_batch_bound_values(y, pairs, 6, 0, 0.90, 0.95, &b), HF_OK);
    ck_assert_int_eq(hf_family_find("normal")->factor(3, 0.90, 0.95, &k, &error), HF_OK);
    hf_check_close(b.k, k, HF_TOLERANCE_FACTOR, "normal factor of 3");
    ck_assert(b.between_share == 1 && b.degrees_of_freedom == 2 && b.effective_n == 3);
    ck_assert_int_eq(hf_batch_bound_values(y, singles, 6, 0, 0.90, 0.95, &b), HF_OK);
    ck_assert_int_eq(hf_family_find("normal")->factor(6, 0.90, 0.95, &k, &error), HF_OK);
    hf_check_close(b.k, k, HF_TOLERANCE_FACTOR, "normal factor of 6");
    static const double same[] = {3, 3, 3, 3};
    ck_assert_int_eq(hf_batch_bound_values(same, pairs, 4, 0, 0.90, 0.95, &b), HF_NO_RESULT);
    ck_assert(b.reason == HF_REASON_ONE_VALUE);
    ck_assert_int_eq(hf_batch_bound_values(same, pairs, 4, 0.1, 0.90, 0.95, &b), HF_OK);
    ck_assert_int_eq(hf_batch_bound_values(same, pairs, 4, 0.1, 0.90, 0.50, &b), HF_RANGE);
    static const int gap[] = {0, 0, 2, 2};
    ck_assert_int_eq(hf_batch_bound_values(same, gap, 4, 0.1, 0.90, 0.95, &b), HF_RANGE);
}
END_TEST

/* No difference between batches seen at all: then ρ is 0 and many parts count. The farther apart the batches, the lower. */
START_TEST(batches_farther_apart_lower_the_bound) {
    double before = INFINITY;
    for (int apart = 0; apart < 6; apart++) {
        double y[12];
        int batch[12];
        hf_batch_bound b;
        for (int i = 0; i < 12; i++) {
            batch[i] = i / 4;
            y[i] = 10 + 0.1 * (i % 4 - 1.5) + 0.05 * apart * (i / 4 - 1);
        }
        ck_assert_int_eq(hf_batch_bound_values(y, batch, 12, 0, 0.90, 0.95, &b), HF_OK);
        if (apart == 0) ck_assert(b.between_share == 0 && b.effective_n == 12);
        ck_assert_double_lt(b.value, before);
        before = b.value;
    }
    hf_check_within(hf_batch_share_confidence(0.95), 0.85, 1e-15, "stated");
    hf_check_within(hf_batch_share_confidence(0.90), 0.80, 1e-15, "stated");
    hf_check_within(hf_batch_share_confidence(0.75), 0.75, 1e-15, "stated");
    for (double c = 0.76; c < 1; c += 0.01)
        ck_assert_double_ge(hf_batch_share_confidence(c), hf_batch_share_confidence(c - 0.01));
}
END_TEST

START_TEST(one_batch_with_a_stated_scatter_between) {
    hf_observation items[5];
    double mean, reach, value;
    for (int i = 0; i < 5; i++)
        items[i] = (hf_observation){HF_INTERVAL_EXACT, 800 + 30 * i, 800 + 30 * i, false, 0};
    ck_assert_int_eq(hf_mean_log_load((hf_sample){items, 5}, &mean), HF_OK);
    hf_check_close(mean, log(800.0 * 830 * 860 * 890 * 920) / 5, 1e-14, "by hand");
    ck_assert_int_eq(hf_one_batch_bound(mean, 700, 0, 0.90, 0.95, &reach, &value), HF_OK);
    hf_check_close(value, 700, 1e-14, "τ = 0");
    ck_assert_int_eq(hf_one_batch_bound(mean, 700, 0.08, 0.90, 0.95, &reach, &value), HF_OK);
    double own = mean - log(700), between = (1.2815515655446004 + 1.6448536269514722) * 0.08;
    hf_check_close(log(value), mean - sqrt(own * own + between * between), 1e-14, "by hand");
    hf_check_close(exp(mean - reach), value, 1e-14, "reach");
    ck_assert_int_eq(hf_one_batch_bound(mean, 700, -1, 0.90, 0.95, &reach, &value), HF_RANGE);
    ck_assert_int_eq(hf_one_batch_bound(mean, 0, 0.1, 0.90, 0.95, &reach, &value), HF_RANGE);
    ck_assert_int_eq(hf_one_batch_bound(mean, 1000, 0.1, 0.90, 0.95, &reach, &value), HF_RANGE);
    items[0].kind = HF_INTERVAL_ABOVE;
    ck_assert_int_eq(hf_mean_log_load((hf_sample){items, 5}, &mean), HF_NO_RESULT);
}
END_TEST

/* scipy 1.10: special.digamma, polygamma(1, x), polygamma(2, x); scipy.stats.f.ppf (COMPUTED). */
START_TEST(what_the_formulas_lean_on) {
    hf_check_close(hf_digamma(0.5), -1.9635100260214235, 1e-14, "−γ − 2 ln 2");
    hf_check_close(hf_trigamma(0.5), HF_PI * HF_PI / 2, 1e-14, "π²/2");
    hf_check_close(hf_trigamma(1), HF_PI * HF_PI / 6, 1e-14, "π²/6");
    hf_check_close(hf_tetragamma(1), -2.4041138063191886, 1e-14, "−2ζ(3)");
    for (double y = 1e-3; y < 1e5; y *= 1.7)
        hf_check_close(hf_trigamma_inverse(hf_trigamma(y)), y, 1e-9, "inverse");
    hf_check_close(hf_trigamma_inverse(1e9), 1 / sqrt(1e9), 1e-4, "ψ′(y) → 1/y²");
    ck_assert(isinf(hf_trigamma_inverse(0)) && isnan(hf_trigamma_inverse(-1)) && isnan(hf_trigamma(0)));
    static const double p[] = {0.05, 0.5, 0.85, 0.95, 0.999}, nu[] = {0.7, 1, 2.5, 24, 300};
    for (size_t i = 0; i < 5; i++)
        for (size_t a = 0; a < 5; a++)
            for (size_t b = 0; b < 5; b++) {
                double x = hf_f_quantile_lower(p[i], nu[a], nu[b]);
                hf_check_close(hf_f_upper(x, nu[a], nu[b]), 1 - p[i], 1e-9, "inverse");
            }
    ck_assert(hf_f_quantile_lower(0, 3, 4) == 0 && isnan(hf_f_quantile_lower(0.5, 0, 4)));
}
END_TEST

/* t′(0.95; ν₀ + n − 1, z√n)/√n at content 0.90, n = 1, 2, 3 and ν₀ = 3, 5, 10, 20 (COMPUTED). */
START_TEST(factors_with_earlier_scatter) {
    static const double degrees[] = {3, 5, 10, 20};
    static const double k[3][4] = {
        {5.07, 4.01, 3.40, 3.15}, {3.83, 3.27, 2.86, 2.65}, {3.26, 2.92, 2.61, 2.43}};
    double z = hf_normal_quantile_lower(0.90);
    for (int n = 1; n <= 3; n++)
        for (int i = 0; i < 4; i++) {
            double t, root = sqrt(n);
            ck_assert_int_eq(hf_noncentral_t_quantile(0.95, degrees[i] + n - 1, z * root, &t), HF_OK);
            hf_check_within(t / root, k[n - 1][i], 0.006, "COMPUTED, two decimals");
        }
}
END_TEST

/* Python with scipy 1.10: the moments with polygamma, the inverse by brentq (COMPUTED, tests/strength/reference_library.py). */
START_TEST(a_library_by_another_program) {
    static const hf_earlier_scatter earlier[] = {{0.08, 4}, {0.21, 2}, {0.12, 9}, {0.045, 5}, {0.15, 4}};
    hf_scatter_library library;
    ck_assert_int_eq(hf_scatter_library_of(earlier, 5, &library), HF_OK);
    ck_assert(library.designs == 5 && library.parts == 29);
    hf_check_close(library.s, sqrt((4 * .0064 + 2 * .0441 + 9 * .0144 + 5 * .002025 + 4 * .0225) / 24), 1e-14,
                   "by hand");
    hf_check_close(library.excess, 0.950947779812742, 1e-10, "scipy");
    hf_check_close(library.degrees_estimated, 2.96167286174229, 1e-9, "scipy");
    hf_check_close(library.degrees, fmin(2.96167286174229, 5), 1e-9, "min(ν̂₀, J)");
}
END_TEST

START_TEST(alike_designs_are_worth_their_number) {
    hf_earlier_scatter earlier[10];
    hf_scatter_library library;
    for (int j = 0; j < 10; j++) earlier[j] = (hf_earlier_scatter){0.1, 5};
    ck_assert_int_eq(hf_scatter_library_of(earlier, 10, &library), HF_OK);
    ck_assert(isinf(library.degrees_estimated) && library.degrees == 10 && library.excess < 0);
    hf_check_close(library.s, 0.1, 1e-14, "all alike");
    earlier[0].s = 0.9;
    ck_assert_int_eq(hf_scatter_library_of(earlier, 10, &library), HF_OK);
    ck_assert(library.degrees < 3);
    ck_assert_int_eq(hf_scatter_library_of(earlier, 1, &library), HF_RANGE);
    earlier[1].s = 0;
    ck_assert_int_eq(hf_scatter_library_of(earlier, 2, &library), HF_RANGE);
    earlier[1] = (hf_earlier_scatter){0.1, INFINITY};
    ck_assert_int_eq(hf_scatter_library_of(earlier, 2, &library), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("batch bound");
    TCase *t = tcase_create("batches and earlier scatter");
    tcase_add_test(t, dyestuff_to_all_digits);
    tcase_add_test(t, a_sample_is_its_middles);
    tcase_add_test(t, without_scatter_within_the_means_are_the_sample);
    tcase_add_test(t, batches_farther_apart_lower_the_bound);
    tcase_add_test(t, one_batch_with_a_stated_scatter_between);
    tcase_add_test(t, what_the_formulas_lean_on);
    tcase_add_test(t, factors_with_earlier_scatter);
    tcase_add_test(t, a_library_by_another_program);
    tcase_add_test(t, alike_designs_are_worth_their_number);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
