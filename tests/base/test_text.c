/* Growing texts, terminal columns, wrapping, UTF-8 and the nearest word. */
#include <string.h>
#include "check_close.h"
#include "holdfast/base/text.h"

START_TEST(texts_grow) {
    hf_text text = {0};
    for (int i = 0; i < 10000; i++) hf_text_addf(&text, "%d,", i % 10);
    hf_text_add_bytes(&text, "a\0b", 3);
    ck_assert(!text.failed);
    ck_assert_uint_eq(text.length, 20003);
    ck_assert(memcmp(text.bytes + 20000, "a\0b", 4) == 0); /* with the terminating zero */
    ck_assert(memcmp(text.bytes, "0,1,2,3,4,5,6,7,8,9,0,1,", 24) == 0);
    hf_text_free(&text);
    ck_assert_ptr_null(text.bytes);
    ck_assert_uint_eq(text.length, 0);
    hf_text_free(NULL);
}
END_TEST

START_TEST(a_failure_is_remembered) {
    hf_text text = {0};
    hf_text_add(&text, "whole");
    hf_text_add_bytes(&text, "x", (size_t)-1); /* can never fit, and must not be read */
    ck_assert(text.failed);
    hf_text_add(&text, " half");
    hf_text_addf(&text, "%d", 5);
    ck_assert_str_eq(text.bytes, "whole");
    hf_text_free(&text);
}
END_TEST

typedef struct width {
    const char *text;
    size_t columns;
} width;

/* Widths by Unicode Standard Annex 11 (East Asian Width) and the general category of combining marks. */
static const width widths[] = {
    {"", 0},
    {"kN", 2},
    {"größe", 5},
    {"e\xCC\x81", 1},                 /* e and a combining acute accent */
    {"\xE4\xB8\xAD\xE6\x96\x87", 4},  /* two ideographs */
    {"\xEA\xB0\x80", 2},              /* a Hangul syllable */
    {"\xEF\xBC\xA1", 2},              /* fullwidth A */
    {"\xF0\x9F\x98\x80", 2},          /* an emoji */
    {"\xE2\x89\xA4 5 \xC2\xB7 2", 7}, /* ≤ 5 · 2 */
    {"\xE2\x80\x8B", 0},              /* zero width space */
    {"\xFF\xC3", 2},                  /* two bytes that are no UTF-8 */
    {"\xE4\xB8", 2},                  /* a character cut off */
};

START_TEST(columns_are_counted) {
    const width *row = &widths[_i];
    ck_assert_msg(hf_text_columns(row->text) == row->columns, "\"%s\": %zu columns, expected %zu", row->text,
                  hf_text_columns(row->text), row->columns);
}
END_TEST

START_TEST(cuts_keep_characters_whole) {
    ck_assert_uint_eq(hf_text_cut("newton", 3), 3);
    ck_assert_uint_eq(hf_text_cut("newton", 60), 6);
    ck_assert_uint_eq(hf_text_cut("\xC3\xB6\xC3\xB6\xC3\xB6", 2), 4);
    ck_assert_uint_eq(hf_text_cut("\xE4\xB8\xAD\xE6\x96\x87", 3),
                      3);                               /* the second ideograph needs a fourth column */
    ck_assert_uint_eq(hf_text_cut("e\xCC\x81x", 1), 3); /* the accent goes with its letter */
    ck_assert_uint_eq(hf_text_cut("", 5), 0);
}
END_TEST

START_TEST(words_are_wrapped) {
    hf_text text = {0};
    hf_text_wrap(&text, "one two  three\nfour", 9, "- ", "  ");
    ck_assert_str_eq(text.bytes, "- one two\n  three\n  four\n");
    hf_text_free(&text);
    hf_text_wrap(&text, "größe größe", 11, "", ""); /* 11 columns in 15 bytes */
    ck_assert_str_eq(text.bytes, "größe größe\n");
    hf_text_free(&text);
    hf_text_wrap(&text, "a verylongword b", 6, "", "> ");
    ck_assert_str_eq(text.bytes, "a\n> verylongword\n> b\n");
    hf_text_free(&text);
    hf_text_wrap(&text, "", 6, "* ", "");
    ck_assert_str_eq(text.bytes, "* \n");
    hf_text_free(&text);
}
END_TEST

START_TEST(lines_fit_their_width) {
    const char *words =
        "a joint of which nobody has pulled a second one tells little about the scatter of its kind";
    for (size_t columns = 12; columns < 60; columns++) {
        hf_text text = {0};
        hf_text_wrap(&text, words, columns, "  ", "  ");
        for (char *line = strtok(text.bytes, "\n"); line; line = strtok(NULL, "\n"))
            ck_assert_uint_le(hf_text_columns(line), columns);
        hf_text_free(&text);
    }
}
END_TEST

