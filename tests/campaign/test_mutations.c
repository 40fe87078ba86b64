/* The fuzz target on its corpus, on the demo, and on a fixed set of damaged copies of them. */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/file.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { NAME = 512, DAMAGED_COPIES = 300 };

static uint64_t state = 2026;

/* Xorshift (Marsaglia 2003, 13-7-17): any stream will do here, as long as it is the same on every run. */
static size_t below(size_t count) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return count ? (size_t)(state % count) : 0;
}

/* Another digit somewhere: mostly still a campaign, with other loads. */
static void change_digit(hf_text *text) {
    size_t at = below(text->length);
    for (size_t i = 0; i < text->length; i++) {
        char *c = &text->bytes[(at + i) % text->length];
        if (*c < '0' || *c > '9') continue;
        *c = (char)('0' + below(10));
        return;
    }
}

/* One change: a byte, a cut, a copied stretch, or a word of the format. */
static void damage(hf_text *text) {
    static const char *const words[] = {"null",
                                        "\"held\"",
                                        "\"failed\": 1e9",
                                        "\"peak\": 0",
                                        "-1",
                                        "1e400",
                                        "{",
                                        "}",
                                        "[",
                                        "]",
                                        ",",
                                        "\"\"",
                                        "\"\\u00e9\"",
                                        "\"outcome\": \"void\"",
                                        "\"records\": \"total\"",
                                        "\xC3",
                                        "\"ring\"",
                                        "1e-320",
                                        "\"1e12 N\"",
                                        "true"};
    hf_text out = {0};
    size_t at = below(text->length), length = below(40);
    if (length > text->length - at) length = text->length - at;
    hf_text_add_bytes(&out, text->bytes, at);
    switch (below(4)) {
    case 0:
        hf_text_addf(&out, "%c", (int)(1 + below(255)));
        break;
    case 1:
        break;
    case 2:
        hf_text_add_bytes(&out, text->bytes + at, length);
        hf_text_add_bytes(&out, text->bytes + at, length);
        break;
    default:
        hf_text_add(&out, words[below(sizeof words / sizeof *words)]);
        break;
    }
    hf_text_add_bytes(&out, text->bytes + at + length, text->length - at - length);
    hf_text_free(text);
    *text = out;
}

/* A copy without a byte behind its end, so that reading too far is seen by the address sanitizer. */
static void try_bytes(const char *bytes, size_t length) {
    uint8_t *copy = malloc(length ? length : 1);
    ck_assert_ptr_nonnull(copy);
    if (length) memcpy(copy, bytes, length);
    ck_assert_int_eq(LLVMFuzzerTestOneInput(copy, length), 0);
    free(copy);
}

static void try_file(const char *path) {
    hf_text text = {0};
    hf_error error;
    ck_assert_msg(hf_file_read(path, 1000000, &text, &error) == HF_OK, "%s", error.message);
    try_bytes(text.bytes ? text.bytes : "", text.length);
    for (int i = 0; i < DAMAGED_COPIES && text.length; i++) {
        hf_text copy = {0};
        hf_text_add_bytes(&copy, text.bytes, text.length);
        for (size_t changes = 1 + below(3); changes > 0 && copy.length; changes--) {
            if (below(3))
                change_digit(&copy);
            else
                damage(&copy);
        }
        try_bytes(copy.bytes ? copy.bytes : "", copy.length);
        hf_text_free(&copy);
    }
    hf_text_free(&text);
}

static void try_folder(const char *folder) {
    char path[NAME];
    struct dirent **entries;
    int count = scandir(folder, &entries, NULL, alphasort), tried = 0;
    ck_assert_msg(count > 0, "%s cannot be read", folder);
    for (int i = 0; i < count; i++) {
        const char *dot = strrchr(entries[i]->d_name, '.');
        if (dot && strcmp(dot, ".json") == 0) {
            (void)snprintf(path, sizeof path, "%s/%s", folder, entries[i]->d_name);
            try_file(path);
            tried++;
        }
        free(entries[i]);
    }
    free(entries);
    ck_assert_int_gt(tried, 0);
}

START_TEST(the_corpus_and_damaged_copies_keep_the_promises) {
    try_folder("fuzz/corpus/campaign");
}
END_TEST

START_TEST(broken_files_and_damaged_copies_keep_the_promises) {
    try_folder("campaign/broken");
}
END_TEST

START_TEST(the_demo_and_damaged_copies_keep_the_promises) {
    try_file(HF_DATASETS_DIR "/shade-sail.json");
}
END_TEST

static Suite *mutations_suite(void) {
    Suite *suite = suite_create("damaged campaign files");
    TCase *tests = tcase_create("mutations");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, the_corpus_and_damaged_copies_keep_the_promises);
    tcase_add_test(tests, broken_files_and_damaged_copies_keep_the_promises);
    tcase_add_test(tests, the_demo_and_damaged_copies_keep_the_promises);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(mutations_suite)
