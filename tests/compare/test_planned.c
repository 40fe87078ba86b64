/* `plan contrast` and `compare` speak of the same test: pulls are drawn at the planned number of parts, written as a campaign file, and
 * compared; the share of verdicts must be the planned power. */
#include <math.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/text.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/numeric/random.h"
#include "holdfast/planning/comparison_coverage.h"
#include "holdfast/study/study.h"
#include "holdfast/study/plan.h"

enum { MANY = 20000, FILES = 60 };

static hf_plan_contrast planned(double ratio, double cv, double power) {
    hf_plan_contrast plan = {
        .ratio = ratio, .cv = cv, .by_ratio = true, .power = power, .level = 0.05, .seed = 1};
    ck_assert_int_eq(hf_plan_contrast_make(&plan, NULL), HF_OK);
    return plan;
}

static void draw(hf_random *random, size_t n, double mean, double spread, double *out) {
    hf_random_fill_normal(random, out, n);
    for (size_t i = 0; i < n; i++) out[i] = log(mean) + spread * out[i];
}

static const struct {
    double ratio, cv, power;
} plans[] = {{1.2, 0.1, 0.8},   {1.15, 0.12, 0.8}, {1.3, 0.25, 0.9}, {0.8, 0.2, 0.9},
             {1.1, 0.05, 0.95}, {1.5, 0.1, 0.8},   {1.25, 0.1, 0.8}, {1.35, 0.1, 0.9}};
enum { PLANS = sizeof plans / sizeof *plans };

/* 20 000 comparisons at the planned n by the routine that `compare` takes its p from: the power is the wanted one or more, and the one claimed. */
START_TEST(power_at_the_planned_number) {
    hf_plan_contrast plan = planned(plans[_i].ratio, plans[_i].cv, plans[_i].power);
    double spread = sqrt(log1p(plans[_i].cv * plans[_i].cv)), a[400], b[400], seen = 0;
    hf_random random;
    hf_random_start(&random, 7700, (uint64_t)_i);
    ck_assert_uint_le(plan.n, 400);
    ck_assert(plan.power_at_n >= plans[_i].power);
    for (int r = 0; r < MANY; r++) {
        hf_contrast contrast;
        draw(&random, plan.n, 900 * plans[_i].ratio, spread, a);
        draw(&random, plan.n, 900, spread, b);
        hf_group group_a = hf_group_from_mids(a, plan.n, 0), group_b = hf_group_from_mids(b, plan.n, 0);
        ck_assert_int_eq(hf_contrast_test(&group_a, &group_b, NULL, &contrast), HF_OK);
        seen += contrast.p <= 0.05;
    }
    double error = sqrt(plan.power_at_n * (1 - plan.power_at_n) / MANY);
    hf_check_within(seen / MANY, plan.power_at_n, 3 * error, "power of plan contrast at its own n");
    ck_assert_msg(seen / MANY >= plans[_i].power - 3 * error, "planned power %g, achieved %g",
                  plans[_i].power, seen / MANY);
}
END_TEST

/* The same on ladders: what --step-sd promises is reached at every ladder place, and is not far too careful. */
static const struct {
    double effect, step, power;
} stepped[] = {{1.5, 0.25, 0.8}, {2, 0.5, 0.8}, {1.5, 1, 0.8}, {2.5, 1, 0.9}, {2, 2, 0.8}, {1.25, 2, 0.9}};
enum { STEPPED = sizeof stepped / sizeof *stepped, PLACES = 4 };

START_TEST(power_on_a_ladder) {
    hf_plan_contrast plan = {.effect = stepped[_i].effect,
                             .step_sd = stepped[_i].step,
                             .power = stepped[_i].power,
                             .level = 0.05,
                             .seed = 1};
    ck_assert_int_eq(hf_plan_contrast_make(&plan, NULL), HF_OK);
    for (int place = 0; place < PLACES; place++) {
        double offset = stepped[_i].step * place / PLACES;
        hf_comparison_cell cell = {.a = {plan.n, 0.1, stepped[_i].step, offset},
                                   .b = {plan.n, 0.1, stepped[_i].step, offset},
                                   .ratio = exp(0.1 * stepped[_i].effect),
                                   .replicates = MANY,
                                   .seed = 7950 + (uint64_t)(PLACES * _i + place)};
        hf_comparison_coverage seen;
        ck_assert_int_eq(hf_comparison_coverage_of(&cell, &seen), HF_OK);
        double found = seen.rejected - seen.wrong_side;
        ck_assert_msg(found + 3 * seen.rejected_error >= stepped[_i].power,
                      "effect %g, step %g, place %d: %zu of each find %g", stepped[_i].effect,
                      stepped[_i].step, place, plan.n, found);
        ck_assert_double_le(found, plan.power_at_n + 0.10);
    }
}
END_TEST

/* One part fewer does not reach the power: the plan is not too careful. */
START_TEST(planned_number_is_the_least) {
    hf_plan_contrast plan = planned(plans[_i].ratio, plans[_i].cv, plans[_i].power);
    plan.given_n = plan.n - 1;
    ck_assert_int_eq(hf_plan_contrast_make(&plan, NULL), HF_OK);
    ck_assert(plan.power_at_n < plans[_i].power);
}
END_TEST

