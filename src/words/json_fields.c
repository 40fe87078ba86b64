#include "words/json_fields.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "base/version_number.h"
#include "words/words.h"

hf_found hf_found_number(double number, const char *reason) {
    return (hf_found){.number = number, .reason = reason};
}

hf_found hf_found_count(size_t count) {
    return (hf_found){.count = count};
}

hf_found hf_found_yes(bool yes) {
    return (hf_found){.yes = yes};
}

hf_found hf_found_text(const char *text, const char *reason) {
    return (hf_found){.text = text, .reason = reason};
}

hf_found hf_found_item(const void *item) {
    return (hf_found){.item = item};
}

static hf_found file_hash(const hf_place *p) {
    return hf_found_text(((const hf_campaign *)p->item)->sha256, NULL);
}

static hf_found file_unit(const hf_place *p) {
    return hf_found_text(p->style->unit->name, NULL);
}

static hf_found file_gravity(const hf_place *p) {
    return hf_found_number(p->style->gravity, NULL);
}

#define OF hf_campaign
static const hf_field file_fields[] = {HF_MEMBER(TEXT, "file", file),
                                       HF_FOUND(TEXT, "sha256", file_hash),
                                       HF_MEMBER(TEXT, "title", title),
                                       HF_FOUND(TEXT, "unit", file_unit),
                                       HF_FOUND(NUMBER, "gravity", file_gravity),
                                       HF_FIELDS_END};
#undef OF
const hf_record hf_json_file = {.name = "file", .fields = file_fields};

static hf_found read_member(const hf_field *field, const hf_place *place) {
    const void *member = (const char *)place->item + field->offset;
    hf_found found = {.item = member};
    int word;
    switch (field->kind) {
    case HF_FIELD_LOAD:
    case HF_FIELD_LOCATION:
    case HF_FIELD_SPREAD:
    case HF_FIELD_NUMBER:
        memcpy(&found.number, member, sizeof found.number);
        break;
    case HF_FIELD_COUNT:
        memcpy(&found.count, member, sizeof found.count);
        break;
    case HF_FIELD_BOOL:
        memcpy(&found.yes, member, sizeof found.yes);
        break;
    case HF_FIELD_TEXT:
    case HF_FIELD_REASON:
        memcpy(&found.text, member, sizeof found.text);
        break;
    case HF_FIELD_WORD:
        memcpy(&word, member, sizeof word);
        found.text = field->words[word];
        break;
    case HF_FIELD_END:
    case HF_FIELD_OBJECT:
    case HF_FIELD_INLINE:
    case HF_FIELD_ARRAY:
    case HF_FIELD_CAUTIONS:
        break;
    }
    return found;
}

hf_found hf_field_find(const hf_field *field, const hf_record *record, const hf_place *place) {
    hf_found found = field->find ? field->find(place) : read_member(field, place);
    if (field->nullable && record->there && !record->there(place)) found.number = NAN;
    if (!found.reason) found.reason = field->reason;
    if (!found.reason && record->why) found.reason = record->why(place);
    return found;
}

static void add_fields(hf_result_writer *w, const hf_record *record, const hf_place *place);

static void add_scaled(hf_result_writer *w, const hf_field *field, const hf_record *record,
                       const hf_place *place, const hf_found *found) {
    const hf_family *law = record->law(place);
    if (!law)
        hf_result_value(w, field->key, NAN, found->reason);
    else if (field->kind == HF_FIELD_LOCATION)
        hf_result_location(w, law, field->key, found->number, found->reason);
    else
        hf_result_spread(w, law, field->key, found->number, found->reason);
}

static void add_object(hf_result_writer *w, const hf_field *field, const hf_place *place,
                       const hf_found *found) {
    const hf_place inner = {found->item, place, place->at, place->style, place->arena};
    if (field->kind == HF_FIELD_OBJECT) hf_result_open(w, field->key);
    add_fields(w, field->record, &inner);
    if (field->kind == HF_FIELD_OBJECT) hf_result_close(w);
}

static void add_field(hf_result_writer *w, const hf_field *field, const hf_record *record,
                      const hf_place *place);

static void add_array(hf_result_writer *w, const hf_field *field, const hf_place *place) {
    hf_place item = {NULL, place, 0, place->style, place->arena};
    hf_json_open_array(&w->json, field->key);
    for (; (item.item = field->next(place, item.at)) != NULL; item.at++) {
        if (field->each) {
            add_field(w, field->each, NULL, &item);
            continue;
        }
        hf_result_open(w, NULL);
        add_fields(w, field->record, &item);
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
}

/* A text, or null with its reason; a text that is never null has none. */
static void add_text(hf_result_writer *w, const hf_field *field, const hf_found *found) {
    assert(found->text || field->nullable);
    if (field->nullable)
        hf_result_text(w, field->key, found->text, found->reason);
    else
        hf_json_add_text(&w->json, field->key, found->text);
}

static void add_field(hf_result_writer *w, const hf_field *field, const hf_record *record,
                      const hf_place *place) {
    static const hf_record plain = {0};
    hf_found found = hf_field_find(field, record ? record : &plain, place);
    switch (field->kind) {
    case HF_FIELD_LOAD:
        hf_result_load(w, field->key, found.number, found.reason);
        break;
    case HF_FIELD_LOCATION:
    case HF_FIELD_SPREAD:
        add_scaled(w, field, record, place, &found);
        break;
    case HF_FIELD_NUMBER:
        if (field->nullable)
            hf_result_value(w, field->key, found.number, found.reason);
        else
            hf_json_add_number(&w->json, field->key, found.number);
        break;
    case HF_FIELD_COUNT:
        hf_json_add_count(&w->json, field->key, found.count);
        break;
    case HF_FIELD_BOOL:
        if (field->nullable && isnan(found.number))
            hf_result_text(w, field->key, NULL, found.reason);
        else
            hf_json_add_bool(&w->json, field->key, found.yes);
        break;
    case HF_FIELD_TEXT:
    case HF_FIELD_WORD:
        add_text(w, field, &found);
        break;
    case HF_FIELD_REASON:
        if (found.text) hf_result_reason(w, found.text);
        break;
    case HF_FIELD_OBJECT:
    case HF_FIELD_INLINE:
        add_object(w, field, place, &found);
        break;
    case HF_FIELD_ARRAY:
        add_array(w, field, place);
        break;
    case HF_FIELD_CAUTIONS:
        hf_result_cautions(w, found.item);
        break;
    case HF_FIELD_END:
        break;
    }
}

static void add_fields(hf_result_writer *w, const hf_record *record, const hf_place *place) {
    for (const hf_field *field = record->fields; field->kind != HF_FIELD_END; field++)
        if (!field->given || field->given(place)) add_field(w, field, record, place);
}

void hf_report_json(const hf_report_kind *kind, const void *result, const hf_report_style *style,
                    hf_text *out) {
    hf_result_writer w = {.style = style};
    hf_place place = {.item = result, .style = style, .arena = hf_arena_create()};
    if (!place.arena) {
        out->failed = true;
        return;
    }
    hf_json_writer_start(&w.json, out);
    hf_result_open(&w, NULL);
    hf_json_add_text(&w.json, "format", "holdfast-result/2");
    hf_json_add_text(&w.json, "kind", kind->json->name);
    hf_json_add_text(&w.json, "version", HF_VERSION);
    add_fields(&w, kind->json, &place);
    hf_result_close(&w);
    hf_arena_free(place.arena);
}
