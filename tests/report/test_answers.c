/* Which clause of an answer applies: the same sentence must not stand where it would be untrue. */
#include <math.h>
#include <string.h>
#include "check_close.h"
#include "report/fixture.h"
#include "study/event.h"

static hf_text wide_report(const fixture *f) {
    fixture wide = *f;
    wide.style.width = 2000;
    wide.assessment.designs = &wide.assessed;
    return fixture_report(&wide, "text");
}

static void expect(const fixture *f, const char *words) {
    hf_text text = wide_report(f);
    ck_assert_msg(strstr(text.bytes, words) != NULL, "\"%s\" is not in:\n%.1500s", words, text.bytes);
    hf_text_free(&text);
}

static void expect_none(const fixture *f, const char *words) {
    hf_text text = wide_report(f);
    ck_assert_msg(strstr(text.bytes, words) == NULL, "\"%s\" stands in:\n%.1500s", words, text.bytes);
    hf_text_free(&text);
}

static void without_working_load(fixture *f) {
    f->assessed.working_load = f->assessed.working_load_unrounded = f->assessed.margin = NAN;
    f->assessed.working_load_reason = HF_NO_LOAD_NO_DESIGN_FACTOR;
    f->assessed.limited_by = HF_LIMIT_NONE;
}

/* The Weibull bound of the fixture is 734.2 N, that of two values without a law 694.5 N. `by_order`: the bound by order, NaN: none. */
static void reject_weibull(fixture *f, double by_order) {
    fixture_fill(f);
    f->bounds[3] = fixture_by_order(by_order);
    if (!(by_order > 0)) f->bounds[3].method = HF_BOUND_NONE;
    f->assessed.break_event.tests[2].rejected = true;
    hf_event_choose(NULL, &f->assessed.break_event);
}

/* --- A rejected law ---------------------------------------------------------------------------------- */

START_TEST(rejected_law_should_not_lead_where_a_bound_without_one_is_lower) {
    fixture f;
    reject_weibull(&f, 690.56);
    without_working_load(&f);
    expect(&f,
           "\n\nsewn ring: at least 90 % of all parts made and pulled like these 10 carry 690.5 N, with 95 % "
           "confidence, whatever the strength law; note: few failures.\n");
    expect(
        &f,
        "The Weibull law gives 734.2 N, but these pulls speak against that law, so the lower bound leads.");
    expect(&f, "  factor (law rejected)\n");
    reject_weibull(&f, NAN); /* what holds for many laws only must say so */
    without_working_load(&f);
    expect(&f,
           "carry 694.5 N, with 95 % confidence, for a wide class of strength laws; note: few failures.\n");
}
END_TEST

START_TEST(rejected_law_should_lead_where_its_bound_is_the_lower_one) {
    fixture f;
    reject_weibull(&f, 760);
    expect(&f, "\n\nsewn ring: work with at most 240 N; note: few failures.\n");
    expect(&f,
           "These pulls speak against the Weibull law; a bound that needs no such law, 760.0 N (whatever the "
           "strength law), is no lower.\n");
    expect(&f, "By that law at least 90 % of all parts made and pulled like these 10 carry 734.2 N");
    expect(&f, "Weibull law, which these pulls reject.");
    ck_assert_int_eq(f.assessed.break_event.governing == &f.bounds[2], 1);
}
END_TEST

START_TEST(rejected_law_alone_should_assure_nothing) {
    fixture f;
    reject_weibull(&f, NAN);
    f.bounds[4].method = HF_BOUND_NONE;
    hf_event_choose(NULL, &f.assessed.break_event);
    without_working_load(&f);
    f.assessed.working_load_reason = HF_NO_LOAD_NOT_ASSURED;
    expect(&f, "\n\nsewn ring: no load is assured; the Weibull law gives 734.2 N, but these pulls speak "
               "against that "
               "law.\n");
    expect(&f, "Required bound 412.37 N: NOT met, no bound is assured.");
    expect_none(&f, "work with at most");
    ck_assert(f.assessed.break_event.not_assured);
}
END_TEST

START_TEST(bound_without_a_law_should_be_redone_from_its_line) {
    fixture f;
    reject_weibull(&f, NAN);
    expect(&f, "  bound = ");
    expect(&f, "for a wide class of strength laws. Results are rounded down.");
}
END_TEST

START_TEST(rejected_laws_should_stand_in_one_item) {
    fixture f;
    reject_weibull(&f, 760);
    f.cautions[0] =
        (hf_caution){.code = HF_CAUTION_FIT_REJECTED, .text = {"normal and Weibull"}, .number = {2, 0.0005}};
    expect(&f, "Law rejected: The normal and Weibull laws do not fit these pulls (largest significance "
               "0.00050; below 0.05 rejects); do not lean on their bounds.");
    f.cautions[0] = (hf_caution){.code = HF_CAUTION_FIT_REJECTED, .text = {"Weibull"}, .number = {1, 0}};
    expect(&f, "Law rejected: The Weibull law does not fit these pulls (significance below 0.0005; below "
               "0.05 rejects); do not lean on its bound.");
    hf_text text = wide_report(&f);
    ck_assert_ptr_null(strstr(strstr(text.bytes, "Law rejected: ") + 1, "Law rejected: "));
    hf_text_free(&text);
}
END_TEST

/* --- How many carry the service load ----------------------------------------------------------------- */

