/* Rig, goal, guess, weights, plan and head-to-head records. */
#include <math.h>
#include <string.h>
#include "campaign/parts.h"

static const char *const records_words[] = {"added", "total", NULL};
static const char *const kind_words[] = {"standard", "tolerance", "expanded", NULL};
static const char *const broke_words[] = {"first", "second", "both", NULL};

typedef struct raw_rig {
    const char *id, *calibration;
    hf_maybe tare, advantage, angle, rating, resolution, dwell;
    int records;
    const hf_json *uncertainty;
    hf_info info;
} raw_rig;

#define RIG(field) offsetof(raw_rig, field)
static const hf_key rig_keys[] = {
    {.name = "id", .kind = HF_KEY_ID, .offset = RIG(id)},
    {.name = "tare", .kind = HF_KEY_LOAD, .offset = RIG(tare)},
    {.name = "records", .kind = HF_KEY_CHOICE, .offset = RIG(records), .choices = records_words},
    {.name = "advantage",
     .kind = HF_KEY_NUMBER,
     .offset = RIG(advantage),
     .high = HF_ADVANTAGE_LIMIT,
     .open_low = true},
    {.name = "angle_deg", .kind = HF_KEY_NUMBER, .offset = RIG(angle), .high = 90, .open_high = true},
    {.name = "rating", .kind = HF_KEY_LOAD, .offset = RIG(rating), .low = 1},
    {.name = "resolution", .kind = HF_KEY_LOAD, .offset = RIG(resolution)},
    {.name = "dwell_s", .kind = HF_KEY_NUMBER, .offset = RIG(dwell), .high = INFINITY},
    {.name = "calibration", .kind = HF_KEY_TEXT, .offset = RIG(calibration)},
    {.name = "uncertainty", .kind = HF_KEY_LIST, .offset = RIG(uncertainty)},
    {.name = "info", .kind = HF_KEY_INFO, .offset = RIG(info)},
};

hf_key_table hf_rig_keys(void) {
    return (hf_key_table){rig_keys, HF_COUNT_OF(rig_keys)};
}

typedef struct raw_uncertainty {
    const char *source;
    hf_maybe relative, load;
    int kind;
} raw_uncertainty;

#define LINE(field) offsetof(raw_uncertainty, field)
static const hf_key uncertainty_keys[] = {
    {.name = "source", .kind = HF_KEY_TEXT, .offset = LINE(source), .required = true},
    {.name = "relative", .kind = HF_KEY_NUMBER, .offset = LINE(relative), .high = 1, .open_low = true},
    {.name = "load", .kind = HF_KEY_LOAD, .offset = LINE(load), .low = 1},
    {.name = "kind", .kind = HF_KEY_CHOICE, .offset = LINE(kind), .required = true, .choices = kind_words},
};

static void read_uncertainty(hf_reader *reader, const hf_json *list, hf_rig *rig) {
    hf_uncertainty *lines = HF_ARENA_NEW_ARRAY(reader->arena, hf_uncertainty, list->count);
    size_t count = 0;
    for (const hf_json *node = list->first; lines && node; node = node->next) {
        raw_uncertainty raw = {0};
        if (!hf_read_object(reader, node, uncertainty_keys, HF_COUNT_OF(uncertainty_keys), &raw)) continue;
        bool relative = hf_json_get(node, "relative") != NULL, load = hf_json_get(node, "load") != NULL;
        if (relative == load)
            hf_reader_error(reader, node, "found %s, expected exactly one of \"relative\" and \"load\"",
                            load ? "\"relative\" and \"load\"" : "neither \"relative\" nor \"load\"");
        lines[count++] = (hf_uncertainty){raw.source, raw.relative.value, raw.load.value,
                                          raw.kind == 2   ? HF_UNCERTAINTY_TOLERANCE
                                          : raw.kind == 3 ? HF_UNCERTAINTY_EXPANDED
                                                          : HF_UNCERTAINTY_STANDARD};
    }
    rig->uncertainty = lines;
    rig->uncertainty_count = count;
}

