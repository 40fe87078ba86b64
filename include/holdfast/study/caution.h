/* What a reader must be told beside the number.
 *
 * A caution is a code and the values it speaks of. Every code is one row of caution_list.h: its rank, its title, its sentence and the
 * names and types of its values, so that text, pages and JSON can only say the same. The study decides which apply, one per cause, and
 * raises them with hf_caution_raise. Loads are newtons, shares fractions of 1. */
#ifndef HOLDFAST_STUDY_CAUTION_H
#define HOLDFAST_STUDY_CAUTION_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"

/* How much a caution takes from the number beside it, least first. */
typedef enum hf_caution_rank {
    HF_CAUTION_NOTES,   /* nothing: it is told below the number only */
    HF_CAUTION_WEAKENS, /* the number stands with this clause beside it */
    HF_CAUTION_HANGS,   /* the number hangs on something that these pulls cannot check */
    HF_CAUTION_BREAKS /* the number may be wrong in the unsafe direction, or something asked for is not met */
} hf_caution_rank;

/* "breaks", "hangs", "weakens", "notes". Static. */
const char *hf_caution_rank_name(hf_caution_rank rank);

/* What a value is, and with it how it is shown. */
typedef enum hf_slot_type {
    HF_SLOT_LOAD_BOUND,   /* a promised load: rounded down to four figures; 0 and less is no load at all */
    HF_SLOT_LOAD_RATING,  /* a load to work with: rounded down to three figures */
    HF_SLOT_LOAD_SEEN,    /* a load that a pull showed: as recorded */
    HF_SLOT_LOAD_STATED,  /* a load that somebody stated: as stated */
    HF_SLOT_LOAD_ROUGH,   /* a load planned or expected: to the nearest at three figures */
    HF_SLOT_SHARE,        /* in per cent */
    HF_SLOT_SHARE_ROUGH,  /* in per cent, two figures */
    HF_SLOT_NUMBER,       /* three figures */
    HF_SLOT_RATIO,        /* two figures, no idle zeros */
    HF_SLOT_SIGNIFICANCE, /* of a simulated test: two figures; 0 is below what the simulation resolves */
    HF_SLOT_COUNT,
    HF_SLOT_NAME, /* of a part, a design, a law, or a few words */
    HF_SLOT_WORDS /* a finding of the file, ready worded, with or without its full stop */
} hf_slot_type;

/* Both are texts; every other type is a number. */
bool hf_slot_is_text(hf_slot_type type);

typedef struct hf_caution_slot {
    const char *name; /* its name in the sentence and the key of its value in JSON; NULL: no slot */
    hf_slot_type type;
    bool optional; /* may have no value: NaN or NULL */
} hf_caution_slot;

enum {
    HF_CAUTION_NUMBERS = 6,
    HF_CAUTION_TEXTS = 3,
    HF_CAUTION_SLOTS = HF_CAUTION_NUMBERS + HF_CAUTION_TEXTS
};

/* The codes, in the order of the rows. */
typedef enum hf_caution_code {
#define HF_CAUTION(name, code, rank, title, slots, sentence) HF_CAUTION_##name,
#include "holdfast/study/caution_list.h"
    HF_CAUTION_COUNT
} hf_caution_code;

typedef struct hf_caution_row {
    const char *code, *title;
    hf_caution_rank rank;
    const char *sentence; /* see caution_list.h; NULL: src/words/caution_words.c has a function for it */
    hf_caution_slot slots[HF_CAUTION_SLOTS];
} hf_caution_row;

/* The row of a code. Static. */
const hf_caution_row *hf_caution_row_of(hf_caution_code code);

/* The numbers and the texts in the order of the row's slots. */
typedef struct hf_caution {
    hf_caution_code code;
    double number[HF_CAUTION_NUMBERS];
    const char *text[HF_CAUTION_TEXTS];
} hf_caution;

typedef struct hf_cautions {
    hf_caution *items;
    size_t count, capacity;
} hf_cautions;

/* Appends the caution; texts are borrowed. Slots that are not optional must have their value: finite numbers, texts that are not
 * NULL. */
void hf_caution_raise(hf_arena *arena, hf_cautions *list, hf_caution caution);

/* Whether every slot of its row that must have a value has one. */
bool hf_caution_is_filled(const hf_caution *caution);

/* The value of slot `slot` of the caution's row: *number or *text, the other is left alone. False when it has none. */
bool hf_caution_value(const hf_caution *caution, size_t slot, double *number, const char **text);

/* The first caution of this code in the list, NULL when there is none; and whether there is one. */
const hf_caution *hf_cautions_find(const hf_cautions *list, hf_caution_code code);
bool hf_cautions_have(const hf_cautions *list, hf_caution_code code);

/* Index in `list` of the caution that weighs most: of highest rank, and of those the first in the order of the rows. −1: the list is
 * empty. */
int hf_cautions_worst(const hf_cautions *list);

#endif
