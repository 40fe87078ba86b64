/* How far a campaign has come; and what was set in it. */
#include <math.h>
#include "words/assess_words.h"
#include "words/json_fields.h"

static const char *count_cell(hf_document *d, size_t count) {
    const char *text = count ? hf_arena_format(d->arena, "%zu", count) : "";
    return text ? text : "";
}

static const char *minutes_cell(hf_document *d, double minutes) {
    const char *text = isnan(minutes) ? "" : hf_arena_format(d->arena, "%.0f", ceil(minutes));
    return text ? text : "";
}

static void add_designs(hf_document *d, const hf_standing *s) {
    static const char *const header[] = {"design", ">failed", ">held",    ">rig",
                                         ">void",  ">left",   ">minutes", NULL};
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < s->count; i++) {
        const hf_standing_design *one = &s->designs[i];
        const char *const cells[] = {one->design->id,
                                     count_cell(d, one->failed),
                                     count_cell(d, one->held),
                                     count_cell(d, one->rig),
                                     count_cell(d, one->voided),
                                     count_cell(d, one->planned),
                                     one->planned ? minutes_cell(d, one->minutes) : "",
                                     NULL};
        hf_document_row(d, table, cells);
    }
}

static size_t left(const hf_standing *s) {
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++) count += s->designs[i].planned;
    return count;
}

static size_t done(const hf_standing *s) {
    size_t count = 0;
    for (size_t i = 0; i < s->count; i++)
        count += s->designs[i].failed + s->designs[i].held + s->designs[i].rig + s->designs[i].voided;
    return count;
}

static void add_next(hf_document *d, const hf_standing *s) {
    if (!s->next) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Next: nothing is planned; holdfast assess %s says what the pulls prove.",
                         s->campaign->file);
        return;
    }
    if (!s->rung)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Next: %s (%s); no ladder is planned for it.", s->next->id,
                         hf_design_name(d, s->next_design));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Next: %s (%s), first rung %s on the part%s%s.", s->next->id,
                         hf_design_name(d, s->next_design), hf_show_text(d, HF_AS_MEAN, s->rung->force),
                         s->rung->doing[0] ? ": " : "", s->rung->doing);
}

static void next_document(const void *result, hf_document *d) {
    add_next(d, result);
}

static void status_document(const void *result, hf_document *d) {
    const hf_standing *s = result;
    size_t remaining = left(s);
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", s->campaign->title[0] ? s->campaign->title : s->campaign->file);
    if (remaining && !isnan(s->minutes))
        hf_document_addf(d, HF_BLOCK_ANSWER, "%zu pulled, %zu left, about %.0f minutes.", done(s), remaining,
                         ceil(s->minutes));
    else
        hf_document_addf(d, HF_BLOCK_ANSWER, "%zu pulled, %zu left.", done(s), remaining);
    add_designs(d, s);
    add_next(d, s);
    if (!s->doubt_count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Does not look right");
    for (size_t i = 0; i < s->doubt_count; i++)
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s", s->doubts[i].part, s->doubts[i].words);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "To correct one: holdfast record %s PART --again with the load as it was.",
                     s->campaign->file);
}

/* --- JSON -------------------------------------------------------------------------------------------- */

static hf_found id_of(const hf_place *p) {
    return hf_found_text(((const hf_standing_design *)p->item)->design->id, NULL);
}

#define OF hf_standing_design
static const hf_field design_fields[] = {HF_FOUND(TEXT, "id", id_of),
                                         HF_MEMBER(COUNT, "failed", failed),
                                         HF_MEMBER(COUNT, "run_out", held),
                                         HF_MEMBER(COUNT, "rig", rig),
                                         HF_MEMBER(COUNT, "void", voided),
                                         HF_MEMBER(COUNT, "planned", planned),
                                         HF_MAYBE(NUMBER, "minutes", minutes, "not_known"),
                                         HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "standing_design", .fields = design_fields};

#define OF hf_sheet_rung
static const hf_field rung_fields[] = {HF_MEMBER(LOAD, "force", force), HF_MEMBER(LOAD, "recorded", recorded),
                                       HF_MEMBER(TEXT, "weights", hangs), HF_MEMBER(TEXT, "do", doing),
                                       HF_FIELDS_END};
#undef OF
static const hf_record rung_record = {.name = "standing_rung", .fields = rung_fields};

static hf_found next_id(const hf_place *p) {
    return hf_found_text(((const hf_standing *)p->item)->next->id, NULL);
}

static hf_found next_design_id(const hf_place *p) {
    return hf_found_text(((const hf_standing *)p->item)->next_design->id, NULL);
}

static hf_found next_rung(const hf_place *p) {
    return hf_found_item(((const hf_standing *)p->item)->rung);
}

static bool has_rung(const hf_place *p) {
    return ((const hf_standing *)p->item)->rung != NULL;
}

