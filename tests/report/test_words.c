/* The words of the cautions. */
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/strength/trade.h"
#include "report/fixture.h"

static hf_text words_of(const hf_caution *caution, const char *unit) {
    hf_text out = {0};
    hf_report_style style = {hf_unit_find(unit, strlen(unit)), 9.81, 80, false, HF_STRIP_NONE};
    hf_caution_say(caution, &style, &out);
    return out;
}

/* Cautions without numbers are legal: slots that are NaN or NULL must not print as such. */
START_TEST(unknown_numbers_should_not_be_printed_as_nan_where_they_may_be_missing) {
    static const hf_caution_code codes[] = {HF_CAUTION_REQUIRED_NOT_MET, HF_CAUTION_SERVICE_NOT_MET};
    for (size_t i = 0; i < 2; i++) {
        hf_caution caution = {.code = codes[i], .number = {NAN, 150}};
        hf_text words = words_of(&caution, "N");
        ck_assert_ptr_null(strstr(words.bytes, "nan"));
        ck_assert_ptr_nonnull(strstr(words.bytes, "150 N"));
        hf_text_free(&words);
    }
}
END_TEST

START_TEST(finding_should_keep_its_words_and_say_what_to_do) {
    hf_caution caution = {.code = HF_CAUTION_TARE_ZERO, .text = {"found tare 0; was it forgotten?"}};
    hf_text words = words_of(&caution, "N");
    ck_assert_ptr_eq(strstr(words.bytes, "found tare 0; was it forgotten? Weigh the hanger"), words.bytes);
    hf_text_free(&words);
    caution.text[0] = "found tare 0";
    words = words_of(&caution, "N");
    ck_assert_ptr_eq(strstr(words.bytes, "found tare 0. Weigh the hanger"), words.bytes);
    hf_text_free(&words);
}
END_TEST

START_TEST(loads_should_be_in_the_unit_and_bounds_rounded_down) {
    hf_caution caution = {.code = HF_CAUTION_FAMILIES_DIFFER, .number = {577.98, 648.9}};
    hf_text words = words_of(&caution, "N"), kilograms = words_of(&caution, "kg");
    ck_assert_ptr_nonnull(strstr(words.bytes, "577.9 N"));
    ck_assert_ptr_nonnull(strstr(words.bytes, "648.9 N"));
    ck_assert_ptr_nonnull(strstr(kilograms.bytes, "58.91 kg")); /* 577.98/9.81 = 58.917 */
    hf_text_free(&words);
    hf_text_free(&kilograms);
}
END_TEST

START_TEST(bound_below_zero_should_not_be_printed_as_a_load) {
    static const hf_caution_code codes[] = {HF_CAUTION_FAMILIES_DIFFER, HF_CAUTION_VOID_CHANGES,
                                            HF_CAUTION_REUSED_CHANGES, HF_CAUTION_REQUIRED_NOT_MET};
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        hf_caution caution = {.code = codes[i], .number = {-8.617, 3.707}};
        hf_text words = words_of(&caution, "N");
        ck_assert_msg(strstr(words.bytes, "no bound above 0") ||
                          strstr(words.bytes, "from no load at all to"),
                      "%s: %s", hf_caution_row_of(codes[i])->code, words.bytes);
        ck_assert_ptr_null(strstr(words.bytes, "8.6"));
        hf_text_free(&words);
    }
}
END_TEST

/* As the assessment prints them beside it: three figures, the share with two. */
START_TEST(batch_figures_should_be_those_of_the_assessment) {
    hf_caution caution = {.code = HF_CAUTION_BATCHES_DIFFER, .number = {2.7984, 2.0004, 0.3862}};
    hf_text words = words_of(&caution, "N");
    ck_assert_ptr_nonnull(strstr(words.bytes, "(k-sample Anderson–Darling 2.80, critical 2.00); 39 % of"));
    hf_text_free(&words);
}
END_TEST

START_TEST(outlier_should_be_told_as_a_part_with_its_load_and_side) {
    hf_caution caution = {
        .code = HF_CAUTION_OUTLIER, .text = {"270", "weak"}, .number = {4.08, 3.85, 345.294}};
    hf_text words = words_of(&caution, "N");
    ck_assert_ptr_eq(strstr(words.bytes, "Part 270 (345.3 N) lies farther out on the weak side than"),
                     words.bytes);
    hf_text_free(&words);
    caution.number[2] = NAN; /* neither is known */
    caution.text[1] = NULL;
    words = words_of(&caution, "N");
    ck_assert_ptr_eq(strstr(words.bytes, "Part 270 lies farther out than chance"), words.bytes);
    hf_text_free(&words);
}
END_TEST

