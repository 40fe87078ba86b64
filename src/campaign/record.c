/* Writing one pull into the file: edits at noted places, every other byte as it was. */
#include <stdio.h>
#include <string.h>
#include "campaign/object_edit.h"
#include "campaign/parts.h"
#include "campaign/table.h"
#include "holdfast/base/number.h"

typedef enum record_kind { LOAD, NUMBER, TEXT, FLAG, END, INFO } record_kind;

typedef struct record_field {
    const char *key;
    record_kind kind;
    bool result;
    size_t offset;
} record_field;

static const record_field fields[] = {
#define FIELD_ROW(member, key, kind, result) {key, kind, result, offsetof(hf_record_change, member)},
    HF_RECORD_LIST(FIELD_ROW)};

enum { FIELDS = HF_COUNT_OF(fields) };

static hf_status no_memory(hf_error *error) {
    return hf_error_set(error, HF_MEMORY, "out of memory");
}

static bool typed(const char *text) {
    return text && text[0];
}

static const char *said(const hf_record_change *change, size_t at) {
    const char *text;
    memcpy(&text, (const char *)change + fields[at].offset, sizeof text);
    return typed(text) ? text : NULL;
}

/* --- From words to JSON ------------------------------------------------------------------------------ */

static hf_status text_value(hf_arena *arena, const char *words, const char **out, hf_error *error) {
    hf_text quoted = {0};
    hf_json_quote(&quoted, words);
    *out = quoted.failed ? NULL : hf_arena_text(arena, quoted.bytes, quoted.length);
    hf_text_free(&quoted);
    return *out ? HF_OK : no_memory(error);
}

/* As a JSON number where it is one, else as a text; validation has the last word. */
static hf_status number_value(hf_arena *arena, const char *words, const char **out, hf_error *error) {
    double number;
    char text[HF_NUMBER_SIZE];
    if (!hf_number_read(words, strlen(words), &number)) return text_value(arena, words, out, error);
    *out = hf_arena_format(arena, "%s", hf_number_shortest(number, text));
    return *out ? HF_OK : no_memory(error);
}

static hf_status load_value(const hf_object_job *job, const char *words, const char **out, hf_error *error) {
    hf_load load;
    hf_status status = hf_load_read(words, strlen(words), job->campaign->unit, &load, error);
    return status == HF_OK ? number_value(job->arena, words, out, error) : status;
}

static hf_status value_of(const hf_object_job *job, record_kind kind, const char *words, const char **out,
                          hf_error *error) {
    switch (kind) {
    case LOAD:
        return load_value(job, words, out, error);
    case NUMBER:
    case END:
        return number_value(job->arena, words, out, error);
    case FLAG:
        *out = strcmp(words, "false") == 0 ? "false" : "true";
        return HF_OK;
    case TEXT:
    case INFO:
        break;
    }
    return text_value(job->arena, words, out, error);
}

/* What is in "info" is an object of its own: edited where it stands, written whole where it does not. */
static hf_status edit_info(hf_object_job *job, const hf_json *specimen, const hf_member_change *rows,
                           hf_member_change *whole) {
    const hf_json *info = hf_json_get(specimen, "info");
    hf_member_change inside[FIELDS];
    size_t count = 0, gone = 0;
    hf_text text = {0};
    *whole = (hf_member_change){.key = "info"};
    for (size_t i = 0; i < FIELDS; i++) {
        if (fields[i].kind != INFO || !(rows[i].value || rows[i].removed)) continue;
        inside[count++] = rows[i];
        gone += info && rows[i].removed && hf_json_get(info, rows[i].key);
        if (rows[i].value)
            hf_text_addf(&text, "%s\"%s\": %s", text.length ? ", " : "{ ", rows[i].key, rows[i].value);
    }
    if (text.length) hf_text_add(&text, " }");
    if (!info && text.length) whole->value = hf_arena_text(job->arena, text.bytes, text.length);
    bool good = !text.failed && (info || !text.length || whole->value);
    hf_text_free(&text);
    if (!good) return HF_MEMORY;
    whole->removed = info && gone && gone == info->count && !text.length;
    return info && count && !whole->removed ? hf_object_edit(job, info, inside, count) : HF_OK;
}

