/* Text, JSON and Markdown of a hand-made assessment. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "base/version_number.h"
#include "check_close.h"
#include "holdfast/base/file.h"
#include "report/fixture.h"
#include "study/event.h"
#include "report/golden.h"
#include "report/walk.h"

static const char hostile[] = "ev|il\033[31m <b>*x*</b>\n# head `c` \xC2\x9B"
                              "2J \xE2\x80\xAE"
                              "txet _u_ [l](http://a) ";

static hf_text check_report(const fixture *f, const char *format) {
    hf_text out = {0};
    const hf_check_result shown = {.campaign = &f->campaign, .findings = &f->findings};
    hf_report_print(&hf_report_check, &shown, hf_report_format_find(format), &f->style, &out);
    return out;
}

static hf_text factor_report(const hf_factor_result *result, const char *format) {
    hf_text out = {0};
    hf_report_style style = {hf_unit_find("N", 1), 9.80665, 80, false, HF_STRIP_NONE};
    hf_report_print(&hf_report_factor, result, hf_report_format_find(format), &style, &out);
    return out;
}

static void fill_hostile(fixture *f) {
    fixture_fill(f);
    fixture_set_terms(f, (fixture_terms){2, 6.8284, 0.050241, 0.043774, 4.3672, 0.125, 0.011635, 3, 1.5});
    f->use_factor.reason = hostile;
    f->campaign.title = f->design.name = f->design.id = hostile;
    for (size_t i = 0; i < FIXTURE_SPECIMENS; i++) f->specimens[i].id = f->specimens[i].mode = hostile;
    f->cautions[0] = (hf_caution){.code = HF_CAUTION_OUTLIER, .text = {hostile}, .number = {2.5, 2.4, NAN}};
    f->cautions[1] = (hf_caution){.code = HF_CAUTION_TARE_ZERO, .text = {hostile}};
}

START_TEST(table_should_hold_each_format_once) {
    size_t count;
    const hf_report_format *table = hf_report_format_table(&count);
    ck_assert_uint_eq(count, 4);
    for (size_t i = 0; i < count; i++) {
        ck_assert_ptr_eq(hf_report_format_find(table[i].name), &table[i]);
        ck_assert_int_eq(table[i].render == NULL, strcmp(table[i].name, "json") == 0);
    }
    ck_assert_ptr_null(hf_report_format_find("xml"));
}
END_TEST

/* --- Golden files ------------------------------------------------------------------------------------ */

START_TEST(assessment_should_match_golden_file) {
    static const char *const formats[] = {"text", "json", "md"};
    fixture f;
    fixture_fill(&f);
    char name[60];
    (void)snprintf(name, sizeof name, "assess.%s", formats[_i]);
    hf_text found = fixture_report(&f, formats[_i]);
    compare_golden(name, &found);
    hf_text_free(&found);
    found = check_report(&f, formats[_i]);
    (void)snprintf(name, sizeof name, "check.%s", formats[_i]);
    compare_golden(name, &found);
    hf_text_free(&found);
    fixture_set_nothing(&f);
    found = fixture_report(&f, formats[_i]);
    (void)snprintf(name, sizeof name, "nothing.%s", formats[_i]);
    compare_golden(name, &found);
    hf_text_free(&found);
    hf_factor_result factor = {hf_family_at(2), 8, 0.9, 0.95, 4.86102, 0.0014};
    found = factor_report(&factor, formats[_i]);
    (void)snprintf(name, sizeof name, "factor.%s", formats[_i]);
    compare_golden(name, &found);
    hf_text_free(&found);
}
END_TEST

/* --- Text -------------------------------------------------------------------------------------------- */

START_TEST(text_should_stay_within_its_columns) {
    static const char *const units[] = {"N", "kN", "lbf", "kg", "g"};
    fixture f;
    for (size_t kind = 0; kind < 3; kind++)
        for (size_t i = 0; i < 5; i++) {
            if (kind == 1)
                fill_hostile(&f);
            else
                fixture_fill(&f);
            if (kind == 2) fixture_set_nothing(&f);
            f.style.unit = hf_unit_find(units[i], strlen(units[i]));
            hf_text text = fixture_report(&f, "text"), check = check_report(&f, "text");
            check_lines(text.bytes, 80, units[i]);
            check_lines(check.bytes, 80, units[i]);
            hf_text_free(&text);
            hf_text_free(&check);
        }
}
END_TEST

