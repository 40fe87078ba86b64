/* A bound by a stated scatter: the order of knowledge, no jump from part to part, the confrontation, the content at a load. */
#include "check_close.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/stated_scatter.h"
#include "strength/random_sample.h"

enum { MOST = 60 };
static const double contents[] = {0.75, 0.90, 0.95, 0.99};
static const double confidences[] = {0.75, 0.87, 0.90, 0.95, 0.99};
static const double degrees[] = {1, 4, 9, 15, 20, 21, 30, 60, 100, 1000, 1e6, INFINITY};
enum { CONTENTS = 4, CONFIDENCES = 5, DEGREES = 12 };

static double bound_of(hf_sample sample, double cv, double nu, double content, double confidence) {
    hf_bound bound;
    hf_status status = hf_bound_stated_scatter(
        sample, (hf_stated_scatter){.cv = cv, .degrees_of_freedom = nu}, NULL, content, confidence, &bound);
    ck_assert_msg(status == HF_OK, "cv %g, degrees %g: %s", cv, nu, hf_bound_reason_code(bound.reason));
    return bound.value;
}

/* n readings at the quantiles of a law, of mean 1000 in ln and of exactly this scatter of ln load. */
static hf_sample at_quantiles(double (*quantile)(double), size_t n, double s0, hf_observation *items) {
    double y[MOST], mean = 0, squares = 0;
    for (size_t i = 0; i < n; i++) {
        y[i] = quantile(((double)i + 0.5) / (double)n);
        mean += y[i] / (double)n;
    }
    for (size_t i = 0; i < n; i++) squares += (y[i] - mean) * (y[i] - mean);
    double scale = n > 1 ? s0 / sqrt(squares / (double)(n - 1)) : 0;
    for (size_t i = 0; i < n; i++) {
        double load = 1000 * exp(scale * (y[i] - mean));
        items[i] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
    }
    return (hf_sample){items, n};
}

static double two_values(double p) {
    return p < 0.5 ? -1 : 1;
}

static double (*const shapes[])(double) = {hf_normal_quantile_lower, hf_sev_quantile_lower, two_values};

/* One promise and shape of sample for each round of a loop test. */
enum { PROMISES = 3 * CONTENTS * CONFIDENCES };

typedef struct promise {
    size_t shape;
    double content, confidence;
} promise;

static promise promise_of(int round) {
    size_t at = (size_t)round;
    return (promise){at % 3, contents[at / 3 % CONTENTS], confidences[at / 3 / CONTENTS]};
}

static void check_order(hf_sample sample, double cv, promise of) {
    for (size_t d = 1; d < DEGREES; d++) {
        double few = bound_of(sample, cv, degrees[d - 1], of.content, of.confidence);
        double many = bound_of(sample, cv, degrees[d], of.content, of.confidence);
        ck_assert_msg(few <= many * (1 + 1e-12) || few <= 0,
                      "n=%zu cv %g %g/%g: %g degrees %.9g, %g degrees %.9g", sample.count, cv, of.content,
                      of.confidence, degrees[d - 1], few, degrees[d], many);
    }
}

START_TEST(more_knowledge_never_gives_a_lower_bound) {
    static const double cvs[] = {0.02, 0.05, 0.12, 0.25, 0.4};
    promise of = promise_of(_i);
    hf_observation items[MOST];
    for (size_t n = 1; n <= 40; n += n < 12 ? 1 : 7)
        for (size_t v = 0; v < 5; v++)
            check_order(at_quantiles(shapes[of.shape], n, hf_scatter_of_cv(cvs[v]), items), cvs[v], of);
}
END_TEST

/* What was seen before: a step from 20 to 21 degrees of freedom, and a stronger fourth part that took 17 per cent off. */
START_TEST(no_part_makes_the_bound_jump) {
    promise of = promise_of(_i);
    hf_observation items[MOST];
    double s0 = hf_scatter_of_cv(0.12);
    for (size_t d = 0; d < DEGREES; d++) {
        double before = 0;
        for (size_t n = 2; n <= MOST; n += 2) { /* the same strengths in another number */
            hf_sample sample = at_quantiles(shapes[of.shape], n, s0, items);
            double now = bound_of(sample, 0.12, degrees[d], of.content, of.confidence);
            ck_assert_msg(now >= before, "%g degrees, %g/%g: %zu parts %.9g, fewer %.9g", degrees[d],
                          of.content, of.confidence, n, now, before);
            before = now;
        }
    }
}
END_TEST

