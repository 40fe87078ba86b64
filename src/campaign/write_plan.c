#include "holdfast/campaign/write_plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/base/text.h"

enum { ID_SIZE = 320, MOST_EDITS = 512, MOST_DIGITS = 9 };

typedef struct plan_writer {
    hf_arena *arena;
    const hf_campaign *campaign;
    const hf_plan_writing *plan;
    double first_order; /* orders in the file end here */
    hf_json_edit edits[MOST_EDITS];
    size_t edit_count;
} plan_writer;

/* The name all new parts of this design begin with. */
static void id_stem(const hf_plan_design *design, char out[ID_SIZE]) {
    (void)snprintf(out, ID_SIZE, "%.270s%s", design->id, design->pilot ? "-pilot" : "");
}

/* Highest NN among the parts named <stem>-NN; a part named <stem> alone is number 1. */
static size_t last_number(const hf_campaign *campaign, const char *stem) {
    size_t last = hf_campaign_specimen(campaign, stem, NULL) ? 1 : 0, length = strlen(stem);
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const char *id = campaign->designs[i].specimens[j].id;
            if (strncmp(id, stem, length) != 0 || id[length] != '-') continue;
            size_t digits = strspn(id + length + 1, "0123456789");
            if (!digits || digits > MOST_DIGITS || id[length + 1 + digits]) continue;
            size_t number = (size_t)strtoul(id + length + 1, NULL, 10);
            last = number > last ? number : last;
        }
    return last;
}

static double last_order(const hf_campaign *campaign) {
    double last = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            if (campaign->designs[i].specimens[j].order.given)
                last = fmax(last, campaign->designs[i].specimens[j].order.value);
    return last;
}

/* White space before a node's line start, as it stands in the file. */
static const char *indent_of(const plan_writer *w, size_t at) {
    const char *text = w->campaign->text;
    size_t line = at, end;
    while (line > 0 && text[line - 1] != '\n') line--;
    for (end = line; text[end] == ' ' || text[end] == '\t';) end++;
    const char *out = hf_arena_text(w->arena, text + line, end - line);
    return out ? out : "";
}

const char *hf_planned_batch_name(size_t number, char name[HF_BATCH_NAME]) {
    (void)snprintf(name, HF_BATCH_NAME, "batch %zu", number);
    return name;
}

size_t hf_planned_batch_number(const char *name) {
    char again[HF_BATCH_NAME];
    size_t number = name && strncmp(name, "batch ", 6) == 0 ? (size_t)strtoul(name + 6, NULL, 10) : 0;
    return number && strcmp(hf_planned_batch_name(number, again), name) == 0 ? number : 0;
}

static void add_parts(const plan_writer *w, const hf_plan_design *design, const char *indent, hf_text *out) {
    char stem[ID_SIZE], id[ID_SIZE + 24], batch[HF_BATCH_NAME];
    id_stem(design, stem);
    size_t last = last_number(w->campaign, stem);
    for (size_t j = 1; j <= design->parts; j++) {
        if (design->pilot && last + j == 1)
            (void)snprintf(id, sizeof id, "%s", stem);
        else
            (void)snprintf(id, sizeof id, "%s-%02zu", stem, last + j);
        hf_text_addf(out, "%s\n%s{ \"id\": ", j > 1 ? "," : "", indent);
        hf_json_quote(out, id);
        if (design->batch)
            hf_text_addf(out, ", \"batch\": \"%s\"", hf_planned_batch_name(design->batch[j - 1], batch));
        hf_text_addf(out, ", \"order\": %.0f, \"outcome\": \"planned\" }",
                     w->first_order + (double)design->order[j - 1]);
    }
}

/* A file whose first line ends with CR LF gets no other ends. */
static char *with_line_ends(const plan_writer *w, char *text) {
    const char *first = memchr(w->campaign->text, '\n', w->campaign->text_length);
    hf_text out = {0};
    if (!first || first == w->campaign->text || first[-1] != '\r') return text;
    for (const char *at = text; *at; at++) {
        if (*at == '\n') hf_text_add(&out, "\r");
        hf_text_add_bytes(&out, at, 1);
    }
    char *copy = out.failed ? NULL : hf_arena_text(w->arena, out.bytes ? out.bytes : "", out.length);
    hf_text_free(&out);
    return copy;
}

static hf_status keep_edit(plan_writer *w, size_t start, size_t end, hf_text *text, hf_error *error) {
    char *copy = text->failed ? NULL : hf_arena_text(w->arena, text->bytes ? text->bytes : "", text->length);
    hf_text_free(text);
    if (copy) copy = with_line_ends(w, copy);
    if (!copy) return hf_error_set(error, HF_MEMORY, "out of memory");
    if (w->edit_count == MOST_EDITS)
        return hf_error_set(error, HF_USAGE, "more than %d designs cannot be planned at once",
                            MOST_EDITS - 1);
    w->edits[w->edit_count++] = (hf_json_edit){start, end, copy};
    return HF_OK;
}

