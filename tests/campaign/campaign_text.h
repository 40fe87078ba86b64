/* Small campaigns for tests. */
#ifndef HF_TESTS_CAMPAIGN_TEXT_H
#define HF_TESTS_CAMPAIGN_TEXT_H

#include <check.h>
#include <string.h>
#include "holdfast/campaign/campaign.h"

typedef struct read_campaign {
    hf_arena *arena;
    const hf_campaign *campaign;
    hf_findings findings;
    hf_status status;
} read_campaign;

static inline read_campaign read_text(const char *text) {
    read_campaign out = {.arena = hf_arena_create()};
    ck_assert_ptr_nonnull(out.arena);
    const char *copy = hf_arena_text(out.arena, text, strlen(text));
    out.status = hf_campaign_parse(out.arena, "test.json", copy, strlen(text), &out.campaign, &out.findings);
    return out;
}

/* Fails the test with the findings when the text is no campaign. */
static inline read_campaign read_good(const char *text) {
    read_campaign out = read_text(text);
    hf_text printed = {0};
    for (size_t i = 0; i < out.findings.count; i++)
        hf_finding_print(&out.findings.items[i], "test.json", &printed);
    ck_assert_msg(out.status == HF_OK, "%s\n%s", printed.bytes ? printed.bytes : "no finding", text);
    hf_text_free(&printed);
    return out;
}

#endif
