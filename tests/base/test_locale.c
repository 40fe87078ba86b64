/* Numbers keep their point in a program that runs in a locale with a decimal comma (see comma_locale.sh), and its locale is
 * left as it was. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"
#include "holdfast/load/unit.h"

static void comma(void) {
    char text[16];
    const char *name = getenv("HF_COMMA_LOCALE");
    ck_assert_msg(name && setlocale(LC_NUMERIC, name),
                  "no locale with a decimal comma: run by comma_locale.sh");
    (void)snprintf(text, sizeof text, "%.1f", 0.5);
    ck_assert_str_eq(text, "0,5");
}

static void point(void) {
    char text[16];
    (void)snprintf(text, sizeof text, "%.1f", 0.5);
    ck_assert_str_eq(text, "0,5"); /* nobody has switched it off */
    (void)setlocale(LC_NUMERIC, "C");
}

START_TEST(numbers_keep_their_point) {
    char out[HF_NUMBER_SIZE];
    double value = 0;
    ck_assert(hf_number_read("812.4", 5, &value));
    ck_assert_double_eq(value, 812.4);
    ck_assert(!hf_number_read("812,4", 5, &value));
    ck_assert_str_eq(hf_number_shortest(0.1, out), "0.1");
    ck_assert_str_eq(hf_number_shortest(1.5e300, out), "1.5e+300");
    ck_assert_str_eq(hf_number_figures(812.4, 5, out), "812.40");
    ck_assert_str_eq(hf_number_figures(1.2345e-9, 3, out), "1.23e-09");
    ck_assert_double_eq(hf_number_round_down(588.4567, 4), 588.4);
    ck_assert_double_eq(hf_number_round_down(0.9996, 3), 0.999);
}
END_TEST

START_TEST(texts_keep_their_point) {
    hf_arena *arena = hf_arena_create();
    hf_text text = {0};
    hf_error error;
    hf_text_addf(&text, "%.2f N", 812.4);
    ck_assert_str_eq(text.bytes, "812.40 N");
    ck_assert_str_eq(hf_arena_format(arena, "%g", 1.5), "1.5");
    (void)hf_error_set(&error, HF_RANGE, "found %g", 2.5);
    ck_assert_str_eq(error.message, "found 2.5");
    hf_text_free(&text);
    hf_arena_free(arena);
}
END_TEST

START_TEST(files_keep_their_point) {
    static const char text[] = "[0.5, -1.25e-3, 1234567.875]";
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    hf_load load = {0, NULL};
    ck_assert_int_eq(hf_json_parse(arena, NULL, text, strlen(text), &root, NULL), HF_OK);
    ck_assert_double_eq(root->first->number, 0.5);
    ck_assert_double_eq(root->first->next->number, -1.25e-3);
    ck_assert_double_eq(root->first->next->next->number, 1234567.875);
    ck_assert_int_eq(hf_load_read("1.25 kN", 7, NULL, &load, NULL), HF_OK);
    ck_assert_double_eq(load.value, 1.25);
    hf_arena_free(arena);
}
END_TEST

static Suite *locale_suite(void) {
    Suite *suite = suite_create("base_locale");
    TCase *all = tcase_create("locale");
    tcase_add_checked_fixture(all, comma, point);
    tcase_add_test(all, numbers_keep_their_point);
    tcase_add_test(all, texts_keep_their_point);
    tcase_add_test(all, files_keep_their_point);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(locale_suite)
