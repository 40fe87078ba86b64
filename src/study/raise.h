/* Cautions that assessing and comparing raise alike. */
#ifndef HF_STUDY_RAISE_H
#define HF_STUDY_RAISE_H

#include "holdfast/study/assess.h"

/* Repeats a warning of the file as the caution of the same name; what a caution in the list tells already is not told again. */
void hf_caution_raise_finding(hf_arena *arena, hf_cautions *list, const hf_finding *finding);

/* Whether cautions of this code repeat a warning of the file. */
bool hf_caution_is_finding(hf_caution_code code);

/* The pulls of one design and what was found of them. */
typedef struct hf_caution_subject {
    hf_arena *arena;
    hf_cautions *list;
    const hf_design *design, *pulled; /* as in the file, and with each end of a two-ended part for itself */
    const hf_event_assessment *event;
    hf_sample sample;
} hf_caution_subject;

/* Parts that did not fail, and those of which the rig let go first. */
void hf_caution_open_pulls(const hf_caution_subject *subject);
/* Parts that failed at the first load stated. */
void hf_caution_first_rung(const hf_caution_subject *subject);
/* How many batches the parts are of, and whether they differ. */
void hf_caution_batches(const hf_caution_subject *subject);
void hf_caution_outlier(const hf_caution_subject *subject);
/* Ways of failing, more than can be told apart. */
void hf_caution_many_modes(hf_arena *arena, hf_cautions *list, const hf_design_modes *modes);

/* Looks at these pulls that were not stated, or whose promise is not shown. */
void hf_caution_looks(hf_arena *arena, hf_cautions *list, const hf_design_assessment *design);
/* What the journal says was stated when pulls were there. */
void hf_caution_late(hf_arena *arena, hf_cautions *list, const hf_design *design);
/* Failures while the load hung. */
void hf_caution_dwell(const hf_caution_subject *subject);
/* What strength does in the order of pulling, or that it is not stated. */
void hf_caution_trend(const hf_caution_subject *subject);

#endif