/* A law is not known so far out that a share of 99.992 % could be promised. */
START_TEST(share_that_carries_the_service_load_should_name_its_law) {
    fixture f;
    fixture_fill(&f);
    f.assessed.supported_content = 0.99992;
    expect(
        &f,
        "More than 99.9 % of all parts carry 360 N (service load × stated factors), with 95 % confidence, if "
        "strength follows the Weibull law.\n");
    f.assessed.supported_content = 0.98769;
    expect(&f, "At least 98.7 % of all parts carry 360 N");
}
END_TEST

/* --- Parts of which little is known ------------------------------------------------------------------ */

START_TEST(first_loads_should_be_told_as_far_as_they_are_stated) {
    fixture f;
    fixture_fill(&f);
    fixture_set_terms(&f, (fixture_terms){1, log(50), 20, 0, 5, 0.125, 0.01, 3, 0});
    f.bounds[1].value = f.assessed.break_event.calibrated = 0;
    without_working_load(&f);
    f.assessed.break_event.counts.below = 1;
    expect(&f, "Why: 1 of 10 parts failed at the first load stated, so nothing");
    f.specimens[0].failed = (hf_maybe){true, 888.8};
    expect(&f, "Why: for 1 of 10 parts no load held before the failure is stated, so nothing");
    f.specimens[0].held = (hf_maybe){true, 0};
    expect(&f, "Why: 1 of 10 parts failed at the first load stated, so nothing");
}
END_TEST

START_TEST(one_set_of_parts_should_have_one_caution) {
    fixture f;
    fixture_fill(&f);
    f.cautions[0] = (hf_caution){.code = HF_CAUTION_FIRST_RUNG, .number = {1, 888.8, 1}};
    expect(&f,
           "Failed at the first load stated: 1 part, at 888.8 N: known only to be weaker than that. Start "
           "lighter. Of 1 it is not stated what was held before (\"held\": 0 when the hanger alone held). "
           "Write it down:");
    f.cautions[0].number[2] = 0;
    expect_none(&f, "Write it down:");
}
END_TEST

START_TEST(mean_should_say_what_it_leaves_out) {
    fixture f;
    fixture_fill(&f);
    expect(&f, " Mean of the failed parts 900.6 N, standard deviation 51.70 N (5.74 % of the mean). Step");
    f.assessed.break_event.counts.below = 3;
    expect(&f, " (5.74 % of the mean), without the 3 that failed at the first load stated. Step");
    f.assessed.break_event.counts.failed = 8;
    expect(&f, "without the 2 that did not fail and the 3 that failed at the first load stated. Step");
    f.assessed.break_event.counts.below = 0;
    expect(&f, "without the 2 that did not fail. Step");
}
END_TEST

/* --- Tables ------------------------------------------------------------------------------------------ */

START_TEST(fits_should_say_which_pulls_allow_no_test) {
    fixture f;
    fixture_fill(&f);
    hf_event_assessment *e = &f.assessed.break_event;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        e->tests[i] = (hf_fit_test){.reason = "open_observations", .a2 = NAN, .significance = NAN};
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        f.assessed.trade[i].value = NAN;
        f.assessed.trade[i].reason = "open_observations";
    }
    e->counts.below = 1;
    expect(&f, "not tested, some parts failed at the first load stated.");
    expect(&f, "Not available: some parts failed at the first load stated. These rules need every part to "
               "have failed");
    expect_none(&f, "did not fail");
    e->counts.below = 0;
    e->counts.failed = 9;
    expect(&f, "not tested, some parts did not fail.");
    expect(&f, "Not available: some parts did not fail.");
}
END_TEST

START_TEST(wide_steps_should_be_told_to_press_the_bounds) {
    fixture f;
    fixture_fill(&f);
    expect_none(&f, "press the bounds down");
    expect_none(&f, "differ a little");
    f.assessed.break_event.step_rms = 60; /* wider than the scatter of 51.7 */
    expect(&f, "Steps as wide as these press the bounds down.");
}
END_TEST

START_TEST(values_in_words_should_carry_their_unit) {
    fixture f;
    fixture_fill(&f);
    expect(&f, "Hanson–Koopmans on the least, 810.3 N, and no. 6, 928 N");
}
END_TEST

START_TEST(limits_should_speak_of_a_working_load_only_where_there_is_one) {
    fixture f;
    fixture_fill(&f);
    expect(&f,
           "Destroy the parts that were pulled, and every other that was loaded beyond the working load.");
    without_working_load(&f);
    expect(&f, "Destroy the parts that were pulled.\n");
    expect_none(&f, "beyond the working load");
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("which clause applies");
    TCase *answers = tcase_create("answers");
    tcase_add_test(answers, rejected_law_should_not_lead_where_a_bound_without_one_is_lower);
    tcase_add_test(answers, rejected_law_should_lead_where_its_bound_is_the_lower_one);
    tcase_add_test(answers, rejected_law_alone_should_assure_nothing);
    tcase_add_test(answers, bound_without_a_law_should_be_redone_from_its_line);
    tcase_add_test(answers, rejected_laws_should_stand_in_one_item);
    tcase_add_test(answers, share_that_carries_the_service_load_should_name_its_law);
    tcase_add_test(answers, first_loads_should_be_told_as_far_as_they_are_stated);
    tcase_add_test(answers, one_set_of_parts_should_have_one_caution);
    tcase_add_test(answers, mean_should_say_what_it_leaves_out);
    tcase_add_test(answers, fits_should_say_which_pulls_allow_no_test);
    tcase_add_test(answers, wide_steps_should_be_told_to_press_the_bounds);
    tcase_add_test(answers, values_in_words_should_carry_their_unit);
    tcase_add_test(answers, limits_should_speak_of_a_working_load_only_where_there_is_one);
    suite_add_tcase(out, answers);
    return out;
}

HF_TEST_MAIN(suite)
