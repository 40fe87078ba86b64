#include "holdfast/campaign/late.h"

#include <stdint.h>
#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/file_lock.h"
#include "holdfast/campaign/journal.h"

/* --- What differs ------------------------------------------------------------------------------------- */

static bool same_looks(const hf_stated_looks *a, const hf_stated_looks *b) {
    return a->given == b->given && a->count == b->count && a->early == b->early &&
           (a->count == 0 || memcmp(a->parts, b->parts, a->count * sizeof *a->parts) == 0);
}

static bool same_scatter(const hf_scatter *a, const hf_scatter *b) {
    return a->given == b->given && (!a->given || (a->cv == b->cv && a->past_count == b->past_count &&
                                                  a->degrees_of_freedom == b->degrees_of_freedom));
}

static bool same_between(const hf_between *a, const hf_between *b) {
    return a->given == b->given && (!a->given || a->cv == b->cv);
}

static bool same(hf_late_kind kind, const hf_design *a, const hf_design *b) {
    switch (kind) {
    case HF_LATE_LOOKS:
        return same_looks(&a->goal.looks, &b->goal.looks);
    case HF_LATE_SCATTER:
        return same_scatter(&a->scatter, &b->scatter);
    case HF_LATE_BETWEEN:
        return same_between(&a->between_batches, &b->between_batches);
    case HF_LATE_CHOICE:
        return a->goal.choose_best == b->goal.choose_best;
    case HF_LATE_LAW:
        return a->family == b->family;
    case HF_LATE_KINDS:
        break;
    }
    return true;
}

static size_t pulled(const hf_design *design) {
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count; i++)
        count += design->specimens[i].outcome != HF_OUTCOME_PLANNED;
    return count;
}

static void compare(const hf_campaign *then, const hf_campaign *now) {
    for (size_t d = 0; d < now->design_count; d++) {
        const hf_design *design = &now->designs[d], *before = hf_campaign_design(then, design->id);
        size_t pulls = before ? pulled(before) : 0;
        for (hf_late_kind kind = 0; pulls && kind < HF_LATE_KINDS; kind++)
            if (pulls > design->late[kind] && !same(kind, before, design)) design->late[kind] = pulls;
    }
}

/* --- The file as it was ----------------------------------------------------------------------------- */

/* Whether a text may tell of a statement: most changes are pulls, and the file before those need not be read. */
static bool mentions(const char *text) {
    static const char *const keys[] = {"looks", "scatter", "between_batches", "choose_best", "family"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strstr(text, keys[i])) return true;
    return false;
}

static bool may_state(const hf_entry *entry) {
    return mentions(entry->old) || mentions(entry->now);
}

/* The whole journal, before its lines are read one by one. */
static hf_status journal_mentions(const char *path, bool *out) {
    hf_text name = {0}, text = {0};
    hf_status status = hf_file_log_name(path, &name, NULL);
    if (status == HF_OK) status = hf_file_read_if_any(name.bytes, SIZE_MAX / 4, &text, NULL);
    if (status == HF_OK) hf_text_add(&text, "");
    *out = status == HF_OK && !text.failed && mentions(text.bytes);
    if (text.failed) status = HF_MEMORY;
    hf_text_free(&name);
    hf_text_free(&text);
    return status;
}

/* *text, as a change left it, becomes the text that stood there before. False: it is not what that change left. */
static bool step_back(const hf_entry *entry, hf_text *text) {
    size_t length = strlen(entry->now);
    hf_text before = {0};
    if (entry->start + length > text->length || memcmp(text->bytes + entry->start, entry->now, length) != 0)
        return false;
    hf_journal_put_back(text->bytes, text->length, entry->start, entry, &before);
    hf_text_free(text);
    *text = before;
    return !before.failed;
}

static hf_status look_at(hf_arena *arena, const hf_text *text, const hf_campaign *now) {
    const hf_campaign *then;
    hf_findings findings;
    hf_status status = hf_campaign_parse(arena, now->file, text->bytes, text->length, &then, &findings);
    if (status == HF_OK) compare(then, now);
    return status == HF_MEMORY ? HF_MEMORY : HF_OK;
}

/* From the newest change back to the oldest that may have stated something, while each left what the next one found. */
static hf_status walk_back(hf_arena *arena, const hf_journal *journal, const hf_campaign *now) {
    size_t oldest = journal->count;
    for (size_t i = journal->count; i-- > 0;)
        if (may_state(&journal->entries[i])) oldest = i;
    hf_text text = {0};
    hf_status status = HF_OK;
    if (oldest < journal->count) hf_text_add_bytes(&text, now->text, now->text_length);
    for (size_t i = journal->count; status == HF_OK && i-- > oldest;) {
        const hf_entry *entry = &journal->entries[i];
        if (entry->standing == HF_ENTRY_NEVER) continue;
        if (entry->edited || !step_back(entry, &text)) break;
        bool undone = entry->standing == HF_ENTRY_TAKEN_BACK || entry->takes_back > 0;
        if (!undone && may_state(entry)) status = look_at(arena, &text, now);
    }
    if (text.failed) status = HF_MEMORY;
    hf_text_free(&text);
    return status;
}

hf_status hf_late_look_back(const char *path, const hf_campaign *campaign) {
    const hf_journal *journal;
    bool any;
    hf_status status = journal_mentions(path, &any);
    if (!any) return status == HF_MEMORY ? HF_MEMORY : HF_OK;
    hf_arena *scratch = hf_arena_create();
    if (!scratch) return HF_MEMORY;
    status = hf_journal_read(scratch, path, campaign->sha256, &journal, NULL);
    if (status == HF_OK) status = walk_back(scratch, journal, campaign);
    hf_arena_free(scratch);
    return status == HF_MEMORY ? HF_MEMORY : HF_OK;
}
