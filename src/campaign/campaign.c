#include "holdfast/campaign/campaign.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "campaign/parts.h"
#include "holdfast/base/file.h"
#include "holdfast/base/text.h"

typedef struct raw_campaign {
    const char *format, *title;
    const hf_json *unit;
    hf_maybe gravity;
    const hf_json *rig, *weights, *goal, *guess, *designs, *head_to_head, *plan;
    hf_info info;
} raw_campaign;

#define FILE_KEY(field) offsetof(raw_campaign, field)
static const hf_key campaign_keys[] = {
    {.name = "format", .kind = HF_KEY_TEXT, .offset = FILE_KEY(format), .required = true},
    {.name = "title", .kind = HF_KEY_TEXT, .offset = FILE_KEY(title)},
    {.name = "unit", .kind = HF_KEY_NODE, .offset = FILE_KEY(unit)},
    {.name = "gravity", .kind = HF_KEY_NUMBER, .offset = FILE_KEY(gravity), .low = 9.7, .high = 9.9},
    {.name = "rig", .kind = HF_KEY_OBJECT, .offset = FILE_KEY(rig)},
    {.name = "weights", .kind = HF_KEY_LIST, .offset = FILE_KEY(weights)},
    {.name = "goal", .kind = HF_KEY_OBJECT, .offset = FILE_KEY(goal)},
    {.name = "guess", .kind = HF_KEY_OBJECT, .offset = FILE_KEY(guess)},
    {.name = "designs", .kind = HF_KEY_LIST, .offset = FILE_KEY(designs), .required = true},
    {.name = "head_to_head", .kind = HF_KEY_LIST, .offset = FILE_KEY(head_to_head)},
    {.name = "plan", .kind = HF_KEY_OBJECT, .offset = FILE_KEY(plan)},
    {.name = "info", .kind = HF_KEY_INFO, .offset = FILE_KEY(info)},
};

hf_key_table hf_campaign_keys(void) {
    return (hf_key_table){campaign_keys, HF_COUNT_OF(campaign_keys)};
}

static const char format_stem[] = "holdfast-campaign/";
enum { NEWEST = 2 };

static void read_unit(hf_reader *reader, const hf_json *node) {
    if (!node) return;
    const hf_unit *unit = node->kind == HF_JSON_TEXT ? hf_unit_find(node->text, strlen(node->text)) : NULL;
    if (unit) {
        reader->unit = unit;
        return;
    }
    size_t count;
    const hf_unit *table = hf_unit_table(&count);
    hf_text expected = {0};
    hf_text_add(&expected, "a unit:");
    for (size_t i = 0; i < count; i++) hf_text_addf(&expected, " %s", table[i].name);
    (void)hf_reader_wrong(reader, node, expected.bytes ? expected.bytes : "a unit");
    hf_text_free(&expected);
}

/* Loads need unit and gravity, rigs come before pulls, designs before what names them: so parts are read in this order, and
 * findings are put into file order at the end. */
static void read_parts(hf_reader *reader, const raw_campaign *raw, hf_campaign *campaign) {
    campaign->goal = hf_goal_default();
    campaign->rig.force.advantage = 1;
    if (raw->rig) hf_read_rig(reader, raw->rig, &campaign->rig);
    if (raw->weights) hf_read_weights(reader, raw->weights, campaign);
    if (raw->goal) hf_read_goal(reader, raw->goal, &campaign->goal);
    if (raw->guess) hf_read_guess(reader, raw->guess, &campaign->guess);
    if (raw->designs) hf_read_designs(reader, raw->designs, campaign);
    hf_index_designs(reader, campaign);
    if (raw->head_to_head) hf_read_head_to_head(reader, raw->head_to_head, campaign);
    if (raw->plan) hf_read_plan(reader, raw->plan, campaign);
    hf_check_rig(reader, campaign, raw->rig);
    hf_check_ends(reader, campaign);
    hf_check_ids(reader, campaign);
}

static int compare_findings(const void *a, const void *b) {
    const hf_finding *x = a, *y = b;
    if (x->line != y->line) return x->line < y->line ? -1 : 1;
    if (x->column != y->column) return x->column < y->column ? -1 : 1;
    return strcmp(x->message, y->message);
}

