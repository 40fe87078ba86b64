/* Assessing a campaign: from pulls to a load one may work with.
 *
 * For each design: count what happened, fit the three laws, take the lower tolerance bound of each, choose
 * the governing one, take the rig's error off it once, divide by the design factor, round down, and gather
 * what the reader must be told. All loads are newtons; texts and arrays live in the arena. */
#ifndef HOLDFAST_STUDY_ASSESS_H
#define HOLDFAST_STUDY_ASSESS_H

#include <stdbool.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/strength/batch.h"
#include "holdfast/strength/batch_bound.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/fit_test.h"
#include "holdfast/strength/stated_scatter.h"
#include "holdfast/strength/trade.h"
#include "holdfast/study/answer.h"
#include "holdfast/study/caution.h"
#include "holdfast/study/modes_of_failing.h"
#include "holdfast/study/promise.h"
#include "holdfast/study/two_ended.h"

typedef struct hf_assess_options {
    const char *const *designs; /* ids, each known; count 0: all */
    size_t design_count;
    const hf_family *family; /* NULL: the file's, else the rule */
    bool by_rule;            /* the rule, whatever the file states */
    double content;          /* 0: the file's */
    double confidence;       /* 0: the file's */
    size_t best_of;          /* the best of so many designs is picked; 0: of those whose goal says so */
    uint64_t seed;           /* of simulated tests; default 1 */
} hf_assess_options;

typedef struct hf_assess_counts {
    size_t used, failed, run_out, rig, voided, reused, planned, below;
} hf_assess_counts;

/* One line of the step-down from the best single pull to the working load. */
typedef struct hf_load_step {
    const char *
        code; /* "best_pull", "mean", "bound", "calibration", "design_factor", "use_factor", "set", "round" */
    const char *label; /* the user's reason for use factors; NULL otherwise */
    double factor;     /* multiplier (calibration) or divisor (factors); NaN where none */
    double value;      /* N after this step */
} hf_load_step;

/* One event (break or set) of one design. */
typedef struct hf_event_assessment {
    hf_assess_counts counts;
    bool
        of_fittings; /* the pulls are those of single ends of two-ended parts; run_out then counts ends that stayed whole, for whatever cause */
    double step_rms; /* N */
    double mean_mid, sd_mid, min_load, max_load,
        cv; /* N; of the mids of closed and exact pulls; min: lowest lower end; max: highest failing or holding load */
    hf_fit fits[HF_FAMILY_COUNT];
    hf_fit_test tests[HF_FAMILY_COUNT];
    hf_outlier_test outlier;
    const char *outlier_id; /* specimen */
    hf_batch_test batch;
    hf_batch_bound
        batch_bound; /* where every part states its batch and there are two or more; value NaN: none */
    const hf_bound *
        bounds; /* one per family, in the order of the list; order statistic, Hanson–Koopmans, survivors where none failed; then,
                               where a scatter is stated, the one by it */
    size_t bound_count;
    hf_scatter_confrontation confrontation; /* of a stated scatter; not available where none is stated */
    const hf_bound *governing;              /* NULL when there is none */
    const char *
        governing_reason; /* "weibull_rule", "stated", "stated_rejected", "stated_scatter", "order_statistic", "none"; "batch_lower": the bound from batch means is lower than what would govern; of a rejected law:
                             "law_rejected_free_lower", "law_rejected_law_lower", "law_not_assured" */
    const hf_bound *
        rejected_law; /* the bound of the law that would govern and that the pulls reject; NULL: it is not rejected */
    const hf_bound
        *confirming; /* the bound without a law that is no lower than it, which leads then; NULL: none */
    const hf_bound
        *without_batches; /* that would lead if the one from batch means were not lower; NULL: it is not */
    bool not_assured;     /* the law is rejected and there is no bound without a law */
    const hf_family
        *stated_rejected; /* the stated law, which the pulls reject: the rule's takes its place; else NULL */
    double with_void,
        with_reused; /* N: the governing family's bound with the void or the re-used pulls counted in; NaN: none */
    double calibration_u, calibration_z, calibration_multiplier; /* at the governing bound */
    double calibrated;                                           /* N; NaN without a bound */
} hf_event_assessment;

typedef struct hf_design_assessment {
    const hf_design *design;
    const hf_design *
        pulled; /* the same with each end of a two-ended part as a part of its own; `design` itself when there are none */
    bool
        two_ended; /* then all but the set event speaks of one fitting; set is that of the whole part, the weaker end's */
    size_t ends_unknown;        /* parts left out: which of two different fittings broke is not stated */
    hf_comparison_ends ends;    /* when two_ended */
    double content, confidence; /* promised */
    hf_promise promise;         /* and at which confidence the bounds are taken for it */
    hf_event_assessment break_event;
    hf_sample
        sample; /* that the break event's bound rests on, in its one order (holdfast/strength/sample.h) */
    const hf_specimen *const *specimens; /* of its observations, as `pulled` holds them */
    hf_design_modes modes;               /* of the break event */
    bool set_watched;
    hf_event_assessment set_event;
    /* working load */
    double working_load, working_load_unrounded; /* N; NaN with reason */
    const char *
        working_load_reason; /* NULL, "no_design_factor", "no_set_factor", "no_bound", "bound_not_positive", "not_assured", "before_first_look", "nothing_left" */
    const char *limited_by;  /* "break" or "set" */
    const hf_load_step *steps;
    size_t step_count;
    bool
        law_by_hand; /* a law that governs as stated was chosen on the command line, or without a reason in the file */
    double
        modes_share; /* what the bound by ways of failing leaves of the working load, where it is far lower; NaN: it is not */
    /* judged against the goal */
    bool required_stated, service_stated;
    double margin;            /* working load / service load − 1 */
    double supported_content; /* at service load × factor, NaN when below the range */
    double
        supported_load; /* N: service load × design factor × use factors; the content is that of this load divided by
                                  the calibration multiplier, so that the rig error is taken off here too */
    hf_trade_result trade[HF_TRADE_COUNT];
    hf_cautions cautions;
    hf_answer answer;
} hf_design_assessment;

typedef struct hf_assessment {
    const hf_campaign *campaign;
    hf_assess_options options;
    const hf_design_assessment *designs;
    size_t count;
    hf_cautions cautions; /* of the whole file */
    bool any_result;      /* at least one design has a governing bound */
    hf_met met;           /* the worst over all stated requirements of all designs */
} hf_assessment;

/* The bound of a design if it were picked as the best of so many; NaN: none. *used: the confidence it is taken at. HF_MEMORY. */
hf_status hf_bound_if_picked(hf_arena *arena, const hf_assessment *assessment,
                             const hf_design_assessment *design, size_t best_of, double *bound, double *used);

/* The pulls speak against this law. */
bool hf_law_rejected(const hf_event_assessment *event, const hf_family *family);

/* Assesses the campaign. `findings` are the file's warnings; they become cautions. HF_USAGE when options name an unknown design or
 * family; HF_OK otherwise, also when nothing could be computed (any_result is then false). */
hf_status hf_assess(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                    const hf_assess_options *options, const hf_assessment **out, hf_error *error);

#endif
