/* docs/campaign-file.md and docs/campaign.schema.json say what the program does. */
#include <math.h>
#include <stdio.h>
#include "campaign/campaign_text.h"
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/base/number.h"

static const char pages[] = HF_TEST_DIR "/../docs/";
enum { NAME = 512, FEWEST_EXAMPLES = 3, LINE = 1000 };

static void read_page(const char *name, hf_text *out) {
    char path[NAME];
    hf_error error;
    (void)snprintf(path, sizeof path, "%s%s", pages, name);
    ck_assert_msg(hf_file_read(path, 1000000, out, &error) == HF_OK, "%s", error.message);
}

/* --- Laws ----------------------------------------------------------------------------------------- */

/* The words of "family" are "auto" and the laws that may govern, in the order of their list. */
START_TEST(the_schema_lists_the_laws) {
    hf_text schema = {0}, wanted = {0};
    read_page("campaign.schema.json", &schema);
    hf_text_add(&wanted, "\"family\": { \"enum\": [\"auto\"");
    for (size_t i = 0; hf_family_governing_at(i); i++)
        hf_text_addf(&wanted, ", \"%s\"", hf_family_governing_at(i)->name);
    hf_text_add(&wanted, "],");
    ck_assert_msg(strstr(schema.bytes, wanted.bytes) != NULL, "campaign.schema.json lacks %s", wanted.bytes);
    hf_text_free(&schema);
    hf_text_free(&wanted);
}
END_TEST

/* --- The page ------------------------------------------------------------------------------------ */

START_TEST(every_example_of_the_page_is_a_campaign) {
    static const char open[] = "```json\n", close[] = "\n```";
    hf_text page = {0};
    size_t examples = 0;
    read_page("campaign-file.md", &page);
    for (const char *at = page.bytes; (at = strstr(at, open)) != NULL; examples++) {
        hf_text example = {0};
        at += strlen(open);
        const char *end = strstr(at, close);
        ck_assert_ptr_nonnull(end);
        hf_text_add_bytes(&example, at, (size_t)(end - at));
        read_campaign read = read_good(example.bytes);
        hf_arena_free(read.arena);
        hf_text_free(&example);
    }
    ck_assert_uint_ge(examples, FEWEST_EXAMPLES);
    hf_text_free(&page);
}
END_TEST

START_TEST(every_warning_is_on_the_page) {
    static const char *const codes[] = {"above_rating",    "not_makeable",     "order",
                                        "tare_zero",       "mixed_pull_kinds", "no_uncertainty",
                                        "first_rung_held", "mixed_units",      "ladder_weights"};
    hf_text page = {0};
    read_page("campaign-file.md", &page);
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        char marked[80];
        (void)snprintf(marked, sizeof marked, "`%s`", codes[i]);
        ck_assert_msg(strstr(page.bytes, marked) != NULL, "%s is not on the page", marked);
    }
    hf_text_free(&page);
}
END_TEST

/* --- The schema ---------------------------------------------------------------------------------- */

#define HEAD "{ \"format\": \"holdfast-campaign/2\", "
#define REST "\"designs\": [ { \"id\": \"ring\" } ] }"

typedef struct object_place {
    const char *name; /* in $defs; "" is the file itself */
    const char *front, *back;
} object_place;

static const object_place places[] = {
    {"", "", ""},
    {"rig", HEAD "\"rig\": ", ", " REST},
    {"uncertainty", HEAD "\"rig\": { \"uncertainty\": [ ", " ] }, " REST},
    {"weight", HEAD "\"weights\": [ ", " ], " REST},
    {"goal", HEAD "\"goal\": ", ", " REST},
    {"looks", HEAD "\"goal\": { \"looks\": ", " }, " REST},
    {"use_factor", HEAD "\"goal\": { \"use_factors\": [ ", " ] }, " REST},
    {"guess", HEAD "\"guess\": ", ", " REST},
    {"design", HEAD "\"designs\": [ ", " ] }"},
    {"scatter", HEAD "\"designs\": [ { \"id\": \"ring\", \"scatter\": ", " } ] }"},
    {"specimen", HEAD "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ ", " ] } ] }"},
    {"pair", HEAD "\"head_to_head\": [ ", " ], " REST},
    {"plan", HEAD "\"plan\": ", ", " REST},
    {"rung", HEAD "\"plan\": { \"ladders\": { \"ring\": [ ", " ] } }, " REST},
};
enum { PLACES = sizeof places / sizeof *places };