static const hf_json *last_child(const hf_json *node) {
    const hf_json *last = node->first;
    while (last && last->next) last = last->next;
    return last;
}

/* Behind the last part, into an empty list, or as a new member of the design. */
static hf_status edit_design(plan_writer *w, const hf_plan_design *planned, hf_error *error) {
    const hf_design *design = hf_campaign_design(w->campaign, planned->id);
    const hf_json *list = hf_json_get(design->node, "specimens"), *last = list ? last_child(list) : NULL;
    hf_text text = {0};
    if (!planned->parts) return HF_OK;
    if (last) {
        hf_text_add(&text, ",");
        add_parts(w, planned, indent_of(w, last->start), &text);
        return keep_edit(w, last->end, last->end, &text, error);
    }
    const hf_json *anchor = list ? list : last_child(design->node);
    const char *outer = indent_of(w, anchor->key_line ? anchor->key_start : anchor->start);
    const char *inner = hf_arena_format(w->arena, "%s  ", outer);
    size_t at = list ? list->start + 1 : anchor->end;
    hf_text_add(&text, list ? "" : ", \"specimens\": [");
    add_parts(w, planned, inner ? inner : "", &text);
    hf_text_addf(&text, "\n%s%s", outer, list ? "" : "]");
    return keep_edit(w, at, at, &text, error);
}

/* Looks as the file states them. */
static void add_looks(const hf_stated_looks *looks, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    if (looks->every) {
        hf_text_addf(out, "{ \"first\": %zu, \"last\": %zu, \"every\": %zu", looks->first, looks->last,
                     looks->every);
        if (looks->early > 0) hf_text_addf(out, ", \"early\": %s", hf_number_shortest(looks->early, number));
        hf_text_add(out, " }");
        return;
    }
    for (size_t i = 0; i < looks->count; i++) hf_text_addf(out, "%s%zu", i ? ", " : "[", looks->parts[i]);
    hf_text_add(out, "]");
}

/* In place of the old ones, as one more key of the design's goal, or as a goal. */
static hf_status edit_looks(plan_writer *w, const hf_plan_design *planned, hf_error *error) {
    if (!planned->looks) return HF_OK;
    const hf_json *design = hf_campaign_design(w->campaign, planned->id)->node;
    const hf_json *goal = hf_json_get(design, "goal"), *old = goal ? hf_json_get(goal, "looks") : NULL;
    const hf_json *last = goal ? last_child(goal) : NULL;
    const hf_json *id = hf_json_get(design, "id");
    size_t at = old ? old->start : last ? last->end : goal ? goal->start + 1 : id->end;
    hf_text text = {0};
    if (!old) hf_text_add(&text, last ? ", \"looks\": " : goal ? "\"looks\": " : ", \"goal\": { \"looks\": ");
    add_looks(planned->looks, &text);
    if (!goal) hf_text_add(&text, " }");
    return keep_edit(w, at, old ? old->end : at, &text, error);
}

/* The first key of a later format makes the file one of that format. */
static hf_status edit_format(plan_writer *w, hf_error *error) {
    const hf_json *format = hf_json_get(w->campaign->root, "format");
    bool newer = false;
    for (size_t i = 0; i < w->plan->count; i++) newer |= w->plan->designs[i].looks != NULL;
    if (!newer || w->campaign->version >= 2) return HF_OK;
    hf_text text = {0};
    hf_json_quote(&text, "holdfast-campaign/2");
    return keep_edit(w, format->start, format->end, &text, error);
}

static void add_rung(const plan_writer *w, double newtons, const char *weights, bool first, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    double value = newtons / hf_unit_newtons(w->campaign->unit, w->campaign->gravity);
    hf_number_figures(value, 12, number);
    double short_value = value;
    (void)hf_number_read(number, strlen(number), &short_value);
    hf_text_addf(out, "%s\n        { \"load\": %s", first ? "" : ",",
                 hf_number_shortest(short_value, number));
    if (weights && weights[0]) {
        hf_text_add(out, ", \"weights\": ");
        hf_json_quote(out, weights);
    }
    hf_text_add(out, " }");
}

static bool is_planned(const plan_writer *w, const char *design) {
    for (size_t i = 0; i < w->plan->count; i++)
        if (strcmp(w->plan->designs[i].id, design) == 0) return true;
    return false;
}

static void open_ladder(const char *design, bool *first, hf_text *out) {
    hf_text_add(out, *first ? "\n      " : ",\n      ");
    hf_json_quote(out, design);
    hf_text_add(out, ": [");
    *first = false;
}

