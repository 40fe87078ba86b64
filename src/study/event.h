/* One event (break or set) of one design: counts, fits, tests, bounds, governing bound, calibration. */
#ifndef HF_STUDY_EVENT_H
#define HF_STUDY_EVENT_H

#include "holdfast/study/assess.h"

typedef struct hf_event_request {
    const hf_campaign *campaign;
    const hf_design *design;
    bool set_event;             /* set instead of break */
    const hf_family *family;    /* stated, or NULL */
    double content, confidence; /* of the bounds */
    double promised;            /* confidence that the rig's error is taken off with */
    uint64_t seed;
} hf_event_request;

/* Which of the bounds leads: that of the law by rule, unless another law was stated and is not rejected; before it a stated scatter that the pulls do not contradict; of a
 * rejected law's and the one without a law the lower; where no law gives a bound, that by order. Fills `governing` and what follows from it. */
void hf_event_choose(const hf_family *stated, hf_event_assessment *event);

/* Which pulls beside the ordinary ones are counted in. */
typedef enum hf_extra_pulls { HF_EXTRA_NONE, HF_EXTRA_VOID, HF_EXTRA_REUSED } hf_extra_pulls;

/* A sample in its one order (holdfast/strength/sample.h), and the specimen of each observation. In the arena. */
typedef struct hf_pulled {
    hf_sample sample;
    const hf_specimen *const *specimens;
} hf_pulled;

/* Fills *out from the pulls that hf_gather_pulls found. */
hf_status hf_event_assess(hf_arena *arena, const hf_event_request *request, const hf_pulled *pulled,
                          hf_event_assessment *out);

/* The bound of the same pulls at another content or confidence, by whatever then governs, and what the rig's error leaves of it (NULL: not wanted);
 * NaN: none. HF_MEMORY. */
hf_status hf_event_bound(hf_arena *arena, const hf_event_request *request, hf_sample sample,
                         const hf_event_assessment *event, double *bound, double *calibrated);

hf_status hf_gather_pulls(hf_arena *arena, const hf_event_request *request, hf_extra_pulls with,
                          hf_pulled *out);
/* By what all of them state their order of pulling; and the place of one in it, NaN where it states none. */
hf_pulling_order hf_pulling_order_of(const hf_specimen *const *specimens, size_t count);
double hf_pulling_place(const hf_specimen *specimen, hf_pulling_order by);

/* Fills `order` and `trend`. `failed_only`: ends of one part, of which those that stayed whole follow from the one that broke. */
hf_status hf_trend_of_pulls(hf_arena *arena, const hf_pulled *pulled, bool failed_only,
                            hf_event_assessment *out);

/* The bound that would govern of another sample, by whatever rule then governs; NaN: none is assured. Shown, never used. HF_MEMORY. */
hf_status hf_event_bound_of(hf_arena *arena, const hf_event_request *request, hf_sample sample, double *out);

/* Fills `one_record` and `without_one`; the governing bound is chosen. */
hf_status hf_name_one_record(hf_arena *arena, const hf_event_request *request, const hf_pulled *pulled,
                             hf_event_assessment *out);

/* The pulls of a design, taken as they stand (break event). */
hf_status hf_pulled_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_pulled *out);
/* One pull as the fits take it, without its batch. */
hf_observation hf_observation_of_pull(const hf_pull *pull);
/* As strcmp; NULL last. */
int hf_compare_names(const char *a, const char *b);

/* The pulls a bound rests on: the same with each end of a two-ended part for itself, wherever in the campaign it stands. */
hf_status hf_design_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_pulled *out);

/* Fills `other`; both events are assessed. moved: the pulls of the set event; NULL: not watched. HF_MEMORY. */
hf_status hf_fill_other_promises(hf_arena *arena, const hf_event_request *request, size_t planned,
                                 const hf_pulled *moved, hf_design_assessment *out);

/* Fills `modes`; the break event of *out is assessed. HF_MEMORY. */
hf_status hf_modes_of_failing(hf_arena *arena, uint64_t seed, hf_design_assessment *out);

/* The answer; `cautions` are complete. */
void hf_answer_of(const hf_campaign *campaign, const hf_design_assessment *design, hf_answer *out);

/* Appends the cautions of one design. */
void hf_design_cautions(hf_arena *arena, const hf_campaign *campaign, hf_sample sample,
                        hf_design_assessment *design);

#endif
