#include "command/recorded.h"

#include <string.h>

enum { MOST_PARTS = 2 };

/* A campaign with only these parts in it, so that the echo is the lines that `check` shows. */
static const hf_campaign *only(hf_request *request, const hf_campaign *campaign, const char *const *ids,
                               size_t count) {
    hf_campaign *some = HF_ARENA_NEW(request->arena, hf_campaign);
    hf_design *designs = HF_ARENA_NEW_ARRAY(request->arena, hf_design, MOST_PARTS);
    if (!some || !designs) return NULL;
    *some = *campaign;
    some->designs = designs;
    some->design_count = 0;
    for (size_t i = 0; i < count; i++) {
        const hf_design *design = NULL;
        const hf_specimen *specimen = hf_campaign_specimen(campaign, ids[i], &design);
        if (!specimen) continue;
        hf_design *one = &designs[some->design_count++];
        *one = *design;
        one->specimens = specimen;
        one->specimen_count = 1;
    }
    return some;
}

static bool was_there(const hf_findings *old, const hf_finding *finding) {
    for (size_t i = 0; i < old->count; i++) {
        const hf_finding *other = &old->items[i];
        bool same_design = other->design == finding->design ||
                           (other->design && finding->design && strcmp(other->design, finding->design) == 0);
        if (same_design && strcmp(other->code, finding->code) == 0 &&
            strcmp(other->message, finding->message) == 0)
            return true;
    }
    return false;
}

/* What is odd now and was not before; old warnings would hide it. */
static bool find_fresh(hf_request *request, const hf_campaign_change *change, hf_findings *fresh) {
    fresh->items = HF_ARENA_NEW_ARRAY(request->arena, hf_finding, change->findings.count);
    for (size_t i = 0; fresh->items && i < change->findings.count; i++)
        if (!was_there(&change->old, &change->findings.items[i]))
            fresh->items[fresh->count++] = change->findings.items[i];
    return fresh->items != NULL;
}

static size_t find_changes(hf_request *request, const hf_campaign_change *change, const char *const *ids,
                           size_t count, const hf_field_change **out) {
    hf_field_change *all = NULL;
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        const hf_field_change *list;
        const hf_specimen *was = hf_campaign_specimen(change->before, ids[i], NULL),
                          *now = hf_campaign_specimen(change->after, ids[i], NULL);
        if (!was || !now) continue;
        size_t more = hf_record_differences(request->arena, change->before, was, change->after, now, &list);
        hf_field_change *longer = HF_ARENA_NEW_ARRAY(request->arena, hf_field_change, found + more);
        if (!longer || !list) return 0;
        if (found) memcpy(longer, all, found * sizeof *all);
        if (more) memcpy(longer + found, list, more * sizeof *list);
        all = longer;
        found += more;
    }
    *out = all;
    return found;
}

hf_exit hf_recorded_show(hf_request *request, const hf_campaign_change *change, const char *const *ids,
                         size_t count, const hf_report_format *format) {
    hf_text echo = {0};
    hf_findings fresh = {0};
    const hf_field_change *changes = NULL;
    const hf_campaign *some = only(request, change->after, ids, count);
    if (!some || !find_fresh(request, change, &fresh)) {
        hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        return hf_request_fail(request);
    }
    size_t change_count = find_changes(request, change, ids, count, &changes);
    hf_report_style style = hf_request_style(request, change->after);
    const hf_check_result shown = {change->after, &change->findings, some, &fresh, changes, change_count};
    hf_report_print(&hf_report_check, &shown, format, &style, &echo);
    return hf_request_write(request, &echo, HF_EXIT_DONE);
}