typedef struct schema {
    hf_arena *arena;
    const hf_json *root;
    hf_text text;
} schema;

static schema read_schema(void) {
    schema out = {.arena = hf_arena_create()};
    hf_error error;
    read_page("campaign.schema.json", &out.text);
    ck_assert_msg(hf_json_parse(out.arena, "schema", out.text.bytes, out.text.length, &out.root, &error) ==
                      HF_OK,
                  "%s", error.message);
    return out;
}

static void free_schema(schema *s) {
    hf_arena_free(s->arena);
    hf_text_free(&s->text);
}

static const hf_json *object_of(const schema *s, const char *name) {
    const hf_json *object = name[0] ? hf_json_get(hf_json_get(s->root, "$defs"), name) : s->root;
    ck_assert_msg(object != NULL, "%s is not in the schema", name);
    return object;
}

static read_campaign read_with(const object_place *place, const char *object) {
    hf_text text = {0};
    hf_text_addf(&text, "%s%s%s", place->front, object, place->back);
    read_campaign read = read_text(text.bytes);
    hf_text_free(&text);
    return read;
}

static bool has_message(const read_campaign *read, const char *message) {
    for (size_t i = 0; i < read->findings.count; i++)
        if (strcmp(read->findings.items[i].message, message) == 0) return true;
    return false;
}

/* A finding about this member of the object. */
static bool is_refused(const object_place *place, const char *key, const char *value) {
    char object[LINE];
    (void)snprintf(object, sizeof object, "{ \"%s\": %s }", key, value);
    read_campaign read = read_with(place, object);
    bool refused = false;
    for (size_t i = 0; i < read.findings.count; i++) {
        const char *path = read.findings.items[i].path, *dot = strrchr(path, '.');
        refused |= strcmp(dot ? dot + 1 : path, key) == 0;
    }
    hf_arena_free(read.arena);
    return refused;
}

START_TEST(schema_and_program_know_the_same_keys) {
    schema s = read_schema();
    const object_place *place = &places[_i];
    hf_text wanted = {0};
    hf_text_add(&wanted, "found unknown key \"zzzzzzzzzzzzzzzz\", expected one of ");
    for (const hf_json *key = hf_json_get(object_of(&s, place->name), "properties")->first; key;
         key = key->next)
        hf_text_addf(&wanted, "%s%s", key->index ? ", " : "", key->key);
    read_campaign read = read_with(place, "{ \"zzzzzzzzzzzzzzzz\": 1 }");
    ck_assert_msg(has_message(&read, wanted.bytes), "%s: no finding says: %s", place->name, wanted.bytes);
    ck_assert_int_eq(hf_json_get(object_of(&s, place->name), "additionalProperties")->kind, HF_JSON_FALSE);
    hf_arena_free(read.arena);
    hf_text_free(&wanted);
    free_schema(&s);
}
END_TEST

/* Where none is required in every case, those of the first way to fill the object. */
static const hf_json *required_of(const hf_json *object) {
    const hf_json *always = hf_json_get(object, "required"), *ways = hf_json_get(object, "oneOf");
    return always || !ways ? always : hf_json_get(ways->first, "required");
}

START_TEST(schema_and_program_require_the_same_keys) {
    schema s = read_schema();
    const object_place *place = &places[_i];
    const hf_json *required = required_of(object_of(&s, place->name));
    read_campaign read = read_with(place, "{ }");
    size_t found = 0, wanted = required ? required->count : 0;
    for (size_t i = 0; i < read.findings.count; i++)
        found += strncmp(read.findings.items[i].message, "found no key", 12) == 0;
    ck_assert_msg(found == wanted, "%s: %zu required keys, %zu in the schema", place->name, found, wanted);
    for (const hf_json *key = required ? required->first : NULL; key; key = key->next) {
        char message[LINE];
        (void)snprintf(message, sizeof message, "found no key \"%s\", which is required", key->text);
        ck_assert_msg(has_message(&read, message), "%s: %s", place->name, message);
    }
    hf_arena_free(read.arena);
    free_schema(&s);
}
END_TEST

