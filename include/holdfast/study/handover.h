/* Everything that is handed over with a campaign: to a customer, an inspector, oneself in two years.
 *
 * One struct gathers what the other studies found about one file: the assessment of every design, the comparison of all of them, for
 * each design the probability plot, what more parts would bring, its written ladder, and what its kind of bound was worth when it was
 * tried by simulation. Only the answer is a must; whatever else cannot be had is left out. All loads are newtons; texts and arrays live
 * in the arena. */
#ifndef HOLDFAST_STUDY_HANDOVER_H
#define HOLDFAST_STUDY_HANDOVER_H

#include "holdfast/planning/published_coverage.h"
#include "holdfast/study/assess.h"
#include "holdfast/study/compare.h"
#include "holdfast/study/plan.h"
#include "holdfast/study/probability_plot.h"

typedef struct hf_handover_options {
    double content, confidence; /* of the bounds; 0: the file's */
    double level, same_within;  /* of the comparison, as in hf_comparison_options; 0: 0.05, not stated */
    uint64_t seed;
    const char *command; /* the command line that makes the report again, NULL when there is none */
} hf_handover_options;

/* One rung of the ladder that was written into the file. */
typedef struct hf_handover_rung {
    double force;        /* on the part */
    double recorded;     /* added or total, as the rig records */
    const char *weights; /* as written; NULL when not stated */
} hf_handover_rung;

typedef struct hf_handover_design {
    const hf_design_assessment *assessment;
    const hf_probability_plot *probability; /* NULL: none could be made */
    const hf_plan *
        outlook; /* what a number of parts brings, for readings without steps: from the guess, or without one from the law fitted to the
                               pulls (cv_source tells); its `ladder` is the written one, judged by the same. NULL when there is neither */
    const hf_published_open *open_coverage; /* the same for a bound that takes in open pulls; NULL: none */
    const hf_published_coverage *coverage;  /* of the governing bound's kind: nearest published; NULL: none */
    const hf_handover_rung *rungs;          /* of the written ladder */
    size_t rung_count;
} hf_handover_design;

typedef struct hf_handover {
    const hf_campaign *campaign;
    hf_handover_options options;
    const hf_assessment *assessment;
    const hf_comparison
        *comparison;               /* verdicts only; pair_count 0 with one design; NULL: none could be made */
    const char *comparison_reason; /* why there is none, one sentence; NULL when there is one */
    const hf_handover_design *designs; /* assessment->count of them */
} hf_handover;

/* The same assessment, where a design's cautions also say when its bound by ways of failing (from the comparison, which may be NULL) is
 * far below the other. NULL: out of memory. */
const hf_assessment *hf_assessment_with_modes(hf_arena *arena, const hf_assessment *assessment,
                                              const hf_comparison *comparison);

/* Gathers it. HF_USAGE for a content or confidence out of range, HF_MEMORY; HF_OK otherwise, also when nothing could be computed. */
hf_status hf_handover_make(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                           const hf_handover_options *options, const hf_handover **out, hf_error *error);

#endif