void hf_read_rig(hf_reader *reader, const hf_json *node, hf_rig *rig) {
    raw_rig raw = {0};
    if (!hf_read_object(reader, node, rig_keys, HF_COUNT_OF(rig_keys), &raw)) return;
    rig->id = raw.id;
    rig->calibration = raw.calibration;
    rig->force.records = (hf_rig_records)raw.records;
    rig->force.tare = raw.tare.value;
    rig->tare_given = raw.tare.given;
    rig->force.advantage = raw.advantage.given ? raw.advantage.value : 1;
    rig->force.angle_deg = raw.angle.value;
    rig->rating = raw.rating;
    rig->resolution = raw.resolution;
    rig->dwell_s = raw.dwell;
    rig->info = raw.info;
    if (raw.uncertainty) read_uncertainty(reader, raw.uncertainty, rig);
    if (rig->force.records == HF_RIG_RECORDS_TOTAL && rig->force.advantage != 1)
        hf_reader_error(reader, hf_json_get(node, "advantage"),
                        "found a lever with \"records\": \"total\", expected advantage 1: the total is the "
                        "force in the line");
}

typedef struct raw_goal {
    hf_maybe content, confidence, design_factor, set_factor, service_load, required_bound;
    const hf_json *use_factors, *looks, *choose_best;
} raw_goal;

#define GOAL(field) offsetof(raw_goal, field)
static const hf_key goal_keys[] = {
    {.name = "content",
     .kind = HF_KEY_NUMBER,
     .offset = GOAL(content),
     .low = 0.5,
     .high = 1,
     .open_low = true,
     .open_high = true},
    {.name = "confidence",
     .kind = HF_KEY_NUMBER,
     .offset = GOAL(confidence),
     .low = 0.5,
     .high = 1,
     .open_high = true},
    {.name = "design_factor",
     .kind = HF_KEY_NUMBER,
     .offset = GOAL(design_factor),
     .low = 1,
     .high = INFINITY},
    {.name = "set_factor", .kind = HF_KEY_NUMBER, .offset = GOAL(set_factor), .low = 1, .high = INFINITY},
    {.name = "service_load", .kind = HF_KEY_LOAD, .offset = GOAL(service_load), .low = 1},
    {.name = "required_bound", .kind = HF_KEY_LOAD, .offset = GOAL(required_bound), .low = 1},
    {.name = "use_factors", .kind = HF_KEY_LIST, .offset = GOAL(use_factors)},
    {.name = "looks", .kind = HF_KEY_NODE, .offset = GOAL(looks), .since = 2},
    {.name = "choose_best", .kind = HF_KEY_NODE, .offset = GOAL(choose_best), .since = 2},
};

hf_key_table hf_goal_keys(void) {
    return (hf_key_table){goal_keys, HF_COUNT_OF(goal_keys)};
}

typedef struct raw_factor {
    const char *reason;
    hf_maybe factor;
} raw_factor;

static const hf_key factor_keys[] = {
    {.name = "reason", .kind = HF_KEY_TEXT, .offset = offsetof(raw_factor, reason), .required = true},
    {.name = "factor",
     .kind = HF_KEY_NUMBER,
     .offset = offsetof(raw_factor, factor),
     .required = true,
     .low = 1,
     .high = INFINITY},
};

hf_goal hf_goal_default(void) {
    return (hf_goal){.content = HF_USUAL_CONTENT, .confidence = HF_USUAL_CONFIDENCE};
}

static void merge(hf_maybe *into, hf_maybe from) {
    if (from.given) *into = from;
}

/* One that a design may take back. */
static void read_flag(hf_reader *reader, const hf_json *node, bool *into) {
    if (node->kind == HF_JSON_TRUE || node->kind == HF_JSON_FALSE)
        *into = node->kind == HF_JSON_TRUE;
    else
        (void)hf_reader_wrong(reader, node, "true or false");
}

