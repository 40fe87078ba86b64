/* The report of real assessments: the invented shade-sail campaign in every unit, and files that end without a result. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/campaign/campaign.h"
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
        hf_report_style style = {&unit[i], campaign->gravity, 80, false},
                        wide = {&unit[i], campaign->gravity, 400, false};
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

static Suite *suite(void) {
    Suite *out = suite_create("report of real assessments");
    TCase *real = tcase_create("real");
    tcase_set_timeout(real, 120);
    tcase_add_loop_test(real, every_report_should_hold_in_every_unit, 0, FILES);
    suite_add_tcase(out, real);
    return out;
}

HF_TEST_MAIN(suite)
