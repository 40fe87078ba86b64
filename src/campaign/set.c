#include "holdfast/campaign/set.h"

#include <stdio.h>
#include <string.h>
#include "campaign/object_edit.h"
#include "campaign/parts.h"
#include "holdfast/base/number.h"
#include "holdfast/load/weight_list.h"

enum { MOST_NAMES = 80 };

/* Where keys stand. */
typedef struct place {
    const char *object;
    bool of_file, of_design;
    hf_key_table (*keys)(void);
} place;

static const place places[] = {
    {"", true, false, hf_campaign_keys},
    {"rig", true, false, hf_rig_keys},
    {"goal", true, true, hf_goal_keys},
    {"guess", true, true, hf_guess_keys},
    {"", false, true, hf_design_keys},
    {"scatter", false, true, hf_scatter_keys},
    {"between_batches", false, true, hf_between_keys},
};

/* What other commands write, and what the file hangs on. */
static bool is_settable(const hf_key *key) {
    static const char *const kept[] = {"format", "designs", "head_to_head", "plan", "id", "specimens", NULL};
    for (size_t i = 0; kept[i]; i++)
        if (strcmp(key->name, kept[i]) == 0) return false;
    return key->kind != HF_KEY_OBJECT && key->kind != HF_KEY_INFO;
}

/* The file's reader takes it as a node, to tell what is not there from false. */
static bool is_flag(const hf_key *key) {
    return key->kind == HF_KEY_FLAG || strcmp(key->name, "choose_best") == 0;
}

static const char *takes_of(const hf_key *key) {
    if (is_flag(key)) return "true or false";
    if (strcmp(key->name, "weights") == 0) return "a list such as \"6x10kg 2x5kg\"";
    if (strcmp(key->name, "uncertainty") == 0)
        return "a list such as \"weights 3% tolerance; tare 0.1kg standard\"";
    if (strcmp(key->name, "use_factors") == 0) return "a list such as \"wet 1.2; ageing 1.3\"";
    if (strcmp(key->name, "looks") == 0) return "numbers of parts such as 5,10";
    if (strcmp(key->name, "past") == 0) return "JSON, as holdfast scatter --into writes it";
    if (strcmp(key->name, "degrees_of_freedom") == 0) return "a number from 1 up, or assumed";
    switch (key->kind) {
    case HF_KEY_LOAD:
        return "a load";
    case HF_KEY_NUMBER:
        return key->high == 1 ? "a share, such as 0.9 or 90%" : "a number";
    case HF_KEY_WHOLE:
        return "a whole number";
    case HF_KEY_DATE:
        return "a date";
    case HF_KEY_CHOICE:
        return "a word";
    default:
        return "a text";
    }
}

static const hf_key *key_at(size_t at, hf_settable *out) {
    for (size_t i = 0; i < HF_COUNT_OF(places); i++) {
        const place *where = &places[i];
        hf_key_table table = where->keys();
        for (size_t j = 0; j < table.count; j++) {
            const hf_key *key = &table.keys[j];
            if (!is_settable(key) || at-- > 0) continue;
            *out = (hf_settable){.of_file = where->of_file,
                                 .of_design = where->of_design,
                                 .takes = takes_of(key),
                                 .load = key->kind == HF_KEY_LOAD};
            (void)snprintf(out->name, sizeof out->name, "%s%s%s", where->object, where->object[0] ? "." : "",
                           key->name);
            return key;
        }
    }
    return NULL;
}

bool hf_settable_at(size_t at, hf_settable *out) {
    return key_at(at, out) != NULL;
}

static const hf_key *find_key(const char *name, bool of_design, hf_settable *out) {
    const hf_key *key;
    for (size_t at = 0; (key = key_at(at, out)) != NULL; at++)
        if (strcmp(out->name, name) == 0 && (of_design ? out->of_design : out->of_file)) return key;
    return NULL;
}

bool hf_settable_find(const char *name, bool of_design, hf_settable *out) {
    return find_key(name, of_design, out) != NULL;
}

static hf_status unknown_key(const char *name, bool of_design, hf_error *error) {
    hf_settable keys[MOST_NAMES], key;
    const char *candidates[MOST_NAMES];
    size_t count = 0;
    for (size_t at = 0; count < MOST_NAMES && hf_settable_at(at, &keys[count]); at++)
        if (of_design ? keys[count].of_design : keys[count].of_file) {
            candidates[count] = keys[count].name;
            count++;
        }
    bool other = hf_settable_find(name, !of_design, &key);
    const char *near = other ? NULL : hf_text_nearest(name, candidates, count);
    return hf_error_set(error, HF_USAGE,
                        "found key \"%.60s\", expected one of those that holdfast set FILE lists%s%s%s", name,
                        near ? "; the nearest is " : "", near ? near : "",
                        !other      ? ""
                        : of_design ? "; it is one of the file, so leave --design out"
                                    : "; it is one of a design, so say --design ID");
}

