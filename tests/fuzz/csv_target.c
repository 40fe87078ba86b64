/* Any bytes at all as a table: never a crash; what is refused leaves nothing and says where; what is taken is a campaign with
 * that many pulls more, whose export, read in again, gives the same pulls.
 * The first byte says how it is read: bit 0 names the design, bit 1 the unit, bit 2 writes semicolons. */
#include <stdint.h>
#include <string.h>
#include "fuzz/must.h"
#include "holdfast/base/text.h"
#include "holdfast/campaign/table.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char base[] =
    "{ \"format\": \"holdfast-campaign/1\", \"rig\": { \"records\": \"added\", \"tare\": \"2 kg\" }, "
    "\"designs\": [\n"
    "  { \"id\": \"ring\", \"specimens\": [ { \"id\": \"ring-01\", \"held\": 760, \"failed\": 800 } ] },\n"
    "  { \"id\": \"plate\" } ] }\n";
static const char empty[] = "{ \"format\": \"holdfast-campaign/1\", \"rig\": { \"records\": \"added\", "
                            "\"tare\": \"2 kg\" }, \"designs\": [\n"
                            "  { \"id\": \"ring\", \"specimens\": [] },\n  { \"id\": \"plate\" } ] }\n";

static const hf_campaign *read(hf_arena *arena, const char *text, size_t length) {
    const hf_campaign *campaign;
    hf_findings findings;
    MUST(hf_campaign_parse(arena, "fuzz", text, length, &campaign, &findings) == HF_OK);
    return campaign;
}

static size_t count_pulls(const hf_campaign *campaign) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++) count += campaign->designs[i].specimen_count;
    return count;
}

static void check_findings(const hf_findings *findings) {
    hf_text printed = {0};
    for (size_t i = 0; i < findings->count; i++) {
        const hf_finding *f = &findings->items[i], *before = i ? f - 1 : NULL;
        MUST(f->message && f->message[0] && f->path && f->code && f->line >= 1 && f->column >= 1);
        if (before) MUST(before->line < f->line || (before->line == f->line && before->column <= f->column));
        hf_finding_print(f, "fuzz", &printed);
    }
    hf_text_free(&printed);
}

static bool same_text(const char *a, const char *b) {
    return strcmp(a ? a : "", b ? b : "") == 0;
}

static bool same_pull(const hf_pull *a, const hf_pull *b) {
    return a->kind == b->kind && a->lower == b->lower && a->upper == b->upper && a->dropped == b->dropped &&
           a->stepped == b->stepped;
}

static void check_same(const hf_campaign *one, const hf_campaign *two) {
    MUST(one->design_count == two->design_count);
    for (size_t i = 0; i < one->design_count; i++) {
        MUST(one->designs[i].specimen_count == two->designs[i].specimen_count);
        for (size_t j = 0; j < one->designs[i].specimen_count; j++) {
            const hf_specimen *a = &one->designs[i].specimens[j], *b = &two->designs[i].specimens[j];
            MUST(same_text(a->id, b->id) && same_text(a->note, b->note) && same_text(a->mode, b->mode) &&
                 same_text(a->batch, b->batch));
            MUST(a->outcome == b->outcome && a->broke == b->broke && a->reused == b->reused);
            MUST(same_pull(&a->pull, &b->pull) && same_pull(&a->set, &b->set) &&
                 same_pull(&a->voided, &b->voided));
        }
    }
}

static void check_round_trip(hf_arena *arena, const hf_campaign *campaign, bool semicolon) {
    const hf_table_style style = {.semicolon = semicolon};
    const hf_campaign *start = read(arena, empty, sizeof empty - 1);
    hf_text table = {0}, text = {0};
    hf_table_result result;
    hf_error error;
    hf_status status = hf_campaign_export(arena, campaign, &style, &table, &error);
    if (status == HF_OK) {
        const hf_table_source source = {.file = "fuzz", .text = table.bytes, .length = table.length};
        MUST(hf_campaign_import(arena, start, &source, &text, &result, &error) == HF_OK);
        check_same(campaign, read(arena, text.bytes, text.length));
    } else {
        MUST(!table.length);
    }
    hf_text_free(&table);
    hf_text_free(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    if (!size) return 0;
    hf_arena *arena = hf_arena_create();
    const hf_campaign *before = read(arena, base, sizeof base - 1);
    hf_table_source source = {.file = "fuzz", .text = (const char *)data + 1, .length = size - 1};
    if (data[0] & 1) source.design = "ring";
    if (data[0] & 2) source.unit = hf_unit_find("kg", 2);
    hf_table_result result;
    hf_text out = {0};
    hf_error error;
    hf_status status = hf_campaign_import(arena, before, &source, &out, &result, &error);
    MUST(status == HF_OK || status == HF_BAD_DATA || status == HF_USAGE);
    check_findings(&result.table);
    check_findings(&result.campaign);
    if (status == HF_OK) {
        const hf_campaign *after = read(arena, out.bytes, out.length);
        MUST(result.count > 0 && count_pulls(after) == count_pulls(before) + result.count &&
             !result.table.errors);
        for (size_t i = 0; i < result.count; i++)
            MUST(hf_campaign_specimen(after, result.ids[i], NULL) &&
                 !hf_campaign_specimen(before, result.ids[i], NULL));
        check_round_trip(arena, after, (data[0] & 4) != 0);
    } else {
        MUST(!out.length && error.message[0] &&
             (status == HF_USAGE || result.table.errors + result.campaign.errors > 0));
    }
    hf_text_free(&out);
    hf_arena_free(arena);
    return 0;
}
