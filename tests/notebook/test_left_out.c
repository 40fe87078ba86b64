/* What a comparison of verdicts alone leaves out is null in its JSON, with the reason; what is asked for is there. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/json.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/words/report.h"
#include "holdfast/study/study.h"

/* Three designs of the demonstration, each pair compared. */
static const char demo[] = HF_DATASETS_DIR "/shade-sail.json";

static const hf_json *comparison_of(hf_arena *arena, bool verdicts_only) {
    const hf_campaign *campaign = NULL;
    const hf_study *study = NULL;
    const hf_json *root = NULL;
    hf_findings findings = {0};
    hf_error error = {0};
    hf_study_options options = {.what = HF_STUDY_PAIRS | (verdicts_only ? 0 : HF_STUDY_BESIDE), .seed = 1};
    hf_text text = {0};
    ck_assert_int_eq(hf_campaign_read(arena, demo, &campaign, &findings, &error), HF_OK);
    ck_assert_int_eq(hf_study_of(arena, campaign, &findings, &options, &study, &error), HF_OK);
    hf_report_style style = {campaign->unit, campaign->gravity, 80, false, HF_STRIP_NONE};
    hf_report_print(&hf_report_compare, study->comparison, hf_report_format_find("json"), &style, &text);
    ck_assert(!text.failed);
    ck_assert_int_eq(hf_json_parse(arena, "compare", text.bytes, text.length, &root, &error), HF_OK);
    hf_text_free(&text);
    return hf_json_get(root, "pairs");
}

static const hf_json *member(const hf_json *pair, const char *group, const char *key) {
    const hf_json *within = group[0] ? hf_json_get(pair, group) : pair;
    ck_assert_msg(within != NULL, "no %s", group);
    const hf_json *found = hf_json_get(within, key);
    ck_assert_msg(found != NULL, "no %s.%s", group, key);
    return found;
}

static const char *const left_out[][2] = {
    {"", "p_permutation"},         {"", "p_floor"},       {"relabeling", "p"},  {"relabeling", "p_floor"},
    {"relabeling", "relabelings"}, {"quantile", "ratio"}, {"quantile", "p"},    {"outlasts", "chance"},
    {"outlasts", "fitted"},        {"outlasts", "least"}, {"outlasts", "most"}, {"games_howell", "low"},
    {"games_howell", "high"},      {"games_howell", "p"},
};

START_TEST(what_is_left_out_should_be_null_with_the_reason) {
    hf_arena *arena = hf_arena_create();
    const hf_json *pairs = comparison_of(arena, true);
    ck_assert_uint_eq(pairs->count, 3);
    for (const hf_json *pair = pairs->first; pair; pair = pair->next)
        for (size_t i = 0; i < sizeof left_out / sizeof *left_out; i++) {
            const char *group = left_out[i][0], *key = left_out[i][1];
            char reason[64];
            (void)snprintf(reason, sizeof reason, "%s_reason", key);
            ck_assert_msg(member(pair, group, key)->kind == HF_JSON_NULL, "%s.%s is not null", group, key);
            ck_assert_str_eq(member(pair, group, reason)->text, "verdicts_only");
        }
    hf_arena_free(arena);
}
END_TEST

START_TEST(verdicts_should_be_the_same_and_the_rest_there_when_asked_for) {
    hf_arena *arena = hf_arena_create();
    const hf_json *few = comparison_of(arena, true)->first, *all = comparison_of(arena, false)->first;
    size_t at_once = 0;
    for (; few && all; few = few->next, all = all->next) {
        ck_assert_str_eq(member(few, "", "verdict")->text, member(all, "", "verdict")->text);
        ck_assert(member(few, "", "p")->number == member(all, "", "p")->number);
        ck_assert(member(few, "", "ratio")->number == member(all, "", "ratio")->number);
        at_once += member(all, "games_howell", "low")->kind == HF_JSON_NUMBER;
        ck_assert_int_eq(member(all, "quantile", "ratio")->kind, HF_JSON_NUMBER);
        ck_assert_int_eq(member(all, "outlasts", "least")->kind, HF_JSON_NUMBER);
    }
    ck_assert(!few && !all);
    ck_assert_uint_eq(at_once, 1); /* ring and eyelet: the plate has unfinished pulls */
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("left out");
    TCase *only = tcase_create("verdicts only");
    tcase_set_timeout(only, 120);
    tcase_add_test(only, what_is_left_out_should_be_null_with_the_reason);
    tcase_add_test(only, verdicts_should_be_the_same_and_the_rest_there_when_asked_for);
    suite_add_tcase(out, only);
    return out;
}

HF_TEST_MAIN(suite)