/* Where their scatter is as stated, Weibull parts lose nothing by the change to their own bound, on neither side of it. */
START_TEST(the_own_bound_takes_over_where_it_is_no_lower) {
    enum { FEWEST = 2, SEEN = 700 };
    promise of = promise_of(_i);
    if (of.shape) return; /* no sample is at stake */
    for (size_t d = 0; d + 1 < DEGREES; d++) {
        hf_stated_scatter scatter = {.cv = 0.12, .degrees_of_freedom = degrees[d]};
        size_t from = hf_scatter_hands_over(scatter, of.content, of.confidence, SEEN);
        ck_assert_uint_eq(hf_scatter_hands_over(scatter, of.content, of.confidence, SEEN / 2),
                          from <= SEEN / 2 ? from : 0);
        for (size_t n = FEWEST; n <= SEEN; n += n < 60 ? 1 : n / 10) {
            hf_scatter_factors rule;
            double w, error;
            ck_assert_int_eq(
                hf_scatter_factors_of(hf_past_scatter_of(scatter), n, of.content, of.confidence, &rule),
                HF_OK);
            ck_assert_int_eq(hf_family_weibull.factor(n, of.content, of.confidence, &w, &error), HF_OK);
            double own = (w - 0.57721566490153286) * sqrt(6.0) / HF_PI;
            ck_assert_msg((own <= rule.k) == (from > 0 && n >= from),
                          "%g degrees, %g/%g, %zu parts: own %.9g, rule %.9g, from %zu on", degrees[d],
                          of.content, of.confidence, n, own, rule.k, from);
        }
    }
    ck_assert_uint_eq(hf_scatter_hands_over((hf_stated_scatter){.cv = 0.12, .degrees_of_freedom = INFINITY},
                                            of.content, of.confidence, SEEN),
                      0);
}
END_TEST

/* As docs/methods.md prints them. COMPUTED by the rule itself: they show a change, not an error. */
START_TEST(numbers_at_which_it_takes_over) {
    static const double nu[] = {2, 4, 9, 15, 21, 30, 60, 100};
    static const struct {
        double content, confidence;
        size_t from[8];
    } rows[] = {{0.90, 0.95, {13, 34, 75, 116, 153, 203, 347, 514}},
                {0.99, 0.95, {6, 12, 25, 39, 52, 71, 131, 206}},
                {0.95, 0.90, {12, 23, 44, 65, 84, 111, 190, 284}},
                {0.95, 0.75, {9, 14, 23, 31, 39, 49, 79, 112}}};
    for (size_t r = 0; r < 4; r++)
        for (size_t d = 0; d < 8; d++)
            ck_assert_uint_eq(
                hf_scatter_hands_over((hf_stated_scatter){.cv = 0.12, .degrees_of_freedom = nu[d]},
                                      rows[r].content, rows[r].confidence, 1000),
                rows[r].from[d]);
}
END_TEST

START_TEST(no_degree_makes_the_bound_jump) {
    hf_observation items[3];
    hf_sample three = at_quantiles(shapes[0], 3, hf_scatter_of_cv(0.12), items);
    double twenty = bound_of(three, 0.12, 20, 0.90, 0.95), more = bound_of(three, 0.12, 21, 0.90, 0.95);
    ck_assert_double_lt(more / twenty - 1, 0.003);
}
END_TEST

START_TEST(each_part_at_the_mean_adds) {
    hf_observation items[MOST];
    for (size_t d = 0; d < DEGREES; d++) {
        double before = 0;
        for (size_t n = 1; n <= 12; n++) {
            items[n - 1] = (hf_observation){HF_INTERVAL_EXACT, 1000, 1000, false, -1};
            double now = bound_of((hf_sample){items, n}, 0.12, degrees[d], 0.90, 0.95);
            ck_assert_double_gt(now, before);
            before = now;
        }
    }
}
END_TEST