static bool has_next(const hf_place *p) {
    return ((const hf_standing *)p->item)->next != NULL;
}

static const hf_field next_fields[] = {
    HF_FOUND(TEXT, "part", next_id),
    HF_FOUND(TEXT, "design", next_design_id),
    {.key = "rung", .kind = HF_FIELD_OBJECT, .find = next_rung, .record = &rung_record, .given = has_rung},
    HF_FIELDS_END};
static const hf_record next_record = {.name = "next_pull", .fields = next_fields};

#define OF hf_doubt
static const hf_field doubt_fields[] = {HF_MEMBER(TEXT, "code", code),
                                        HF_MEMBER(TEXT, "part", part),
                                        HF_MEMBER(TEXT, "option", option),
                                        HF_MEMBER(TEXT, "said", said),
                                        HF_MAYBE(TEXT, "nearest", nearest, "not_known"),
                                        HF_MEMBER(TEXT, "text", words),
                                        HF_FIELDS_END};
#undef OF
const hf_record hf_json_doubt = {.name = "question", .fields = doubt_fields};

static hf_found status_file(const hf_place *p) {
    return hf_found_item(((const hf_standing *)p->item)->campaign);
}

static const void *next_standing(const hf_place *p, size_t at) {
    const hf_standing *s = p->item;
    return at < s->count ? &s->designs[at] : NULL;
}

static const void *next_doubt(const hf_place *p, size_t at) {
    const hf_standing *s = p->item;
    return at < s->doubt_count ? &s->doubts[at] : NULL;
}

#define OF hf_standing
static const hf_field status_fields[] = {
    HF_FILE(status_file),
    HF_LIST("designs", next_standing, &design_record),
    HF_MAYBE(NUMBER, "minutes", minutes, "not_known"),
    {.key = "next", .kind = HF_FIELD_OBJECT, .record = &next_record, .given = has_next},
    HF_LIST("questions", next_doubt, &hf_json_doubt),
    HF_FIELDS_END};
#undef OF
static const hf_record status_record = {.name = "status", .fields = status_fields};
const hf_report_kind hf_report_status = {"status", status_document, &status_record};
const hf_report_kind hf_report_status_next = {"status", next_document, &status_record};

/* --- Keys of the file -------------------------------------------------------------------------------- */

static void set_document(const void *result, hf_document *d) {
    const hf_set_result *set = result;
    for (size_t i = 0; i < set->count; i++) {
        const hf_field_change *change = &set->changes[i];
        if (change->was && change->now)
            hf_document_addf(d, HF_BLOCK_ITEM, "%s was %s, now %s", change->key, change->was, change->now);
        else
            hf_document_addf(d, HF_BLOCK_ITEM, "%s %s%s", change->key,
                             change->now ? "is " : "is not stated any more", change->now ? change->now : "");
    }
}

#define OF hf_field_change
static const hf_field change_fields[] = {HF_MEMBER(TEXT, "key", key),
                                         HF_MAYBE(TEXT, "was", was, "not_stated"),
                                         HF_MAYBE(TEXT, "now", now, "not_stated"), HF_FIELDS_END};
#undef OF
static const hf_record change_record = {.name = "setting", .fields = change_fields};

static hf_found set_file(const hf_place *p) {
    return hf_found_item(((const hf_set_result *)p->item)->campaign);
}

static const void *next_setting(const hf_place *p, size_t at) {
    const hf_set_result *set = p->item;
    return at < set->count ? &set->changes[at] : NULL;
}

static const hf_field set_fields[] = {HF_FILE(set_file), HF_LIST("changes", next_setting, &change_record),
                                      HF_FIELDS_END};
static const hf_record set_record = {.name = "set", .fields = set_fields};
const hf_report_kind hf_report_set = {"set", set_document, &set_record};

/* --- What can be set, and how it stands --------------------------------------------------------------- */

static void keys_document(const void *result, hf_document *d) {
    static const char *const header[] = {"key", "value", NULL};
    const hf_settings_result *settings = result;
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < settings->count; i++) {
        const hf_setting_now *key = &settings->keys[i];
        const char *value =
            key->value ? key->value : hf_arena_format(d->arena, "(not stated: %s)", key->takes);
        hf_document_row(d, table, (const char *const[]){key->name, value ? value : ""});
    }
}

#define OF hf_setting_now
static const hf_field key_fields[] = {HF_MEMBER(TEXT, "key", name),
                                      HF_MAYBE(TEXT, "value", value, "not_stated"),
                                      HF_MEMBER(TEXT, "takes", takes), HF_FIELDS_END};
#undef OF
static const hf_record key_record = {.name = "setting_now", .fields = key_fields};

static hf_found keys_file(const hf_place *p) {
    return hf_found_item(((const hf_settings_result *)p->item)->campaign);
}

