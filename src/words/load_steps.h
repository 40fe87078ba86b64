/* How each line of the step-down from the best pull to the working load is called and its number shown: one row each. */
#ifndef HF_WORDS_LOAD_STEPS_H
#define HF_WORDS_LOAD_STEPS_H

#include "words/show.h"

typedef struct hf_step_row {
    const char *words;
    const char *sign; /* before its factor: "×", "÷", or "" without one */
    hf_show_as as;    /* the load it ends at */
} hf_step_row;

const hf_step_row *hf_step_row_of(const hf_load_step *step);

/* Steps are shown as far as something is left: how many there are before the first load that is not above 0. */
size_t hf_steps_above_nothing(const hf_design_assessment *design);

#endif