/* --- From words to JSON ------------------------------------------------------------------------------ */

typedef struct setter {
    hf_arena *arena;
    const hf_campaign *campaign;
    const hf_unit *unit;
    hf_error *error;
} setter;

static hf_status cannot_be(const setter *s, const char *name, const char *value, const char *takes) {
    return hf_error_set(s->error, HF_USAGE, "%s: found \"%.60s\", expected %s", name, value, takes);
}

static bool read_share(const char *text, size_t length, bool share, double *out) {
    bool percent = length && text[length - 1] == '%';
    for (length -= percent; percent && length && text[length - 1] == ' ';) length--;
    if (!hf_number_read(text, length, out)) return false;
    if (percent && share) *out = hf_number_round(*out / 100, 15);
    return share || !percent;
}

static void add_weights(const setter *s, const char *value, hf_text *out, hf_status *status) {
    hf_weight_item items[HF_WEIGHT_LIST_MOST];
    char number[HF_NUMBER_SIZE];
    size_t count;
    *status = hf_weight_list_read(value, s->unit, items, HF_WEIGHT_LIST_MOST, &count, s->error);
    hf_text_add(out, "[");
    for (size_t i = 0; *status == HF_OK && i < count; i++)
        hf_text_addf(out, "%s{ \"load\": \"%s %s\", \"count\": %zu }", i ? ", " : " ",
                     hf_number_shortest(items[i].load.value, number), items[i].load.unit->name,
                     items[i].count);
    hf_text_add(out, " ]");
}

/* The last word of text[0..*length), which becomes shorter by it. */
static const char *last_word(const char *text, size_t *length, size_t *word) {
    size_t end = *length, start;
    while (end && text[end - 1] == ' ') end--;
    for (start = end; start && text[start - 1] != ' ';) start--;
    *word = end - start;
    for (*length = start; *length && text[*length - 1] == ' ';) --*length;
    return text + start;
}

static void add_piece(hf_arena *arena, hf_text *out, const char *text, size_t length) {
    const char *piece = hf_arena_text(arena, text, length);
    if (!piece) out->failed = true;
    hf_json_quote(out, piece ? piece : "");
}

/* "weights 3% tolerance": what, how much, of which kind; validation knows the kinds. */
static bool add_error(const setter *s, const char *text, size_t length, hf_text *out) {
    size_t kind, amount;
    double share;
    char number[HF_NUMBER_SIZE];
    const char *kind_word = last_word(text, &length, &kind), *amount_word = last_word(text, &length, &amount);
    if (!kind || !amount || !length) return false;
    hf_text_add(out, "{ \"source\": ");
    add_piece(s->arena, out, text, length);
    if (amount_word[amount - 1] == '%' && read_share(amount_word, amount, true, &share)) {
        hf_text_addf(out, ", \"relative\": %s, \"kind\": ", hf_number_shortest(share, number));
    } else {
        hf_text_add(out, ", \"load\": ");
        add_piece(s->arena, out, amount_word, amount);
        hf_text_add(out, ", \"kind\": ");
    }
    add_piece(s->arena, out, kind_word, kind);
    hf_text_add(out, " }");
    return true;
}

/* "wet 1.2": why, and by how much. */
static bool add_factor(const setter *s, const char *text, size_t length, hf_text *out) {
    size_t factor;
    double value;
    char number[HF_NUMBER_SIZE];
    const char *word = last_word(text, &length, &factor);
    if (!length || !hf_number_read(word, factor, &value)) return false;
    hf_text_add(out, "{ \"reason\": ");
    add_piece(s->arena, out, text, length);
    hf_text_addf(out, ", \"factor\": %s }", hf_number_shortest(value, number));
    return true;
}

static bool add_list(const setter *s, const char *value,
                     bool (*add)(const setter *, const char *, size_t, hf_text *), hf_text *out) {
    hf_text_add(out, "[");
    for (const char *at = value + strspn(value, " "); *at; at += strspn(at, "; ")) {
        size_t length = strcspn(at, ";");
        hf_text_add(out, at == value + strspn(value, " ") ? " " : ", ");
        if (!add(s, at, length, out)) return false;
        at += length;
    }
    hf_text_add(out, " ]");
    return true;
}