START_TEST(the_printed_sum_is_the_bound) {
    hf_observation items[5];
    hf_random random;
    hf_bound bound;
    hf_random_start(&random, 8, 1);
    hf_sample sample = hf_test_sample(&random, 5, 41.7, items);
    ck_assert_int_eq(hf_bound_stated_scatter(sample,
                                             (hf_stated_scatter){.cv = 0.12, .degrees_of_freedom = 15}, NULL,
                                             0.90, 0.95, &bound),
                     HF_OK);
    const hf_bound_scatter *of = &bound.scatter;
    double squares = (of->degrees * of->stated * of->stated + of->own_degrees * of->own * of->own) /
                     (of->degrees + of->own_degrees);
    hf_check_close(bound.s * bound.s, squares, HF_TOLERANCE_ROUNDING, "s of its parts");
    hf_check_close(of->degrees, 2 / (2 / 15.0 + 2.4 / 16), HF_TOLERANCE_ROUNDING, "degrees");
    hf_check_close(of->own_degrees, 4 / 2.2, HF_TOLERANCE_ROUNDING, "own degrees");
    hf_check_close(of->confidence_used, 0.95, HF_TOLERANCE_ROUNDING, "up to five parts as promised");
    hf_check_close(bound.value, exp(bound.m - bound.k * sqrt(bound.s * bound.s + bound.h * bound.h / 8)),
                   HF_TOLERANCE_ROUNDING, "the one formula");
    /* √6/π/s is the shape whose cv is 0.12 (scipy.optimize.brentq on the moments of the Weibull law) */
    hf_check_close(of->stated, 0.12790477287, 1e-9, "s₀ of cv 0.12");
}
END_TEST

START_TEST(the_confidence_used_rises_with_the_one_promised) {
    for (size_t n = 1; n <= 400; n = n * 3 / 2 + 1) {
        double before = 0;
        for (double c = 0.5; c < 0.999; c += 0.001) {
            double used = hf_scatter_confidence(false, 0.90, c, n);
            ck_assert(used >= before && used >= c - 1e-12 && used < 1);
            before = used;
        }
    }
    ck_assert_double_eq(hf_scatter_confidence(false, 0.99, 0.95, 5), 0.95);
    ck_assert_double_eq(hf_scatter_confidence(false, 0.99, 0.95, 1), 0.95);
    ck_assert_double_eq(hf_scatter_confidence(true, 0.95, 0.95, 1), 0.95);
    ck_assert_double_eq(hf_scatter_confidence(true, 0.99, 0.95, 2), 0.95);
    hf_check_close(hf_scatter_confidence(true, 0.99, 0.95, 1), 0.96747, 1e-5, "Φ(1.64485 + 0.20)");
    ck_assert_double_eq(hf_scatter_confidence(false, 0.90, 0.75, 5), 0.75 + 0.035);
    ck_assert_double_eq(hf_scatter_confidence(false, 0.90, 0.89, 5), 0.90);
}
END_TEST

/* One part, a first-rung failure, a run-out. */
START_TEST(open_pulls_count_with_what_they_held) {
    const hf_observation held[] = {{HF_INTERVAL_EXACT, 900, 900, false, -1},
                                   {HF_INTERVAL_EXACT, 1100, 1100, false, -1},
                                   {HF_INTERVAL_ABOVE, 1000, INFINITY, false, -1}};
    const hf_observation below[] = {held[0], {HF_INTERVAL_BELOW, 0, 950, false, -1}};
    hf_bound bound;
    const hf_stated_scatter pooled = {.cv = 0.12, .degrees_of_freedom = 15};
    ck_assert_int_eq(hf_bound_stated_scatter((hf_sample){held, 3}, pooled, NULL, 0.90, 0.95, &bound), HF_OK);
    hf_check_close(bound.m, (log(900) + log(1100) + log(1000)) / 3, HF_TOLERANCE_ROUNDING, "held");
    ck_assert_double_eq(bound.scatter.own_degrees, 0);
    ck_assert_int_eq(hf_bound_stated_scatter((hf_sample){below, 2}, pooled, NULL, 0.90, 0.95, &bound),
                     HF_NO_RESULT);
    ck_assert_int_eq(bound.reason, HF_REASON_OPEN_OBSERVATIONS);
    ck_assert_int_eq(hf_bound_stated_scatter((hf_sample){held, 0}, pooled, NULL, 0.90, 0.95, &bound),
                     HF_NO_RESULT);
    ck_assert_int_eq(bound.reason, HF_REASON_TOO_FEW);
}
END_TEST