/* What is wider than the terminal folds: each row its first cell, and its numbers, none lost, below. */
START_TEST(text_should_fold_into_forty_columns) {
    fixture f;
    fixture_fill(&f);
    f.style.width = 40;
    hf_text narrow = fixture_report(&f, "text");
    check_lines(narrow.bytes, 40, "forty columns");
    ck_assert_ptr_nonnull(strstr(narrow.bytes, "\nWeibull *\n  k "));
    hf_text_free(&narrow);
}
END_TEST

START_TEST(colour_should_change_nothing_but_escapes) {
    fixture f;
    fixture_fill(&f);
    hf_text plain = fixture_report(&f, "text");
    f.style.color = true;
    hf_text colored = fixture_report(&f, "text"), stripped = {0};
    for (const char *at = colored.bytes; *at; at++) {
        if (*at == '\033')
            at += strcspn(at, "m");
        else
            hf_text_add_bytes(&stripped, at, 1);
    }
    ck_assert(colored.length > plain.length);
    ck_assert_str_eq(stripped.bytes, plain.bytes);
    hf_text_free(&plain);
    hf_text_free(&colored);
    hf_text_free(&stripped);
}
END_TEST

static void expect(const fixture *f, const char *words) {
    fixture wide = *f;
    wide.style.width = 1000;
    wide.assessment.designs = &wide.assessed;
    hf_text text = fixture_report(&wide, "text");
    ck_assert_msg(strstr(text.bytes, words) != NULL, "\"%s\" is not in:\n%.1500s", words, text.bytes);
    hf_text_free(&text);
}

static void expect_none(const fixture *f, const char *words) {
    fixture wide = *f;
    wide.style.width = 1000;
    wide.assessment.designs = &wide.assessed;
    hf_text text = fixture_report(&wide, "text");
    ck_assert_msg(strstr(text.bytes, words) == NULL, "\"%s\" stands in:\n%s", words, text.bytes);
    hf_text_free(&text);
}

START_TEST(answer_should_come_first_and_say_what_it_rests_on) {
    fixture f;
    fixture_fill(&f);
    expect(&f, "\n\nsewn ring: work with at most 240 N; note: few failures.\n");
    expect(&f, "At least 90 % of all parts made and pulled like these 10 carry 734.2 N (rounded down), with "
               "95 % confidence; "
               "less the rig's load error, ÷ 3 (design factor) and rounded down again, that is 240 N.");
    expect(&f, "Required bound 412.37 N: met;");
    expect(&f, "Service load 120 N: covered; margin 100 %");
    expect(&f,
           "the chance that the next part is weaker is 1 in 38; that 90 % are stronger: the rule states no "
           "confidence, worked out here 92 %. Made for: rope and rigging custom.");
    expect(&f, "a prediction: the chance that the next part is weaker is 1 in 20");
}
END_TEST

START_TEST(missing_factor_should_be_named) {
    fixture f;
    fixture_fill(&f);
    f.assessed.working_load = f.assessed.working_load_unrounded = f.assessed.margin = NAN;
    f.assessed.working_load_reason = HF_NO_LOAD_NO_DESIGN_FACTOR;
    f.assessed.limited_by = HF_LIMIT_NONE;
    f.assessed.step_count = 3;
    expect(&f, "sewn ring: at least 90 % of all parts made and pulled like these 10 carry 734.2 N, with 95 % "
               "confidence; note: few failures.");
    expect(&f, "This is not yet a working load: for that, write into the file how many times stronger than "
               "the load the parts must be (design factor). The bound is rounded down.");
}
END_TEST

START_TEST(unmet_requirement_should_say_by_how_much) {
    fixture f;
    fixture_fill(&f);
    f.design.goal.required_bound.value = 900;
    expect(&f, "Required bound 900 N: NOT met; 720.1 N after the rig's load error, 180 N short.");
}
END_TEST