static void add_ladders(const plan_writer *w, hf_text *out) {
    bool first = true;
    for (size_t i = 0; i < w->campaign->plan.count; i++) {
        const hf_written_ladder *old = &w->campaign->plan.ladders[i];
        if (is_planned(w, old->design)) continue;
        open_ladder(old->design, &first, out);
        for (size_t j = 0; j < old->count; j++)
            add_rung(w, old->rungs[j].newtons, old->rungs[j].weights, j == 0, out);
        hf_text_add(out, "\n      ]");
    }
    for (size_t i = 0; i < w->plan->count; i++) {
        const hf_plan_design *design = &w->plan->designs[i];
        if (!design->rung_count) continue;
        open_ladder(design->id, &first, out);
        for (size_t j = 0; j < design->rung_count; j++)
            add_rung(w, design->rungs[j].newtons, design->rungs[j].weights, j == 0, out);
        hf_text_add(out, "\n      ]");
    }
}

static hf_status edit_plan(plan_writer *w, hf_error *error) {
    const hf_json *old = hf_json_get(w->campaign->root, "plan"), *last = last_child(w->campaign->root);
    hf_text text = {0};
    hf_text_addf(&text, "%s{\n    \"seed\": %llu,\n    \"made\": ", old ? "" : ",\n  \"plan\": ",
                 (unsigned long long)w->plan->seed);
    hf_json_quote(&text, w->plan->made);
    hf_text_add(&text, ",\n    \"ladders\": {");
    add_ladders(w, &text);
    hf_text_add(&text, "\n    }\n  }");
    return keep_edit(w, old ? old->start : last->end, old ? old->end : last->end, &text, error);
}

static hf_status validate(plan_writer *w, hf_text *out, hf_error *error) {
    const hf_campaign *result;
    hf_findings findings;
    hf_status status =
        hf_campaign_parse(w->arena, w->campaign->file, out->bytes, out->length, &result, &findings);
    if (status == HF_OK) return HF_OK;
    if (status == HF_BAD_DATA)
        (void)hf_error_set(error, status, "the plan would not be valid: %s: %s", findings.items[0].path,
                           findings.items[0].message);
    else
        (void)hf_error_set(error, status, "out of memory");
    hf_text_free(out);
    return status;
}

/* However the two are laid out; members in their order. */
static bool same_value(const hf_json *a, const hf_json *b) {
    if (!a || !b) return !a && !b;
    if (a->kind != b->kind || (a->kind == HF_JSON_NUMBER && a->number != b->number)) return false;
    if (a->kind == HF_JSON_TEXT && strcmp(a->text, b->text) != 0) return false;
    const hf_json *x = a->first, *y = b->first;
    for (; x && y; x = x->next, y = y->next)
        if ((x->key && strcmp(x->key, y->key) != 0) || !same_value(x, y)) return false;
    return !x && !y;
}

/* A plan does not hang on what a design is called and on what was pulled since. */
static bool is_pulled_or_named(const char *key) {
    return strcmp(key, "specimens") == 0 || strcmp(key, "name") == 0 || strcmp(key, "info") == 0;
}

static bool same_design(const hf_json *a, const hf_json *b) {
    for (const hf_json *child = a->first; child; child = child->next)
        if (!is_pulled_or_named(child->key) && !same_value(child, hf_json_get(b, child->key))) return false;
    for (const hf_json *child = b->first; child; child = child->next)
        if (!is_pulled_or_named(child->key) && !hf_json_get(a, child->key)) return false;
    return true;
}

bool hf_campaign_same_basis(const hf_campaign *then, const hf_campaign *now, const char **where) {
    static const char *const keys[] = {"unit", "gravity", "rig", "weights", "goal", "guess"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        *where = keys[i];
        if (!same_value(hf_json_get(then->root, keys[i]), hf_json_get(now->root, keys[i]))) return false;
    }
    *where = "designs";
    if (then->design_count != now->design_count) return false;
    for (size_t i = 0; i < then->design_count; i++)
        if (!same_design(then->designs[i].node, now->designs[i].node)) return false;
    return true;
}

hf_status hf_campaign_write_plan(hf_arena *arena, const hf_campaign *campaign, const hf_plan_writing *plan,
                                 hf_text *out, hf_error *error) {
    plan_writer *w = HF_ARENA_NEW(arena, plan_writer);
    if (!w) return hf_error_set(error, HF_MEMORY, "out of memory");
    w->arena = arena;
    w->campaign = campaign;
    w->plan = plan;
    w->first_order = last_order(campaign);
    hf_status status = HF_OK;
    for (size_t i = 0; i < plan->count && status == HF_OK; i++)
        status = edit_looks(w, &plan->designs[i], error);
    for (size_t i = 0; i < plan->count && status == HF_OK; i++)
        status = edit_design(w, &plan->designs[i], error);
    if (status == HF_OK) status = edit_format(w, error);
    if (status == HF_OK) status = edit_plan(w, error);
    if (status != HF_OK) return status;
    if (hf_json_splice(campaign->text, campaign->text_length, w->edits, w->edit_count, out) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    return validate(w, out, error);
}