typedef struct character {
    const char *bytes;
    size_t length, expected;
} character;

/* RFC 3629, section 4: the ends of every row of the grammar, and one step beyond. */
static const character characters[] = {
    {"", 0, 0},
    {"\x00", 1, 1},
    {"\x7F", 1, 1},
    {"\x80", 1, 0},
    {"\xBF", 1, 0},
    {"\xC0\x80", 2, 0},
    {"\xC1\xBF", 2, 0},
    {"\xC2\x80", 2, 2},
    {"\xDF\xBF", 2, 2},
    {"\xC2", 1, 0},
    {"\xC2\x7F", 2, 0},
    {"\xE0\x9F\xBF", 3, 0},
    {"\xE0\xA0\x80", 3, 3},
    {"\xED\x9F\xBF", 3, 3},
    {"\xED\xA0\x80", 3, 0},
    {"\xED\xBF\xBF", 3, 0},
    {"\xEE\x80\x80", 3, 3},
    {"\xEF\xBF\xBF", 3, 3},
    {"\xE4\xB8", 2, 0},
    {"\xE4\xB8\x41", 3, 0},
    {"\xF0\x8F\xBF\xBF", 4, 0},
    {"\xF0\x90\x80\x80", 4, 4},
    {"\xF4\x8F\xBF\xBF", 4, 4},
    {"\xF4\x90\x80\x80", 4, 0},
    {"\xF5\x80\x80\x80", 4, 0},
    {"\xF0\x9F\x98", 3, 0},
    {"\xFF", 1, 0},
};

START_TEST(characters_are_utf8) {
    const character *row = &characters[_i];
    ck_assert_msg(hf_text_character(row->bytes, row->length) == row->expected,
                  "row %d: %zu bytes, expected %zu", _i, hf_text_character(row->bytes, row->length),
                  row->expected);
}
END_TEST

static const char *const commands[] = {"new",    "check",   "record",     "plan",
                                       "assess", "compare", "confidence", "N"};
enum { COMMANDS = sizeof commands / sizeof *commands };

typedef struct typing {
    const char *word, *nearest;
} typing;

static const typing typings[] = {
    {"asess", "assess"},          /* one left out */
    {"aseses", "assess"},         /* neighbours swapped, counted once */
    {"recrod", "record"},         /* the same */
    {"conpaer", "compare"},       /* one wrong, two swapped: 2 ≤ 1 + 7/3 */
    {"confidense", "confidence"}, /* one wrong */
    {"assess", "assess"},         /* itself */
    {"plam", "plan"},
    {"n", "N"},  /* only the case is wrong */
    {"x", NULL}, /* shares nothing with "N" */
    {"weather", NULL},
    {"", NULL},
    {"a word longer than the sixty-three letters that are looked at and so near to nothing", NULL},
};

START_TEST(the_nearest_word_is_found) {
    const char *nearest = hf_text_nearest(typings[_i].word, commands, COMMANDS),
               *expected = typings[_i].nearest;
    ck_assert_msg(expected ? nearest && strcmp(nearest, expected) == 0 : !nearest,
                  "\"%s\": nearest \"%s\", expected \"%s\"", typings[_i].word, nearest ? nearest : "nothing",
                  expected ? expected : "nothing");
}
END_TEST

START_TEST(of_equally_near_the_first) {
    static const char *const pair[] = {"bold", "cold"};
    ck_assert_str_eq(hf_text_nearest("gold", pair, 2), "bold");
    ck_assert_ptr_null(hf_text_nearest("gold", pair, 0));
}
END_TEST

static Suite *text_suite(void) {
    Suite *suite = suite_create("base_text");
    TCase *all = tcase_create("text");
    tcase_add_test(all, texts_grow);
    tcase_add_test(all, a_failure_is_remembered);
    tcase_add_loop_test(all, columns_are_counted, 0, sizeof widths / sizeof *widths);
    tcase_add_test(all, cuts_keep_characters_whole);
    tcase_add_test(all, words_are_wrapped);
    tcase_add_test(all, lines_fit_their_width);
    tcase_add_loop_test(all, characters_are_utf8, 0, sizeof characters / sizeof *characters);
    tcase_add_loop_test(all, the_nearest_word_is_found, 0, sizeof typings / sizeof *typings);
    tcase_add_test(all, of_equally_near_the_first);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(text_suite)