START_TEST(nothing_should_say_why_and_what_next) {
    fixture f;
    fixture_fill(&f);
    fixture_set_nothing(&f);
    expect(&f, "sewn ring: no safe load can be given from these pulls. No part has been pulled yet.");
    expect(&f, "Why: fewer than two parts failed at a known load. Next: pull more parts until they fail");
    expect(&f, "Required bound 412.37 N: NOT met, there is no bound.");
}
END_TEST

START_TEST(load_error_that_eats_the_bound_should_leave_nothing) {
    fixture f;
    fixture_fill(&f);
    fixture_set_terms(&f, (fixture_terms){2, 6.8284, 0.05, 0.04, 4.3672, 0.125, 0.7, 3, 0});
    f.assessed.working_load = f.assessed.working_load_unrounded = NAN;
    f.assessed.working_load_reason = HF_NO_LOAD_BOUND_NOT_POSITIVE;
    expect(&f, "(1 − 1.645 × 0.70000), not below 0, = 0 N");
    expect(&f, "sewn ring: no safe load can be given: the rig's load error is as large as the bound of");
}
END_TEST

START_TEST(answer_should_say_what_to_do_next) {
    fixture f;
    fixture_fill(&f);
    expect(&f, "Next: settle the cautions; then mark the parts in use with this load, and destroy those that "
               "were pulled.");    /* the fixture scatters much */
    f.assessed.cautions.count = 2; /* few parts, the laws differ */
    expect(&f, "Next: mark the parts in use with this load, and destroy those that were pulled.");
    f.cautions[1].code = HF_CAUTION_ONE_BATCH;
    expect(&f, "Next: state the batch of every part in the file; one is named so far");
    f.specimens[1].batch = "roll 3";
    expect(&f, "Next: pull parts of a second and third batch");
    f.specimens[0].batch = f.specimens[1].batch = NULL;
    expect(&f, "Next: state the batches of the parts in the file;");
    f.assessed.break_event.counts.used = f.assessed.break_event.counts.failed = 3;
    expect(&f, "Next: pull more parts; five give a useful bound.");
    f.assessed.break_event.tests[2].rejected = true;
    hf_event_choose(NULL, &f.assessed.break_event);
    expect(&f, "Next: find out why the pulls do not follow the law (mixed batches,");
    f.cautions[0] = (hf_caution){.code = HF_CAUTION_REQUIRED_NOT_MET, .number = {720, 900}};
    expect(&f, "Next: choose a stronger design, or pull more parts");
    f.cautions[0] = (hf_caution){.code = HF_CAUTION_SERVICE_NOT_MET, .number = {240, 300}};
    expect(&f, "Next: do not use it at the service load");
    f.cautions[0] = (hf_caution){.code = HF_CAUTION_ABOVE_WEIGHTS, .number = {2, 1000, 1203}};
    expect(&f, "Next: check the loads");
    expect(&f, "a working load of 240 N comes out, but do not use it before this is settled: above all the "
               "weights.");
    expect(&f, "Service load 120 N: NOT covered while this is not settled: above all the weights;");
}
END_TEST

/* mean 50 − 5 × SD 20 = −50: no figure of it may look like a load. */
START_TEST(limit_below_zero_should_be_said_in_words) {
    fixture f;
    fixture_fill(&f);
    fixture_set_terms(&f, (fixture_terms){0, 50, 20, 0, 5, 0.125, 0.01, 3, 0});
    f.assessed.working_load = f.assessed.working_load_unrounded = f.assessed.margin = NAN;
    f.assessed.working_load_reason = HF_NO_LOAD_BOUND_NOT_POSITIVE;
    f.assessed.limited_by = HF_LIMIT_NONE;
    expect(&f, "sewn ring: no safe load can be given; no bound above 0 comes out of these 10 pulls.");
    expect(&f, "Next: pull more parts, in finer steps where they fail.");
    expect(&f, "Required bound 412.37 N: NOT met, there is no bound above 0.");
    expect(&f, "= −50.000 N\n");
    expect(&f, "There is no bound above 0: these pulls promise no load.");
    expect(&f, "  none  factor");
    expect_none(&f, "Nothing is left of it");
    expect_none(&f, " carry −");
    f.assessed.break_event.counts.below = 4;
    expect(&f, "Why: 4 of 10 parts failed at the first load stated, so nothing");
    expect(&f, "Next: pull more parts, with a smaller first load and finer steps");
    f.assessed.trade[0].value = -3;
    expect(&f, "gives no load above 0 for these pulls. Made for: rope and rigging custom.");
    expect_none(&f, "  −3");
}
END_TEST

