#include <assert.h>
#include <math.h>
#include <string.h>
#include "study/raise.h"

#define SLOTS(...)                                                                                           \
    { __VA_ARGS__ }
#define NO_SLOTS                                                                                             \
    {                                                                                                        \
        { NULL, HF_SLOT_NAME, false }                                                                        \
    }
#define BY_FUNCTION NULL
#define MAYBE(type, name)                                                                                    \
    { #name, HF_SLOT_##type, true }
#define MUST(type, name)                                                                                     \
    { #name, HF_SLOT_##type, false }
#define LOAD_BOUND(name) MUST(LOAD_BOUND, name)
#define LOAD_RATING(name) MUST(LOAD_RATING, name)
#define LOAD_SEEN(name) MUST(LOAD_SEEN, name)
#define LOAD_STATED(name) MUST(LOAD_STATED, name)
#define LOAD_ROUGH(name) MUST(LOAD_ROUGH, name)
#define SHARE(name) MUST(SHARE, name)
#define SHARE_ROUGH(name) MUST(SHARE_ROUGH, name)
#define NUMBER(name) MUST(NUMBER, name)
#define RATIO(name) MUST(RATIO, name)
#define SIGNIFICANCE(name) MUST(SIGNIFICANCE, name)
#define COUNT(name) MUST(COUNT, name)
#define NAME(name) MUST(NAME, name)
#define WORDS(name) MUST(WORDS, name)

static const hf_caution_row rows[] = {
#define HF_CAUTION(name, code, rank, title, slots, sentence)                                                 \
    [HF_CAUTION_##name] = {code, title, HF_CAUTION_##rank, sentence, slots},
#include "holdfast/study/caution_list.h"
};

const hf_caution_row *hf_caution_row_of(hf_caution_code code) {
    assert((size_t)code < HF_CAUTION_COUNT);
    return &rows[code];
}

const char *hf_caution_rank_name(hf_caution_rank rank) {
    static const char *const names[] = {"notes", "weakens", "hangs", "breaks"};
    return names[rank];
}

bool hf_slot_is_text(hf_slot_type type) {
    return type == HF_SLOT_NAME || type == HF_SLOT_WORDS;
}

bool hf_caution_value(const hf_caution *caution, size_t slot, double *number, const char **text) {
    const hf_caution_slot *slots = hf_caution_row_of(caution->code)->slots;
    bool is_text = hf_slot_is_text(slots[slot].type);
    size_t place = 0;
    for (size_t i = 0; i < slot; i++) place += hf_slot_is_text(slots[i].type) == is_text;
    if (is_text && place < HF_CAUTION_TEXTS) {
        *text = caution->text[place];
        return *text != NULL;
    }
    *number = place < HF_CAUTION_NUMBERS ? caution->number[place] : NAN;
    return isfinite(*number);
}

bool hf_caution_is_filled(const hf_caution *caution) {
    const hf_caution_slot *slots = hf_caution_row_of(caution->code)->slots;
    double number;
    const char *text;
    for (size_t i = 0; i < HF_CAUTION_SLOTS && slots[i].name; i++)
        if (!slots[i].optional && !hf_caution_value(caution, i, &number, &text)) return false;
    return true;
}

void hf_caution_raise(hf_arena *arena, hf_cautions *list, hf_caution caution) {
    assert(hf_caution_is_filled(&caution));
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 8;
        hf_caution *items = HF_ARENA_NEW_ARRAY(arena, hf_caution, capacity);
        if (!items) return;
        if (list->count) memcpy(items, list->items, list->count * sizeof *items);
        list->items = items;
        list->capacity = capacity;
    }
    list->items[list->count++] = caution;
}

static const hf_caution_code of_warning[] = {
#define CODE_OF(name, code) [HF_WARNING_##name] = HF_CAUTION_##name,
    HF_WARNING_LIST(CODE_OF)};

bool hf_caution_is_finding(hf_caution_code code) {
    for (size_t i = 0; i < HF_WARNING_COUNT; i++)
        if (of_warning[i] == code) return true;
    return false;
}

/* The third number of first_rung counts the parts of which the last load held is not stated. */
static bool told_with_first_rung(const hf_cautions *list) {
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].code == HF_CAUTION_FIRST_RUNG && list->items[i].number[2] > 0) return true;
    return false;
}

void hf_caution_raise_finding(hf_arena *arena, hf_cautions *list, const hf_finding *finding) {
    hf_caution caution = {.code = of_warning[finding->warning], .text = {finding->message}};
    if (caution.code == HF_CAUTION_FIRST_RUNG_HELD && told_with_first_rung(list)) return;
    memcpy(caution.number, finding->number, sizeof finding->number);
    hf_caution_raise(arena, list, caution);
}

const hf_caution *hf_cautions_find(const hf_cautions *list, hf_caution_code code) {
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].code == code) return &list->items[i];
    return NULL;
}

bool hf_cautions_have(const hf_cautions *list, hf_caution_code code) {
    return hf_cautions_find(list, code) != NULL;
}

int hf_cautions_worst(const hf_cautions *list) {
    int worst = -1;
    for (size_t i = 0; i < list->count; i++) {
        if (worst < 0) worst = (int)i;
        const hf_caution_code code = list->items[i].code, best = list->items[worst].code;
        const hf_caution_rank rank = rows[code].rank, highest = rows[best].rank;
        if (rank > highest || (rank == highest && code < best)) worst = (int)i;
    }
    return worst;
}
