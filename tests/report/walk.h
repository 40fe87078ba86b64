/* Checks that hold for every report, whatever is in it. */
#ifndef HF_TESTS_REPORT_WALK_H
#define HF_TESTS_REPORT_WALK_H

#include <check.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/json.h"

/* No line of the report is wider than `columns`, none holds a control character. */
static inline void check_lines(const char *report, size_t columns, const char *about) {
    for (const char *at = report; *at;) {
        size_t length = strcspn(at, "\n");
        char line[1000];
        ck_assert_msg(length < sizeof line, "%s: a line of %zu bytes", about, length);
        memcpy(line, at, length);
        line[length] = '\0';
        ck_assert_msg(hf_text_columns(line) <= columns, "%s: %zu columns: %s", about, hf_text_columns(line),
                      line);
        for (size_t i = 0; i < length; i++)
            ck_assert_msg((unsigned char)line[i] >= 0x20 && line[i] != 0x7F, "%s: control character", about);
        at += length + (at[length] == '\n');
    }
}

/* Every null has `<key>_reason` beside it and a `reason` in the same object (design.md 4). Returns how many nulls there were. */
static inline size_t check_nulls(const hf_json *node) {
    size_t count = 0;
    for (const hf_json *child = node->first; child; child = child->next) {
        count += check_nulls(child);
        if (child->kind != HF_JSON_NULL) continue;
        char key[100], path[HF_PATH_SIZE];
        hf_json_path(child, path, sizeof path);
        ck_assert_msg(child->key != NULL, "%s: null in an array", path);
        (void)snprintf(key, sizeof key, "%s_reason", child->key);
        const hf_json *own = hf_json_get(node, key), *shared = hf_json_get(node, "reason");
        ck_assert_msg(own && own->kind == HF_JSON_TEXT && own->text[0], "%s: null without %s", path, key);
        ck_assert_msg(shared && shared->kind == HF_JSON_TEXT && shared->text[0], "%s: null without reason",
                      path);
        count++;
    }
    return count;
}

#endif
