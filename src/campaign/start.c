/* The starter campaign that `new` writes. */
#include <stdio.h>
#include <string.h>
#include "campaign/parts.h"
#include "holdfast/base/number.h"
#include "holdfast/load/weight_list.h"

static const char *or_else(const char *given, const char *otherwise) {
    return given && given[0] ? given : otherwise;
}

static void add_member(hf_text *out, const char *key, const char *value, const char *end) {
    hf_text_addf(out, "\"%s\": ", key);
    hf_json_quote(out, value);
    hf_text_add(out, end);
}

static void add_number(hf_text *out, const char *key, const char *typed, const char *otherwise, bool *first) {
    const char *value = typed && typed[0] ? typed : otherwise;
    double number;
    if (!value) return;
    hf_text_addf(out, "%s\"%s\": ", *first ? "" : ", ", key);
    if (hf_number_read(value, strlen(value), &number)) {
        char text[HF_NUMBER_SIZE];
        hf_text_add(out, hf_number_shortest(number, text));
    } else {
        hf_json_quote(out, value); /* a load with its unit; validation has the last word */
    }
    *first = false;
}

/* "6x10kg 2x5kg" → rows. */
static hf_status add_weights(const hf_campaign_start *start, hf_text *out, hf_error *error) {
    hf_weight_item items[HF_WEIGHT_LIST_MOST];
    const char *unit = or_else(start->unit, "N");
    char number[HF_NUMBER_SIZE];
    size_t count;
    hf_status status = hf_weight_list_read(start->weights, hf_unit_find(unit, strlen(unit)), items,
                                           HF_WEIGHT_LIST_MOST, &count, error);
    for (size_t i = 0; i < count && status == HF_OK; i++)
        hf_text_addf(out, "%s\n    { \"load\": \"%s %s\", \"count\": %zu }", i ? "," : "",
                     hf_number_shortest(items[i].load.value, number), items[i].load.unit->name,
                     items[i].count);
    return status;
}

static void add_design(const hf_campaign_start *start, hf_text *out) {
    const char *id = or_else(start->design, "design-1");
    bool first = true;
    hf_text_add(out, "  \"designs\": [\n    {\n      ");
    add_member(out, "id", id, ",\n      ");
    add_member(out, "name", or_else(start->name, id), ",\n");
    if (start->mean || start->cv) {
        hf_text_add(out, "      \"guess\": { ");
        add_number(out, "mean", start->mean, NULL, &first);
        add_number(out, "cv", start->cv, NULL, &first);
        hf_text_add(out, " },\n");
    }
    hf_text_add(out, "      \"specimens\": [");
    for (size_t i = 1; i <= start->parts; i++) {
        char specimen[300];
        (void)snprintf(specimen, sizeof specimen, "%.250s-%02zu", id, i);
        hf_text_addf(out, "%s\n        { ", i == 1 ? "" : ",");
        add_member(out, "id", specimen, ", ");
        hf_text_add(out, "\"outcome\": \"planned\" }");
    }
    hf_text_add(out, start->parts ? "\n      ]\n    }\n  ]\n}\n" : "]\n    }\n  ]\n}\n");
}

static hf_status add_all(const hf_campaign_start *start, hf_text *out, hf_error *error) {
    bool first = true, goal = true;
    hf_text_add(out, "{\n  \"format\": \"holdfast-campaign/1\",\n  ");
    add_member(out, "title", or_else(start->title, "Untitled campaign"), ",\n  ");
    add_member(out, "unit", or_else(start->unit, "N"), ",\n");
    hf_text_add(out, "  \"rig\": { ");
    add_number(out, "records", start->records, "added", &first);
    add_number(out, "tare", start->tare, start->records && strcmp(start->records, "total") == 0 ? NULL : "0",
               &first);
    add_number(out, "rating", start->rating, NULL, &first);
    hf_text_add(out, " },\n");
    if (start->weights && start->weights[0]) {
        hf_text_add(out, "  \"weights\": [");
        hf_status status = add_weights(start, out, error);
        if (status != HF_OK) return status;
        hf_text_add(out, "\n  ],\n");
    }
    hf_text_add(out, "  \"goal\": { ");
    add_number(out, "content", start->content, "0.9", &goal);
    add_number(out, "confidence", start->confidence, "0.95", &goal);
    add_number(out, "design_factor", start->design_factor, NULL, &goal);
    add_number(out, "service_load", start->service_load, NULL, &goal);
    hf_text_add(out, " },\n");
    add_design(start, out);
    return HF_OK;
}

hf_status hf_campaign_start_text(hf_arena *arena, const hf_campaign_start *start, hf_text *out,
                                 hf_error *error) {
    hf_findings findings;
    const hf_campaign *campaign;
    hf_text text = {0};
    hf_status status = add_all(start, &text, error);
    if (status == HF_OK && text.failed) status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK) {
        status = hf_campaign_parse(arena, "the new campaign", text.bytes, text.length, &campaign, &findings);
        if (status == HF_BAD_DATA)
            status =
                hf_error_set(error, HF_USAGE, "%s: %s", findings.items[0].path, findings.items[0].message);
        else if (status != HF_OK)
            status = hf_error_set(error, status, "out of memory");
    }
    if (status == HF_OK) hf_text_add_bytes(out, text.bytes, text.length);
    if (status == HF_OK && out->failed) status = hf_error_set(error, HF_MEMORY, "out of memory");
    hf_text_free(&text);
    return status;
}