/* One end of a range: the value at it and one beyond it. */
static void check_end(const object_place *place, const hf_json *key, const char *rule, double beyond) {
    const hf_json *end = hf_json_get(key, rule);
    char at[HF_NUMBER_SIZE], past[HF_NUMBER_SIZE];
    if (!end) return;
    bool open = strncmp(rule, "exclusive", 9) == 0;
    hf_number_shortest(end->number, at);
    hf_number_shortest(end->number + beyond, past);
    ck_assert_msg(is_refused(place, key->key, at) == open, "%s.%s: %s against the schema's %s", place->name,
                  key->key, at, rule);
    ck_assert_msg(is_refused(place, key->key, past), "%s.%s: %s was accepted", place->name, key->key, past);
}

START_TEST(schema_and_program_have_the_same_ranges) {
    schema s = read_schema();
    const object_place *place = &places[_i];
    for (const hf_json *key = hf_json_get(object_of(&s, place->name), "properties")->first; key;
         key = key->next) {
        const hf_json *type = hf_json_get(key, "type");
        if (!type || !type->text) continue;
        double step = strcmp(type->text, "integer") == 0 ? 1 : 1e-3;
        check_end(place, key, "minimum", -step);
        check_end(place, key, "exclusiveMinimum", -step);
        check_end(place, key, "maximum", step);
        check_end(place, key, "exclusiveMaximum", step);
        if (strcmp(type->text, "integer") == 0)
            ck_assert_msg(is_refused(place, key->key, "2.5"), "%s.%s: 2.5", place->name, key->key);
        if (hf_json_get(key, "minLength"))
            ck_assert_msg(is_refused(place, key->key, "\"\""), "%s.%s: empty", place->name, key->key);
        if (strcmp(type->text, "string") == 0)
            ck_assert_msg(is_refused(place, key->key, "7"), "%s.%s: 7", place->name, key->key);
        if (strcmp(type->text, "boolean") == 0)
            ck_assert_msg(is_refused(place, key->key, "\"true\""), "%s.%s: a text", place->name, key->key);
    }
    free_schema(&s);
}
END_TEST

START_TEST(schema_and_program_have_the_same_words) {
    schema s = read_schema();
    const object_place *place = &places[_i];
    for (const hf_json *key = hf_json_get(object_of(&s, place->name), "properties")->first; key;
         key = key->next) {
        const hf_json *words = hf_json_get(key, "enum");
        if (!words || words->first->kind != HF_JSON_TEXT) continue;
        hf_text wanted = {0};
        char object[LINE];
        hf_text_add(&wanted, "found \"zzz\", expected ");
        for (const hf_json *word = words->first; word; word = word->next)
            hf_text_addf(&wanted, "%s\"%s\"", !word->index ? "" : word->next ? ", " : " or ", word->text);
        (void)snprintf(object, sizeof object, "{ \"%s\": \"zzz\" }", key->key);
        read_campaign read = read_with(place, object);
        ck_assert_msg(has_message(&read, wanted.bytes), "%s.%s: no finding says: %s", place->name, key->key,
                      wanted.bytes);
        hf_arena_free(read.arena);
        hf_text_free(&wanted);
    }
    free_schema(&s);
}
END_TEST

START_TEST(schema_and_program_have_the_same_units) {
    schema s = read_schema();
    size_t count;
    const hf_unit *table = hf_unit_table(&count);
    const hf_json *words = hf_json_get(object_of(&s, "unit"), "enum");
    ck_assert_uint_eq(words->count, count);
    for (const hf_json *word = words->first; word; word = word->next)
        ck_assert_str_eq(word->text, table[word->index].name);
    free_schema(&s);
}
END_TEST

static Suite *docs_suite(void) {
    Suite *suite = suite_create("campaign page and schema");
    TCase *tests = tcase_create("docs");
    tcase_add_test(tests, the_schema_lists_the_laws);
    tcase_add_test(tests, every_example_of_the_page_is_a_campaign);
    tcase_add_test(tests, every_warning_is_on_the_page);
    tcase_add_loop_test(tests, schema_and_program_know_the_same_keys, 0, PLACES);
    tcase_add_loop_test(tests, schema_and_program_require_the_same_keys, 0, PLACES);
    tcase_add_loop_test(tests, schema_and_program_have_the_same_ranges, 0, PLACES);
    tcase_add_loop_test(tests, schema_and_program_have_the_same_words, 0, PLACES);
    tcase_add_test(tests, schema_and_program_have_the_same_units);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(docs_suite)