START_TEST(bound_of_zero_by_order_should_be_said_in_words) {
    fixture f;
    fixture_fill(&f);
    f.bounds[3] = fixture_by_order(0);
    f.assessed.break_event.governing = &f.bounds[3];
    f.assessed.break_event.governing_reason = HF_GOVERNS_ORDER_STATISTIC;
    expect_none(&f, "bound = 0 N");
    expect_none(&f, "The sum");
    expect(&f, "  none  no. 1 from below of 30 loads\n");
    expect(&f, "Every bound is rounded down; none: no bound above 0.");
    expect(&f, "the number of parts alone gives none above 0.");
}
END_TEST

START_TEST(only_what_happened_should_be_counted) {
    fixture f;
    fixture_fill(&f);
    expect(&f, "\n10 parts used, all failed; not used: 1 planned.\n");
    f.assessed.break_event.counts = (hf_assess_counts){.used = 8, .failed = 5, .run_out = 2, .rig = 1};
    expect(&f, "\n8 parts used: 5 failed, 2 run-outs, 1 rig failure.\n");
    f.assessed.break_event.counts = (hf_assess_counts){.used = 1, .run_out = 1, .voided = 2, .reused = 1};
    expect(&f, "\n1 part used: 1 run-out; not used: 2 void, 1 re-used.\n");
    f.assessed.break_event.step_rms = 0;
    expect_none(&f, "step none");
    expect_none(&f, "Step size");
    expect_none(&f, " 0 void");
}
END_TEST

START_TEST(best_pull_should_say_what_it_held) {
    fixture f;
    fixture_fill(&f);
    f.assessed.break_event.max_load = 888.8;
    expect(&f, "Best single pull: failed at 888.8 N after holding 849.5 N (never a rating).");
    f.assessed.break_event.max_load = 1203;
    expect(&f, "Best single pull: held 1203 N and did not fail (never a rating).");
    f.specimens[1].pull = (hf_pull){HF_INTERVAL_EXACT, 1203, 1203, false, false};
    expect(&f, "Best single pull: failed at 1203 N (never a rating).");
    f.specimens[1].pull = (hf_pull){HF_INTERVAL_BELOW, 0, 1203, false, true};
    expect(&f, "Best single pull: failed at 1203 N, the first load stated (never a rating).");
    f.specimens[1].outcome = HF_OUTCOME_VOID;
    expect(&f, "Best single pull: 1203 N (never a rating).");
}
END_TEST

START_TEST(batches_that_cannot_be_tested_should_be_told) {
    fixture f;
    fixture_fill(&f);
    f.assessed.break_event.batch = (hf_batch_test){.reason = "open_observations"};
    expect_none(&f, "batches:");
    f.specimens[1].batch = "roll 4";
    f.assessed.break_event.counts.failed = 8;
    expect(&f, "2 batches: whether they differ cannot be tested, some parts did not fail.");
    f.assessed.break_event.counts.failed = 10;
    f.assessed.break_event.counts.below = 1;
    expect(&f,
           "2 batches: whether they differ cannot be tested, some parts failed at the first load stated.");
}
END_TEST

START_TEST(significance_below_what_was_simulated_should_say_so) {
    fixture f;
    fixture_fill(&f);
    f.assessed.break_event.tests[0].significance = 0;
    f.assessed.break_event.tests[0].replicates = 2000; /* 1/2000 */
    expect(&f, "  <0.0005\n");
}
END_TEST

