/* Writes docs/result.schema.json: what the JSON of every kind of result may hold, walked from the tables that it is written by. */
#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "words/json_fields.h"

enum { MOST_RECORDS = 192 };

static const hf_report_kind *const kinds[] = {
    &hf_report_check,       &hf_report_assess,    &hf_report_compare,       &hf_report_factor,
    &hf_report_plan,        &hf_report_plan_next, &hf_report_plan_contrast, &hf_report_plan_proof,
    &hf_report_coverage,    &hf_report_history,   &hf_report_undo,          &hf_report_questions,
    &hf_report_status,      &hf_report_set,       &hf_report_sheet,         &hf_report_scatter,
    &hf_report_plan_strong, &hf_report_settings};
enum { KINDS = sizeof kinds / sizeof *kinds };

/* The records met so far; each is written once, under its name. */
typedef struct schema {
    hf_json_writer json;
    const hf_record *records[MOST_RECORDS];
    size_t count;
} schema;

static void meet(schema *s, const hf_record *record) {
    for (size_t i = 0; i < s->count; i++) {
        if (s->records[i] == record) return;
        if (strcmp(s->records[i]->name, record->name) == 0) {
            (void)fprintf(stderr, "two records are named \"%s\"\n", record->name);
            exit(1);
        }
    }
    assert(s->count < MOST_RECORDS);
    s->records[s->count++] = record;
}

static void refer(schema *s, const char *name) {
    hf_text path = {0};
    hf_text_addf(&path, "#/$defs/%s", name);
    hf_json_add_text(&s->json, "$ref", path.bytes);
    hf_text_free(&path);
}

static const char *type_of(hf_field_kind kind) {
    switch (kind) {
    case HF_FIELD_COUNT:
        return "integer";
    case HF_FIELD_BOOL:
        return "boolean";
    case HF_FIELD_TEXT:
    case HF_FIELD_WORD:
    case HF_FIELD_REASON:
        return "string";
    case HF_FIELD_LOAD:
    case HF_FIELD_LOCATION:
    case HF_FIELD_SPREAD:
    case HF_FIELD_NUMBER:
        return "number";
    case HF_FIELD_OBJECT:
    case HF_FIELD_INLINE:
        return "object";
    case HF_FIELD_ARRAY:
    case HF_FIELD_CAUTIONS:
        return "array";
    case HF_FIELD_END:
        break;
    }
    return "null";
}

static void add_type(schema *s, const hf_field *field) {
    if (!field->nullable) {
        hf_json_add_text(&s->json, "type", type_of(field->kind));
        return;
    }
    hf_json_open_array(&s->json, "type");
    hf_json_add_text(&s->json, NULL, type_of(field->kind));
    hf_json_add_text(&s->json, NULL, "null");
    hf_json_close(&s->json, true);
}

static void add_value(schema *s, const char *key, const hf_field *field);

static void add_items(schema *s, const hf_field *field) {
    if (field->each) {
        add_value(s, "items", field->each);
        return;
    }
    hf_json_open_object(&s->json, "items");
    refer(s, field->kind == HF_FIELD_CAUTIONS ? "caution" : field->record->name);
    hf_json_close(&s->json, false);
    if (field->record) meet(s, field->record);
}

static void add_value(schema *s, const char *key, const hf_field *field) {
    hf_json_open_object(&s->json, key);
    if (field->kind == HF_FIELD_OBJECT) {
        refer(s, field->record->name);
        meet(s, field->record);
    } else {
        add_type(s, field);
    }
    if (field->kind == HF_FIELD_LOAD || field->kind == HF_FIELD_LOCATION || field->kind == HF_FIELD_SPREAD)
        hf_json_add_text(&s->json, "description",
                         field->kind == HF_FIELD_LOAD ? "a load in the unit of the result"
                                                      : "on the working scale of the law, in that unit");
    if (field->kind == HF_FIELD_COUNT) hf_json_add_count(&s->json, "minimum", 0);
    if (field->kind == HF_FIELD_ARRAY || field->kind == HF_FIELD_CAUTIONS) add_items(s, field);
    if (field->words) {
        hf_json_open_array(&s->json, "enum");
        for (const char *const *word = field->words; *word; word++) hf_json_add_text(&s->json, NULL, *word);
        hf_json_close(&s->json, true);
    }
    hf_json_close(&s->json, false);
}

static void add_reason(schema *s, const char *key) {
    hf_json_open_object(&s->json, key);
    hf_json_add_text(&s->json, "type", "string");
    hf_json_close(&s->json, false);
}

