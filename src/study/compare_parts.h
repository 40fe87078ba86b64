/* Steps of a comparison, see compare.c. */
#ifndef HF_STUDY_COMPARE_PARTS_H
#define HF_STUDY_COMPARE_PARTS_H

#include "holdfast/study/compare.h"

/* The design with each end of a two-ended part as a part of its own. *two_ended tells whether there is any; *unknown counts failed
 * parts that do not say which of two different fittings broke (left out). */
hf_status hf_compare_view(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                          hf_design *out, bool *two_ended, size_t *unknown);

/* Fills one design whose `assessment` is set. Runs on a thread with an arena of its own. */
hf_status hf_compare_design(hf_arena *arena, hf_comparison_design *out);

typedef struct hf_ends_subject {
    const hf_design *design; /* as in the file */
    hf_sample sample;        /* its fittings */
    const hf_family *family; /* of the bounds */
    double content, confidence;
} hf_ends_subject;

/* Fills *out, rows in the arena. HF_MEMORY. */
hf_status hf_describe_ends(hf_arena *arena, const hf_campaign *campaign, const hf_ends_subject *subject,
                           hf_comparison_ends *out);

/* The law its bounds are of: the governing one, else the Weibull. */
const hf_family *hf_compare_family(const hf_comparison_design *design);

typedef struct hf_compare_pair_request {
    const hf_campaign *campaign;
    const hf_comparison_options *options;
    const hf_comparison_design *a, *b;
    size_t designs; /* compared in all */
} hf_compare_pair_request;

/* Fills all of one pair but p_adjusted, verdict and cautions; nothing in *out points into the scratch arena. */
hf_status hf_compare_pair(hf_arena *scratch, const hf_compare_pair_request *request, hf_comparison_pair *out);

/* Puts the request into the order of the data, whichever design stands first in the file, with the loads of both joined (copies in the
 * arena). *turned: the designs changed places, and the result is to be mirrored. */
hf_status hf_compare_in_order(hf_arena *arena, hf_compare_pair_request *request, bool *turned);
void hf_compare_mirror(hf_comparison_pair *pair);
/* Ratio, interval, p and what could have been seen. */
hf_status hf_compare_verdict_evidence(hf_arena *arena, const hf_compare_pair_request *request,
                                      hf_comparison_pair *out);
/* The request in the order of the data, the pair as the file has it. */
hf_verdict hf_compare_verdict(const hf_compare_pair_request *request, const hf_comparison_pair *pair);
/* The interval that the verdict goes by, once it stands; request and pair as for hf_compare_verdict, `turned` as told by
 * hf_compare_in_order. */
hf_status hf_compare_decide(hf_arena *arena, const hf_compare_pair_request *request, size_t compared,
                            bool turned, hf_comparison_pair *pair);

hf_status hf_compare_matches(hf_arena *arena, hf_comparison *comparison);

void hf_compare_design_cautions(hf_arena *arena, hf_comparison_design *design);
void hf_compare_pair_cautions(hf_arena *arena, const hf_compare_pair_request *request,
                              hf_comparison_pair *pair);

#endif
