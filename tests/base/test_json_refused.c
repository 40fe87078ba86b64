/* What is no strict JSON is refused at the first mistake, with line, column, path and words.
 *
 * Places were worked out by hand on the text, columns counting characters. The mistakes are those RFC 8259 and RFC 3629 name,
 * those cJSON lets through, and those a person makes who edits the file by hand. */
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/json.h"

typedef struct mistake {
    const char *text;
    size_t length, line, column;
    const char *path, *message;
} mistake;

#define ANY_VALUE "a value (a number, a text in double quotes, true, false, null, { or [)"
#define ESCAPES "found an unknown escape in a text, expected one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX"
#define CONTROL "found a control character in a text, expected it written as an escape"
#define NO_UTF8 "found a byte that is no UTF-8, expected the file in UTF-8"
#define FIRST_HALF "found the first half of a surrogate pair without the second"
#define SECOND_HALF "found the second half of a surrogate pair without the first"
#define TEN_1 "1111111111"
#define EIGHT_OPEN "[[[[[[[["
#define BAD(text, line, column, path, message)                                                               \
    { (text), sizeof(text) - 1, (line), (column), (path), (message) }

static const mistake mistakes[] = {
    /* nothing, too little, too much */
    BAD("", 1, 1, "", "found the end of the file, expected " ANY_VALUE),
    BAD(" \n\t ", 2, 3, "", "found the end of the file, expected " ANY_VALUE),
    BAD("{} x", 1, 4, "", "found 'x', expected the end of the file"),
    BAD("{}\n{}", 2, 1, "", "found '{', expected the end of the file"),
    BAD("1 2", 1, 3, "", "found '2', expected the end of the file"),
    BAD("{}\0", 1, 3, "", "found byte 0x00, expected the end of the file"),
    BAD("\xEF\xBB\xBF{}", 1, 1, "", "found a byte order mark, expected plain UTF-8"),
    BAD("\xFF\xFE{\0}\0", 1, 1, "", "found byte 0xFF, expected " ANY_VALUE),
    /* brackets, commas, colons */
    BAD("{", 1, 2, "", "found the end of the file, expected a key in double quotes"),
    BAD("[", 1, 2, "[0]", "found the end of the file, expected " ANY_VALUE),
    BAD("[1", 1, 3, "", "found the end of the file, expected ',' or ']'"),
    BAD("{\"a\": 1", 1, 8, "", "found the end of the file, expected ',' or '}'"),
    BAD("{\"a\"", 1, 5, "", "found the end of the file, expected ':' after the key"),
    BAD("{\"a\" 1}", 1, 6, "", "found '1', expected ':' after the key"),
    BAD("{\"a\": }", 1, 7, "a", "found '}', expected " ANY_VALUE),
    BAD("{\"a\": 1,}", 1, 9, "", "found '}', expected a key in double quotes"),
    BAD("[1, 2, ]", 1, 8, "[2]", "found ']', expected " ANY_VALUE),
    BAD("[1 2]", 1, 4, "", "found '2', expected ',' or ']'"),
    BAD("[1,, 2]", 1, 4, "[1]", "found ',', expected " ANY_VALUE),
    BAD("[1}", 1, 3, "", "found '}', expected ',' or ']'"),
    BAD("{\"a\": 1]", 1, 8, "", "found ']', expected ',' or '}'"),
    BAD("]", 1, 1, "", "found ']', expected " ANY_VALUE),
    BAD("{\n  \"held\": 760\n  \"failed\": 800\n}", 3, 3, "", "found '\"', expected ',' or '}'"),
    BAD("{\"designs\": [{\"id\": \"ring\"}, {\"specimens\": [{}, {\"held\": 760; \"failed\": 800}]}]}", 1, 61,
        "designs[1].specimens[1]", "found ';', expected ',' or '}'"),
    /* not JSON, though other notations have it */
    BAD("{a: 1}", 1, 2, "", "found 'a', expected a key in double quotes"),
    BAD("{'a': 1}", 1, 2, "", "found ''', expected a key in double quotes"),
    BAD("{1: 2}", 1, 2, "", "found '1', expected a key in double quotes"),
    BAD("[1] // done", 1, 5, "", "found '/', expected the end of the file"),
    BAD("[1, /* two */ 2]", 1, 5, "[1]", "found '/', expected " ANY_VALUE),
    BAD("[NaN]", 1, 2, "[0]", "found 'N', expected " ANY_VALUE),
    BAD("[Infinity]", 1, 2, "[0]", "found 'I', expected " ANY_VALUE),
    BAD("[-Infinity]", 1, 2, "[0]", "found a number without digits"),
    BAD("[True]", 1, 2, "[0]", "found 'T', expected " ANY_VALUE),
    BAD("[tru]", 1, 2, "[0]", "found 't', expected " ANY_VALUE),
    BAD("[nullify]", 1, 6, "", "found 'i', expected ',' or ']'"),
    BAD("[1\xC2\xA0]", 1, 3, "", "found byte 0xC2, expected ',' or ']'"), /* a no-break space */
    BAD("[1,\v2]", 1, 4, "[1]", "found byte 0x0B, expected " ANY_VALUE),
    /* numbers */
    BAD("[+1]", 1, 2, "[0]", "found '+', expected " ANY_VALUE),
    BAD("[.5]", 1, 2, "[0]", "found '.', expected " ANY_VALUE),
    BAD("[-]", 1, 2, "[0]", "found a number without digits"),
    BAD("[01]", 1, 2, "[0]", "found a number with a leading zero"),
    BAD("[-012]", 1, 2, "[0]", "found a number with a leading zero"),
    BAD("[5.]", 1, 2, "[0]", "found a number without digits after its point"),
    BAD("[5.e3]", 1, 2, "[0]", "found a number without digits after its point"),
    BAD("[1e]", 1, 2, "[0]", "found a number without digits in its exponent"),
    BAD("[1e+]", 1, 2, "[0]", "found a number without digits in its exponent"),
    BAD("[1e5.5]", 1, 5, "", "found '.', expected ',' or ']'"),
    BAD("[0x10]", 1, 3, "", "found 'x', expected ',' or ']'"),
    BAD("[1,5 ; 2]", 1, 6, "", "found ';', expected ',' or ']'"),
    BAD("{\"held\": 1e999}", 1, 10, "held", "found a number too large to hold"),
    BAD("{\"held\": -1.8e308}", 1, 10, "held", "found a number too large to hold"),
    BAD("[" TEN_1 TEN_1 TEN_1 TEN_1 TEN_1 TEN_1 "1111]", 1, 2, "[0]",
        "found a number of more than 63 characters"),
    /* texts */
    BAD("[\"open", 1, 7, "[0]", "found the end of the file, expected the closing quote of a text"),
    BAD("{\"open", 1, 7, "", "found the end of the file, expected the closing quote of a text"),
    BAD("[\"a\nb\"]", 1, 4, "[0]", CONTROL),
    BAD("[\"a\tb\"]", 1, 4, "[0]", CONTROL),
    BAD("[\"a\0b\"]", 1, 4, "[0]", CONTROL),
    BAD("[\"\\x41\"]", 1, 3, "[0]", ESCAPES),
    BAD("[\"\\'\"]", 1, 3, "[0]", ESCAPES),
    BAD("[\"\\", 1, 3, "[0]", ESCAPES),
    BAD("[\"\\u12\"]", 1, 3, "[0]", "found \\u without four hexadecimal digits"),
    BAD("[\"\\u12G4\"]", 1, 3, "[0]", "found \\u without four hexadecimal digits"),
    BAD("[\"\\u", 1, 3, "[0]", "found \\u without four hexadecimal digits"),
    BAD("[\"x\\u0000\"]", 1, 4, "[0]", "found \\u0000, which no text may hold"),
    BAD("{\"\\u0000\": 1}", 1, 3, "", "found \\u0000, which no text may hold"),
    BAD("[\"\\ud83d\"]", 1, 3, "[0]", FIRST_HALF),
    BAD("[\"\\ud83d\\n\"]", 1, 3, "[0]", FIRST_HALF),
    BAD("[\"\\ud83d\\u0041\"]", 1, 3, "[0]", FIRST_HALF),
    BAD("[\"\\uD83D\\uD83D\"]", 1, 3, "[0]", FIRST_HALF),
    BAD("[\"\\ude00\\ud83d\"]", 1, 3, "[0]", SECOND_HALF),
    /* bytes that are no UTF-8 */
    BAD("[\"gr\xF6sse\"]", 1, 5, "[0]", NO_UTF8),             /* Latin-1 */
    BAD("[\"\xC3\xB6\xC3\xB6 \x80\"]", 1, 6, "[0]", NO_UTF8), /* two characters in four bytes before it */
    BAD("[\"\xC0\xAF\"]", 1, 3, "[0]", NO_UTF8),              /* overlong / */
    BAD("[\"\xE0\x80\xAF\"]", 1, 3, "[0]", NO_UTF8),
    BAD("[\"\xF0\x80\x80\xAF\"]", 1, 3, "[0]", NO_UTF8),
    BAD("[\"\xED\xA0\x80\"]", 1, 3, "[0]", NO_UTF8),     /* a surrogate */
    BAD("[\"\xF4\x90\x80\x80\"]", 1, 3, "[0]", NO_UTF8), /* above U+10FFFF */
    BAD("[\"\xE4\xB8\"]", 1, 3, "[0]", NO_UTF8),         /* cut off */
    BAD("[\"\xE4\xB8", 1, 3, "[0]", NO_UTF8),
    /* keys twice */
    BAD("{\"held\": 1, \"held\": 2}", 1, 13, "", "found key \"held\" twice, first in line 1"),
    BAD("{\"a\": 1,\n \"b\": 2,\n \"a\": 3,\n \"b\": 4}", 3, 2, "", "found key \"a\" twice, first in line 1"),
    BAD("{\"a\": 1,\n \"a\": 2,\n \"a\": 3}", 2, 2, "", "found key \"a\" twice, first in line 1"),
    BAD("{\"ab\": 1, \"a\\u0062\": 2}", 1, 11, "", "found key \"ab\" twice, first in line 1"),
    BAD("{\"\": 1, \"\": 2}", 1, 9, "", "found key \"\" twice, first in line 1"),
    BAD("{\"designs\": [{}, {\"specimens\": [{}, {},\n {\"held\": 1,\n  \"held\": 2}]}]}", 3, 3,
        "designs[1].specimens[2]", "found key \"held\" twice, first in line 2"),
    BAD("{\"a\": {\"b\": 1, \"b\": 2}, \"a\": 3}", 1, 16, "a", "found key \"b\" twice, first in line 1"),
    BAD("{\"\\ud83d\\ude00\": 1, \"\xF0\x9F\x98\x80\": 2}", 1, 21, "",
        "found key \"\xF0\x9F\x98\x80\" twice, first in line 1"),
    /* too deep: the sixty-fifth bracket */
    BAD(EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN EIGHT_OPEN "[", 1, 65,
        "[0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0]"
        "[0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0][0]",
        "found more than 64 levels of brackets"),
    /* lines end with \n; a \r is a blank */
    BAD("[1,\r\n2,\r\n x]", 3, 2, "[2]", "found 'x', expected " ANY_VALUE),
    BAD("{\"gr\xC3\xB6\xC3\x9F"
        "e\": {\"l\\u00e4nge\": tru}}",
        1, 26,
        "gr\xC3\xB6\xC3\x9F"
        "e.l\\u00e4nge",
        "found 't', expected " ANY_VALUE),
};
enum { MISTAKES = sizeof mistakes / sizeof *mistakes };

