/* One event (break or set) of one design: counts, fits, tests, bounds, governing bound, calibration. */
#ifndef HF_STUDY_EVENT_H
#define HF_STUDY_EVENT_H

#include "holdfast/study/assess.h"

typedef struct hf_event_request {
    const hf_campaign *campaign;
    const hf_design *design;
    bool set_event;     /* set instead of break */
    const char *family; /* stated family or NULL */
    double content, confidence;
    uint64_t seed;
} hf_event_request;

/* Fills *out. *sample_out is the sample the bound used (in the arena). */
hf_status hf_event_assess(hf_arena *arena, const hf_event_request *request, hf_event_assessment *out,
                          hf_sample *sample_out);

/* The pulls of a design, taken as they stand (break event). */
hf_status hf_pulled_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_sample *out);
/* The pulls a bound rests on: the same with each end of a two-ended part for itself, wherever in the campaign it stands. */
hf_status hf_design_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_sample *out);

/* Fills `modes`; the break event of *out is assessed. HF_MEMORY. */
hf_status hf_modes_of_failing(hf_arena *arena, uint64_t seed, hf_design_assessment *out);

/* Appends the cautions of one design. */
void hf_design_cautions(hf_arena *arena, const hf_campaign *campaign, hf_sample sample,
                        hf_design_assessment *design);

#endif