/* Nobody reads "unfailed" where all failed: what is unfinished is named as it is. */
START_TEST(sum_should_name_its_estimators) {
    fixture f;
    fixture_fill(&f);
    expect(&f,
           ": scale of the Weibull law fitted to the middles of the steps. 4.3672: the factor for 10 parts");
    expect(&f, "The fits take each pull as its whole step");
    f.bounds[2].method = HF_BOUND_CONDITIONAL;
    f.assessed.break_event.counts.below = 2;
    expect(&f, "fitted to the middles of the steps, counting failures at the first load stated as at most "
               "that strong.");
    f.assessed.break_event.counts.failed = 7;
    expect(
        &f,
        "counting parts that held as at least that strong and failures at the first load stated as at most "
        "that strong.");
    f.assessed.break_event.counts.below = 0;
    expect(&f, "counting parts that held as at least that strong.");
    fixture_set_terms(&f, (fixture_terms){2, 6.8284, 0.050241, 0, 4.3672, 0.125, 0.011635, 3, 0});
    expect(&f, "scale of the Weibull law fitted to the readings.");
}
END_TEST

/* practice.md 6, story 6: never a bare number from one part. */
START_TEST(assumed_scatter_should_stand_beside_the_answer) {
    fixture f;
    fixture_fill(&f);
    f.bounds[2].method = HF_BOUND_STATED_SCATTER;
    f.assessed.break_event.counts.used = 1;
    f.design.scatter = (hf_scatter){
        .given = true, .cv = 0.12, .degrees_of_freedom = INFINITY, .source = "14 rings of rolls 1 and 2"};
    f.cautions[0] = (hf_caution){
        .code = HF_CAUTION_ASSUMED_SCATTER, .text = {"14 rings of rolls 1 and 2"}, .number = {0.12}};
    expect(&f, "made and pulled like this one carry 734.2 N");
    expect(&f, "sewn ring: work with at most 240 N, if the scatter really is 12 %.\n");
    expect(&f, "The scatter is ASSUMED (source: 14 rings of rolls 1 and 2); one pull cannot contradict it.");
    expect(&f, "Required bound 412.37 N: met, if the scatter really is 12 %;");
    f.cautions[0].code = HF_CAUTION_STATED_SCATTER;
    f.cautions[0].number[1] = 14;
    f.cautions[0].text[0] = "14 rings";
    f.design.scatter.degrees_of_freedom = 14;
    f.assessed.break_event.counts.used = 2;
    expect(&f, "sewn ring: work with at most 240 N, if the scatter is 12 % as stated.\n");
    expect(&f, "The scatter is POOLED (source: 14 rings of rolls 1 and 2); these pulls do not contradict it, "
               "which is no proof.");
    expect(&f, "Required bound 412.37 N: met; ");
}
END_TEST

START_TEST(order_statistic_should_govern_without_a_law) {
    fixture f;
    fixture_fill(&f);
    f.bounds[3] = fixture_by_order(734.22);
    f.assessed.break_event.governing = &f.bounds[3];
    f.assessed.break_event.governing_reason = HF_GOVERNS_ORDER_STATISTIC;
    expect(&f, "  bound = 734.22 N, no. 1 from below of 30 loads\n");
    expect(&f, "no law: order *");
}
END_TEST

START_TEST(allowance_should_print_as_the_formula_is) {
    fixture f;
    fixture_fill(&f);
    fixture_set_terms(&f, (fixture_terms){0, 812.4, 64.212, 40, 1.2, 0.25 / 1.44, 0, 3, 0});
    expect(&f, "bound = 812.40 − 1.2000 × √(64.212² + 0.17361 × 40.000²) = ");
    fixture_set_terms(&f, (fixture_terms){0, 812.4, 64.212, 40, 3.4066, 0.0625, 0, 3, 0});
    expect(&f, "bound = 812.40 − 3.4066 × √(64.212² + 40.000²/16) = ");
    fixture_set_terms(&f, (fixture_terms){0, 812.4, 64.212, 0, 3.4066, 0.125, 0, 3, 0});
    expect(&f, "bound = 812.40 − 3.4066 × 64.212 = ");
}
END_TEST

/* --- Markdown ---------------------------------------------------------------------------------------- */

static size_t bars(const char *line, size_t length) {
    size_t count = 0;
    for (size_t i = 0; i < length; i++) count += line[i] == '|' && (i == 0 || line[i - 1] != '\\');
    return count;
}