START_TEST(mistakes_are_refused_at_their_place) {
    const mistake *row = &mistakes[_i];
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    hf_error error;
    memset(&error, 0x55, sizeof error);
    ck_assert_msg(hf_json_parse(arena, "x.json", row->text, row->length, &root, &error) == HF_BAD_DATA,
                  "accepted: %s", row->text);
    ck_assert_ptr_null(root);
    ck_assert_int_eq(error.status, HF_BAD_DATA);
    ck_assert_msg(strcmp(error.message, row->message) == 0, "%s\n  says: %s\nexpected: %s", row->text,
                  error.message, row->message);
    ck_assert_str_eq(error.where.file, "x.json");
    ck_assert_msg(error.where.line == row->line && error.where.column == row->column,
                  "%s: at %zu:%zu, expected %zu:%zu", row->text, error.where.line, error.where.column,
                  row->line, row->column);
    ck_assert_str_eq(error.where.path, row->path);
    hf_arena_free(arena);
}
END_TEST

START_TEST(words_are_optional) {
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    ck_assert_int_eq(hf_json_parse(arena, NULL, "[1,]", 4, &root, NULL), HF_BAD_DATA);
    ck_assert_int_eq(hf_json_parse(arena, NULL, "{\"a\":1,\"a\":1}", 13, &root, NULL), HF_BAD_DATA);
    ck_assert_int_eq(hf_json_parse(arena, NULL, NULL, 0, &root, NULL), HF_BAD_DATA);
    hf_arena_free(arena);
}
END_TEST