/* Few and unequal parts, unequal scatter. */
static const struct {
    double n_a, n_b, spread_b, difference;
} small[] = {{2, 2, 1, 5.65}, {3, 3, 1, 3.07}, {4, 4, 1, 2.38},
             {3, 8, 2, 2.9},  {9, 4, 3, 4.5},  {2, 12, 0.5, 3}};
enum { SMALL = sizeof small / sizeof *small };

START_TEST(welch_power_of_few_parts) {
    hf_power_setup setup = {small[_i].n_a, small[_i].n_b, 1, small[_i].spread_b * small[_i].spread_b,
                            0.05,          false};
    double power = hf_welch_power_of(&setup, small[_i].difference), a[12], b[12], seen = 0;
    hf_random random;
    hf_random_start(&random, 7900, (uint64_t)_i);
    for (int r = 0; r < MANY; r++) {
        hf_contrast contrast;
        draw(&random, (size_t)setup.n_a, exp(small[_i].difference), 1, a);
        draw(&random, (size_t)setup.n_b, 1, small[_i].spread_b, b);
        hf_group group_a = hf_group_from_mids(a, (size_t)setup.n_a, 0),
                 group_b = hf_group_from_mids(b, (size_t)setup.n_b, 0);
        ck_assert_int_eq(hf_contrast_test(&group_a, &group_b, NULL, &contrast), HF_OK);
        seen += contrast.p <= 0.05;
    }
    hf_check_within(seen / MANY, power, 3 * sqrt(power * (1 - power) / MANY), "simulation");
}
END_TEST

static void add_design(hf_text *file, const char *id, const double *y, size_t n) {
    hf_text_addf(file, "{\"id\": \"%s\", \"specimens\": [", id);
    for (size_t i = 0; i < n; i++)
        hf_text_addf(file, "%s{\"id\": \"%s-%zu\", \"peak\": %.17g}", i ? "," : "", id, i, exp(y[i]));
    hf_text_add(file, "]}");
}

/* The same through files and the whole of `compare`: its p, its verdict, and what it says could have been seen. */
START_TEST(compare_uses_that_test) {
    hf_plan_contrast plan = planned(1.2, 0.1, 0.8);
    double spread = sqrt(log1p(0.01)), a[50], b[50], told = 0, visible = 0;
    hf_random random;
    hf_random_start(&random, 7800, 0);
    for (int r = 0; r < FILES; r++) {
        hf_arena *arena = hf_arena_create();
        hf_text file = {0};
        const hf_campaign *campaign;
        const hf_study *study;
        hf_findings findings = {0};
        hf_study_options options = {.what = HF_STUDY_PAIRS | HF_STUDY_BESIDE, .seed = 1};
        hf_contrast contrast;
        draw(&random, plan.n, 1080, spread, a);
        draw(&random, plan.n, 900, spread, b);
        hf_text_add(&file, "{\"format\": \"holdfast-campaign/1\", \"designs\": [");
        add_design(&file, "a", a, plan.n);
        hf_text_add(&file, ",");
        add_design(&file, "b", b, plan.n);
        hf_text_add(&file, "]}");
        ck_assert_int_eq(
            hf_campaign_parse(arena, "drawn.json", file.bytes, file.length, &campaign, &findings), HF_OK);
        ck_assert_int_eq(hf_study_of(arena, campaign, &findings, &options, &study, NULL), HF_OK);
        const hf_comparison *result = study->comparison;
        hf_group group_a = hf_group_from_mids(a, plan.n, 0), group_b = hf_group_from_mids(b, plan.n, 0);
        ck_assert_int_eq(hf_contrast_groups(&group_a, &group_b, NULL, &contrast), HF_OK);
        hf_check_close(result->pairs[0].p, contrast.p, 1e-9, "contrast.h");
        ck_assert((result->pairs[0].verdict != HF_VERDICT_CANNOT_TELL) == (contrast.p <= contrast.level));
        told += result->pairs[0].verdict == HF_VERDICT_A_STRONGER;
        visible += log(result->pairs[0].smallest_visible_ratio) / FILES;
        hf_text_free(&file);
        hf_arena_free(arena);
    }
    double error = sqrt(plan.power_at_n * (1 - plan.power_at_n) / FILES);
    hf_check_within(told / FILES, plan.power_at_n, 3 * error, "power of plan contrast through compare");
    /* Scatter seen in n − 1 degrees of freedom each varies by about 1/√(4(n − 1)); the mean over the files by √FILES less. */
    double expected = log(plan.smallest_ratio),
           wobble = 3 * expected / sqrt(4.0 * (double)(plan.n - 1) * FILES) + 0.05 * expected;
    hf_check_within(visible, expected, wobble, "plan contrast: smallest visible ratio");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planned comparisons");
    TCase *t = tcase_create("planned");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, power_at_the_planned_number, 0, PLANS);
    tcase_add_loop_test(t, power_on_a_ladder, 0, STEPPED);
    tcase_add_loop_test(t, planned_number_is_the_least, 0, PLANS);
    tcase_add_loop_test(t, welch_power_of_few_parts, 0, SMALL);
    tcase_add_test(t, compare_uses_that_test);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
