/* What is JSON is read whole: kinds, keys, texts, numbers, order and the place of everything; and edits keep every other byte. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/json.h"

static hf_arena *arena;

static void make_arena(void) {
    arena = hf_arena_create();
}

static void free_arena(void) {
    hf_arena_free(arena);
}

static const hf_json *read(const char *text) {
    const hf_json *root = NULL;
    hf_error error;
    hf_error_clear(&error);
    hf_status status = hf_json_parse(arena, "good.json", text, strlen(text), &root, &error);
    ck_assert_msg(status == HF_OK, "%s: %zu:%zu: %s", text, error.where.line, error.where.column,
                  error.message);
    return root;
}

static const hf_json *item(const hf_json *list, size_t index) {
    const hf_json *child = list->first;
    while (child && index-- > 0) child = child->next;
    ck_assert_ptr_nonnull(child);
    return child;
}

static const char *const good[] = {
    "0",
    "-0",
    "\"\"",
    "true",
    "false",
    "null",
    "[]",
    "{}",
    " [ ] ",
    "\t\r\n{ \n} \r\n",
    "[[[[]]]]",
    "[{}, {}, [{}]]",
    "{\"\": {\"\": {\"\": 1}}}",
    "{\"a\": 1, \"A\": 2, \"a \": 3}",
    "[1, 1, 1]",
    "[1e5, 1E5, 1e+5, 1E-05, 0e0, 0.0, -0.0e-0]",
    "[1e-400, 4.9e-324, 1.7976931348623157e308]",
    "[123456789012345678901234567890, 0.00000000000000000000000000001]",
    "[111111111122222222223333333333444444444455555555556666666666777]", /* 63 characters */
    "\"\x7F \xC2\x80 \xDF\xBF \xE0\xA0\x80 \xED\x9F\xBF \xEE\x80\x80 \xEF\xBF\xBF \xF0\x90\x80\x80 "
    "\xF4\x8F\xBF\xBF\"",
    "[\"\\u0001\", \"\\uFFFF\", \"\\udbff\\udfff\"]",
    "[\"/\", \"\\/\"]",
    "[\"\xEF\xBB\xBF\"]",
};

START_TEST(good_texts_are_read) {
    (void)read(good[_i]);
}
END_TEST

START_TEST(depth_64_is_read) {
    char text[129] = "";
    memset(text, '[', 64);
    memset(text + 64, ']', 64);
    const hf_json *node = read(text);
    for (int depth = 1; depth < 64; depth++) {
        ck_assert_uint_eq(node->count, 1);
        node = node->first;
    }
    ck_assert_uint_eq(node->count, 0);
    ck_assert_int_eq(node->kind, HF_JSON_ARRAY);
}
END_TEST

START_TEST(values_are_read) {
    const hf_json *root =
        read("{\"text\": \"ring\", \"number\": -1.25e2, \"yes\": true, \"no\": false, \"none\": null,"
             " \"list\": [1, \"two\", []], \"object\": {\"a\": 1}}");
    ck_assert_int_eq(root->kind, HF_JSON_OBJECT);
    ck_assert_uint_eq(root->count, 7);
    ck_assert_ptr_null(root->key);
    ck_assert_ptr_null(root->parent);
    ck_assert_int_eq(hf_json_get(root, "text")->kind, HF_JSON_TEXT);
    ck_assert_str_eq(hf_json_get(root, "text")->text, "ring");
    ck_assert_int_eq(hf_json_get(root, "number")->kind, HF_JSON_NUMBER);
    ck_assert_double_eq(hf_json_get(root, "number")->number, -125);
    ck_assert_int_eq(hf_json_get(root, "yes")->kind, HF_JSON_TRUE);
    ck_assert_int_eq(hf_json_get(root, "no")->kind, HF_JSON_FALSE);
    ck_assert_int_eq(hf_json_get(root, "none")->kind, HF_JSON_NULL);
    const hf_json *list = hf_json_get(root, "list");
    ck_assert_int_eq(list->kind, HF_JSON_ARRAY);
    ck_assert_uint_eq(list->count, 3);
    ck_assert_uint_eq(list->index, 5);
    ck_assert_ptr_eq(list->parent, root);
    ck_assert_str_eq(item(list, 1)->text, "two");
    ck_assert_ptr_null(item(list, 1)->key);
    ck_assert_uint_eq(item(list, 2)->index, 2);
    ck_assert_ptr_null(item(list, 2)->next);
    ck_assert_double_eq(hf_json_get(hf_json_get(root, "object"), "a")->number, 1);
    ck_assert_ptr_null(hf_json_get(root, "Text")); /* case matters */
    ck_assert_ptr_null(hf_json_get(list, "text"));
}
END_TEST

