/* The looks of a goal: {first, last, every} or a list of numbers of parts. */
#include "campaign/parts.h"
#include "holdfast/strength/looks.h"

typedef struct raw_looks {
    hf_maybe first, last, every, early;
} raw_looks;

#define LOOKS(field) offsetof(raw_looks, field)
static const hf_key looks_keys[] = {
    {.name = "first",
     .kind = HF_KEY_WHOLE,
     .offset = LOOKS(first),
     .required = true,
     .low = 2,
     .high = HF_LOOKS_LAST},
    {.name = "last",
     .kind = HF_KEY_WHOLE,
     .offset = LOOKS(last),
     .required = true,
     .low = 2,
     .high = HF_LOOKS_LAST},
    {.name = "every", .kind = HF_KEY_WHOLE, .offset = LOOKS(every), .low = 1, .high = HF_LOOKS_LAST},
    {.name = "early",
     .kind = HF_KEY_NUMBER,
     .offset = LOOKS(early),
     .low = 0.5,
     .high = 1,
     .open_low = true,
     .open_high = true},
};

static const char *const expected_list =
    "rising whole numbers of parts, each from 2 to 1000, at most 64 of them: [5, 10]";

static void read_list(hf_reader *reader, const hf_json *list, size_t *parts, hf_stated_looks *looks) {
    size_t count = 0;
    for (const hf_json *node = list->first; node; node = node->next) {
        double number = node->kind == HF_JSON_NUMBER ? node->number : 0;
        size_t part = number >= 2 && number <= HF_LOOKS_LAST ? (size_t)number : 0;
        if ((double)part != number || count == HF_LOOKS_MOST || part <= (count ? parts[count - 1] : 1)) {
            (void)hf_reader_wrong(reader, node, expected_list);
            return;
        }
        parts[count++] = part;
    }
    if (!count) hf_reader_error(reader, list, "found an empty list, expected %s", expected_list);
    if (count)
        *looks = (hf_stated_looks){
            .given = true, .parts = parts, .count = count, .first = parts[0], .last = parts[count - 1]};
}

static void read_range(hf_reader *reader, const hf_json *node, size_t *parts, hf_stated_looks *looks) {
    raw_looks raw = {.every = {true, 1}};
    size_t errors = reader->findings->errors;
    hf_stated_looks out = {.given = true, .parts = parts};
    if (!hf_read_object(reader, node, looks_keys, HF_COUNT_OF(looks_keys), &raw)) return;
    if (errors != reader->findings->errors) return;
    out.first = (size_t)raw.first.value;
    out.last = (size_t)raw.last.value;
    out.every = (size_t)raw.every.value;
    out.early = raw.early.value;
    if (out.last < out.first)
        hf_reader_error(reader, hf_json_get(node, "last"), "found %zu, expected \"first\", %zu, or more",
                        out.last, out.first);
    else if (hf_looks_list(out.first, out.last, out.every, parts, &out.count) != HF_OK)
        hf_reader_error(reader, node, "found more than %d looks, expected fewer: a larger \"every\"",
                        HF_LOOKS_MOST);
    else
        *looks = out;
}

void hf_read_looks(hf_reader *reader, const hf_json *node, hf_stated_looks *looks) {
    size_t *parts = HF_ARENA_NEW_ARRAY(reader->arena, size_t, HF_LOOKS_MOST);
    if (!parts)
        reader->out_of_memory = true;
    else if (node->kind == HF_JSON_ARRAY)
        read_list(reader, node, parts, looks);
    else if (node->kind == HF_JSON_OBJECT)
        read_range(reader, node, parts, looks);
    else
        (void)hf_reader_wrong(reader, node,
                              "{ \"first\": 5, \"last\": 15, \"every\": 1 } or a list: [5, 10]");
}