/* Any text that is cut short is refused; the place lies in what is left. */
START_TEST(every_cut_is_refused) {
    static const char text[] =
        "{\"gr\xC3\xB6\xC3\x9F"
        "e\": [1.5e3, -0.25, true, null,\n {\"\\u00e4\": \"\\ud83d\\ude00 \xE4\xB8\xAD\"}]}";
    for (size_t length = 0; length + 1 < sizeof text; length++) {
        hf_arena *arena = hf_arena_create();
        const hf_json *root = NULL;
        hf_error error;
        ck_assert_msg(hf_json_parse(arena, NULL, text, length, &root, &error) == HF_BAD_DATA,
                      "the first %zu bytes", length);
        ck_assert_uint_ge(error.where.line, 1);
        ck_assert_uint_le(error.where.column, length + 1);
        hf_arena_free(arena);
    }
}
END_TEST

/* A path longer than its place is cut between two characters. */
START_TEST(long_paths_keep_characters_whole) {
    hf_text text = {0};
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    hf_error error;
    hf_text_add(&text, "{\"x");
    for (int i = 0; i < 150; i++) hf_text_add(&text, "\xC3\xB6");
    hf_text_add(&text, "\": ?}");
    ck_assert_int_eq(hf_json_parse(arena, NULL, text.bytes, text.length, &root, &error), HF_BAD_DATA);
    ck_assert_uint_eq(strlen(error.where.path), 199); /* x and 99 characters of two bytes */
    ck_assert_uint_eq(hf_text_columns(error.where.path), 100);
    hf_arena_free(arena);
    hf_text_free(&text);
}
END_TEST

static Suite *refused_suite(void) {
    Suite *suite = suite_create("base_json_refused");
    TCase *all = tcase_create("refused");
    tcase_add_loop_test(all, mistakes_are_refused_at_their_place, 0, MISTAKES);
    tcase_add_test(all, words_are_optional);
    tcase_add_test(all, every_cut_is_refused);
    tcase_add_test(all, long_paths_keep_characters_whole);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(refused_suite)
