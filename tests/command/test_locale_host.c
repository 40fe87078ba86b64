/* A program that has set a locale with a decimal comma (see base/comma_locale.sh) calls the commands: every byte is as without it. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/command/command.h"

enum { MOST_WORDS = 12 };

#define CASES HF_TEST_DIR "/command/cases/"

static const char *const lines[][MOST_WORDS] = {
    {"assess", CASES "pulled.json", "-o"},
    {"assess", CASES "pulled.json", "--json", "-o"},
    {"report", CASES "pulled.json", "-o"},
    {"check", CASES "pulled.json", "-o"},
    {"export", CASES "pulled.json", "--unit", "kN", "-o"},
    {"compare", CASES "two.json", "-o"},
    {"notebook", CASES "pulled.json", "-o"},
    {"chart", "probability", CASES "pulled.json", "-o"},
    {"factor", "--n", "5", "-o"},
    {"plan", "--mean", "900.5", "--cv", "0.12", "--family", "normal", "-o"},
    {"plan", "--mean=-900.5", "--cv", "0.12", "-o"}, /* refused: the words go to stderr */
};

static char output[128], errors[128];

static void run(size_t line, hf_text *out) {
    static char program[] = "holdfast";
    char *words[MOST_WORDS + 2] = {program};
    int count = 1;
    for (; lines[line][count - 1]; count++) words[count] = (char *)(size_t)lines[line][count - 1];
    words[count++] = output;
    (void)remove(output);
    ck_assert_ptr_nonnull(freopen(errors, "w", stderr));
    (void)hf_command_main(count, words);
    (void)fflush(stderr);
    if (hf_file_exists(output)) ck_assert_int_eq(hf_file_read(output, 1 << 26, out, NULL), HF_OK);
    ck_assert_int_eq(hf_file_read(errors, 1 << 20, out, NULL), HF_OK);
}

START_TEST(every_byte_is_the_same) {
    const char *name = getenv("HF_COMMA_LOCALE");
    hf_text plain = {0}, comma = {0};
    char half[8];
    run((size_t)_i, &plain);
    ck_assert_msg(name && setlocale(LC_ALL, "C") && setlocale(LC_NUMERIC, name), "run by comma_locale.sh");
    (void)snprintf(half, sizeof half, "%.1f", 0.5);
    ck_assert_str_eq(half, "0,5");
    run((size_t)_i, &comma);
    (void)setlocale(LC_ALL, "C");
    ck_assert_uint_gt(plain.length, 20);
    ck_assert_uint_eq(plain.length, comma.length);
    ck_assert_msg(memcmp(plain.bytes, comma.bytes, plain.length) == 0, "%s", lines[_i][0]);
    hf_text_free(&plain);
    hf_text_free(&comma);
    (void)remove(output);
    (void)remove(errors);
}
END_TEST

static Suite *host_suite(void) {
    Suite *suite = suite_create("command_locale_host");
    TCase *all = tcase_create("all");
    const char *folder = getenv("LOCPATH"); /* made and removed by comma_locale.sh */
    (void)snprintf(output, sizeof output, "%.100s/out", folder ? folder : ".");
    (void)snprintf(errors, sizeof errors, "%.100s/err", folder ? folder : ".");
    tcase_set_timeout(all, 120);
    tcase_add_loop_test(all, every_byte_is_the_same, 0, sizeof lines / sizeof *lines);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(host_suite)