START_TEST(markdown_should_keep_hostile_names_harmless) {
    fixture f;
    fill_hostile(&f);
    hf_text texts[] = {fixture_report(&f, "md"), check_report(&f, "md")};
    for (size_t i = 0; i < 2; i++) {
        const char *text = texts[i].bytes;
        size_t columns = 0;
        check_lines(text, 990, "markdown");
        ck_assert_ptr_null(strstr(text, "\n# head"));
        ck_assert_ptr_null(strstr(text, "\xE2\x80\xAE"));
        for (const char *at = text; *at;) {
            size_t length = strcspn(at, "\n");
            bool code = strncmp(at, "    ", 4) == 0, row = at[0] == '|';
            for (size_t j = 0; !code && j < length; j++) ck_assert_msg(at[j] != '<', "%.*s", (int)length, at);
            if (row && columns) ck_assert_msg(bars(at, length) == columns, "%.*s", (int)length, at);
            columns = row ? bars(at, length) : 0;
            at += length + (at[length] == '\n');
        }
        hf_text_free(&texts[i]);
    }
}
END_TEST

/* --- JSON -------------------------------------------------------------------------------------------- */

static const hf_json *parse(hf_arena *arena, const hf_text *text) {
    const hf_json *root = NULL;
    hf_error error = {0};
    hf_status status = hf_json_parse(arena, "report", text->bytes, text->length, &root, &error);
    ck_assert_msg(status == HF_OK, "line %zu: %s", error.where.line, error.message);
    return root;
}

/* Follows "designs.0.bounds.2.m"; fails when a part of it is missing. */
static const hf_json *at_path(const hf_json *node, const char *path) {
    char part[60];
    for (const char *rest = path; *rest; rest += strcspn(rest, "."), rest += *rest == '.') {
        (void)snprintf(part, sizeof part, "%.*s", (int)strcspn(rest, "."), rest);
        if (node->kind == HF_JSON_ARRAY) {
            long index = strtol(part, NULL, 10);
            node = node->first;
            while (node && index-- > 0) node = node->next;
        } else {
            node = hf_json_get(node, part);
        }
        ck_assert_msg(node != NULL, "%s: no %s", path, part);
    }
    return node;
}

/* design.md 4, "JSON results". */
static const char *const fixed_keys[] = {
    "format",
    "version",
    "sha256",
    "seed",
    "unit",
    "designs.0.id",
    "designs.0.counts.used",
    "designs.0.counts.failed",
    "designs.0.counts.run_out",
    "designs.0.counts.rig",
    "designs.0.counts.void",
    "designs.0.counts.reused",
    "designs.0.counts.planned",
    "designs.0.step.rms",
    "designs.0.fits.0.family",
    "designs.0.fits.0.m",
    "designs.0.fits.0.s",
    "designs.0.fits.0.log_likelihood",
    "designs.0.fits.0.converged",
    "designs.0.fits.0.rejected",
    "designs.0.fits.2.shape",
    "designs.0.fits.2.scale",
    "designs.0.bounds.0.family",
    "designs.0.bounds.0.content",
    "designs.0.bounds.0.confidence",
    "designs.0.bounds.0.k",
    "designs.0.bounds.0.m",
    "designs.0.bounds.0.s",
    "designs.0.bounds.0.h",
    "designs.0.bounds.0.value",
    "designs.0.bounds.0.method",
    "designs.0.governing.family",
    "designs.0.governing.value",
    "designs.0.governing.reason",
    "designs.0.working_load.value",
    "designs.0.working_load.unrounded",
    "designs.0.working_load.unit",
    "designs.0.working_load.limited_by",
    "designs.0.working_load.steps.0",
    "designs.0.trade.0",
    "designs.0.cautions.0.code",
    "designs.0.cautions.0.text",
};