static hf_status edit_specimen(hf_object_job *job, const hf_json *specimen, const hf_member_change *rows) {
    hf_member_change outer[FIELDS + 1];
    size_t count = 0;
    for (size_t i = 0; i < FIELDS; i++)
        if (fields[i].kind != INFO) outer[count++] = rows[i];
    hf_status status = edit_info(job, specimen, rows, &outer[count++]);
    return status == HF_OK ? hf_object_edit(job, specimen, outer, count) : status;
}

/* --- What is said, and what cannot stand beside it --------------------------------------------------- */

static void remove_key(hf_member_change *rows, const char *key) {
    for (size_t i = 0; i < FIELDS; i++)
        if (strcmp(rows[i].key, key) == 0 && !rows[i].value) rows[i].removed = true;
}

static void remove_keys(hf_member_change *rows, const char *const *keys) {
    for (; *keys; keys++) remove_key(rows, *keys);
}

/* The loads of a stepped pull and the reading of a continuous one exclude each other; a part that did not fail has no way of failing. */
static void settle(hf_member_change *rows, const hf_specimen *before, const hf_record_change *change) {
    static const char *const stepped[] = {"held", "failed", "phase", "dropped", NULL};
    static const char *const of_failure[] = {"failed", "mode", "phase", "dropped", "broke", NULL};
    const char *outcome = change->outcome;
    if (typed(change->peak)) remove_keys(rows, stepped);
    if (typed(change->held) || typed(change->failed)) remove_key(rows, "peak");
    if (typed(outcome) && (strcmp(outcome, "held") == 0 || strcmp(outcome, "rig") == 0) &&
        before->outcome != HF_OUTCOME_PLANNED)
        remove_keys(rows, of_failure);
}

/* A planned part that is recorded, and one that is said to have failed after all. */
static const char *outcome_for(const hf_specimen *before, const hf_record_change *change) {
    if (typed(change->outcome)) return change->outcome;
    if (before->outcome == HF_OUTCOME_PLANNED) return "failed";
    bool failed = typed(change->failed) && before->outcome != HF_OUTCOME_FAILED;
    return failed || (typed(change->peak) && before->outcome == HF_OUTCOME_VOID) ? "failed" : NULL;
}

static hf_status fill_rows(const hf_object_job *job, const hf_specimen *before,
                           const hf_record_change *change, hf_member_change *rows, hf_error *error) {
    hf_record_change filled = *change;
    filled.outcome = outcome_for(before, change);
    for (size_t i = 0; i < FIELDS; i++) {
        const char *words = said(&filled, i);
        rows[i] = (hf_member_change){.key = fields[i].key};
        hf_status status = words ? value_of(job, fields[i].kind, words, &rows[i].value, error) : HF_OK;
        if (status != HF_OK) return status;
    }
    settle(rows, before, change);
    if (typed(change->without)) remove_key(rows, change->without);
    return HF_OK;
}

/* --- Finding the part -------------------------------------------------------------------------------- */

static hf_status no_such_specimen(hf_arena *arena, const hf_campaign *campaign, const char *id,
                                  hf_error *error) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++) count += campaign->designs[i].specimen_count;
    const char **ids = HF_ARENA_NEW_ARRAY(arena, const char *, count);
    if (!ids) return no_memory(error);
    count = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            ids[count++] = campaign->designs[i].specimens[j].id;
    const char *nearest = hf_text_nearest(id, ids, count);
    if (nearest)
        return hf_error_set(error, HF_BAD_DATA, "found no specimen \"%.60s\"; nearest is \"%.60s\"", id,
                            nearest);
    return hf_error_set(error, HF_BAD_DATA, "found no specimen \"%.60s\" in the file", id);
}

