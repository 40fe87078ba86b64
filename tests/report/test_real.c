/* The report of real assessments: the invented shade-sail campaign in every unit, and files that end without a result. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/study/study.h"
#include "report/fixture.h"
#include "report/redo.h"
#include "report/walk.h"

static const char *const files[] = {HF_DATASETS_DIR "/shade-sail.json",
                                    HF_TEST_DIR "/command/cases/pulled.json",
                                    HF_TEST_DIR "/command/cases/planned.json",
                                    HF_TEST_DIR "/command/cases/unmet.json",
                                    HF_TEST_DIR "/report/campaigns/open_and_set.json",
                                    HF_TEST_DIR "/report/campaigns/one_part.json",
                                    HF_TEST_DIR "/report/campaigns/all_held.json"};
enum { FILES = sizeof files / sizeof *files };

START_TEST(every_report_should_hold_in_every_unit) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    const hf_assessment *result = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_assess_options options = {.seed = 1};
    ck_assert_msg(hf_campaign_read(arena, files[_i], &campaign, &findings, &error) == HF_OK, "%s: %s",
                  files[_i], findings.count ? findings.items[0].message : error.message);
    ck_assert_int_eq(hf_assess(arena, campaign, &findings, &options, &result, &error), HF_OK);
    size_t units, sums = 0;
    const hf_unit *unit = hf_unit_table(&units);
    for (size_t i = 0; i < units; i++) {
        hf_report_style style = {&unit[i], campaign->gravity, 80, false, HF_STRIP_NONE},
                        wide = {&unit[i], campaign->gravity, 400, false, HF_STRIP_NONE};
        hf_text text = {0}, lines = {0}, json = {0};
        char about[300];
        const hf_json *root = NULL;
        (void)snprintf(about, sizeof about, "%s in %s", files[_i], unit[i].name);
        hf_report_print(&hf_report_assess, result, hf_report_format_find("text"), &style, &text);
        hf_report_print(&hf_report_assess, result, hf_report_format_find("text"), &wide, &lines);
        hf_report_print(&hf_report_assess, result, hf_report_format_find("json"), &style, &json);
        check_lines(text.bytes, 80, about);
        ck_assert_msg(!strstr(text.bytes, "nan") && !strstr(text.bytes, "inf "), "%s: a number that is none",
                      about);
        sums += redo_all(lines.bytes, about);
        hf_text brief = {0};
        hf_report_print(&hf_report_assess_short, result, hf_report_format_find("text"), &wide, &brief);
        ck_assert(!result->any_result || redo_all(brief.bytes, about) > 0);
        hf_text_free(&brief);
        ck_assert_msg(hf_json_parse(arena, about, json.bytes, json.length, &root, &error) == HF_OK, "%s: %s",
                      about, error.message);
        (void)check_nulls(root);
        hf_text_free(&text);
        hf_text_free(&lines);
        hf_text_free(&json);
    }
    if (result->any_result) ck_assert_msg(sums >= units, "%s: no sums", files[_i]);
    hf_arena_free(arena);
}
END_TEST

/* --- One figure, one rounding ------------------------------------------------------------------------ */

/* Whether a line of the report begins with `begin` and holds the word `figure`. */
static bool line_holds(const char *report, const char *begin, const char *figure) {
    char word[60];
    (void)snprintf(word, sizeof word, " %s ", figure);
    for (const char *at = report; at; at = strchr(at, '\n') ? strchr(at, '\n') + 1 : NULL) {
        char line[600];
        (void)snprintf(line, sizeof line, "%.*s ", (int)strcspn(at, "\n"), at);
        if (strncmp(line, begin, strlen(begin)) == 0 && strstr(line, word)) return true;
    }
    return false;
}

static size_t check_bound_cells(const hf_event_assessment *e, const hf_report_style *style,
                                const char *report) {
    size_t checked = 0;
    for (size_t i = 0; i < e->bound_count && i < HF_FAMILY_COUNT; i++) {
        char figure[HF_NUMBER_SIZE];
        double value = e->bounds[i].value / hf_unit_newtons(style->unit, style->gravity);
        if (!(value > 0)) continue;
        hf_number_figures(hf_number_round_down(value, 4), 4, figure);
        ck_assert_msg(line_holds(report, e->bounds[i].family->label, figure), "no %s line holds %s in %s",
                      e->bounds[i].family->label, figure, style->unit->name);
        checked++;
    }
    return checked;
}