START_TEST(the_content_at_a_load_is_the_bound_turned_round) {
    hf_observation items[5];
    hf_random random;
    hf_random_start(&random, 9, 1);
    hf_sample sample = hf_test_sample(&random, 4, _i % 2 ? 20 : 0, items);
    for (size_t d = 0; d < DEGREES; d++) {
        const hf_stated_scatter scatter = {.cv = 0.12, .degrees_of_freedom = degrees[d]};
        double content;
        double load = bound_of(sample, 0.12, degrees[d], 0.95, 0.95);
        ck_assert_int_eq(hf_stated_scatter_content_at(sample, scatter, load, 0.95, &content), HF_OK);
        hf_check_within(content, 0.95, 1e-6, "the content of its own bound");
        ck_assert_int_eq(hf_stated_scatter_content_at(sample, scatter, 1e6, 0.95, &content), HF_RANGE);
        ck_assert_int_eq(hf_stated_scatter_content_at(sample, scatter, 1e-9, 0.95, &content), HF_OK);
        ck_assert_double_eq(content, 0.99999);
    }
}
END_TEST

/* scipy.stats 1.10: chi2.ppf(0.95, 2) 5.991464547, f.ppf(0.95, 2, 15) 3.682320344 (COMPUTED). */
START_TEST(the_pulls_are_confronted) {
    const hf_observation apart[] = {{HF_INTERVAL_CLOSED, 400, 450, false, -1},
                                    {HF_INTERVAL_CLOSED, 800, 850, false, -1},
                                    {HF_INTERVAL_CLOSED, 600, 650, false, -1}};
    hf_scatter_confrontation test = hf_stated_scatter_confront(
        (hf_sample){apart, 3}, (hf_stated_scatter){.cv = 0.05, .degrees_of_freedom = INFINITY});
    ck_assert(test.available && test.contradicted);
    hf_check_close(test.critical, 5.991464547, 1e-9, "scipy");
    /* The centre lies in the middle interval: only the outer two are apart, by ln(800/450) in all. */
    double s0 = hf_scatter_of_cv(0.05), gap = log(800.0 / 450);
    hf_check_close(test.statistic, gap * gap / 2 / (s0 * s0), 1e-9, "nearest ends");
    hf_check_close(test.significance, hf_chi2_upper(test.statistic, 2), HF_TOLERANCE_ROUNDING, "chi-square");
    test = hf_stated_scatter_confront((hf_sample){apart, 3},
                                      (hf_stated_scatter){.cv = 0.12, .degrees_of_freedom = 15});
    hf_check_close(test.critical, 2 * 3.682320344, 1e-9, "scipy");
    ck_assert(!hf_stated_scatter_confront((hf_sample){apart, 1},
                                          (hf_stated_scatter){.cv = 0.05, .degrees_of_freedom = INFINITY})
                   .available);
    ck_assert(!hf_stated_scatter_confront((hf_sample){apart, 3},
                                          (hf_stated_scatter){.cv = 0.3, .degrees_of_freedom = INFINITY})
                   .contradicted);
}
END_TEST