static hf_status add_scalar(const setter *s, const hf_key *key, const char *name, const char *value,
                            hf_text *out) {
    char text[HF_NUMBER_SIZE];
    double number = 0;
    hf_load load;
    bool numeric = key->kind == HF_KEY_NUMBER || key->kind == HF_KEY_WHOLE;
    if (numeric && !read_share(value, strlen(value), key->high == 1, &number))
        return cannot_be(s, name, value, takes_of(key));
    if (is_flag(key)) {
        if (strcmp(value, "true") != 0 && strcmp(value, "false") != 0)
            return cannot_be(s, name, value, takes_of(key));
        hf_text_add(out, value);
        return HF_OK;
    }
    if (key->kind == HF_KEY_LOAD) {
        hf_error why;
        hf_error_clear(&why);
        if (hf_load_read(value, strlen(value), s->unit, &load, &why) != HF_OK)
            return hf_error_set(s->error, HF_USAGE, "%s: %s", name, why.message);
        numeric = hf_number_read(value, strlen(value), &number);
    }
    if (key->kind == HF_KEY_NODE) numeric = hf_number_read(value, strlen(value), &number); /* or a word */
    if (numeric)
        hf_text_add(out, hf_number_shortest(number, text));
    else
        hf_json_quote(out, value);
    return HF_OK;
}

static hf_status add_value(const setter *s, const hf_key *key, const char *name, const char *value,
                           hf_text *out) {
    hf_status status = HF_OK;
    bool good = true;
    if (value[0] == '[' || value[0] == '{') {
        hf_text_add(out, value);
    } else if (strcmp(key->name, "weights") == 0) {
        add_weights(s, value, out, &status);
    } else if (strcmp(key->name, "uncertainty") == 0) {
        good = add_list(s, value, add_error, out);
    } else if (strcmp(key->name, "use_factors") == 0) {
        good = add_list(s, value, add_factor, out);
    } else if (strcmp(key->name, "looks") == 0) {
        good = strspn(value, "0123456789, ") == strlen(value);
        hf_text_addf(out, "[%s]", value);
    } else {
        return add_scalar(s, key, name, value, out);
    }
    return good ? status : cannot_be(s, name, value, takes_of(key));
}

/* --- Into the text ----------------------------------------------------------------------------------- */

static const hf_json *design_node(const hf_json *root, const char *id) {
    const hf_json *list = hf_json_get(root, "designs");
    for (const hf_json *node = list ? list->first : NULL; node; node = node->next) {
        const hf_json *own = hf_json_get(node, "id");
        if (own && own->kind == HF_JSON_TEXT && strcmp(own->text, id) == 0) return node;
    }
    return NULL;
}

/* Of "rig.info.maker" the object "rig", in it "info", and the key. */
typedef struct target {
    const hf_json *base; /* the file or the design */
    char objects[2][HF_SETTABLE_NAME_SIZE];
    size_t depth;
    const char *key;
} target;

static void find_target(const hf_json *base, const char *name, target *out) {
    *out = (target){.base = base, .key = name};
    for (const char *dot; out->depth < 2 && (dot = strchr(out->key, '.')) != NULL; out->key = dot + 1)
        (void)snprintf(out->objects[out->depth++], HF_SETTABLE_NAME_SIZE, "%.*s", (int)(dot - out->key),
                       out->key);
}

/* One row in the innermost object that is there; what is missing around it is written with it. */
static hf_status edit_target(hf_object_job *job, const target *t, const char *value) {
    const hf_json *object = t->base, *next;
    size_t depth = 0;
    while (depth < t->depth && (next = hf_json_get(object, t->objects[depth])) != NULL) {
        object = next;
        depth++;
    }
    hf_member_change row = {
        .key = depth < t->depth ? t->objects[depth] : t->key, .value = value, .removed = !value};
    if (depth < t->depth && !value) return HF_OK; /* not there as it is */
    for (size_t i = t->depth; i > depth; i--)
        row.value = row.value ? hf_arena_format(job->arena, "{ \"%s\": %s }",
                                                i == t->depth ? t->key : t->objects[i], row.value)
                              : NULL;
    if (!row.value && !row.removed) return HF_MEMORY;
    return hf_object_edit(job, object, &row, 1);
}

static bool is_info(const char *name, bool of_design) {
    return strncmp(name, "info.", 5) == 0 || (!of_design && strncmp(name, "rig.info.", 9) == 0);
}

/* The format that brought a key, or the object in which it stands. */
static int since_of(const char *name, const hf_key *key, bool of_design) {
    hf_key_table around = of_design ? hf_design_keys() : hf_campaign_keys();
    size_t length = strcspn(name, ".");
    int since = key ? key->since : 0;
    for (size_t i = 0; i < around.count && name[length]; i++)
        if (strlen(around.keys[i].name) == length && strncmp(around.keys[i].name, name, length) == 0 &&
            around.keys[i].since > since)
            since = around.keys[i].since;
    return since;
}