static size_t check_trade_cells(const hf_trade_result *rules, const hf_report_style *style,
                                const char *report) {
    size_t checked = 0;
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        char figure[HF_NUMBER_SIZE];
        double value = rules[i].value / hf_unit_newtons(style->unit, style->gravity);
        if (!(value > 0)) continue;
        hf_number_figures(hf_number_round_down(value, 4), 4, figure);
        ck_assert_msg(line_holds(report, rules[i].label, figure), "no line of %s holds %s in %s",
                      rules[i].label, figure, style->unit->name);
        checked++;
    }
    return checked;
}

/* Lower limits are rounded down in every table as in the answer; the nearest figure would now and then promise more. */
START_TEST(tables_should_round_lower_limits_down_in_every_unit) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    const hf_assessment *result = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_assess_options options = {.seed = 1};
    size_t units, checked = 0;
    ck_assert_int_eq(hf_campaign_read(arena, files[0], &campaign, &findings, &error), HF_OK);
    ck_assert_int_eq(hf_assess(arena, campaign, &findings, &options, &result, &error), HF_OK);
    const hf_unit *unit = hf_unit_table(&units);
    for (size_t i = 0; i < units; i++) {
        hf_report_style style = {&unit[i], campaign->gravity, 400, false, HF_STRIP_NONE};
        hf_text text = {0};
        hf_report_print(&hf_report_assess, result, hf_report_format_find("text"), &style, &text);
        for (size_t j = 0; j < result->count; j++) {
            checked += check_bound_cells(&result->designs[j].break_event, &style, text.bytes);
            checked += check_trade_cells(result->designs[j].trade, &style, text.bytes);
        }
        hf_text_free(&text);
    }
    ck_assert_uint_ge(checked, 20 * units); /* three laws a design, seven rules for two of the three */
    hf_arena_free(arena);
}
END_TEST

/* --- Verdict and league ------------------------------------------------------------------------------ */

/* Where the typically stronger design has the lower bound, verdict and league would seem to contradict each other. */
START_TEST(verdict_against_the_league_should_be_explained) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    const hf_study *study = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_study_options options = {.what = HF_STUDY_PAIRS | HF_STUDY_BESIDE, .seed = 1};
    ck_assert_int_eq(hf_campaign_read(arena, files[0], &campaign, &findings, &error), HF_OK);
    ck_assert_int_eq(hf_study_of(arena, campaign, &findings, &options, &study, &error), HF_OK);
    const hf_comparison *result = study->comparison;
    hf_report_style style = {campaign->unit, campaign->gravity, 400, false, HF_STRIP_NONE};
    hf_text text = {0};
    size_t wanted = 0, found = 0;
    hf_report_print(&hf_report_compare, result, hf_report_format_find("text"), &style, &text);
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        double a = result->designs[pair->a].bound, b = result->designs[pair->b].bound;
        wanted += (pair->verdict == HF_VERDICT_A_STRONGER && a < b) ||
                  (pair->verdict == HF_VERDICT_B_STRONGER && b < a);
    }
    for (const char *at = text.bytes; (at = strstr(at, "Less can be promised of it all the same: ")); at++)
        found++;
    ck_assert_uint_ge(wanted,
                      1); /* the demo was made so: the plate is typically stronger and scatters more */
    ck_assert_uint_eq(found, wanted);
    ck_assert_ptr_nonnull(strstr(text.bytes, "clamped plate is stronger than sewn ring: typically "));
    hf_text_free(&text);
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("report of real assessments");
    TCase *real = tcase_create("real");
    tcase_set_timeout(real, 120);
    tcase_add_test(real, tables_should_round_lower_limits_down_in_every_unit);
    tcase_add_test(real, verdict_against_the_league_should_be_explained);
    tcase_add_loop_test(real, every_report_should_hold_in_every_unit, 0, FILES);
    suite_add_tcase(out, real);
    return out;
}

HF_TEST_MAIN(suite)
