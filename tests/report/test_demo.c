/* The demo that everybody sees first, whole. Not its JSON: seventeen figures differ from one C library to another. */
#include <string.h>
#include "check_close.h"
#include "holdfast/campaign/campaign.h"
#include "report/fixture.h"
#include "report/golden.h"

START_TEST(demo_should_match_its_golden_file) {
    static const char *const formats[] = {"text", "md", "text", "md"};
    static const char *const goldens[] = {"demo.text", "demo.md", "demo_short.text", "demo_short.md"};
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    const hf_assessment *result = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_assess_options options = {.seed = 1};
    ck_assert_int_eq(
        hf_campaign_read(arena, HF_DATASETS_DIR "/shade-sail.json", &campaign, &findings, &error), HF_OK);
    ck_assert_int_eq(hf_assess(arena, campaign, &findings, &options, &result, &error), HF_OK);
    hf_report_style style = {campaign->unit, campaign->gravity, 80, false, HF_STRIP_NONE};
    hf_text out = {0}, plain = {0};
    hf_report_print(_i < 2 ? &hf_report_assess : &hf_report_assess_short, result,
                    hf_report_format_find(formats[_i]), &style, &out);
    ck_assert(!out.failed && out.bytes);
    for (const char *at = out.bytes; *at;) { /* the folder differs from machine to machine */
        size_t skip =
            strncmp(at, HF_DATASETS_DIR "/", sizeof HF_DATASETS_DIR) == 0 ? sizeof HF_DATASETS_DIR : 0;
        hf_text_add_bytes(&plain, at + skip, 1);
        at += skip + 1;
    }
    compare_golden(goldens[_i], &plain);
    hf_text_free(&out);
    hf_text_free(&plain);
    hf_arena_free(arena);
}
END_TEST

static size_t lines_of(const hf_assessment *result) {
    hf_report_style style = {result->campaign->unit, result->campaign->gravity, 80, false, HF_STRIP_NONE};
    hf_text out = {0};
    size_t lines = 0;
    hf_report_print(&hf_report_assess_short, result, hf_report_format_find("text"), &style, &out);
    for (const char *at = out.bytes; (at = strchr(at, '\n')) != NULL; at++) lines++;
    hf_text_free(&out);
    return lines;
}

START_TEST(short_answer_should_fit_its_budget) {
    static const char *const ids[] = {"ring", "eyelet", "plate"};
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    const hf_assessment *result = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_assess_options options = {.seed = 1};
    ck_assert_int_eq(
        hf_campaign_read(arena, HF_DATASETS_DIR "/shade-sail.json", &campaign, &findings, &error), HF_OK);
    ck_assert_int_eq(hf_assess(arena, campaign, &findings, &options, &result, &error), HF_OK);
    ck_assert_uint_le(lines_of(result), 40);
    options.design_count = 1;
    for (size_t i = 0; i < 3; i++) {
        options.designs = &ids[i];
        ck_assert_int_eq(hf_assess(arena, campaign, &findings, &options, &result, &error), HF_OK);
        ck_assert_uint_le(lines_of(result), 24);
    }
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("the demo");
    TCase *demo = tcase_create("golden");
    tcase_add_loop_test(demo, demo_should_match_its_golden_file, 0, 4);
    tcase_add_test(demo, short_answer_should_fit_its_budget);
    suite_add_tcase(out, demo);
    return out;
}

HF_TEST_MAIN(suite)