START_TEST(batches_should_be_told_as_far_as_they_are_known) {
    const struct {
        double stated, without;
        const char *words;
    } cases[] = {{0, 7, "No batch is stated, so that nothing shows"},
                 {1, 2, "One batch is stated, and 2 parts state none."},
                 {1, 0, "All parts are of one batch."}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        hf_caution caution = {.code = HF_CAUTION_ONE_BATCH, .number = {cases[i].stated, cases[i].without}};
        hf_text words = words_of(&caution, "N");
        ck_assert_msg(strstr(words.bytes, cases[i].words) == words.bytes, "%s", words.bytes);
        hf_text_free(&words);
    }
}
END_TEST

START_TEST(seen_loads_should_stand_as_recorded_where_nothing_was_converted) {
    hf_caution caution = {.code = HF_CAUTION_FIRST_RUNG, .number = {10, 5, 0}};
    hf_text newtons = words_of(&caution, "N"), pounds = words_of(&caution, "lb");
    ck_assert_ptr_nonnull(strstr(newtons.bytes, "10 parts, at 5 N or more: each known only to be weaker"));
    ck_assert_ptr_nonnull(
        strstr(pounds.bytes, "at 1.124 lb or more")); /* 5 N / (0.45359237 kg × 9.81 m/s²) */
    hf_text_free(&newtons);
    hf_text_free(&pounds);
}
END_TEST

/* --- What a reader has no use for -------------------------------------------------------------------- */

/* "C20", "see check": how this project counts its checks. */
static void check_no_inside_words(const char *where, const char *text) {
    static const char *const inside[] = {"memory",      "MEMORY",   "see check", "methods.md",
                                         "practice.md", "at hand.", "digits",    "<="};
    for (size_t i = 0; i < sizeof inside / sizeof *inside; i++)
        ck_assert_msg(!strstr(text, inside[i]), "%s: \"%s\" in: %s", where, inside[i], text);
}

START_TEST(sources_of_rules_should_be_plain_words) {
    const hf_observation pulls[] = {{HF_INTERVAL_EXACT, 800, 800, false, -1},
                                    {HF_INTERVAL_EXACT, 850, 850, false, -1},
                                    {HF_INTERVAL_EXACT, 900, 900, false, -1}};
    hf_trade_result rules[HF_TRADE_COUNT];
    hf_trade_all((hf_sample){pulls, 3}, rules);
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) check_no_inside_words(rules[i].label, rules[i].source);
    ck_assert_ptr_nonnull(strstr(rules[0].source, "common practice, no published source named"));
}
END_TEST

/* The lines about a data set become the "about" of its campaign and stand in its report. */
START_TEST(data_sets_should_speak_of_themselves_in_plain_words) {
    DIR *folder = opendir(HF_DATASETS_DIR);
    size_t tables = 0;
    ck_assert_ptr_nonnull(folder);
    for (const struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
        hf_text table = {0};
        char path[600];
        if (!strstr(entry->d_name, ".csv")) continue;
        (void)snprintf(path, sizeof path, "%s/%s", HF_DATASETS_DIR, entry->d_name);
        ck_assert_int_eq(hf_file_read(path, 1000000, &table, NULL), HF_OK);
        check_no_inside_words(entry->d_name, table.bytes);
        hf_text_free(&table);
        tables++;
    }
    (void)closedir(folder);
    ck_assert_uint_ge(tables, 13);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("caution words");
    TCase *words = tcase_create("words");
    tcase_add_test(words, unknown_numbers_should_not_be_printed_as_nan_where_they_may_be_missing);
    tcase_add_test(words, finding_should_keep_its_words_and_say_what_to_do);
    tcase_add_test(words, loads_should_be_in_the_unit_and_bounds_rounded_down);
    tcase_add_test(words, bound_below_zero_should_not_be_printed_as_a_load);
    tcase_add_test(words, batch_figures_should_be_those_of_the_assessment);
    tcase_add_test(words, outlier_should_be_told_as_a_part_with_its_load_and_side);
    tcase_add_test(words, batches_should_be_told_as_far_as_they_are_known);
    tcase_add_test(words, seen_loads_should_stand_as_recorded_where_nothing_was_converted);
    tcase_add_test(words, sources_of_rules_should_be_plain_words);
    tcase_add_test(words, data_sets_should_speak_of_themselves_in_plain_words);
    suite_add_tcase(out, words);
    return out;
}

HF_TEST_MAIN(suite)