void hf_read_goal(hf_reader *reader, const hf_json *node, hf_goal *goal) {
    raw_goal raw = {0};
    if (!hf_read_object(reader, node, goal_keys, HF_COUNT_OF(goal_keys), &raw)) return;
    if (raw.content.given) goal->content = raw.content.value;
    if (raw.confidence.given) goal->confidence = raw.confidence.value;
    goal->content_given |= raw.content.given;
    goal->confidence_given |= raw.confidence.given;
    merge(&goal->design_factor, raw.design_factor);
    merge(&goal->set_factor, raw.set_factor);
    merge(&goal->service_load, raw.service_load);
    merge(&goal->required_bound, raw.required_bound);
    if (raw.looks) hf_read_looks(reader, raw.looks, &goal->looks);
    if (raw.choose_best) read_flag(reader, raw.choose_best, &goal->choose_best);
    if (!raw.use_factors) return;
    struct hf_use_factor *factors =
        HF_ARENA_NEW_ARRAY(reader->arena, struct hf_use_factor, raw.use_factors->count);
    size_t count = 0;
    for (const hf_json *item = raw.use_factors->first; factors && item; item = item->next) {
        raw_factor one = {0};
        if (hf_read_object(reader, item, factor_keys, HF_COUNT_OF(factor_keys), &one))
            factors[count++] = (struct hf_use_factor){one.reason, one.factor.value};
    }
    goal->use_factors = factors;
    goal->use_factor_count = count;
}

static const hf_key guess_keys[] = {
    {.name = "mean", .kind = HF_KEY_LOAD, .offset = offsetof(hf_stated_guess, mean), .low = 1},
    {.name = "cv",
     .kind = HF_KEY_NUMBER,
     .offset = offsetof(hf_stated_guess, cv),
     .high = 1,
     .open_low = true},
};

hf_key_table hf_guess_keys(void) {
    return (hf_key_table){guess_keys, HF_COUNT_OF(guess_keys)};
}

void hf_read_guess(hf_reader *reader, const hf_json *node, hf_stated_guess *guess) {
    (void)hf_read_object(reader, node, guess_keys, HF_COUNT_OF(guess_keys), guess);
}

typedef struct raw_weight {
    const hf_json *load;
    hf_maybe count;
} raw_weight;

static const hf_key weight_keys[] = {
    {.name = "load", .kind = HF_KEY_NODE, .offset = offsetof(raw_weight, load), .required = true},
    {.name = "count",
     .kind = HF_KEY_WHOLE,
     .offset = offsetof(raw_weight, count),
     .required = true,
     .low = 1,
     .high = 10000},
};

void hf_read_weights(hf_reader *reader, const hf_json *list, hf_campaign *campaign) {
    hf_weight *weights = HF_ARENA_NEW_ARRAY(reader->arena, hf_weight, list->count);
    size_t count = 0;
    for (const hf_json *node = list->first; weights && node; node = node->next) {
        raw_weight raw = {0};
        hf_load load;
        double newtons;
        if (!hf_read_object(reader, node, weight_keys, HF_COUNT_OF(weight_keys), &raw) || !raw.load) continue;
        if (!hf_read_load(reader, raw.load, &newtons, &load)) continue;
        if (!(newtons > 0)) {
            hf_reader_error(reader, raw.load, "found a weight of 0, expected a load above 0");
            continue;
        }
        weights[count++] = (hf_weight){newtons, load.value, load.unit, (size_t)raw.count.value};
    }
    campaign->weights = weights;
    campaign->weight_count = count;
}

typedef struct raw_pair {
    const char *first, *second, *mode, *note;
    int broke;
} raw_pair;

#define PAIR(field) offsetof(raw_pair, field)
static const hf_key pair_keys[] = {
    {.name = "first", .kind = HF_KEY_TEXT, .offset = PAIR(first), .required = true},
    {.name = "second", .kind = HF_KEY_TEXT, .offset = PAIR(second), .required = true},
    {.name = "broke", .kind = HF_KEY_CHOICE, .offset = PAIR(broke), .required = true, .choices = broke_words},
    {.name = "mode", .kind = HF_KEY_TEXT, .offset = PAIR(mode)},
    {.name = "note", .kind = HF_KEY_TEXT, .offset = PAIR(note)},
};