START_TEST(json_should_hold_the_fixed_keys) {
    fixture f;
    fixture_fill(&f);
    hf_arena *arena = hf_arena_create();
    hf_text text = fixture_report(&f, "json");
    const hf_json *root = parse(arena, &text);
    for (size_t i = 0; i < sizeof fixed_keys / sizeof *fixed_keys; i++) (void)at_path(root, fixed_keys[i]);
    ck_assert_str_eq(at_path(root, "format")->text, "holdfast-result/2");
    ck_assert_str_eq(at_path(root, "kind")->text, "assess");
    ck_assert_str_eq(at_path(root, "version")->text, HF_VERSION);
    ck_assert_str_eq(at_path(root, "sha256")->text, f.campaign.sha256);
    ck_assert(at_path(root, "seed")->number == 7);
    ck_assert_str_eq(at_path(root, "designs.0.governing.reason")->text, "weibull_rule");
    ck_assert_str_eq(at_path(root, "designs.0.bounds.3.method")->text, "none");
    ck_assert_str_eq(at_path(root, "designs.0.bounds.3.reason")->text, "too_few");
    ck_assert(at_path(root, "designs.0.working_load.value")->number == 240);
    ck_assert(check_nulls(root) > 0);
    hf_text_free(&text);
    hf_arena_free(arena);
}
END_TEST

START_TEST(json_without_result_should_be_whole_and_say_why) {
    fixture f;
    fixture_fill(&f);
    fixture_set_nothing(&f);
    hf_arena *arena = hf_arena_create();
    hf_text text = fixture_report(&f, "json");
    const hf_json *root = parse(arena, &text);
    for (size_t i = 0; i < sizeof fixed_keys / sizeof *fixed_keys; i++)
        if (!strstr(fixed_keys[i], "steps.0")) (void)at_path(root, fixed_keys[i]);
    ck_assert_int_eq(at_path(root, "designs.0.working_load.value")->kind, HF_JSON_NULL);
    ck_assert_str_eq(at_path(root, "designs.0.working_load.reason")->text, "no_bound");
    ck_assert_str_eq(at_path(root, "designs.0.governing.reason")->text, "none");
    ck_assert_str_eq(at_path(root, "designs.0.fits.0.reason")->text, "too_few");
    ck_assert(check_nulls(root) > 20);
    hf_text_free(&text);
    hf_arena_free(arena);
}
END_TEST

/* All loads are in the unit, m of log families is the ln of that number, s and h of log families have no unit. */
START_TEST(json_should_be_in_the_unit_throughout) {
    fixture f;
    const char source[] = "1 kg pulls with 9.81 N in the fixture";
    fixture_fill(&f);
    hf_arena *arena = hf_arena_create();
    hf_text newtons = fixture_report(&f, "json");
    f.style.unit = hf_unit_find("kg", 2);
    hf_text kilograms = fixture_report(&f, "json");
    const hf_json *n = parse(arena, &newtons), *k = parse(arena, &kilograms);
    static const char *const loads[] = {"designs.0.step.rms",
                                        "designs.0.bounds.0.m",
                                        "designs.0.bounds.0.s",
                                        "designs.0.bounds.0.h",
                                        "designs.0.bounds.2.value",
                                        "designs.0.governing.value",
                                        "designs.0.working_load.unrounded",
                                        "designs.0.fits.2.scale",
                                        "designs.0.trade.0.value",
                                        "designs.0.bounds.4.lower_end"};
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++)
        hf_check_close(at_path(k, loads[i])->number * 9.81, at_path(n, loads[i])->number,
                       HF_TOLERANCE_ROUNDING, source);
    static const char *const logs[] = {"designs.0.bounds.2.m", "designs.0.fits.1.m"};
    for (size_t i = 0; i < 2; i++)
        hf_check_close(at_path(k, logs[i])->number + log(9.81), at_path(n, logs[i])->number,
                       HF_TOLERANCE_ROUNDING, source);
    static const char *const same[] = {"designs.0.bounds.2.s", "designs.0.bounds.2.h",
                                       "designs.0.fits.2.shape", "designs.0.bounds.0.k"};
    for (size_t i = 0; i < 4; i++)
        hf_check_close(at_path(k, same[i])->number, at_path(n, same[i])->number, HF_TOLERANCE_EXACT, source);
    ck_assert_str_eq(at_path(k, "designs.0.working_load.unit")->text, "kg");
    hf_check_close(at_path(k, "designs.0.working_load.value")->number, 24.4, HF_TOLERANCE_EXACT,
                   "240.06 N / 9.81 = 24.471, rounded down");
    hf_text_free(&newtons);
    hf_text_free(&kilograms);
    hf_arena_free(arena);
}
END_TEST

