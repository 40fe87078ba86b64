/* Size: a million elements or members and 64 MiB take time in proportion, not in its square. */
#include <stdio.h>
#include <string.h>
#include <time.h>
#include "check_close.h"
#include "holdfast/base/json.h"

enum { MILLION = 1000000, MOST_SECONDS = 60 };

static double seconds(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Parses and frees; prints the time, so that a look at the log tells more than pass or fail. */
static void parse(const char *what, const hf_text *text, hf_status expected, size_t count) {
    hf_arena *arena = hf_arena_create();
    const hf_json *root = NULL;
    hf_error error;
    double start = seconds();
    hf_status status = hf_json_parse(arena, NULL, text->bytes, text->length, &root, &error);
    double used = seconds() - start;
    printf("%s: %.1f MB in %.2f s\n", what, (double)text->length / 1e6, used);
    ck_assert_int_eq(status, expected);
    if (status == HF_OK)
        ck_assert_uint_eq(root->count, count);
    else
        ck_assert_str_eq(error.message,
                         "found key \"a shared beginning of the key 5\" twice, first in line 7");
    ck_assert_double_lt(used, MOST_SECONDS);
    hf_arena_free(arena);
}

START_TEST(a_million_elements) {
    hf_text text = {0};
    for (int i = 0; i < MILLION; i++) hf_text_addf(&text, "%c\n%d.25", i ? ',' : '[', i);
    hf_text_add(&text, "]");
    ck_assert(!text.failed);
    parse("a list of a million numbers", &text, HF_OK, MILLION);
    hf_text_free(&text);
}
END_TEST

/* In falling order and with a long common beginning, which is what a simple search by comparison likes least. */
START_TEST(a_million_members) {
    hf_text text = {0};
    for (int i = 0; i < MILLION; i++)
        hf_text_addf(&text, "%c\n\"a shared beginning of the key %d\":1", i ? ',' : '{',
                     i < 10 ? i : MILLION - i + 9);
    hf_text_add(&text, "}");
    parse("an object of a million members", &text, HF_OK, MILLION);
    text.length--; /* the closing bracket */
    hf_text_add(&text, ",\"a shared beginning of the key 5\":2}");
    ck_assert(!text.failed);
    parse("the same with one key twice", &text, HF_BAD_DATA, 0);
    hf_text_free(&text);
}
END_TEST

START_TEST(a_million_texts) {
    hf_text text = {0};
    for (int i = 0; i < MILLION; i++)
        hf_text_addf(&text, "%c\n\"a note of some sixty letters, as people write them: %08d\"", i ? ',' : '[',
                     i);
    hf_text_add(&text, "]");
    ck_assert(!text.failed);
    parse("a list of a million texts", &text, HF_OK, MILLION);
    hf_text_free(&text);
}
END_TEST

START_TEST(sixty_four_mebibytes) {
    enum { LENGTH = 64 * 1024 * 1024 };
    hf_text text = {0};
    hf_text_add(&text, "[\"first\"");
    size_t count = 1;
    while (text.length + 64 < LENGTH) {
        hf_text_add(&text, ",\n{\"id\":\"ring-0000001\",\"held\":760.5,\"failed\":800,\"mode\":\"stitch\"}");
        count++;
    }
    hf_text_add(&text, "]");
    ck_assert(!text.failed);
    parse("64 MiB of pulls", &text, HF_OK, count);
    hf_text_free(&text);
}
END_TEST

static Suite *large_suite(void) {
    Suite *suite = suite_create("base_json_large");
    TCase *all = tcase_create("large");
    tcase_set_timeout(all, 300);
    tcase_add_test(all, a_million_elements);
    tcase_add_test(all, a_million_members);
    tcase_add_test(all, a_million_texts);
    tcase_add_test(all, sixty_four_mebibytes);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(large_suite)