START_TEST(escapes_are_resolved) {
    const hf_json *root = read("[\"\\\" \\\\ \\/ \\b\\f\\n\\r\\t\", \"\\u0041\\u00e9\\u20AC\", "
                               "\"\\ud83d\\ude00\", \"\\uD800\\uDC00\"]");
    ck_assert_str_eq(item(root, 0)->text, "\" \\ / \b\f\n\r\t");
    ck_assert_str_eq(item(root, 1)->text, "A\xC3\xA9\xE2\x82\xAC");
    ck_assert_str_eq(item(root, 2)->text, "\xF0\x9F\x98\x80");
    ck_assert_str_eq(item(root, 3)->text, "\xF0\x90\x80\x80");
    root = read("{\"a\\u0062\": 1, \"\\\"\": 2, \"\\\\\": 3}");
    ck_assert_double_eq(hf_json_get(root, "ab")->number, 1);
    ck_assert_double_eq(hf_json_get(root, "\"")->number, 2);
    ck_assert_double_eq(hf_json_get(root, "\\")->number, 3);
}
END_TEST

START_TEST(places_are_noted) {
    static const char text[] =
        "{ \"gr\xC3\xB6\xC3\x9F"
        "e\": 4,\n  \"designs\": [\n    {\"id\": \"ring\"},\r\n\t{ \"id\" :\n\"plate\" } ] }\n";
    const hf_json *root = read(text), *designs = hf_json_get(root, "designs");
    const hf_json *size = hf_json_get(root, "gr\xC3\xB6\xC3\x9F"
                                            "e"),
                  *plate = hf_json_get(item(designs, 1), "id");
    ck_assert_uint_eq(root->line, 1);
    ck_assert_uint_eq(root->column, 1);
    ck_assert_uint_eq(root->key_line, 0);
    ck_assert_uint_eq(root->start, 0);
    ck_assert_uint_eq(root->end, sizeof text - 2); /* without the last line end */
    ck_assert_uint_eq(size->key_line, 1);
    ck_assert_uint_eq(size->key_column, 3);
    ck_assert_uint_eq(size->column, 12); /* characters */
    ck_assert_uint_eq(size->start, 13);  /* bytes */
    ck_assert_uint_eq(size->end, 14);
    ck_assert_uint_eq(designs->line, 2);
    ck_assert_uint_eq(designs->column, 14);
    ck_assert_uint_eq(item(designs, 0)->line, 3);
    ck_assert_uint_eq(item(designs, 0)->column, 5);
    ck_assert_uint_eq(item(designs, 1)->line, 4);
    ck_assert_uint_eq(item(designs, 1)->column, 2); /* a tab is one character */
    ck_assert_uint_eq(plate->key_line, 4);
    ck_assert_uint_eq(plate->key_column, 4);
    ck_assert_uint_eq(plate->line, 5);
    ck_assert_uint_eq(plate->column, 1);
    ck_assert_uint_eq(plate->end - plate->start, 7);
    ck_assert(memcmp(text + plate->start, "\"plate\"", 7) == 0);
    ck_assert(memcmp(text + plate->key_start, "\"id\"", 4) == 0);
}
END_TEST

START_TEST(paths_are_written) {
    const hf_json *root =
        read("{\"designs\": [{}, {\"specimens\": [{}, {}, {\"held\": 1}]}], \"\": [[0, [5]]]}");
    const hf_json *held = item(item(hf_json_get(item(hf_json_get(root, "designs"), 1), "specimens"), 2), 0);
    char path[HF_PATH_SIZE], small[12];
    hf_json_path(held, path, sizeof path);
    ck_assert_str_eq(path, "designs[1].specimens[2].held");
    hf_json_path(root, path, sizeof path);
    ck_assert_str_eq(path, "");
    hf_json_path(item(item(hf_json_get(root, ""), 0), 1), path, sizeof path);
    ck_assert_str_eq(path, "[0][1]");
    hf_json_path(held, small, sizeof small);
    ck_assert_str_eq(small, "designs[1].");
}
END_TEST