static bool read_version(const char *format, int *version) {
    size_t length = strlen(format_stem);
    if (strncmp(format, format_stem, length) != 0 || strlen(format) != length + 1) return false;
    *version = format[length] - '0';
    return *version >= 1 && *version <= NEWEST;
}

static void read_root(hf_reader *reader, const hf_json *root, hf_campaign *campaign) {
    raw_campaign raw = {0};
    /* The format and unit first: a file of another format is not worth a hundred findings. */
    if (!hf_read_object(reader, root, campaign_keys, HF_COUNT_OF(campaign_keys), &raw)) return;
    if (raw.format && !read_version(raw.format, &reader->version)) {
        hf_reader_error(reader, hf_json_get(root, "format"), "found \"%.60s\", expected \"%s1\" or \"%s%d\"",
                        raw.format, format_stem, format_stem, NEWEST);
        return;
    }
    campaign->version = reader->version;
    read_unit(reader, raw.unit);
    if (raw.gravity.given) reader->gravity = raw.gravity.value;
    campaign->title = raw.title ? raw.title : "";
    campaign->unit = reader->unit;
    campaign->gravity = reader->gravity;
    campaign->gravity_given = raw.gravity.given;
    campaign->info = raw.info;
    campaign->root = root;
    read_parts(reader, &raw, campaign);
    if (reader->findings->errors == 0) hf_warn(reader, campaign);
}

static hf_status too_long(hf_reader *reader, size_t length) {
    char message[HF_MESSAGE_SIZE];
    int end = snprintf(message, sizeof message, "found a file of %zu bytes, expected at most %d", length,
                       HF_CAMPAIGN_LIMIT_BYTES);
    hf_finding finding = {.severity = HF_SEVERITY_ERROR, .code = "too_long", .line = 1, .column = 1};
    finding.message = hf_arena_text(reader->arena, message, (size_t)end);
    hf_reader_find(reader, finding, NULL);
    return reader->out_of_memory ? HF_MEMORY : HF_BAD_DATA;
}

static void syntax_finding(hf_reader *reader, const hf_error *error) {
    hf_finding finding = {.severity = HF_SEVERITY_ERROR, .code = "syntax"};
    finding.message = hf_arena_text(reader->arena, error->message, strlen(error->message));
    finding.line = error->where.line ? error->where.line : 1;
    finding.column = error->where.column ? error->where.column : 1;
    hf_reader_find(reader, finding, NULL);
    if (reader->findings->count)
        reader->findings->items[0].path =
            hf_arena_text(reader->arena, error->where.path, strlen(error->where.path));
}

hf_status hf_campaign_parse(hf_arena *arena, const char *file, const char *text, size_t length,
                            const hf_campaign **out, hf_findings *findings) {
    hf_reader reader = {.arena = arena,
                        .findings = findings,
                        .unit = hf_unit_find("N", 1),
                        .gravity = HF_GRAVITY_STANDARD,
                        .version = 1};
    hf_campaign *campaign = HF_ARENA_NEW(arena, hf_campaign);
    const hf_json *root;
    hf_error error;
    *out = NULL;
    memset(findings, 0, sizeof *findings);
    if (!campaign) return HF_MEMORY;
    campaign->file = file;
    campaign->text = text;
    campaign->text_length = length;
    if (length > HF_CAMPAIGN_LIMIT_BYTES) return too_long(&reader, length);
    hf_status status = hf_json_parse(arena, file, text, length, &root, &error);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK) {
        syntax_finding(&reader, &error);
        return reader.out_of_memory ? HF_MEMORY : HF_BAD_DATA;
    }
    read_root(&reader, root, campaign);
    if (findings->count > 1)
        qsort(findings->items, findings->count, sizeof *findings->items, compare_findings);
    if (reader.out_of_memory) return HF_MEMORY;
    if (findings->errors) return HF_BAD_DATA;
    hf_file_sha256(text, length, campaign->sha256);
    *out = campaign;
    return HF_OK;
}
