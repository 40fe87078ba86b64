/* The writer: exact bytes, and everything it writes reads back strictly. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/json.h"

static hf_text out;
static hf_json_writer writer;

static void start(void) {
    out = (hf_text){0};
    hf_json_writer_start(&writer, &out);
}

static void finish(void) {
    hf_text_free(&out);
}

static void must_be(const char *expected) {
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    ck_assert(!out.failed);
    ck_assert_str_eq(out.bytes, expected);
    ck_assert_int_eq(hf_json_parse(arena, NULL, out.bytes, out.length, &root, NULL), HF_OK);
    hf_arena_free(arena);
}

START_TEST(everything_has_its_line) {
    hf_json_open_object(&writer, NULL);
    hf_json_add_text(&writer, "format", "holdfast-factor/1");
    hf_json_add_count(&writer, "n", 8);
    hf_json_add_number(&writer, "k", 0.1);
    hf_json_add_bool(&writer, "converged", true);
    hf_json_add_bool(&writer, "rejected", false);
    hf_json_open_array(&writer, "rows");
    hf_json_add_number(&writer, NULL, -1.5);
    hf_json_open_object(&writer, NULL);
    hf_json_add_text(&writer, "mode", NULL);
    hf_json_close(&writer, false);
    hf_json_close(&writer, true);
    hf_json_open_array(&writer, "empty");
    hf_json_close(&writer, true);
    hf_json_open_object(&writer, "none");
    hf_json_close(&writer, false);
    hf_json_close(&writer, false);
    must_be("{\n"
            "  \"format\": \"holdfast-factor/1\",\n"
            "  \"n\": 8,\n"
            "  \"k\": 0.1,\n"
            "  \"converged\": true,\n"
            "  \"rejected\": false,\n"
            "  \"rows\": [\n"
            "    -1.5,\n"
            "    {\n"
            "      \"mode\": null\n"
            "    }\n"
            "  ],\n"
            "  \"empty\": [],\n"
            "  \"none\": {}\n"
            "}\n");
}
END_TEST

START_TEST(no_number_is_null_with_a_reason) {
    hf_json_open_object(&writer, NULL);
    hf_json_add_number(&writer, "mean", (double)NAN);
    hf_json_add_number(&writer, "high", (double)INFINITY);
    hf_json_add_null(&writer, "value", "no_bound");
    hf_json_open_array(&writer, "list");
    hf_json_add_number(&writer, NULL, -(double)INFINITY);
    hf_json_add_null(&writer, NULL, "no place for a reason in a list");
    hf_json_close(&writer, true);
    hf_json_add_null(&writer, "other", NULL);
    hf_json_close(&writer, false);
    must_be("{\n"
            "  \"mean\": null,\n"
            "  \"mean_reason\": \"not_finite\",\n"
            "  \"high\": null,\n"
            "  \"high_reason\": \"not_finite\",\n"
            "  \"value\": null,\n"
            "  \"reason\": \"no_bound\",\n"
            "  \"list\": [\n"
            "    null,\n"
            "    null\n"
            "  ],\n"
            "  \"other\": null\n"
            "}\n");
}
END_TEST

START_TEST(a_long_key_has_its_reason) {
    char key[301];
    memset(key, 'k', 300);
    key[300] = '\0';
    hf_json_open_object(&writer, NULL);
    hf_json_add_number(&writer, key, (double)NAN);
    hf_json_close(&writer, false);
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    ck_assert_int_eq(hf_json_parse(arena, NULL, out.bytes, out.length, &root, NULL), HF_OK);
    ck_assert_uint_eq(strlen(root->first->next->key), 307);
    ck_assert_str_eq(root->first->next->key + 300, "_reason");
    hf_arena_free(arena);
}
END_TEST

START_TEST(every_character_is_quoted_so_that_it_comes_back) {
    char all[512];
    size_t length = 0;
    for (int c = 1; c < 128; c++) all[length++] = (char)c;
    memcpy(all + length, "\xC3\xA9\xE2\x82\xAC\xF0\x9F\x98\x80", 10);
    hf_json_open_object(&writer, NULL);
    hf_json_add_text(&writer, all, all);
    hf_json_close(&writer, false);
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    ck_assert_int_eq(hf_json_parse(arena, NULL, out.bytes, out.length, &root, NULL), HF_OK);
    ck_assert_str_eq(root->first->key, all);
    ck_assert_str_eq(root->first->text, all);
    hf_arena_free(arena);
}
END_TEST

START_TEST(quotes_are_written_short) {
    hf_json_quote(&out, "a\"b\\c\nd\te\x01/\x7F");
    ck_assert_str_eq(out.bytes, "\"a\\\"b\\\\c\\nd\\te\\u0001/\x7F\"");
    hf_text_free(&out);
    hf_json_quote(&out, "");
    ck_assert_str_eq(out.bytes, "\"\"");
}
END_TEST

/* A file name may be no UTF-8; the result that names it must be. Latin-1, a lone continuation, an overlong form, one cut off. */
START_TEST(results_stay_utf8) {
    hf_json_add_text(&writer, NULL, "gr\xF6sse \x80 \xC0\xAF \xE4\xB8");
    ck_assert_str_eq(out.bytes,
                     "\"gr\xEF\xBF\xBDsse \xEF\xBF\xBD \xEF\xBF\xBD\xEF\xBF\xBD \xEF\xBF\xBD\xEF\xBF\xBD\"");
    hf_text_free(&out);
    hf_json_quote(&out, "gr\xF6sse"); /* in an edit it must be refused, not changed */
    ck_assert_str_eq(out.bytes, "\"gr\xF6sse\"");
}
END_TEST

START_TEST(depth_64_is_written) {
    for (int depth = 0; depth < 64; depth++) hf_json_open_array(&writer, NULL);
    for (int depth = 0; depth < 64; depth++) hf_json_close(&writer, true);
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    ck_assert_int_eq(hf_json_parse(arena, NULL, out.bytes, out.length, &root, NULL), HF_OK);
    hf_arena_free(arena);
}
END_TEST

static Suite *write_suite(void) {
    Suite *suite = suite_create("base_json_write");
    TCase *all = tcase_create("write");
    tcase_add_checked_fixture(all, start, finish);
    tcase_add_test(all, everything_has_its_line);
    tcase_add_test(all, no_number_is_null_with_a_reason);
    tcase_add_test(all, a_long_key_has_its_reason);
    tcase_add_test(all, every_character_is_quoted_so_that_it_comes_back);
    tcase_add_test(all, quotes_are_written_short);
    tcase_add_test(all, results_stay_utf8);
    tcase_add_test(all, depth_64_is_written);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(write_suite)
