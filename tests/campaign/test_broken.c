/* Every file of campaign/broken is refused with exactly the findings beside it (NN-name.expected).
 *
 * The expectations were read one by one: is the place right, does the message say what was found and what
 * was expected? HF_UPDATE=1 writes them anew; read what changed before you keep it. */
#include <check.h>
#include <stdio.h>
#include <string.h>
#include "campaign/folder.h"
#include "check_close.h"
#include "holdfast/campaign/campaign.h"

static const char folder[] = HF_TEST_DIR "/campaign/broken";
enum { LEAST_FILES = 60 };

/* What hf_finding_print says about the file, one line each. */
static void say(const char *name, hf_text *out) {
    hf_arena *arena = hf_arena_create();
    hf_text text = {0};
    hf_findings findings;
    const hf_campaign *campaign;
    hf_folder_read(folder, name, &text);
    hf_status status =
        hf_campaign_parse(arena, name, text.bytes ? text.bytes : "", text.length, &campaign, &findings);
    ck_assert_msg(status == HF_BAD_DATA && campaign == NULL, "%s: status %d, expected bad data", name,
                  (int)status);
    ck_assert_msg(findings.errors > 0 && findings.errors <= findings.count, "%s: no error", name);
    for (size_t i = 0; i < findings.count; i++) {
        ck_assert_msg(findings.items[i].line > 0 && findings.items[i].column > 0,
                      "%s: a finding without place", name);
        if (i)
            ck_assert_msg(findings.items[i].line >= findings.items[i - 1].line, "%s: not in file order",
                          name);
        hf_finding_print(&findings.items[i], name, out);
    }
    hf_text_free(&text);
    hf_arena_free(arena);
}

static void compare(const char *name, int *wrong) {
    char expected_name[HF_FOLDER_PATH];
    hf_text said = {0}, expected = {0};
    say(name, &said);
    (void)snprintf(expected_name, sizeof expected_name, "%.*s.expected", (int)(strlen(name) - 5), name);
    if (hf_folder_update()) hf_folder_write(folder, expected_name, &said);
    hf_folder_read(folder, expected_name, &expected);
    if (said.length != expected.length || memcmp(said.bytes, expected.bytes, said.length) != 0) {
        fprintf(stderr, "%s\n--- expected\n%s--- found\n%s", name, expected.bytes ? expected.bytes : "",
                said.bytes);
        ++*wrong;
    }
    hf_text_free(&said);
    hf_text_free(&expected);
}

START_TEST(findings_are_as_written) {
    hf_folder list = hf_folder_list(folder, ".json");
    int wrong = 0;
    ck_assert_uint_ge(list.count, LEAST_FILES);
    for (size_t i = 0; i < list.count; i++) compare(list.names[i], &wrong);
    hf_folder_free(&list);
    ck_assert_msg(wrong == 0, "%d files differ", wrong);
}
END_TEST

static Suite *broken_suite(void) {
    Suite *suite = suite_create("campaign_broken");
    TCase *all = tcase_create("broken");
    tcase_add_test(all, findings_are_as_written);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(broken_suite)
