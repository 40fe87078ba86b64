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
#include "holdfast/strength/trend.h"
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

/* The lines of the step-down from the best single pull to the working load: X(NAME, "code"). */
#define HF_LOAD_STEP_LIST(X)                                                                                 \
    X(BEST_PULL, "best_pull")                                                                                \
    X(MEAN, "mean")                                                                                          \
    X(BOUND, "bound")                                                                                        \
    X(CALIBRATION, "calibration")                                                                            \
    X(DESIGN_FACTOR, "design_factor")                                                                        \
    X(SET, "set")                                                                                            \
    X(USE_FACTOR, "use_factor")                                                                              \
    X(ROUND, "round")

typedef enum hf_load_step_kind {
#define HF_LOAD_STEP(name, code) HF_STEP_##name,
    HF_LOAD_STEP_LIST(HF_LOAD_STEP)
#undef HF_LOAD_STEP
} hf_load_step_kind;

/* Why there is no working load: X(NAME, "code"). */
#define HF_NO_LOAD_LIST(X)                                                                                   \
    X(NONE, "none") /* there is one */                                                                       \
    X(NO_BOUND, "no_bound")                                                                                  \
    X(BOUND_NOT_POSITIVE, "bound_not_positive")                                                              \
    X(NOT_ASSURED, "not_assured")                                                                            \
    X(NO_DESIGN_FACTOR, "no_design_factor")                                                                  \
    X(BEFORE_FIRST_LOOK, "before_first_look")                                                                \
    X(NOTHING_LEFT, "nothing_left") /* of three figures, after the factors */

typedef enum hf_no_load {
#define HF_NO_LOAD(name, code) HF_NO_LOAD_##name,
    HF_NO_LOAD_LIST(HF_NO_LOAD)
#undef HF_NO_LOAD
} hf_no_load;

/* Which event limits the working load; their words in JSON, in that order. */
typedef enum hf_limit { HF_LIMIT_NONE, HF_LIMIT_BREAK, HF_LIMIT_SET } hf_limit;
#define HF_LIMITS "none", "break", "set"

/* Why the bound that leads does: X(NAME, "code"). */
#define HF_GOVERNS_LIST(X)                                                                                   \
    X(NONE, "none")                       /* there is no bound */                                            \
    X(WEIBULL_RULE, "weibull_rule")       /* the law that governs by rule */                                 \
    X(STATED, "stated")                   /* a law that was stated or chosen */                              \
    X(STATED_REJECTED, "stated_rejected") /* that by rule: the pulls reject the stated law */                \
    X(STATED_SCATTER, "stated_scatter")                                                                      \
    X(OWN_SCATTER, "own_scatter") /* that by rule: so many parts tell more than the stated scatter */        \
    X(ORDER_STATISTIC, "order_statistic")    /* no law gives a bound */                                      \
    X(FREE_LOWER, "law_rejected_free_lower") /* the law is rejected, the bound without one leads */          \
    X(LAW_LOWER, "law_rejected_law_lower")   /* it is rejected, and its bound is the lower one */            \
    X(BATCH_LOWER, "batch_lower")         /* the bound from batch means is lower than what would govern */   \
    X(BETWEEN_STATED, "between_stated")   /* one batch, and the stated scatter between batches counted */    \
    X(LAW_NOT_ASSURED, "law_not_assured") /* it is rejected, and there is no bound without one */            \
    X(SCATTER_NOT_ASSURED,                                                                                   \
      "scatter_not_assured") /* the stated scatter is contradicted, and there is no other bound */

typedef enum hf_governs {
#define HF_GOVERNS(name, code) HF_GOVERNS_##name,
    HF_GOVERNS_LIST(HF_GOVERNS)
#undef HF_GOVERNS
} hf_governs;

/* One line of the step-down. */
typedef struct hf_load_step {
    hf_load_step_kind kind;
    const char *label; /* the user's reason for use factors; NULL otherwise */
    double factor;     /* multiplier (calibration) or divisor (factors); NaN where none */
    double value;      /* N after this step */
} hf_load_step;

/* Where the order of pulling is stated, for every pull used. */
typedef enum hf_pulling_order {
    HF_ORDER_NOT_STATED,
    HF_ORDER_BY_KEY, /* the key `order` */
    HF_ORDER_BY_DATE /* `date` with a time of day */
} hf_pulling_order;