/* Rows of the record and of those that stand in the same object. */
static void add_properties(schema *s, const hf_record *record, bool *reason) {
    hf_text why = {0};
    for (const hf_field *field = record->fields; field->kind != HF_FIELD_END; field++) {
        if (field->kind == HF_FIELD_INLINE) {
            add_properties(s, field->record, reason);
            continue;
        }
        *reason |= field->nullable || field->kind == HF_FIELD_REASON;
        if (field->kind == HF_FIELD_REASON) continue;
        add_value(s, field->key, field);
        if (!field->nullable) continue;
        hf_text_free(&why);
        why = (hf_text){0};
        hf_text_addf(&why, "%s_reason", field->key);
        add_reason(s, why.bytes);
    }
    hf_text_free(&why);
}

static void add_required(schema *s, const hf_record *record) {
    for (const hf_field *field = record->fields; field->kind != HF_FIELD_END; field++) {
        if (field->given) continue;
        if (field->kind == HF_FIELD_INLINE)
            add_required(s, field->record);
        else if (field->kind != HF_FIELD_REASON)
            hf_json_add_text(&s->json, NULL, field->key);
    }
}

static void add_constant(schema *s, const char *key, const char *text) {
    hf_json_open_object(&s->json, key);
    hf_json_add_text(&s->json, "const", text);
    hf_json_close(&s->json, false);
}

/* The object's own reason: of its first null. */
static void add_record(schema *s, const hf_record *record, bool is_result) {
    bool reason = false;
    hf_json_open_object(&s->json, record->name);
    hf_json_add_text(&s->json, "type", "object");
    hf_json_open_object(&s->json, "properties");
    if (is_result) {
        add_constant(s, "format", "holdfast-result/2");
        add_constant(s, "kind", record->name);
        add_reason(s, "version");
    }
    add_properties(s, record, &reason);
    if (reason) add_reason(s, "reason");
    hf_json_close(&s->json, false);
    hf_json_open_array(&s->json, "required");
    if (is_result) {
        hf_json_add_text(&s->json, NULL, "format");
        hf_json_add_text(&s->json, NULL, "kind");
        hf_json_add_text(&s->json, NULL, "version");
    }
    add_required(s, record);
    hf_json_close(&s->json, true);
    hf_json_add_bool(&s->json, "additionalProperties", false);
    hf_json_close(&s->json, false);
}

/* Written by hf_result_cautions, see src/words/json_report.h; what `values` holds goes by the code, see holdfast/study/caution_list.h. */
static void add_caution(schema *s) {
    static const char *const keys[] = {"code", "title", "rank", "text", "values"};
    hf_json_open_object(&s->json, "caution");
    hf_json_add_text(&s->json, "type", "object");
    hf_json_open_object(&s->json, "properties");
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        hf_json_open_object(&s->json, keys[i]);
        hf_json_add_text(&s->json, "type", strcmp(keys[i], "values") == 0 ? "object" : "string");
        hf_json_close(&s->json, false);
    }
    hf_json_close(&s->json, false);
    hf_json_open_array(&s->json, "required");
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) hf_json_add_text(&s->json, NULL, keys[i]);
    hf_json_close(&s->json, true);
    hf_json_add_bool(&s->json, "additionalProperties", false);
    hf_json_close(&s->json, false);
}

static void add_head(schema *s) {
    hf_json_add_text(&s->json, "$schema", "https://json-schema.org/draft/2020-12/schema");
    hf_json_add_text(&s->json, "title", "Holdfast results");
    hf_json_add_text(&s->json, "description",
                     "What every command writes with --json. A value that may be null has, when it is, its "
                     "cause beside it: the member <key>_reason; and the object's `reason` is that of its "
                     "first null, or one of its own. Loads are in the unit named by `unit`.");
    hf_json_open_array(&s->json, "oneOf");
    for (size_t i = 0; i < KINDS; i++) {
        hf_json_open_object(&s->json, NULL);
        refer(s, kinds[i]->json->name);
        hf_json_close(&s->json, false);
    }
    hf_json_close(&s->json, true);
}

int main(void) {
    hf_text out = {0};
    schema s = {.count = 0};
    hf_json_writer_start(&s.json, &out);
    hf_json_open_object(&s.json, NULL);
    add_head(&s);
    hf_json_open_object(&s.json, "$defs");
    for (size_t i = 0; i < KINDS; i++) meet(&s, kinds[i]->json);
    for (size_t i = 0; i < s.count; i++) add_record(&s, s.records[i], i < KINDS);
    add_caution(&s);
    hf_json_close(&s.json, false);
    hf_json_close(&s.json, false);
    (void)fwrite(out.bytes, 1, out.length, stdout);
    hf_text_free(&out);
    return 0;
}
