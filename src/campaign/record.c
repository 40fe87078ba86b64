/* Writing one pull into the file: edits at noted places, every other byte as it was. */
#include <stdio.h>
#include <string.h>
#include "campaign/parts.h"
#include "campaign/table.h"
#include "holdfast/base/number.h"

enum { TYPED_LOADS = 5, TYPED_TEXTS = 3, RESULT_KEYS = 12, MOST_EDITS = 64 };

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

static bool typed(const char *text) {
    return text && text[0];
}

static hf_status text_value(hf_arena *arena, const char *words, const char **out, hf_error *error) {
    hf_text quoted = {0};
    *out = NULL;
    if (!typed(words)) return HF_OK;
    hf_json_quote(&quoted, words);
    if (!quoted.failed) *out = hf_arena_text(arena, quoted.bytes, quoted.length);
    hf_text_free(&quoted);
    return *out ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

/* A load as typed: with a unit a JSON text, else a JSON number. */
static hf_status load_value(hf_arena *arena, const hf_unit *unit, const char *words, const char **out,
                            hf_error *error) {
    hf_load load;
    double number;
    char text[HF_NUMBER_SIZE];
    *out = NULL;
    if (!typed(words)) return HF_OK;
    hf_status status = hf_load_read(words, strlen(words), unit, &load, error);
    if (status != HF_OK) return status;
    if (!hf_number_read(words, strlen(words), &number)) return text_value(arena, words, out, error);
    *out = hf_arena_format(arena, "%s", hf_number_shortest(number, text));
    return *out ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

static hf_status change_values(record_job *job, const hf_record_change *change, member_change *rows,
                               hf_error *error) {
    const hf_unit *unit = job->campaign->unit;
    const char *const loads[] = {change->held, change->failed, change->peak, change->set_held,
                                 change->set_seen};
    const char *const load_keys[] = {"held", "failed", "peak", "set_held", "set_seen"};
    const char *const texts[] = {change->outcome, change->mode, change->note};
    const char *const text_keys[] = {"outcome", "mode", "note"};
    static const char *const untyped_keys[] = {"phase", "duration_s", "dropped", "broke"};
    for (size_t i = 0; i < TYPED_LOADS; i++) {
        rows[i] = (member_change){load_keys[i], NULL, true};
        hf_status status = load_value(job->arena, unit, loads[i], &rows[i].value, error);
        if (status != HF_OK) return status;
    }
    for (size_t i = 0; i < TYPED_TEXTS; i++) {
        member_change *row = &rows[TYPED_LOADS + i];
        *row = (member_change){text_keys[i], NULL, strcmp(text_keys[i], "note") != 0};
        hf_status status = text_value(job->arena, texts[i], &row->value, error);
        if (status != HF_OK) return status;
    }
    for (size_t i = TYPED_LOADS + TYPED_TEXTS; i < RESULT_KEYS; i++)
        rows[i] = (member_change){untyped_keys[i - TYPED_LOADS - TYPED_TEXTS], NULL, true};
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

/* Edits of the members there are, then one that adds the new ones behind the last that stays. */
static hf_status build_edits(record_job *job, const member_change *rows, bool fresh) {
    const hf_json *kept = NULL, *last = NULL;
    hf_text added = {0};
    for (const hf_json *child = job->object->first; child; child = child->next) {
        const member_change *row = row_of(rows, child->key);
        bool removed = fresh && row && row->result && !row->value;
        last = child;
        if (!removed) kept = child;
    }
    for (const hf_json *child = job->object->first; child; child = child->next) {
        const member_change *row = row_of(rows, child->key);
        bool removed = fresh && row && row->result && !row->value;
        if (removed && child->start < kept->start)
            add_edit(job, child->key_start, child->next->key_start, "");
        if (row && row->value) add_edit(job, child->start, child->end, row->value);
    }
    const char *between = hf_separator_like(job->arena, job->campaign->text, kept->key_start);
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

static hf_status no_such_specimen(hf_arena *arena, const hf_campaign *campaign, const char *id,
                                  hf_error *error) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++) count += campaign->designs[i].specimen_count;
    const char **ids = HF_ARENA_NEW_ARRAY(arena, const char *, count);
    if (!ids) return hf_error_set(error, HF_MEMORY, "out of memory");
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

static bool is_new_result(const hf_record_change *change) {
    return typed(change->held) || typed(change->failed) || typed(change->peak) || typed(change->outcome);
}

static bool nothing_to_record(const hf_record_change *change) {
    return !is_new_result(change) && !typed(change->mode) && !typed(change->set_held) &&
           !typed(change->set_seen) && !typed(change->note);
}

hf_status hf_campaign_record(hf_arena *arena, const hf_campaign *campaign, const char *id,
                             const hf_record_change *change, bool again, hf_text *out, hf_findings *findings,
                             hf_error *error) {
    member_change rows[RESULT_KEYS];
    const hf_specimen *specimen = hf_campaign_specimen(campaign, id, NULL);
    const hf_campaign *result;
    memset(findings, 0, sizeof *findings);
    if (!specimen) return no_such_specimen(arena, campaign, id, error);
    if (nothing_to_record(change))
        return hf_error_set(error, HF_BAD_DATA,
                            "found nothing to record for \"%.60s\", expected a load or an outcome", id);
    if (specimen->outcome != HF_OUTCOME_PLANNED && !again)
        return hf_error_set(error, HF_BAD_DATA,
                            "specimen \"%.60s\" has a result already; recording it again must be asked for",
                            id);
    record_job job = {arena, campaign, specimen->node, {{0, 0, NULL}}, 0};
    hf_record_change filled = *change;
    if (!typed(filled.outcome) && specimen->outcome == HF_OUTCOME_PLANNED) filled.outcome = "failed";
    hf_status status = change_values(&job, &filled, rows, error);
    if (status != HF_OK) return status;
    hf_text text = {0};
    bool fresh = specimen->outcome != HF_OUTCOME_PLANNED && is_new_result(change);
    if (build_edits(&job, rows, fresh) != HF_OK ||
        hf_json_splice(campaign->text, campaign->text_length, job.edits, job.count, &text) != HF_OK)
        status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK &&
        hf_campaign_parse(arena, campaign->file, text.bytes, text.length, &result, findings) != HF_OK)
        status =
            hf_error_set(error, HF_BAD_DATA, "the pull of \"%.60s\" cannot be so; the file is unchanged", id);
    if (status == HF_OK) hf_text_add_bytes(out, text.bytes, text.length);
    if (status == HF_OK && out->failed) status = hf_error_set(error, HF_MEMORY, "out of memory");
    hf_text_free(&text);
    return status;
}