/* Of readings it is Σ(y − ȳ)²; one common step contradicts nothing, and a run-out only where it lies apart. */
START_TEST(the_least_sum_of_squares_is_found) {
    hf_observation items[40];
    hf_random random;
    hf_random_start(&random, 10, 1);
    for (size_t n = 2; n <= 40; n++) {
        hf_sample sample = hf_test_sample(&random, n, 0, items);
        double mean = 0, squares = 0;
        for (size_t i = 0; i < n; i++) mean += log(items[i].lower) / (double)n;
        for (size_t i = 0; i < n; i++) squares += pow(log(items[i].lower) - mean, 2);
        hf_check_close(hf_scatter_confront(sample, 1, INFINITY).statistic, squares, 1e-10, "readings");
    }
    const hf_observation common[] = {{HF_INTERVAL_CLOSED, 400, 700, false, -1},
                                     {HF_INTERVAL_CLOSED, 600, 900, false, -1},
                                     {HF_INTERVAL_ABOVE, 650, INFINITY, false, -1}};
    ck_assert_double_eq(hf_scatter_confront((hf_sample){common, 3}, 1e-6, INFINITY).statistic, 0);
}
END_TEST

START_TEST(cv_and_scatter_of_ln_load_go_both_ways) {
    static const double cvs[] = {1e-6, 0.9e-4, 1.1e-4, 0.03, 0.12, 0.5, 1};
    for (size_t i = 0; i < sizeof cvs / sizeof *cvs; i++)
        hf_check_close(hf_cv_of_scatter(hf_scatter_of_cv(cvs[i])), cvs[i], cvs[i] < 1e-3 ? 1e-6 : 1e-12,
                       "the way there and back");
    ck_assert(isnan(hf_cv_of_scatter(2)) && isnan(hf_cv_of_scatter(0)));
}
END_TEST

START_TEST(earlier_designs_take_the_place_of_the_cv) {
    const hf_past_scatter pooled = {0.1, 4, false};
    const hf_stated_scatter by_designs = {
        .cv = hf_cv_of_scatter(pooled.s0), .degrees_of_freedom = pooled.degrees, .pooled = pooled};
    const hf_observation pulls[] = {{HF_INTERVAL_EXACT, 900, 900, false, -1},
                                    {HF_INTERVAL_EXACT, 1000, 1000, false, -1},
                                    {HF_INTERVAL_EXACT, 950, 950, false, -1}};
    hf_bound by_rule, bound;
    ck_assert_int_eq(hf_bound_past_scatter((hf_sample){pulls, 3}, pooled, NULL, 0.90, 0.95, &by_rule), HF_OK);
    ck_assert_int_eq(hf_bound_stated_scatter((hf_sample){pulls, 3}, by_designs, NULL, 0.90, 0.95, &bound),
                     HF_OK);
    ck_assert_double_eq(bound.value, by_rule.value);
    ck_assert_double_eq(hf_past_scatter_of(by_designs).degrees, 4);
    hf_check_close(hf_stated_scatter_confront((hf_sample){pulls, 3}, by_designs).critical, 2 * 6.944271909999,
                   1e-9, "F(0.95; 2, 4), scipy");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("stated_scatter");
    TCase *t = tcase_create("stated_scatter");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, more_knowledge_never_gives_a_lower_bound, 0, PROMISES);
    tcase_add_loop_test(t, no_part_makes_the_bound_jump, 0, PROMISES);
    tcase_add_test(t, cv_and_scatter_of_ln_load_go_both_ways);
    tcase_add_test(t, earlier_designs_take_the_place_of_the_cv);
    tcase_add_loop_test(t, the_own_bound_takes_over_where_it_is_no_lower, 0, PROMISES);
    tcase_add_test(t, numbers_at_which_it_takes_over);
    tcase_add_test(t, no_degree_makes_the_bound_jump);
    tcase_add_test(t, each_part_at_the_mean_adds);
    tcase_add_test(t, the_printed_sum_is_the_bound);
    tcase_add_test(t, the_confidence_used_rises_with_the_one_promised);
    tcase_add_test(t, open_pulls_count_with_what_they_held);
    tcase_add_loop_test(t, the_content_at_a_load_is_the_bound_turned_round, 0, 2);
    tcase_add_test(t, the_pulls_are_confronted);
    tcase_add_test(t, the_least_sum_of_squares_is_found);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