START_TEST(kinds_have_names) {
    static const char *const names[] = {"null", "false", "true", "a number", "a text", "a list", "an object"};
    for (int kind = HF_JSON_NULL; kind <= HF_JSON_OBJECT; kind++)
        ck_assert_str_eq(hf_json_kind_name((hf_json_kind)kind), names[kind]);
}
END_TEST

/* Around the 32 members that are compared without an allocation. */
START_TEST(many_members_are_compared) {
    for (int count = 30; count <= 36; count++)
        for (int twice = 0; twice < 2; twice++) {
            hf_text text = {0};
            hf_error error;
            const hf_json *root = NULL;
            for (int i = 0; i < count; i++) hf_text_addf(&text, "%s\"k%d\": %d", i ? ", " : "{", i, i);
            hf_text_addf(&text, ",\n\"k%d\": 0}", twice ? 7 : count);
            hf_status status = hf_json_parse(arena, NULL, text.bytes, text.length, &root, &error);
            ck_assert_int_eq(status, twice ? HF_BAD_DATA : HF_OK);
            if (twice) ck_assert_str_eq(error.message, "found key \"k7\" twice, first in line 1");
            if (twice) ck_assert_uint_eq(error.where.line, 2);
            hf_text_free(&text);
        }
}
END_TEST

static const char campaign[] = "{\r\n\t\"held\" :  760 , \"note\": \"gr\xC3\xB6\xC3\x9F"
                               "e\\u00e4\",\"failed\":800  }\n\n";

static void splice(const hf_json_edit *edits, size_t count, const char *expected) {
    hf_text out = {0};
    ck_assert_int_eq(hf_json_splice(campaign, sizeof campaign - 1, edits, count, &out), HF_OK);
    ck_assert_str_eq(out.bytes, expected);
    ck_assert_uint_eq(out.length, strlen(expected));
    hf_text_free(&out);
}

START_TEST(edits_keep_every_other_byte) {
    const hf_json *root = read(campaign), *held = hf_json_get(root, "held"),
                  *failed = hf_json_get(root, "failed");
    hf_json_edit edits[] = {{failed->start, failed->end, "840.5"}, /* any order */
                            {held->start, held->end, "800"},
                            {root->end - 1, root->end - 1, ", \"mode\": \"stitch\""}};
    splice(NULL, 0, campaign);
    splice(edits, 1,
           "{\r\n\t\"held\" :  760 , \"note\": \"gr\xC3\xB6\xC3\x9F"
           "e\\u00e4\",\"failed\":840.5  }\n\n");
    splice(edits, 3,
           "{\r\n\t\"held\" :  800 , \"note\": \"gr\xC3\xB6\xC3\x9F"
           "e\\u00e4\",\"failed\":840.5  , \"mode\": \"stitch\"}\n\n");
    hf_json_edit all = {0, sizeof campaign - 1, "[]"};
    splice(&all, 1, "[]");
    hf_json_edit neighbours[] = {{0, 1, "<"}, {1, 1, "|"}, {1, sizeof campaign - 1, ">"}};
    splice(neighbours, 3, "<|>");
    hf_json_edit same[] = {{1, sizeof campaign - 1, "]"}, {1, 1, "a"}, {1, 1, "b"}, {0, 1, "["}};
    splice(same, 4, "[ab]");
}
END_TEST

static Suite *json_suite(void) {
    Suite *suite = suite_create("base_json");
    TCase *all = tcase_create("json");
    tcase_add_checked_fixture(all, make_arena, free_arena);
    tcase_add_loop_test(all, good_texts_are_read, 0, sizeof good / sizeof *good);
    tcase_add_test(all, depth_64_is_read);
    tcase_add_test(all, values_are_read);
    tcase_add_test(all, escapes_are_resolved);
    tcase_add_test(all, places_are_noted);
    tcase_add_test(all, paths_are_written);
    tcase_add_test(all, kinds_have_names);
    tcase_add_test(all, many_members_are_compared);
    tcase_add_test(all, edits_keep_every_other_byte);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(json_suite)