static bool nothing_to_record(const hf_record_change *change) {
    for (size_t i = 0; i < FIELDS; i++)
        if (said(change, i)) return false;
    return !typed(change->without);
}

/* The text with the edits, read back before it is returned. */
static hf_status finish(hf_object_job *job, const char *id, hf_text *out, hf_findings *findings,
                        hf_error *error) {
    const hf_campaign *campaign = job->campaign, *result;
    hf_text text = {0};
    hf_status status = HF_OK;
    if (hf_json_splice(campaign->text, campaign->text_length, job->edits, job->count, &text) != HF_OK)
        status = no_memory(error);
    if (status == HF_OK &&
        hf_campaign_parse(job->arena, campaign->file, text.bytes, text.length, &result, findings) != HF_OK)
        status =
            hf_error_set(error, HF_BAD_DATA, "the pull of \"%.60s\" cannot be so; the file is unchanged", id);
    if (status == HF_OK) hf_text_add_bytes(out, text.bytes, text.length);
    if (status == HF_OK && out->failed) status = no_memory(error);
    hf_text_free(&text);
    return status;
}

hf_status hf_campaign_record(hf_arena *arena, const hf_campaign *campaign, const char *id,
                             const hf_record_change *change, bool again, hf_text *out, hf_findings *findings,
                             hf_error *error) {
    hf_member_change rows[FIELDS];
    const hf_specimen *specimen = hf_campaign_specimen(campaign, id, NULL);
    hf_object_job job = {.arena = arena, .campaign = campaign, .text = campaign->text};
    memset(findings, 0, sizeof *findings);
    if (!specimen) return no_such_specimen(arena, campaign, id, error);
    if (nothing_to_record(change))
        return hf_error_set(error, HF_BAD_DATA,
                            "found nothing to record for \"%.60s\", expected a load or an outcome", id);
    if (specimen->outcome != HF_OUTCOME_PLANNED && !again)
        return hf_error_set(error, HF_BAD_DATA,
                            "specimen \"%.60s\" has a result already; recording it again must be asked for",
                            id);
    hf_status status = fill_rows(&job, specimen, change, rows, error);
    if (status == HF_OK && edit_specimen(&job, specimen->node, rows) != HF_OK) status = no_memory(error);
    return status == HF_OK ? finish(&job, id, out, findings, error) : status;
}

/* --- Taking a result away, or to another part -------------------------------------------------------- */

/* The member as it stands; in "info" what is of the pull. */
static const hf_json *member_of(const hf_json *specimen, size_t at) {
    if (fields[at].kind != INFO) return hf_json_get(specimen, fields[at].key);
    const hf_json *info = hf_json_get(specimen, "info");
    return info ? hf_json_get(info, fields[at].key) : NULL;
}

static const char *raw_text(const hf_object_job *job, const hf_json *node) {
    return hf_arena_text(job->arena, job->campaign->text + node->start, node->end - node->start);
}

static hf_status move_rows(const hf_object_job *job, const hf_specimen *from, const hf_specimen *to,
                           hf_member_change *leaving, hf_member_change *coming) {
    for (size_t i = 0; i < FIELDS; i++) {
        const hf_json *node = member_of(from->node, i), *there = to ? member_of(to->node, i) : NULL;
        bool outcome = strcmp(fields[i].key, "outcome") == 0, order = strcmp(fields[i].key, "order") == 0;
        leaving[i] =
            (hf_member_change){.key = fields[i].key, .removed = fields[i].result && !outcome && node};
        coming[i] = (hf_member_change){.key = fields[i].key};
        if (node && (fields[i].result || (order && there))) coming[i].value = raw_text(job, node);
        if (order && node && there) leaving[i].value = raw_text(job, there);
        if (outcome) leaving[i].value = "\"planned\"";
        if (outcome && !node) coming[i].removed = true; /* then the loads say it */
        if ((coming[i].value == NULL && node && fields[i].result) ||
            (order && node && there && !leaving[i].value))
            return HF_MEMORY;
    }
    return HF_OK;
}

