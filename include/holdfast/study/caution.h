/* What a reader must be told beside the number.
 *
 * A caution is a code plus the numbers and names it speaks of. The study decides which apply, one per cause;
 * the report puts them into words (one table there). */
#ifndef HOLDFAST_STUDY_CAUTION_H
#define HOLDFAST_STUDY_CAUTION_H

#include <stddef.h>

/* Slots: up to four numbers and two texts, their meaning per code listed in src/words/caution_words.c.
 * Loads among the numbers are newtons. */
typedef struct hf_caution {
    const char *code;
    const char *text[2];
    double number[4];
    const char *message; /* ready words, for cautions that repeat a finding of the file; else NULL */
} hf_caution;

typedef struct hf_cautions {
    hf_caution *items;
    size_t count, capacity;
} hf_cautions;

#endif
