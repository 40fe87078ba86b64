/* Status codes are pinned, and an error carries its words whole. */
#include <string.h>
#include "check_close.h"
#include "holdfast/base/error.h"

typedef struct pinned {
    hf_status status;
    int value;
    const char *name, *text;
} pinned;

/* The list of status.h once more, by hand: a change of meaning must fail here. */
static const pinned table[] = {
    {HF_OK, 0, "ok", "done"},
    {HF_USAGE, 1, "usage", "the command line asks for something that does not exist"},
    {HF_BAD_DATA, 2, "bad_data", "the file says something that cannot be"},
    {HF_NO_RESULT, 3, "no_result", "nothing can be computed from these data"},
    {HF_RANGE, 4, "range", "a number lies outside the range the method is proven for"},
    {HF_NUMERIC, 5, "numeric", "a numerical method did not reach its tolerance"},
    {HF_MEMORY, 6, "memory", "out of memory"},
    {HF_FILE, 7, "file", "a file could not be read or written"},
};
enum { ROWS = sizeof table / sizeof *table };

START_TEST(statuses_are_pinned) {
    int listed = 0;
#define COUNT_STATUS(name, value, word, sentence) listed++;
    HF_STATUS_LIST(COUNT_STATUS)
#undef COUNT_STATUS
    ck_assert_int_eq(listed, ROWS);
    ck_assert_int_eq((int)table[_i].status, table[_i].value);
    ck_assert_str_eq(hf_status_name(table[_i].status), table[_i].name);
    ck_assert_str_eq(hf_status_text(table[_i].status), table[_i].text);
}
END_TEST

START_TEST(a_number_that_is_no_status) {
    ck_assert_str_eq(hf_status_name((hf_status)8), "unknown");
    ck_assert_str_eq(hf_status_name((hf_status)99), "unknown");
    ck_assert_str_eq(hf_status_text((hf_status)99), "unknown status");
}
END_TEST

START_TEST(an_error_is_set_and_cleared) {
    hf_error error;
    memset(&error, 0x55, sizeof error);
    ck_assert_int_eq(hf_error_set(&error, HF_RANGE, "cv: found %g, expected at most %d", 1.5, 1), HF_RANGE);
    ck_assert_int_eq(error.status, HF_RANGE);
    ck_assert_str_eq(error.message, "cv: found 1.5, expected at most 1");
    ck_assert_ptr_null(error.where.file);
    ck_assert_uint_eq(error.where.line, 0);
    ck_assert_uint_eq(error.where.column, 0);
    ck_assert_str_eq(error.where.path, "");
    hf_error_clear(&error);
    ck_assert_int_eq(error.status, HF_OK);
    ck_assert_str_eq(error.message, "");
}
END_TEST

START_TEST(words_are_optional) {
    ck_assert_int_eq(hf_error_set(NULL, HF_FILE, "nobody reads %s", "this"), HF_FILE);
    hf_error_clear(NULL);
}
END_TEST

START_TEST(a_long_message_is_cut) {
    hf_error error;
    char thousand[1001];
    memset(thousand, 'x', 1000);
    thousand[1000] = '\0';
    ck_assert_int_eq(hf_error_set(&error, HF_USAGE, "%s", thousand), HF_USAGE);
    ck_assert_uint_eq(strlen(error.message), HF_MESSAGE_SIZE - 1);
}
END_TEST

START_TEST(a_message_may_quote_the_one_before) {
    hf_error error;
    (void)hf_error_set(&error, HF_BAD_DATA, "found 0");
    (void)hf_error_set(&error, HF_BAD_DATA, "tare: %s", error.message);
    ck_assert_str_eq(error.message, "tare: found 0");
}
END_TEST

static Suite *status_suite(void) {
    Suite *suite = suite_create("base_status");
    TCase *all = tcase_create("status");
    tcase_add_loop_test(all, statuses_are_pinned, 0, ROWS);
    tcase_add_test(all, a_number_that_is_no_status);
    tcase_add_test(all, an_error_is_set_and_cleared);
    tcase_add_test(all, words_are_optional);
    tcase_add_test(all, a_long_message_is_cut);
    tcase_add_test(all, a_message_may_quote_the_one_before);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(status_suite)