hf_status hf_campaign_record_clear(hf_arena *arena, const hf_campaign *campaign, const char *id,
                                   const char *to, hf_text *out, hf_findings *findings, hf_error *error) {
    hf_member_change leaving[FIELDS], coming[FIELDS];
    const hf_specimen *from = hf_campaign_specimen(campaign, id, NULL),
                      *into = to ? hf_campaign_specimen(campaign, to, NULL) : NULL;
    hf_object_job job = {.arena = arena, .campaign = campaign, .text = campaign->text};
    memset(findings, 0, sizeof *findings);
    if (!from || (to && !into)) return no_such_specimen(arena, campaign, from ? to : id, error);
    if (from->outcome == HF_OUTCOME_PLANNED)
        return hf_error_set(error, HF_BAD_DATA, "found no result of \"%.60s\" to take away: it is planned",
                            id);
    if (into && into->outcome != HF_OUTCOME_PLANNED)
        return hf_error_set(error, HF_BAD_DATA,
                            "specimen \"%.60s\" has a result already, expected a planned one", to);
    if (move_rows(&job, from, into, leaving, coming) != HF_OK ||
        edit_specimen(&job, from->node, leaving) != HF_OK ||
        (into && edit_specimen(&job, into->node, coming) != HF_OK))
        return no_memory(error);
    return finish(&job, id, out, findings, error);
}

/* --- A part that was not planned --------------------------------------------------------------------- */

static double last_order(const hf_campaign *campaign) {
    double last = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_maybe *order = &campaign->designs[i].specimens[j].order;
            if (order->given && order->value > last) last = order->value;
        }
    return last;
}

hf_status hf_campaign_record_new(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                                 const char *id, hf_text *out, hf_error *error) {
    hf_json_edit edit;
    hf_text item = {0};
    const hf_design *owner;
    char number[HF_NUMBER_SIZE];
    if (hf_campaign_specimen(campaign, id, &owner))
        return hf_error_set(error, HF_BAD_DATA, "found a part \"%.60s\" already, of %.60s; expected a new id",
                            id, owner->id);
    double order = last_order(campaign);
    hf_text_add(&item, "{ \"id\": ");
    hf_json_quote(&item, id);
    if (order > 0) hf_text_addf(&item, ", \"order\": %s", hf_number_shortest(order + 1, number));
    hf_text_add(&item, ", \"outcome\": \"planned\" }");
    const char *text = item.failed ? NULL : hf_arena_text(arena, item.bytes, item.length);
    hf_text_free(&item);
    if (!text || hf_specimens_edit(arena, campaign->text, design, &text, 1, &edit) != HF_OK ||
        hf_json_splice(campaign->text, campaign->text_length, &edit, 1, out) != HF_OK)
        return no_memory(error);
    return HF_OK;
}

/* --- What was, what is now --------------------------------------------------------------------------- */

/* A text without its quotes, anything else as it stands. */
static const char *plain(hf_arena *arena, const hf_campaign *campaign, const hf_json *node) {
    if (!node) return NULL;
    const char *text = node->kind == HF_JSON_TEXT
                           ? node->text
                           : hf_arena_text(arena, campaign->text + node->start, node->end - node->start);
    return text ? text : "";
}

size_t hf_record_differences(hf_arena *arena, const hf_campaign *before, const hf_specimen *was,
                             const hf_campaign *after, const hf_specimen *now, const hf_field_change **list) {
    hf_field_change *found = HF_ARENA_NEW_ARRAY(arena, hf_field_change, FIELDS);
    size_t count = 0;
    *list = found;
    for (size_t i = 0; found && i < FIELDS; i++) {
        const char *old = plain(arena, before, member_of(was->node, i)),
                   *new = plain(arena, after, member_of(now->node, i));
        if ((!old && !new) || (old && new &&strcmp(old, new) == 0)) continue;
        found[count++] = (hf_field_change){now->id, fields[i].key, old, new};
    }
    return count;
}