static const void *next_key(const hf_place *p, size_t at) {
    const hf_settings_result *settings = p->item;
    return at < settings->count ? &settings->keys[at] : NULL;
}

static const hf_field keys_fields[] = {HF_FILE(keys_file), HF_LIST("keys", next_key, &key_record),
                                       HF_FIELDS_END};
static const hf_record keys_record = {.name = "settings", .fields = keys_fields};
const hf_report_kind hf_report_settings = {"settings", keys_document, &keys_record};

/* --- The worksheet as data --------------------------------------------------------------------------- */

static void sheet_document(const void *result, hf_document *d) {
    static const char *const header[] = {"part", ">rung", ">force on the part", "do", NULL};
    const hf_sheet *sheet = result;
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < sheet->part_count; i++) {
        const hf_sheet_ladder *ladder = sheet->parts[i].ladder;
        for (size_t j = 0; ladder && j < ladder->count; j++) {
            const char *const cells[] = {sheet->parts[i].specimen->id, count_cell(d, j + 1),
                                         hf_show_text(d, HF_AS_MEAN, ladder->rungs[j].force),
                                         ladder->rungs[j].doing, NULL};
            hf_document_row(d, table, cells);
        }
    }
}

static hf_found sheet_file(const hf_place *p) {
    return hf_found_item(((const hf_sheet *)p->item)->campaign);
}

static hf_found part_id(const hf_place *p) {
    return hf_found_text(((const hf_sheet_part *)p->item)->specimen->id, NULL);
}

static hf_found part_design(const hf_place *p) {
    const hf_sheet_ladder *ladder = ((const hf_sheet_part *)p->item)->ladder;
    return hf_found_text(ladder ? ladder->design->id : NULL, "no_ladder");
}

static const hf_field part_fields[] = {HF_FOUND(TEXT, "id", part_id),
                                       HF_FOUND_OR(TEXT, "ladder", part_design, "no_ladder"), HF_FIELDS_END};
static const hf_record part_record = {.name = "sheet_part", .fields = part_fields};

static const void *next_part(const hf_place *p, size_t at) {
    const hf_sheet *sheet = p->item;
    return at < sheet->part_count ? &sheet->parts[at] : NULL;
}

static hf_found ladder_design(const hf_place *p) {
    return hf_found_text(((const hf_sheet_ladder *)p->item)->design->id, NULL);
}

static const void *ladder_rung(const hf_place *p, size_t at) {
    const hf_sheet_ladder *ladder = p->item;
    return at < ladder->count ? &ladder->rungs[at] : NULL;
}

static const hf_field ladder_fields[] = {HF_FOUND(TEXT, "design", ladder_design),
                                         HF_LIST("rungs", ladder_rung, &rung_record), HF_FIELDS_END};
static const hf_record ladder_record = {.name = "sheet_ladder", .fields = ladder_fields};

static const void *next_ladder(const hf_place *p, size_t at) {
    const hf_sheet *sheet = p->item;
    return at < sheet->ladder_count ? &sheet->ladders[at] : NULL;
}

static const char *const records_words[] = {"none", "added", "total", NULL};

static hf_found sheet_records(const hf_place *p) {
    return hf_found_text(records_words[((const hf_sheet *)p->item)->campaign->rig.force.records], NULL);
}

static hf_found sheet_dwell(const hf_place *p) {
    const hf_maybe dwell = ((const hf_sheet *)p->item)->campaign->rig.dwell_s;
    return hf_found_number(dwell.given ? dwell.value : HF_USUAL_DWELL, NULL);
}

static hf_found sheet_plates(const hf_place *p) {
    const hf_unit *plates = ((const hf_sheet *)p->item)->plates;
    return hf_found_text(plates ? plates->name : NULL, "several");
}

static const void *next_safety(const hf_place *p, size_t at) {
    (void)p;
    return hf_safety_item(at);
}

static hf_found safety_text(const hf_place *p) {
    return hf_found_text(p->item, NULL);
}

static const hf_field safety_row = {.kind = HF_FIELD_TEXT, .find = safety_text};

static const hf_field sheet_fields[] = {
    HF_FILE(sheet_file),
    HF_FOUND(TEXT, "records", sheet_records),
    HF_FOUND(NUMBER, "dwell_s", sheet_dwell),
    HF_FOUND_OR(TEXT, "plates_in", sheet_plates, "several"),
    {.key = "safety", .kind = HF_FIELD_ARRAY, .next = next_safety, .each = &safety_row},
    HF_LIST("parts", next_part, &part_record),
    HF_LIST("ladders", next_ladder, &ladder_record),
    HF_FIELDS_END};
static const hf_record sheet_record = {.name = "sheet", .fields = sheet_fields};
const hf_report_kind hf_report_sheet = {"sheet", sheet_document, &sheet_record};
