/* Every file in campaign/broken gives exactly the findings in the .expected file beside it.
 *
 * HOLDFAST_UPDATE=1 writes the .expected files anew; read the difference before keeping them. */
#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/campaign/campaign.h"

static const char folder[] = "campaign/broken";
enum { FEWEST_FILES = 60, NAME = 512 };

static int is_json(const struct dirent *entry) {
    size_t length = strlen(entry->d_name);
    return length > 5 && strcmp(entry->d_name + length - 5, ".json") == 0;
}

/* The finding lines of one file; the status must fit them. */
static void findings_of(const char *path, hf_text *out) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign;
    hf_findings findings;
    hf_error error;
    hf_status status = hf_campaign_read(arena, path, &campaign, &findings, &error);
    ck_assert_msg(status == HF_BAD_DATA, "%s: status %s", path, hf_status_name(status));
    ck_assert_ptr_null(campaign);
    ck_assert_msg(findings.errors > 0, "%s: no error finding", path);
    for (size_t i = 0; i < findings.count; i++) {
        ck_assert_msg(findings.items[i].severity == HF_SEVERITY_ERROR, "%s: a warning beside errors", path);
        hf_finding_print(&findings.items[i], path, out);
    }
    hf_arena_free(arena);
}

static void check_file(const char *name) {
    char path[NAME], expected_path[NAME];
    hf_text got = {0}, expected = {0};
    hf_error error;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    (void)snprintf(expected_path, sizeof expected_path, "%s/%.*s.expected", folder, (int)strlen(name) - 5, name);
    findings_of(path, &got);
    if (getenv("HOLDFAST_UPDATE")) ck_assert_int_eq(hf_file_replace(expected_path, got.bytes, got.length, &error), HF_OK);
    ck_assert_msg(hf_file_read(expected_path, 1000000, &expected, &error) == HF_OK, "%s is missing", expected_path);
    ck_assert_msg(expected.length == got.length && memcmp(expected.bytes, got.bytes, got.length) == 0,
                  "%s: got\n%sexpected\n%s", path, got.bytes, expected.bytes ? expected.bytes : "nothing\n");
    hf_text_free(&got);
    hf_text_free(&expected);
}

START_TEST(broken_files_give_exactly_these_findings) {
    struct dirent **entries;
    int count = scandir(folder, &entries, is_json, alphasort);
    ck_assert_msg(count >= FEWEST_FILES, "%d files in %s, expected at least %d", count, folder, FEWEST_FILES);
    for (int i = 0; i < count; i++) {
        check_file(entries[i]->d_name);
        free(entries[i]);
    }
    free(entries);
}
END_TEST

static Suite *broken_suite(void) {
    Suite *suite = suite_create("broken campaign files");
    TCase *tests = tcase_create("broken");
    tcase_add_test(tests, broken_files_give_exactly_these_findings);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(broken_suite)
