/* Designs and their specimens. */
#include <math.h>
#include <string.h>
#include "campaign/parts.h"
#include "holdfast/campaign/late.h"

static const char *family_word(size_t at) {
    const hf_family *family = at ? hf_family_governing_at(at - 1) : NULL;
    return family ? family->name : at ? NULL : "auto";
}

static const char *const outcome_words[] = {"failed", "held", "rig", "void", "planned", NULL};
static const char *const phase_words[] = {"adding", "dwell", NULL};

typedef struct raw_specimen {
    hf_specimen specimen;
    int outcome, phase;
    const hf_json *ends, *broke;
} raw_specimen;

#define PART(field) offsetof(raw_specimen, specimen.field)
static const hf_key specimen_keys[] = {
    {.name = "id", .kind = HF_KEY_ID, .offset = PART(id), .required = true},
    {.name = "batch", .kind = HF_KEY_TEXT, .offset = PART(batch)},
    {.name = "order", .kind = HF_KEY_WHOLE, .offset = PART(order), .high = 1e9},
    {.name = "date", .kind = HF_KEY_DATE, .offset = PART(date)},
    {.name = "held", .kind = HF_KEY_LOAD, .offset = PART(held)},
    {.name = "failed", .kind = HF_KEY_LOAD, .offset = PART(failed), .low = 1},
    {.name = "peak", .kind = HF_KEY_LOAD, .offset = PART(peak), .low = 1},
    {.name = "set_held", .kind = HF_KEY_LOAD, .offset = PART(set_held)},
    {.name = "set_seen", .kind = HF_KEY_LOAD, .offset = PART(set_seen), .low = 1},
    {.name = "outcome",
     .kind = HF_KEY_CHOICE,
     .offset = offsetof(raw_specimen, outcome),
     .choices = outcome_words},
    {.name = "mode", .kind = HF_KEY_TEXT, .offset = PART(mode)},
    {.name = "phase", .kind = HF_KEY_CHOICE, .offset = offsetof(raw_specimen, phase), .choices = phase_words},
    {.name = "duration_s", .kind = HF_KEY_NUMBER, .offset = PART(duration_s), .high = INFINITY},
    {.name = "dropped", .kind = HF_KEY_FLAG, .offset = PART(dropped)},
    {.name = "reused", .kind = HF_KEY_FLAG, .offset = PART(reused)},
    {.name = "tare", .kind = HF_KEY_LOAD, .offset = PART(tare)},
    {.name = "ends", .kind = HF_KEY_LIST, .offset = offsetof(raw_specimen, ends)},
    {.name = "broke", .kind = HF_KEY_NODE, .offset = offsetof(raw_specimen, broke)},
    {.name = "note", .kind = HF_KEY_TEXT, .offset = PART(note)},
    {.name = "info", .kind = HF_KEY_INFO, .offset = PART(info)},
};

static void read_ends(hf_reader *reader, const hf_json *list, hf_specimen *specimen) {
    if (list->count != 2 || list->first->kind != HF_JSON_TEXT || list->first->next->kind != HF_JSON_TEXT) {
        hf_reader_error(
            reader, list,
            "found a list of %zu, expected a list of two texts, the ids of the designs at the two ends",
            list->count);
        return;
    }
    specimen->ends[0] = list->first->text;
    specimen->ends[1] = list->first->next->text;
}

static void read_broke(hf_reader *reader, const hf_json *node, hf_specimen *specimen) {
    if (node->kind == HF_JSON_NUMBER && node->number == 1)
        specimen->broke = HF_BROKE_FIRST;
    else if (node->kind == HF_JSON_NUMBER && node->number == 2)
        specimen->broke = HF_BROKE_SECOND;
    else if (node->kind == HF_JSON_TEXT && strcmp(node->text, "both") == 0)
        specimen->broke = HF_BROKE_BOTH;
    else
        (void)hf_reader_wrong(reader, node, "1, 2 or \"both\"");
}

static void read_specimen(hf_reader *reader, const hf_json *node, const hf_rig *rig, hf_specimen *out) {
    raw_specimen raw = {0};
    size_t errors = reader->findings->errors;
    raw.specimen.node = node;
    if (hf_read_object(reader, node, specimen_keys, HF_COUNT_OF(specimen_keys), &raw)) {
        raw.specimen.phase = (hf_phase)raw.phase;
        if (raw.ends) read_ends(reader, raw.ends, &raw.specimen);
        if (raw.broke) read_broke(reader, raw.broke, &raw.specimen);
        if (raw.broke && !raw.ends)
            hf_reader_error(reader, raw.broke,
                            "found \"broke\" without \"ends\", expected the \"ends\" it speaks of");
        /* Loads that could not be read would only bring follow-up findings. */
        if (errors == reader->findings->errors) hf_specimen_observe(reader, rig, &raw.specimen, raw.outcome);
    }
    *out = raw.specimen;
}

