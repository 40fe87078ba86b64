/* Comparing the designs of a campaign: from pulls to verdicts.
 *
 * For each design: what happened, its lower bound, its ways of failing, and what parts with a fitting at each end say about one
 * fitting. For each pair: is one stronger, are they the same, or can these pulls not tell, with the evidence
 * beside it. For all of them: which cannot be told apart, and the league by lower bound. All loads are newtons; texts and arrays live in
 * the arena. */
#ifndef HOLDFAST_STUDY_COMPARE_H
#define HOLDFAST_STUDY_COMPARE_H

#include <stdbool.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/comparing/contrast.h"
#include "holdfast/comparing/open_compare.h"
#include "holdfast/comparing/outlasts.h"
#include "holdfast/comparing/quantile_difference.h"
#include "holdfast/comparing/ranking.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/comparing/sign_test.h"
#include "holdfast/comparing/spread.h"
#include "holdfast/study/assess.h"
#include "holdfast/study/caution.h"
#include "holdfast/study/two_ended.h"

typedef struct hf_comparison_options {
    const char *const *designs; /* ids, two or more; count 0: all designs of the file */
    size_t design_count;
    double level;       /* of the tests; interval 1 − level; 0: 0.05 */
    double same_within; /* share X: "the same" is a ratio between 1/(1 + X) and 1 + X; 0: not stated */
    uint64_t seed;      /* of everything drawn at random */
    bool
        verdicts_only; /* leave out what only stands beside the verdicts: relabeling, weak parts, first outlasts, all at once */
} hf_comparison_options;

typedef struct hf_comparison_design {
    const hf_design_assessment *assessment; /* whatever follows up to `ends` is taken from it */
    const hf_design *design, *pulled;
    double content, confidence;
    hf_event_assessment event;
    hf_sample sample;
    hf_design_modes modes;
    bool two_ended;
    hf_comparison_ends ends;
    double
        geometric_mean; /* N: of the finished pulls' middles, or e^m of the lognormal fit where pulls are open; NaN: none */
    double scatter; /* √(s² + h²/8) of ln load or s of that fit; NaN: none */
    double bound;   /* N: the governing one; NaN: none */
    double own_bound,
        if_picked; /* N: at the confidence of a design used for what it is, and of the one picked as the best of all
                                    compared, or of so many as the assessment says; NaN: none */
    double own_confidence, picked_confidence;
    size_t rank; /* in the league, from 1; 0 without a bound */
    hf_cautions cautions;
} hf_comparison_design;

/* How the verdict's p was found. */
typedef enum hf_comparison_method {
    HF_COMPARISON_NONE,       /* none */
    HF_COMPARISON_WELCH,      /* welch: finished pulls, own scatter each */
    HF_COMPARISON_LIKELIHOOD, /* likelihood: unfinished pulls taken as what they are, one scatter for both */
    HF_COMPARISON_OPEN_WELCH, /* welch_open: where the likelihood has no maximum with one scatter */
    HF_COMPARISON_STATED,     /* stated_scatter */
    HF_COMPARISON_BATCH_MEANS /* batch_means: Welch's test on the means of the batches, where every part of both states its own and both have two */
} hf_comparison_method;

/* The code as it stands in JSON. Static. */
const char *hf_comparison_method_code(hf_comparison_method method);

typedef struct hf_comparison_pair {
    size_t a, b; /* indices into designs, a < b */
    hf_comparison_method method;
    const char *reason, *reason_text; /* why there is no p: code and one sentence */
    hf_verdict verdict;
    double ratio, low,
        high; /* geometric means (medians where pulls are open), A over B; 0 and INFINITY where open, the ratio NaN
                 where the likelihood only levels out (open_compare.h) */
    double p, p_adjusted; /* NaN without */
    /* The interval that the verdict goes by: of two that are the same 1 − 2 · level, of any other the confidence at which Holm's rule over all
     * pairs still asks, so that it leaves out 1 exactly where one design is the stronger. NaN without. */
    double decides_confidence, decides_low, decides_high;
    double p_same; /* NaN when not stated, or where it is judged by the interval (open pulls) */
    double t, degrees_of_freedom;
    size_t batches_a, batches_b; /* whose means decide; 0: they do not */
    double batches_to_settle;    /* of as many parts, as parts_to_settle, which is then NaN */
    double
        p_by_parts; /* of the test that takes each part for itself, where batch means decide; NaN: they do not, or it gives none */
    double smallest_visible_ratio, parts_to_settle; /* see contrast.h */
    double power;                                   /* of these two */
    const char *visible_reason;
    hf_relabel relabel;
    bool planned_rungs; /* the common rungs are those of the plan's ladders */
    bool games_howell_available;
    hf_games_howell games_howell;
    hf_open_compare separate; /* open pulls: the same with a scatter for each, beside the verdict */
    bool quantile_available;
    const char *quantile_reason;
    hf_quantile_difference quantile;
    bool outlasts_available; /* false with open pulls: then only `least` and `most` are known */
    hf_outlasts outlasts;
    double
        fitted_chance; /* with open pulls: the same chance by the fitted lognormal laws, each its own scatter where the pulls show it; else NaN */
    double least,
        most; /* share of pairs of pulls that A surely wins, or may win; NaN without pulls, or beyond 1e8 pairs */
    double p_spread; /* that both scatter alike (Levene about medians, ln load); NaN without */
    hf_cautions cautions;
} hf_comparison_pair;

/* Whether A is the stronger by what was found: by the ratio, by the interval where no one ratio stands out. */
bool hf_comparison_first_leads(const hf_comparison_pair *pair);

typedef struct hf_comparison_match {
    size_t a, b;       /* indices into designs, a < b */
    hf_sign_test test; /* first is a */
    size_t least;      /* decided pulls that settle it when one side wins them all */
    size_t
        parts_nine_in_ten; /* decided pulls that show, with power 0.80, a design that wins nine in ten; 0: none found */
} hf_comparison_match;

typedef struct hf_comparison {
    const hf_campaign *campaign;
    hf_comparison_options options; /* as used */
    const hf_comparison_design *designs;
    size_t count;
    const hf_comparison_pair *pairs; /* (0,1), (0,2) … (1,2) … */
    size_t pair_count, compared;     /* compared: pairs with a p */
    const size_t *league;            /* indices by falling bound */
    const uint64_t *groups;          /* bit i: design i; designs that cannot be told apart */
    size_t group_count;
    size_t picked_from; /* `if_picked` is the best of so many */
    double
        picked_worth; /* what the own bound of the one picked is worth, where all promise alike; NaN: they do not */
    const hf_comparison_match *matches;
    size_t match_count;
    hf_cautions cautions;
    bool any_result; /* a pair with a p, or a decided pull against each other */
} hf_comparison;

/* Whether these designs can be compared: HF_USAGE when the options name an unknown design (the nearest is named), one design alone, one
 * twice, or numbers out of range. */
hf_status hf_comparison_check(const hf_campaign *campaign, const hf_comparison_options *options,
                              hf_error *error);

/* Compares designs that were assessed. The errors of hf_comparison_check; HF_OK otherwise, also when nothing could be compared (any_result
 * is then false); HF_MEMORY. */
hf_status hf_compare(hf_arena *arena, const hf_assessment *assessment, const hf_comparison_options *options,
                     const hf_comparison **out, hf_error *error);

#endif
