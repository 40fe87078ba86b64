/* One study of one campaign, from which every output is printed.
 *
 * A command asks for what it shows; it never asks for something else. What is asked for is worked out by the same function with the same
 * seed, whoever asks: the bound that `assess` prints is the one that `compare`, the report, the notebook and every chart print. All loads
 * are newtons; texts and arrays live in the arena. */
#ifndef HOLDFAST_STUDY_STUDY_H
#define HOLDFAST_STUDY_STUDY_H

#include "holdfast/planning/published_coverage.h"
#include "holdfast/study/assess.h"
#include "holdfast/study/compare.h"
#include "holdfast/study/plan.h"
#include "holdfast/study/probability_plot.h"

/* What is worked out beside the answer of each design, which always is. */
typedef enum hf_study_part {
    HF_STUDY_PAIRS = 1, /* the verdict on every pair of designs */
    HF_STUDY_BESIDE =
        2, /* with it what only stands beside the verdicts: relabeling, weak parts, first outlasts, all at once */
    HF_STUDY_PLOTS = 4,   /* the pulls on probability paper */
    HF_STUDY_OUTLOOK = 8, /* what more parts would bring, the written ladder, the nearest published trial */
} hf_study_part;

typedef struct hf_study_options {
    unsigned what;              /* of hf_study_part */
    const char *const *designs; /* ids; count 0: all of the file */
    size_t design_count;
    const hf_family *family;    /* NULL: the file's, else the rule */
    const hf_family *paper;     /* of the probability plot; NULL: of the law that governs */
    bool by_rule;               /* the rule, whatever the file states */
    double content, confidence; /* of the bounds; 0: the file's */
    size_t best_of;             /* the best of so many designs is picked; 0: of those whose goal says so */
    bool choose_best;           /* of all that are compared */
    double level, same_within;  /* of the comparison, as in hf_comparison_options; 0: 0.05, not stated */
    uint64_t seed;
    const char *command; /* the command line that makes it again, NULL when there is none */
} hf_study_options;

/* One rung of the ladder that was written into the file. */
typedef struct hf_study_rung {
    double force;        /* on the part */
    double recorded;     /* added or total, as the rig records */
    const char *weights; /* as written; NULL when not stated */
} hf_study_rung;

typedef struct hf_study_design {
    const hf_design_assessment *assessment;
    const hf_probability_plot *probability; /* NULL: not asked for, or none could be made */
    const hf_plan *
        outlook; /* what a number of parts brings, for readings without steps: from the guess, or without one from the law fitted to the
                               pulls (cv_source tells); its `ladder` is the written one, judged by the same. NULL when there is neither */
    const hf_published_open *open_coverage; /* the same for a bound that takes in open pulls; NULL: none */
    const hf_published_coverage *coverage;  /* of the governing bound's kind: nearest published; NULL: none */
    const hf_study_rung *rungs;             /* of the written ladder */
    size_t rung_count;
} hf_study_design;

typedef struct hf_study {
    const hf_campaign *campaign;
    const hf_findings *findings; /* borrowed */
    hf_study_options options;
    const hf_assessment *assessment;
    const hf_comparison
        *comparison;        /* pair_count 0 with one design; NULL: not asked for, or none could be made */
    hf_error no_comparison; /* why none could be made */
    const hf_study_design *designs; /* assessment->count of them */
} hf_study;

/* Works it out. HF_USAGE for a design or law that is not known, or a content or confidence out of range, HF_MEMORY; HF_OK otherwise, also
 * when nothing could be computed. Designs that were named and cannot be compared are HF_USAGE too; where all of the file were meant,
 * study->comparison is then NULL and no_comparison says why. */
hf_status hf_study_of(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                      const hf_study_options *options, const hf_study **out, hf_error *error);

#endif
