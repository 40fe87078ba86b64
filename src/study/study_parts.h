/* Parts of a study, see study.c. */
#ifndef HF_STUDY_STUDY_PARTS_H
#define HF_STUDY_STUDY_PARTS_H

#include "holdfast/study/study.h"

/* Fills the rungs of the written ladder; `assessment` of the design is set. HF_MEMORY. */
hf_status hf_study_rungs(hf_arena *arena, const hf_campaign *campaign, hf_study_design *out);
/* Fills `outlook` where there is a guess or a fit. HF_MEMORY. */
hf_status hf_study_outlook(hf_arena *arena, const hf_study *study, hf_study_design *out);

#endif
