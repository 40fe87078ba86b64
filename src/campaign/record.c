/* Writing one pull into the file: edits at noted places, every other byte as it was. */
#include <stdio.h>
#include <string.h>
#include "campaign/parts.h"
#include "holdfast/base/number.h"

enum { RESULT_KEYS = 8, MOST_EDITS = 64 };

typedef struct member_change {
    const char *key;
    const char *value; /* JSON text, or NULL: leave alone */
    bool result;       /* an earlier result of this key is taken away when the pull is recorded again */
} member_change;

typedef struct record_job {
    hf_arena *arena;
    const hf_campaign *campaign;
    const hf_json *object;
    hf_json_edit edits[MOST_EDITS];
    size_t count;
} record_job;

/* A load as typed: with a unit a JSON text, else a JSON number. */
static hf_status load_value(hf_arena *arena, const hf_unit *unit, const char *typed, const char **out, hf_error *error) {
    hf_load load;
    double number;
    char text[HF_NUMBER_SIZE];
    *out = NULL;
    if (!typed) return HF_OK;
    hf_status status = hf_load_read(typed, strlen(typed), unit, &load, error);
    if (status != HF_OK) return status;
    if (hf_number_read(typed, strlen(typed), &number)) {
        *out = hf_arena_format(arena, "%s", hf_number_shortest(number, text));
    } else {
        *out = hf_arena_format(arena, "\"%s %s\"", hf_number_shortest(load.value, text), load.unit->name);
    }
    return *out ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

static hf_status text_value(hf_arena *arena, const char *typed, const char **out, hf_error *error) {
    hf_text quoted = {0};
    *out = NULL;
    if (!typed) return HF_OK;
    hf_json_quote(&quoted, typed);
    if (!quoted.failed) *out = hf_arena_text(arena, quoted.bytes, quoted.length);
    hf_text_free(&quoted);
    return *out ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

static hf_status change_values(record_job *job, const hf_record_change *change, member_change *rows, hf_error *error) {
    const hf_unit *unit = job->campaign->unit;
    const char *const loads[] = {change->held, change->failed, change->peak, change->set_held, change->set_seen};
    const char *const load_keys[] = {"held", "failed", "peak", "set_held", "set_seen"};
    const char *const texts[] = {change->outcome, change->mode, change->note};
    const char *const text_keys[] = {"outcome", "mode", "note"};
    for (size_t i = 0; i < 5; i++) {
        rows[i] = (member_change){load_keys[i], NULL, true};
        hf_status status = load_value(job->arena, unit, loads[i], &rows[i].value, error);
        if (status != HF_OK) return status;
    }
    for (size_t i = 0; i < 3; i++) {
        rows[5 + i] = (member_change){text_keys[i], NULL, strcmp(text_keys[i], "note") != 0};
        hf_status status = text_value(job->arena, texts[i], &rows[5 + i].value, error);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}

static const member_change *row_of(const member_change *rows, const char *key) {
    for (size_t i = 0; i < RESULT_KEYS; i++)
        if (strcmp(rows[i].key, key) == 0) return &rows[i];
    return NULL;
}

static void add_edit(record_job *job, size_t start, size_t end, const char *replacement) {
    if (job->count < MOST_EDITS) job->edits[job->count++] = (hf_json_edit){start, end, replacement};
}

/* Comma and white space before a new member: as before the last member that stays. */
static const char *separator(const record_job *job, const hf_json *last) {
    const char *text = job->campaign->text;
    size_t start = last->key_start, line = start;
    while (line > 0 && text[line - 1] != '\n') line--;
    size_t indent = line;
    while (indent < start && (text[indent] == ' ' || text[indent] == '\t')) indent++;
    if (indent != start) return ", ";
    return hf_arena_format(job->arena, ",\n%.*s", (int)(indent - line), text + line);
}

/* Edits of the members there are, then one that adds the new ones behind the last that stays. */
static hf_status build_edits(record_job *job, const member_change *rows, bool again) {
    const hf_json *kept = NULL, *last = NULL;
    hf_text added = {0};
    for (const hf_json *child = job->object->first; child; child = child->next) {
        const member_change *row = row_of(rows, child->key);
        bool removed = again && row && row->result && !row->value;
        last = child;
        if (!removed) kept = child;
    }
    for (const hf_json *child = job->object->first; child; child = child->next) {
        const member_change *row = row_of(rows, child->key);
        bool removed = again && row && row->result && !row->value;
        if (removed && child->start < kept->start) add_edit(job, child->key_start, child->next->key_start, "");
        if (row && row->value) add_edit(job, child->start, child->end, row->value);
    }
    const char *between = separator(job, kept);
    for (size_t i = 0; i < RESULT_KEYS; i++)
        if (rows[i].value && !hf_json_get(job->object, rows[i].key))
            hf_text_addf(&added, "%s\"%s\": %s", between ? between : ", ", rows[i].key, rows[i].value);
    char *text = hf_arena_text(job->arena, added.bytes ? added.bytes : "", added.length);
    bool good = text && !added.failed;
    hf_text_free(&added);
    if (!good) return HF_MEMORY;
    if (text[0] || last != kept) add_edit(job, kept->end, last->end, text);
    return HF_OK;
}

static hf_status no_such_specimen(const hf_campaign *campaign, const char *id, hf_error *error) {
    const char *nearest = NULL;
    for (size_t i = 0; i < campaign->design_count && !nearest; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count && !nearest; j++)
            nearest = hf_text_nearest(id, &campaign->designs[i].specimens[j].id, 1);
    if (nearest) return hf_error_set(error, HF_BAD_DATA, "found no specimen \"%.60s\"; nearest is \"%.60s\"", id, nearest);
    return hf_error_set(error, HF_BAD_DATA, "found no specimen \"%.60s\" in the file", id);
}

static bool nothing_to_record(const hf_record_change *change) {
    return !change->held && !change->failed && !change->peak && !change->outcome && !change->mode && !change->set_held &&
           !change->set_seen && !change->note;
}

hf_status hf_campaign_record(hf_arena *arena, const hf_campaign *campaign, const char *id, const hf_record_change *change,
                             bool again, hf_text *out, hf_findings *findings, hf_error *error) {
    member_change rows[RESULT_KEYS];
    const hf_specimen *specimen = hf_campaign_specimen(campaign, id, NULL);
    const hf_campaign *result;
    memset(findings, 0, sizeof *findings);
    if (!specimen) return no_such_specimen(campaign, id, error);
    if (nothing_to_record(change)) return hf_error_set(error, HF_BAD_DATA, "found nothing to record for \"%.60s\", expected a load or an outcome", id);
    if (specimen->outcome != HF_OUTCOME_PLANNED && !again)
        return hf_error_set(error, HF_BAD_DATA, "specimen \"%.60s\" has a result already; recording it again must be asked for", id);
    record_job job = {arena, campaign, specimen->node, {{0, 0, NULL}}, 0};
    hf_record_change filled = *change;
    if (!filled.outcome && specimen->outcome == HF_OUTCOME_PLANNED) filled.outcome = "failed";
    hf_status status = change_values(&job, &filled, rows, error);
    if (status != HF_OK) return status;
    if (build_edits(&job, rows, again) != HF_OK || hf_json_splice(campaign->text, campaign->text_length, job.edits, job.count, out) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    status = hf_campaign_parse(arena, campaign->file, out->bytes, out->length, &result, findings);
    if (status != HF_OK) {
        hf_text_free(out);
        return hf_error_set(error, status, "the pull of \"%.60s\" cannot be so; the file is unchanged", id);
    }
    return HF_OK;
}
