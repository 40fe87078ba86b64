/* Any bytes at all as a campaign file: never a crash, and what is accepted obeys the outcome table. */
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "fuzz/must.h"
#include "holdfast/base/text.h"
#include "holdfast/campaign/campaign.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check_pull(const hf_pull *pull) {
    if (pull->kind == HF_INTERVAL_NONE) return;
    MUST(isfinite(pull->lower) && pull->lower >= 0);
    switch (pull->kind) {
    case HF_INTERVAL_EXACT:
        MUST(pull->lower == pull->upper && pull->upper > 0);
        break;
    case HF_INTERVAL_CLOSED:
        MUST(pull->lower < pull->upper && isfinite(pull->upper));
        break;
    case HF_INTERVAL_BELOW:
        MUST(pull->lower < pull->upper && isfinite(pull->upper));
        break;
    case HF_INTERVAL_ABOVE:
        MUST(isinf(pull->upper));
        break;
    case HF_INTERVAL_NONE:
        break;
    }
    if (pull->dropped) MUST(pull->kind == HF_INTERVAL_CLOSED);
}

static void check_specimen(const hf_campaign *campaign, const hf_specimen *specimen) {
    bool loads = specimen->held.given || specimen->failed.given || specimen->peak.given;
    MUST(specimen->id && specimen->id[0]);
    check_pull(&specimen->pull);
    check_pull(&specimen->set);
    check_pull(&specimen->voided);
    switch (specimen->outcome) {
    case HF_OUTCOME_FAILED:
        MUST(loads && specimen->pull.kind != HF_INTERVAL_NONE && specimen->pull.kind != HF_INTERVAL_ABOVE);
        break;
    case HF_OUTCOME_HELD:
    case HF_OUTCOME_RIG:
        MUST(loads && specimen->pull.kind == HF_INTERVAL_ABOVE);
        break;
    case HF_OUTCOME_VOID:
        MUST(specimen->note && specimen->pull.kind == HF_INTERVAL_NONE &&
             specimen->set.kind == HF_INTERVAL_NONE);
        break;
    case HF_OUTCOME_PLANNED:
        MUST(!loads && specimen->pull.kind == HF_INTERVAL_NONE);
        break;
    }
    if (specimen->held.given || specimen->failed.given)
        MUST(campaign->rig.force.records != HF_RIG_RECORDS_NONE);
    if (specimen->ends[0])
        MUST(hf_campaign_design(campaign, specimen->ends[0]) &&
             hf_campaign_design(campaign, specimen->ends[1]));
}

static void check_goal(const hf_goal *goal) {
    MUST(goal->content > 0.5 && goal->content < 1);
    MUST(goal->confidence >= 0.5 && goal->confidence < 1);
    MUST(!goal->design_factor.given || goal->design_factor.value >= 1);
    MUST(!goal->set_factor.given || goal->set_factor.value >= 1);
    MUST(!goal->service_load.given || goal->service_load.value > 0);
    MUST(!goal->required_bound.given || goal->required_bound.value > 0);
}

/* A pull written into the first part: whatever comes out is a campaign that says so. */
static void check_record(hf_arena *arena, const hf_campaign *campaign) {
    static const hf_record_change change = {.held = "76 kg", .failed = "800", .mode = "stitch \"a\"\n"};
    const hf_specimen *specimen = NULL, *after;
    const hf_campaign *changed;
    hf_findings findings;
    hf_error error;
    hf_text text = {0};
    for (size_t i = 0; i < campaign->design_count && !specimen; i++)
        if (campaign->designs[i].specimen_count) specimen = campaign->designs[i].specimens;
    if (!specimen) return;
    if (hf_campaign_record(arena, campaign, specimen->id, &change, true, &text, &findings, &error) == HF_OK) {
        MUST(hf_campaign_parse(arena, "fuzz", text.bytes, text.length, &changed, &findings) == HF_OK);
        after = hf_campaign_specimen(changed, specimen->id, NULL);
        MUST(after && after->outcome == HF_OUTCOME_FAILED && after->held.given && after->failed.given &&
             !after->peak.given);
        MUST(strcmp(after->mode, change.mode) == 0);
    } else {
        MUST(!text.length);
    }
    hf_text_free(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign = NULL;
    hf_findings findings;
    hf_text printed = {0};
    size_t errors = 0;
    hf_status status = hf_campaign_parse(arena, "fuzz", (const char *)data, size, &campaign, &findings);
    MUST(status == HF_OK || status == HF_BAD_DATA);
    for (size_t i = 0; i < findings.count; i++) {
        const hf_finding *f = &findings.items[i], *before = i ? f - 1 : NULL;
        errors += f->severity == HF_SEVERITY_ERROR;
        MUST(f->message && f->message[0] && f->path && f->code && f->line >= 1 && f->column >= 1);
        if (before) MUST(before->line < f->line || (before->line == f->line && before->column <= f->column));
        hf_finding_print(f, "fuzz", &printed);
    }
    MUST(errors == findings.errors && (errors > 0) == (status != HF_OK) &&
         (campaign != NULL) == (status == HF_OK));
    for (size_t i = 0; campaign && i < campaign->design_count; i++) {
        check_goal(&campaign->designs[i].goal);
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            check_specimen(campaign, &campaign->designs[i].specimens[j]);
    }
    if (campaign) check_record(arena, campaign);
    hf_text_free(&printed);
    hf_arena_free(arena);
    return 0;
}