/* Their words in JSON, in that order. */
#define HF_PULLING_ORDERS "not_stated", "order", "date"

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
    hf_pulling_order order; /* of the break event */
    hf_trend_test
        trend; /* along it, of the break event; not available with the reason "order_not_stated" too */
    hf_batch_bound
        batch_bound; /* where every part states its batch and there are two or more; value NaN: none */
    double
        between; /* stated scatter of ln load between batches where the pulls are not known to be of two, all finished; NaN: none */
    double mean_log_load, between_factor; /* then: x̄, and z_P + z_C where it counts */
    hf_bound *one_batch;                  /* room for the row that counts it; NULL: none */
    const hf_bound
        *without_batches; /* that would lead if the one from batch means were not lower; NULL: it is not */
    const hf_bound *
        bounds; /* one per family, in the order of the list; order statistic, Hanson–Koopmans, survivors where none failed; then,
                               where a scatter is stated, the one by it */
    size_t bound_count;
    hf_scatter_confrontation confrontation; /* of a stated scatter; not available where none is stated */
    size_t
        own_from_parts; /* from so many on the parts' own bound leads beside a stated scatter; 0: they are fewer */
    const hf_bound *governing; /* NULL when there is none */
    hf_governs governing_reason;
    const hf_bound *
        rejected_law; /* the bound of the law that would govern and that the pulls reject; NULL: it is not rejected */
    const hf_bound
        *confirming;  /* the bound without a law that is no lower than it, which leads then; NULL: none */
    bool not_assured; /* what the governing bound leans on is rejected, and there is no other bound */
    const hf_family
        *stated_rejected; /* the stated law, which the pulls reject: the rule's takes its place; else NULL */
    double with_void,
        with_reused; /* N: the governing family's bound with the void or the re-used pulls counted in; NaN: none */
    const hf_specimen *one_record; /* without which the bound would be far higher (break event); NULL: none */
    double without_one;            /* N: the bound that would govern without it; shown, never used */
    double calibration_u, calibration_z, calibration_multiplier; /* at the governing bound */
    double calibrated;                                           /* N; NaN without a bound */
} hf_event_assessment;

/* What the same pulls would give for another promise: by whatever then governs, with the rig's error, the factors and the rounding of the answer. It is to
 * be chosen before the pulls; whoever takes the cell that pleases afterwards keeps none of them. */
typedef struct hf_other_promise {
    double content, confidence;
    double bound, working_load; /* N; NaN: none */
} hf_other_promise;

enum { HF_OTHER_CONTENTS = 3, HF_OTHER_CONFIDENCES = 3, HF_OTHER_PROMISES = 9 };

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
    hf_no_load working_load_reason;
    hf_limit limited_by;
    const hf_load_step *steps;
    size_t step_count;
    bool
        law_by_hand; /* a law that governs as stated was chosen on the command line, or without a reason in the file */
    double
        modes_share; /* what the bound by ways of failing leaves of the working load, where it is lower; NaN: it is not */
    /* judged against the goal */
    bool required_stated, service_stated;
    double margin;            /* working load / service load − 1 */
    double supported_content; /* at service load × factor, NaN when below the range */
    double
        supported_load; /* N: service load × design factor × use factors; the content is that of this load divided by
                                  the calibration multiplier, so that the rig error is taken off here too */
    hf_other_promise other[HF_OTHER_PROMISES]; /* contents rising, in each the confidences rising */
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
    double
        picked_worth; /* confidence that is left where the best of these designs is picked for its bound; NaN: there is no choice, it
                         is taken into account, or they promise differently */
    hf_met met;       /* the worst over all stated requirements of all designs */
} hf_assessment;

/* The bound of a design if it were picked as the best of so many; NaN: none. *used: the confidence it is taken at. HF_MEMORY. */
hf_status hf_bound_if_picked(hf_arena *arena, const hf_assessment *assessment,
                             const hf_design_assessment *design, size_t best_of, double *bound, double *used);
/* The same at another content, at the confidence of the answer: of whatever then governs. *bound NaN: none. HF_MEMORY. */
hf_status hf_bound_at_content(hf_arena *arena, const hf_assessment *assessment,
                              const hf_design_assessment *design, double content, double *bound);

/* The words of JSON. Static. */
const char *hf_governs_code(hf_governs reason);
const char *hf_no_load_code(hf_no_load reason);

/* The pulls speak against this law. */
bool hf_law_rejected(const hf_event_assessment *event, const hf_family *family);

/* Assesses the campaign. `findings` are the file's warnings; they become cautions. HF_USAGE when options name an unknown design or
 * family; HF_OK otherwise, also when nothing could be computed (any_result is then false). */
hf_status hf_assess(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                    const hf_assess_options *options, const hf_assessment **out, hf_error *error);

#endif
