#include "report/golden.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "base/version_number.h"
#include "holdfast/base/file.h"

void compare_golden(const char *name, const hf_text *found) {
    char path[400];
    hf_text expected = {0}, plain = {0};
    (void)snprintf(path, sizeof path, "%s/report/golden/%s", HF_TEST_DIR, name);
    for (const char *at = found->bytes; *at;) { /* the version changes with every release */
        bool version = strncmp(at, HF_VERSION, strlen(HF_VERSION)) == 0;
        hf_text_add_bytes(&plain, version ? "V" : at, 1);
        at += version ? strlen(HF_VERSION) : 1;
    }
    if (getenv("HF_UPDATE_GOLDEN"))
        ck_assert_int_eq(hf_file_replace(path, plain.bytes, plain.length, NULL), HF_OK);
    ck_assert_msg(hf_file_read(path, 1000000, &expected, NULL) == HF_OK,
                  "%s cannot be read; HF_UPDATE_GOLDEN=1 writes it", path);
    size_t same = 0, line = 1;
    while (same < plain.length && same < expected.length && plain.bytes[same] == expected.bytes[same])
        line += plain.bytes[same++] == '\n';
    ck_assert_msg(plain.length == expected.length && same == plain.length,
                  "%s differs from line %zu: found \"%.60s\", expected \"%.60s\"", name, line,
                  plain.bytes + same, expected.bytes + same);
    hf_text_free(&plain);
    hf_text_free(&expected);
}