static hf_status edit_format(hf_object_job *job, const hf_json *root, int since) {
    const hf_member_change row = {"format", hf_arena_format(job->arena, "\"holdfast-campaign/%d\"", since),
                                  false};
    return row.value ? hf_object_edit(job, root, &row, 1) : HF_MEMORY;
}

/* *text becomes the text with one setting. */
static hf_status set_one(setter *s, const char *design, const hf_setting *setting, const char **text,
                         size_t *length) {
    hf_settable found;
    const hf_key *key = find_key(setting->name, design != NULL, &found);
    const hf_json *root, *base;
    hf_text value = {0}, out = {0};
    if (!key && !is_info(setting->name, design != NULL))
        return unknown_key(setting->name, design != NULL, s->error);
    hf_status status = hf_json_parse(s->arena, s->campaign->file, *text, *length, &root, s->error);
    if (status != HF_OK)
        return status == HF_BAD_DATA ? cannot_be(s, setting->name, setting->value, "JSON") : status;
    base = design ? design_node(root, design) : root;
    if (!base) return hf_error_set(s->error, HF_USAGE, "found no design \"%.60s\"", design);
    if (setting->value && key) status = add_value(s, key, setting->name, setting->value, &value);
    if (setting->value && !key) hf_json_quote(&value, setting->value);
    hf_object_job job = {.arena = s->arena, .campaign = s->campaign, .text = *text};
    const char *json =
        value.failed ? NULL : hf_arena_text(s->arena, value.bytes ? value.bytes : "", value.length);
    hf_text_free(&value);
    if (status != HF_OK) return status;
    target where;
    const int since = setting->value ? since_of(setting->name, key, design != NULL) : 0;
    find_target(base, setting->name, &where);
    bool good = json && edit_target(&job, &where, setting->value ? json : NULL) == HF_OK &&
                (since <= s->campaign->version || edit_format(&job, root, since) == HF_OK) &&
                hf_json_splice(*text, *length, job.edits, job.count, &out) == HF_OK;
    *text = good ? hf_arena_text(s->arena, out.bytes, out.length) : NULL;
    *length = out.length;
    hf_text_free(&out);
    return *text ? HF_OK : hf_error_set(s->error, HF_MEMORY, "out of memory");
}

hf_status hf_campaign_set(hf_arena *arena, const hf_campaign *campaign, const hf_settings *settings,
                          hf_text *out, hf_findings *findings, hf_error *error) {
    setter s = {arena, campaign, campaign->unit, error};
    const char *text = campaign->text;
    size_t length = campaign->text_length;
    const hf_campaign *result;
    memset(findings, 0, sizeof *findings);
    hf_status status = HF_OK;
    for (size_t i = 0; i < settings->count && status == HF_OK; i++)
        status = set_one(&s, settings->design, &settings->items[i], &text, &length);
    if (status != HF_OK) return status;
    status = hf_campaign_parse(arena, campaign->file, text, length, &result, findings);
    if (status == HF_BAD_DATA) return hf_error_set(error, status, "the file would not be valid");
    if (status == HF_OK) hf_text_add_bytes(out, text, length);
    return status == HF_OK && !out->failed ? HF_OK : hf_error_set(error, HF_MEMORY, "out of memory");
}

/* As it stands, but in one line. */
static const char *raw_line(hf_arena *arena, const char *text, size_t length) {
    char *line = hf_arena_text(arena, text, length);
    size_t kept = 0;
    for (size_t i = 0; line && i < length; i++) {
        bool blank = line[i] == '\n' || line[i] == '\r' || line[i] == '\t' || line[i] == ' ';
        if (blank && kept && line[kept - 1] == ' ') continue;
        line[kept++] = blank ? ' ' : line[i];
    }
    if (line) line[kept] = '\0';
    return line;
}

const char *hf_campaign_value(hf_arena *arena, const hf_campaign *campaign, const char *design,
                              const char *name) {
    const hf_json *node = design ? design_node(campaign->root, design) : campaign->root;
    target where;
    if (!node) return NULL;
    find_target(node, name, &where);
    for (size_t i = 0; node && i < where.depth; i++) node = hf_json_get(node, where.objects[i]);
    if (node) node = hf_json_get(node, where.key);
    if (!node || node->kind == HF_JSON_TEXT) return node ? node->text : NULL;
    return raw_line(arena, campaign->text + node->start, node->end - node->start);
}