typedef struct raw_design {
    const char *id, *name, *kind, *family_reason;
    int family;
    const hf_json *guess, *goal, *scatter, *between, *specimens;
    hf_info info;
} raw_design;

#define DESIGN(field) offsetof(raw_design, field)
static const hf_key design_keys[] = {
    {.name = "id", .kind = HF_KEY_ID, .offset = DESIGN(id), .required = true},
    {.name = "name", .kind = HF_KEY_TEXT, .offset = DESIGN(name)},
    {.name = "kind", .kind = HF_KEY_ID, .offset = DESIGN(kind), .since = 2},
    {.name = "guess", .kind = HF_KEY_OBJECT, .offset = DESIGN(guess)},
    {.name = "goal", .kind = HF_KEY_OBJECT, .offset = DESIGN(goal)},
    {.name = "family", .kind = HF_KEY_CHOICE, .offset = DESIGN(family), .choice_at = family_word},
    {.name = "family_reason", .kind = HF_KEY_TEXT, .offset = DESIGN(family_reason)},
    {.name = "scatter", .kind = HF_KEY_OBJECT, .offset = DESIGN(scatter)},
    {.name = "between_batches", .kind = HF_KEY_OBJECT, .offset = DESIGN(between), .since = 2},
    {.name = "specimens", .kind = HF_KEY_LIST, .offset = DESIGN(specimens)},
    {.name = "info", .kind = HF_KEY_INFO, .offset = DESIGN(info)},
};

hf_key_table hf_design_keys(void) {
    return (hf_key_table){design_keys, HF_COUNT_OF(design_keys)};
}

static void read_specimens(hf_reader *reader, const hf_json *list, const hf_rig *rig, hf_design *design) {
    hf_specimen *specimens = HF_ARENA_NEW_ARRAY(reader->arena, hf_specimen, list->count);
    size_t count = 0;
    if (!specimens) reader->out_of_memory = true;
    for (const hf_json *node = list->first; specimens && node; node = node->next)
        read_specimen(reader, node, rig, &specimens[count++]);
    design->specimens = specimens;
    design->specimen_count = count;
}

static void read_design(hf_reader *reader, const hf_json *node, const hf_campaign *campaign,
                        hf_design *design) {
    raw_design raw = {0};
    *design = (hf_design){.node = node, .goal = campaign->goal, .guess = campaign->guess};
    if (!hf_read_object(reader, node, design_keys, HF_COUNT_OF(design_keys), &raw)) return;
    design->id = raw.id;
    design->name = raw.name ? raw.name : raw.id;
    design->family = raw.family > 1 ? hf_family_governing_at((size_t)raw.family - 2) : NULL;
    design->kind = raw.kind;
    design->family_reason = raw.family_reason;
    design->info = raw.info;
    if (raw.guess) hf_read_guess(reader, raw.guess, &design->guess);
    if (raw.goal) hf_read_goal(reader, raw.goal, &design->goal);
    if (raw.scatter) hf_read_scatter(reader, raw.scatter, &design->scatter);
    if (raw.between) hf_read_between(reader, raw.between, &design->between_batches);
    if (raw.specimens) read_specimens(reader, raw.specimens, &campaign->rig, design);
    design->late = HF_ARENA_NEW_ARRAY(reader->arena, size_t, HF_LATE_KINDS);
    if (!design->late) reader->out_of_memory = true;
}

static size_t count_pulls(const hf_json *list) {
    size_t pulls = 0;
    for (const hf_json *node = list->first; node; node = node->next) {
        const hf_json *specimens = node->kind == HF_JSON_OBJECT ? hf_json_get(node, "specimens") : NULL;
        if (specimens) pulls += specimens->count;
    }
    return pulls;
}

void hf_read_designs(hf_reader *reader, const hf_json *list, hf_campaign *campaign) {
    hf_design *designs = HF_ARENA_NEW_ARRAY(reader->arena, hf_design, list->count);
    size_t pulls = count_pulls(list), count = 0;
    if (pulls > HF_CAMPAIGN_LIMIT_PULLS) {
        hf_reader_error(reader, list, "found %zu pulls, expected at most %d", pulls, HF_CAMPAIGN_LIMIT_PULLS);
        return;
    }
    if (!list->count) hf_reader_error(reader, list, "found an empty list, expected at least one design");
    for (const hf_json *node = list->first; designs && node; node = node->next)
        read_design(reader, node, campaign, &designs[count++]);
    campaign->designs = designs;
    campaign->design_count = count;
}
