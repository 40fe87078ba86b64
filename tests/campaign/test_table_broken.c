/* Every file of campaign/table is refused with exactly the findings beside it (NN-name.expected), and leaves nothing.
 *
 * NN-name.csv is read into table/base.json as it is, NN-name.ring.csv with the design "ring" named, NN-name.ring-N.csv with the
 * unit newton too. The expectations were read one by one. HF_UPDATE=1 writes them anew; read what changed. */
#include <check.h>
#include <stdio.h>
#include <string.h>
#include "campaign/folder.h"
#include "check_close.h"
#include "holdfast/campaign/table.h"

static const char folder[] = HF_TEST_DIR "/campaign/table";
enum { LEAST_FILES = 38 };

static const hf_campaign *read_base(hf_arena *arena, hf_text *text) {
    const hf_campaign *campaign;
    hf_findings findings;
    hf_folder_read(folder, "base.json", text);
    ck_assert_int_eq(hf_campaign_parse(arena, "base.json", text->bytes, text->length, &campaign, &findings),
                     HF_OK);
    return campaign;
}

static void print_all(const hf_findings *findings, const char *name, hf_text *out) {
    for (size_t i = 0; i < findings->count; i++) {
        const hf_finding *finding = &findings->items[i];
        ck_assert_msg(finding->line > 0 && finding->column > 0, "%s: a finding without place", name);
        hf_finding_print(finding, name, out);
    }
}

/* What an import of the file says, one finding a line. */
static void say(const char *name, hf_text *out) {
    hf_arena *arena = hf_arena_create();
    hf_text base = {0}, text = {0}, nothing = {0};
    hf_table_result result;
    hf_error error;
    const hf_campaign *campaign = read_base(arena, &base);
    hf_folder_read(folder, name, &text);
    hf_table_source source = {.file = name, .text = text.bytes ? text.bytes : "", .length = text.length};
    if (strstr(name, ".ring")) source.design = "ring";
    if (strstr(name, "-N.csv")) source.unit = hf_unit_find("N", 1);
    hf_status status = hf_campaign_import(arena, campaign, &source, &nothing, &result, &error);
    ck_assert_msg(status == HF_BAD_DATA || status == HF_USAGE, "%s: status %d", name, (int)status);
    ck_assert_msg(nothing.length == 0 && result.count == 0, "%s: refused, yet something came out", name);
    print_all(&result.table, name, out);
    print_all(&result.campaign, "base.json", out);
    ck_assert_msg((out->length == 0) == (status == HF_USAGE), "%s: status and findings do not fit", name);
    hf_text_addf(out, "%s: %s\n", hf_status_name(status), error.message);
    hf_text_free(&base);
    hf_text_free(&text);
    hf_arena_free(arena);
}

static int compare(const char *name) {
    char expected_name[HF_FOLDER_PATH];
    hf_text said = {0}, expected = {0};
    say(name, &said);
    (void)snprintf(expected_name, sizeof expected_name, "%.*s.expected", (int)(strlen(name) - 4), name);
    if (hf_folder_update()) hf_folder_write(folder, expected_name, &said);
    hf_folder_read(folder, expected_name, &expected);
    int wrong = said.length != expected.length || memcmp(said.bytes, expected.bytes, said.length) != 0;
    if (wrong)
        fprintf(stderr, "%s\n--- expected\n%s--- found\n%s", name, expected.bytes ? expected.bytes : "",
                said.bytes);
    hf_text_free(&said);
    hf_text_free(&expected);
    return wrong;
}

START_TEST(findings_are_as_written) {
    hf_folder list = hf_folder_list(folder, ".csv");
    int wrong = 0;
    ck_assert_uint_ge(list.count, LEAST_FILES);
    for (size_t i = 0; i < list.count; i++) wrong += compare(list.names[i]);
    hf_folder_free(&list);
    ck_assert_msg(wrong == 0, "%d files differ", wrong);
}
END_TEST

static Suite *table_broken_suite(void) {
    Suite *suite = suite_create("campaign_table_broken");
    TCase *all = tcase_create("broken");
    tcase_add_test(all, findings_are_as_written);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(table_broken_suite)