START_TEST(json_should_carry_hostile_names_unchanged) {
    fixture f;
    fill_hostile(&f);
    hf_arena *arena = hf_arena_create();
    hf_text text = fixture_report(&f, "json"), check = check_report(&f, "json");
    ck_assert_str_eq(at_path(parse(arena, &text), "designs.0.id")->text, hostile);
    const hf_json *root = parse(arena, &check);
    ck_assert_str_eq(at_path(root, "format")->text, "holdfast-result/2");
    ck_assert_str_eq(at_path(root, "designs.0.pulls.0.mode")->text, hostile);
    ck_assert_str_eq(at_path(root, "warnings.0.code")->text, "tare_zero");
    ck_assert_str_eq(at_path(root, "designs.0.pulls.1.upper_reason")->text, "open");
    (void)check_nulls(root);
    hf_text_free(&text);
    hf_text_free(&check);
    hf_arena_free(arena);
}
END_TEST

START_TEST(json_factor_should_hold_the_fixed_keys) {
    hf_factor_result result = {hf_family_at(0), 5, 0.9, 0.95, 3.4066, 0},
                     none = {hf_family_at(0), 5, 0.9, 0.95, NAN, NAN};
    static const char *const keys[] = {"family", "n", "content", "confidence", "k", "standard_error"};
    hf_arena *arena = hf_arena_create();
    hf_text text = factor_report(&result, "json"), nothing = factor_report(&none, "json"),
            words = factor_report(&none, "text");
    const hf_json *root = parse(arena, &text);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) (void)at_path(root, keys[i]);
    ck_assert_str_eq(at_path(root, "format")->text, "holdfast-result/2");
    hf_check_close(at_path(root, "k")->number, 3.4066, HF_TOLERANCE_EXACT, "as given");
    ck_assert_uint_eq(check_nulls(parse(arena, &nothing)), 2);
    ck_assert_ptr_nonnull(strstr(words.bytes, "no factor for 5 parts"));
    hf_text_free(&text);
    hf_text_free(&nothing);
    hf_text_free(&words);
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("report formats");
    TCase *formats = tcase_create("formats");
    tcase_add_test(formats, table_should_hold_each_format_once);
    tcase_add_loop_test(formats, assessment_should_match_golden_file, 0, 3);
    tcase_add_test(formats, text_should_stay_within_its_columns);
    tcase_add_test(formats, text_should_fold_into_forty_columns);
    tcase_add_test(formats, colour_should_change_nothing_but_escapes);
    tcase_add_test(formats, answer_should_come_first_and_say_what_it_rests_on);
    tcase_add_test(formats, missing_factor_should_be_named);
    tcase_add_test(formats, unmet_requirement_should_say_by_how_much);
    tcase_add_test(formats, nothing_should_say_why_and_what_next);
    tcase_add_test(formats, answer_should_say_what_to_do_next);
    tcase_add_test(formats, limit_below_zero_should_be_said_in_words);
    tcase_add_test(formats, bound_of_zero_by_order_should_be_said_in_words);
    tcase_add_test(formats, only_what_happened_should_be_counted);
    tcase_add_test(formats, best_pull_should_say_what_it_held);
    tcase_add_test(formats, batches_that_cannot_be_tested_should_be_told);
    tcase_add_test(formats, significance_below_what_was_simulated_should_say_so);
    tcase_add_test(formats, sum_should_name_its_estimators);
    tcase_add_test(formats, load_error_that_eats_the_bound_should_leave_nothing);
    tcase_add_test(formats, assumed_scatter_should_stand_beside_the_answer);
    tcase_add_test(formats, order_statistic_should_govern_without_a_law);
    tcase_add_test(formats, allowance_should_print_as_the_formula_is);
    tcase_add_test(formats, markdown_should_keep_hostile_names_harmless);
    tcase_add_test(formats, json_should_hold_the_fixed_keys);
    tcase_add_test(formats, json_without_result_should_be_whole_and_say_why);
    tcase_add_test(formats, json_should_be_in_the_unit_throughout);
    tcase_add_test(formats, json_should_carry_hostile_names_unchanged);
    tcase_add_test(formats, json_factor_should_hold_the_fixed_keys);
    suite_add_tcase(out, formats);
    return out;
}

HF_TEST_MAIN(suite)
