/* One more design, or more parts of one. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "campaign/parts.h"
#include "campaign/table.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/set.h"

/* The highest NN of the parts called <id>-NN. */
static size_t last_number(const hf_campaign *campaign, const char *id) {
    size_t length = strlen(id), last = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const char *part = campaign->designs[i].specimens[j].id;
            if (strncmp(part, id, length) != 0 || part[length] != '-') continue;
            const char *digits = part + length + 1;
            size_t number = strlen(digits) < 7 && strspn(digits, "0123456789") == strlen(digits)
                                ? (size_t)strtoul(digits, NULL, 10)
                                : 0;
            if (number > last) last = number;
        }
    return last;
}

static const char *const *planned_parts(hf_arena *arena, const hf_campaign *campaign, const char *id,
                                        size_t count) {
    const char **items = HF_ARENA_NEW_ARRAY(arena, const char *, count);
    size_t first = last_number(campaign, id) + 1;
    for (size_t i = 0; items && i < count; i++) {
        hf_text item = {0};
        char part[300];
        (void)snprintf(part, sizeof part, "%.250s-%02zu", id, first + i);
        hf_text_add(&item, "{ \"id\": ");
        hf_json_quote(&item, part);
        hf_text_add(&item, ", \"outcome\": \"planned\" }");
        items[i] = item.failed ? NULL : hf_arena_text(arena, item.bytes, item.length);
        hf_text_free(&item);
        if (!items[i]) return NULL;
    }
    return items;
}

static void add_guess(const hf_new_design *design, hf_text *out) {
    const char *const keys[] = {"mean", "cv"}, *const values[] = {design->mean, design->cv};
    const char *before = ", \"guess\": { ";
    double number;
    char text[HF_NUMBER_SIZE];
    for (size_t i = 0; i < 2; i++) {
        if (!values[i]) continue;
        hf_text_addf(out, "%s\"%s\": ", before, keys[i]);
        if (hf_number_read(values[i], strlen(values[i]), &number))
            hf_text_add(out, hf_number_shortest(number, text));
        else
            hf_json_quote(out, values[i]);
        before = ", ";
    }
    if (before[2] == '\0') hf_text_add(out, " }");
}

/* Laid out as the last design is: in lines where that stands on one of its own. */
static void add_object(const hf_new_design *design, const char *const *parts, const char *between,
                       hf_text *out) {
    const char *line = strchr(between, '\n') ? between + 1 : " "; /* without its comma */
    const char *deeper = line[0] == ' ' ? "" : "  ";
    hf_text_add(out, "{ \"id\": ");
    hf_json_quote(out, design->id);
    if (design->name) hf_text_add(out, ", \"name\": ");
    if (design->name) hf_json_quote(out, design->name);
    add_guess(design, out);
    hf_text_addf(out, ",%s%s\"specimens\": [", line, deeper);
    for (size_t i = 0; i < design->parts; i++)
        hf_text_addf(out, "%s%s%s%s%s", i ? "," : "", line, deeper, deeper, parts[i]);
    hf_text_add(out, design->parts ? " ] }" : "] }");
}

hf_status hf_campaign_add_design(hf_arena *arena, const hf_campaign *campaign, const hf_new_design *design,
                                 hf_text *out, hf_error *error) {
    const hf_design *there = hf_campaign_design(campaign, design->id);
    const char *const *parts = planned_parts(arena, campaign, design->id, design->parts);
    hf_json_edit edit = {0, 0, NULL};
    hf_text object = {0};
    if (there && (design->name || design->mean || design->cv))
        return hf_error_set(
            error, HF_BAD_DATA,
            "design \"%.60s\" is there already; --parts adds parts to it, and holdfast set changes its keys",
            design->id);
    if (there && !design->parts)
        return hf_error_set(error, HF_BAD_DATA,
                            "design \"%.60s\" is there already; --parts N adds parts to it", design->id);
    if (!parts) return hf_error_set(error, HF_MEMORY, "out of memory");
    if (there) {
        if (hf_specimens_edit(arena, campaign->text, there, parts, design->parts, &edit) != HF_OK)
            return hf_error_set(error, HF_MEMORY, "out of memory");
    } else {
        const hf_json *last = campaign->designs[campaign->design_count - 1].node;
        const char *between = hf_separator_like(arena, campaign->text, last->start);
        if (between) hf_text_add(&object, between);
        if (between) add_object(design, parts, between, &object);
        edit = (hf_json_edit){last->end, last->end,
                              between && !object.failed ? hf_arena_text(arena, object.bytes, object.length)
                                                        : NULL};
        hf_text_free(&object);
    }
    if (!edit.replacement || hf_json_splice(campaign->text, campaign->text_length, &edit, 1, out) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    return HF_OK;
}

hf_status hf_campaign_with_design(hf_arena *arena, const hf_campaign *campaign, const hf_new_design *design,
                                  const hf_campaign **out, hf_findings *findings, hf_error *error) {
    hf_text text = {0};
    *findings = (hf_findings){0};
    hf_status status = hf_campaign_add_design(arena, campaign, design, &text, error);
    const char *kept = status == HF_OK ? hf_arena_text(arena, text.bytes, text.length) : NULL;
    if (status == HF_OK && !kept) status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK) status = hf_campaign_parse(arena, campaign->file, kept, text.length, out, findings);
    hf_text_free(&text);
    return status;
}