static void check_design(hf_reader *reader, const hf_json *node, const char *key, const char *id) {
    if (id && !hf_is_design(reader, id))
        (void)hf_reader_wrong(reader, hf_json_get(node, key), "the id of a design of this file");
}

void hf_read_head_to_head(hf_reader *reader, const hf_json *list, hf_campaign *campaign) {
    hf_head_to_head *pairs = HF_ARENA_NEW_ARRAY(reader->arena, hf_head_to_head, list->count);
    size_t count = 0;
    for (const hf_json *node = list->first; pairs && node; node = node->next) {
        raw_pair raw = {0};
        if (!hf_read_object(reader, node, pair_keys, HF_COUNT_OF(pair_keys), &raw)) continue;
        check_design(reader, node, "first", raw.first);
        check_design(reader, node, "second", raw.second);
        pairs[count++] = (hf_head_to_head){raw.first, raw.second, (hf_broke)raw.broke, raw.mode, raw.note};
    }
    campaign->head_to_head = pairs;
    campaign->head_to_head_count = count;
}

typedef struct raw_plan {
    hf_maybe seed;
    const char *made;
    const hf_json *ladders;
} raw_plan;

static const hf_key plan_keys[] = {
    {.name = "seed", .kind = HF_KEY_WHOLE, .offset = offsetof(raw_plan, seed), .high = 9007199254740991.0},
    {.name = "made", .kind = HF_KEY_DATE, .offset = offsetof(raw_plan, made)},
    {.name = "ladders", .kind = HF_KEY_OBJECT, .offset = offsetof(raw_plan, ladders)},
};

typedef struct raw_rung {
    hf_maybe load;
    const char *weights;
} raw_rung;

static const hf_key rung_keys[] = {
    {.name = "load", .kind = HF_KEY_LOAD, .offset = offsetof(raw_rung, load), .required = true},
    {.name = "weights", .kind = HF_KEY_TEXT, .offset = offsetof(raw_rung, weights)},
};

static hf_written_ladder read_ladder(hf_reader *reader, const hf_json *list) {
    hf_written_ladder ladder = {.design = list->key};
    if (!hf_is_design(reader, list->key))
        hf_reader_error(reader, list,
                        "found a ladder for \"%.60s\", expected the id of a design of this file", list->key);
    if (list->kind != HF_JSON_ARRAY) {
        hf_reader_error(reader, list, "found %s, expected a list of rungs in [ ]",
                        hf_json_kind_name(list->kind));
        return ladder;
    }
    hf_written_rung *rungs = HF_ARENA_NEW_ARRAY(reader->arena, hf_written_rung, list->count);
    for (const hf_json *node = list->first; rungs && node; node = node->next) {
        raw_rung raw = {0};
        if (hf_read_object(reader, node, rung_keys, HF_COUNT_OF(rung_keys), &raw))
            rungs[ladder.count++] = (hf_written_rung){raw.load.value, raw.weights};
    }
    ladder.rungs = rungs;
    return ladder;
}

void hf_read_plan(hf_reader *reader, const hf_json *node, hf_campaign *campaign) {
    raw_plan raw = {0};
    if (!hf_read_object(reader, node, plan_keys, HF_COUNT_OF(plan_keys), &raw)) return;
    campaign->plan = (hf_plan_record){.given = true, .seed = raw.seed, .made = raw.made};
    if (!raw.ladders) return;
    hf_written_ladder *ladders = HF_ARENA_NEW_ARRAY(reader->arena, hf_written_ladder, raw.ladders->count);
    size_t count = 0;
    for (const hf_json *item = raw.ladders->first; ladders && item; item = item->next)
        ladders[count++] = read_ladder(reader, item);
    campaign->plan.ladders = ladders;
    campaign->plan.count = count;
}
