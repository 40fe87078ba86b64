/* A scatter known from earlier parts: stated as such, or by the designs it comes from. */
#include <math.h>
#include <string.h>
#include "campaign/parts.h"

enum { MOST_PAST = 10000 };

typedef struct raw_past {
    const char *source;
    hf_maybe cv, degrees, step;
} raw_past;

#define PAST(field) offsetof(raw_past, field)
static const hf_key past_keys[] = {
    {.name = "source", .kind = HF_KEY_TEXT, .offset = PAST(source), .required = true},
    {.name = "cv", .kind = HF_KEY_NUMBER, .offset = PAST(cv), .required = true, .high = 1},
    {.name = "degrees_of_freedom",
     .kind = HF_KEY_NUMBER,
     .offset = PAST(degrees),
     .required = true,
     .low = 1,
     .high = 1e6},
    {.name = "step", .kind = HF_KEY_NUMBER, .offset = PAST(step), .high = 1},
};

static void read_past_design(hf_reader *reader, const hf_json *node, hf_past_design *out) {
    raw_past raw = {0};
    size_t errors = reader->findings->errors;
    if (!hf_read_object(reader, node, past_keys, HF_COUNT_OF(past_keys), &raw)) return;
    if (errors != reader->findings->errors) return;
    *out = (hf_past_design){raw.source, raw.cv.value, raw.degrees.value, raw.step.value, 0};
    double s = out->cv > 0 ? hf_scatter_of_cv(out->cv) : 0;
    out->s = sqrt(s * s + out->step * out->step / 8);
    if (!(out->s > 0))
        hf_reader_error(reader, hf_json_get(node, "cv"),
                        "found 0 without a step, expected a scatter above 0: readings that are all equal "
                        "show none");
}

/* False: the designs together give no scatter that a strength law has. */
static bool pool(hf_reader *reader, const hf_past_design *past, size_t count, hf_scatter *out) {
    hf_earlier_scatter *earlier = HF_ARENA_NEW_ARRAY(reader->arena, hf_earlier_scatter, count);
    hf_stated_scatter stated;
    out->source =
        count == 1 ? past->source : hf_arena_format(reader->arena, "%zu earlier designs of the kind", count);
    if (!earlier || !out->source) {
        reader->out_of_memory = true;
        return true;
    }
    for (size_t j = 0; j < count; j++)
        earlier[j] = (hf_earlier_scatter){past[j].s, past[j].degrees_of_freedom};
    out->given = hf_scatter_of_designs(earlier, count, &out->library, &stated) == HF_OK;
    out->cv = stated.cv;
    out->degrees_of_freedom = stated.degrees_of_freedom;
    out->pooled = stated.pooled;
    return out->given;
}

static void read_past(hf_reader *reader, const hf_json *list, hf_scatter *scatter) {
    size_t errors = reader->findings->errors, count = 0;
    if (!list->count || list->count > MOST_PAST) {
        hf_reader_error(reader, list, "found a list of %zu, expected 1 to %d earlier designs", list->count,
                        MOST_PAST);
        return;
    }
    hf_past_design *past = HF_ARENA_NEW_ARRAY(reader->arena, hf_past_design, list->count);
    if (!past) {
        reader->out_of_memory = true;
        return;
    }
    for (const hf_json *node = list->first; node; node = node->next)
        read_past_design(reader, node, &past[count++]);
    if (errors != reader->findings->errors) return;
    scatter->past = past;
    scatter->past_count = count;
    if (!pool(reader, past, count, scatter))
        hf_reader_error(reader, list,
                        "found designs that together scatter by more than the mean, expected less: a scatter "
                        "above 1 is no strength law's");
}

/* --- The scatter of a design -------------------------------------------------------------------------- */

typedef struct raw_scatter {
    hf_maybe cv;
    const hf_json *degrees, *past;
    const char *source;
} raw_scatter;

#define SCATTER(field) offsetof(raw_scatter, field)
static const hf_key scatter_keys[] = {
    {.name = "cv", .kind = HF_KEY_NUMBER, .offset = SCATTER(cv), .high = 1, .open_low = true},
    {.name = "degrees_of_freedom", .kind = HF_KEY_NODE, .offset = SCATTER(degrees)},
    {.name = "source", .kind = HF_KEY_ID, .offset = SCATTER(source)},
    {.name = "past", .kind = HF_KEY_LIST, .offset = SCATTER(past), .since = 2},
};

hf_key_table hf_scatter_keys(void) {
    return (hf_key_table){scatter_keys, HF_COUNT_OF(scatter_keys)};
}

/* All three, or `past` alone: both would be two statements of one thing. */
static void check_whole(hf_reader *reader, const hf_json *node, bool by_designs) {
    for (size_t i = 0; i < HF_COUNT_OF(scatter_keys) - 1; i++) {
        const hf_json *child = hf_json_get(node, scatter_keys[i].name);
        if (!child && !by_designs)
            hf_reader_error(reader, node, "found no key \"%s\", which is required", scatter_keys[i].name);
        if (child && by_designs)
            hf_reader_error(reader, child, "found \"%s\" beside \"past\", expected one of the two",
                            scatter_keys[i].name);
    }
}

void hf_read_scatter(hf_reader *reader, const hf_json *node, hf_scatter *scatter) {
    raw_scatter raw = {0};
    if (!hf_read_object(reader, node, scatter_keys, HF_COUNT_OF(scatter_keys), &raw)) return;
    check_whole(reader, node, hf_json_get(node, "past") != NULL);
    if (raw.past) read_past(reader, raw.past, scatter);
    if (raw.past || !raw.degrees) return;
    *scatter =
        (hf_scatter){.given = true, .cv = raw.cv.value, .degrees_of_freedom = INFINITY, .source = raw.source};
    if (raw.degrees->kind == HF_JSON_TEXT && strcmp(raw.degrees->text, "assumed") == 0) return;
    if (raw.degrees->kind == HF_JSON_NUMBER && raw.degrees->number >= 1)
        scatter->degrees_of_freedom = raw.degrees->number;
    else
        (void)hf_reader_wrong(reader, raw.degrees, "a number from 1 up or \"assumed\"");
}

hf_stated_scatter hf_scatter_stated(const hf_scatter *scatter) {
    return (hf_stated_scatter){scatter->cv, scatter->degrees_of_freedom, scatter->pooled};
}

/* --- From batch to batch ------------------------------------------------------------------------------ */

typedef struct raw_between {
    hf_maybe cv;
    const char *source;
} raw_between;

#define BETWEEN(field) offsetof(raw_between, field)
static const hf_key between_keys[] = {
    {.name = "cv",
     .kind = HF_KEY_NUMBER,
     .offset = BETWEEN(cv),
     .required = true,
     .high = 1,
     .open_low = true},
    {.name = "source", .kind = HF_KEY_ID, .offset = BETWEEN(source), .required = true},
};

hf_key_table hf_between_keys(void) {
    return (hf_key_table){between_keys, HF_COUNT_OF(between_keys)};
}

void hf_read_between(hf_reader *reader, const hf_json *node, hf_between *between) {
    raw_between raw = {0};
    size_t errors = reader->findings->errors;
    if (!hf_read_object(reader, node, between_keys, HF_COUNT_OF(between_keys), &raw)) return;
    if (errors == reader->findings->errors) *between = (hf_between){true, raw.cv.value, raw.source};
}
