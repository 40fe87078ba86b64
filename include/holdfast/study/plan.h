/* Planning a campaign: how many parts, on which ladder, with which weights.
 *
 * From "about 900 N, maybe 12 % scatter, these weights, this rig" come a number of parts with its reason, a ladder of loads
 * that the owned weights can make, and what half or double the scatter would mean. All loads are newtons; arrays live in
 * the arena. */
#ifndef HOLDFAST_STUDY_PLAN_H
#define HOLDFAST_STUDY_PLAN_H

#include <stdbool.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/planning/batch_gain.h"
#include "holdfast/planning/how_many.h"
#include "holdfast/planning/ladder.h"
#include "holdfast/planning/looks_gain.h"
#include "holdfast/planning/next.h"
#include "holdfast/planning/pilot.h"
#include "holdfast/planning/step_price.h"
#include "holdfast/study/caution.h"
#include "holdfast/study/promise.h"

/* Seconds where nothing else is stated: a load stands, a piece is handled, a part is mounted. Own choice. */
#define HF_USUAL_DWELL 30.0
#define HF_USUAL_HANDLING 5.0
#define HF_USUAL_MOUNT 120.0

/* What is asked. Start from hf_plan_setup_of, then let flags override. Loads in newtons on the part unless said otherwise. */
typedef struct hf_plan_setup {
    const char *design;      /* id, or NULL without a file */
    bool design_stated;      /* by the one who asks; otherwise it is the first of the file */
    double mean, cv;         /* the guess; NaN when missing */
    bool mean_stated;        /* by the one who asks: finished pulls do not move it */
    hf_scatter scatter;      /* known from elsewhere; governs 1 to 3 parts as in the assessment */
    const hf_family *family; /* of the bound; NULL: the rule */
    double content, confidence;
    double required;                   /* after calibration; NaN: none */
    bool by_service;                   /* required is the service load times the stated factors */
    double factor;                     /* design factor times factors of use; NaN: not stated */
    const hf_uncertainty *uncertainty; /* of the rig, taken off the bound once */
    size_t uncertainty_count;
    double assurance;         /* 0: 0.80 */
    double step;              /* wanted fine step; NaN: default */
    size_t most;              /* 0: 30; 1 only with a stated scatter */
    hf_rig_force force;       /* records NONE: continuous readings unless step or weights are given */
    double rating;            /* INFINITY: not stated */
    const hf_weight *weights; /* owned */
    size_t weight_count;
    double dwell_s, handling_s, mount_s;
    hf_stated_looks looks; /* of the goal, or as asked */
    bool looks_asked;      /* by the one who asks */
    size_t
        batches; /* the parts are spread over so many, as asked or as the design's parts name; 0, 1: nothing is said of batches */
    bool batches_asked; /* by the one who asks */
    size_t parts;       /* so many are asked for; 0: as recommended */
    double tell_apart;  /* difference of two designs, as a share, that must be noticed; 0: none */
    bool own_ladders;   /* each design climbs one of its own; else those planned together climb one */
    bool brief;         /* without half and double scatter, earlier designs and what is to be borrowed */
    bool number_only;   /* of the table only the rows up to the recommended number */
    bool pilot;         /* nothing is known: a geometric ladder for one part */
    double pilot_start, pilot_top, pilot_ratio;
    uint64_t seed;
} hf_plan_setup;

/* What the rig's stated errors take off, as in the assessment. */
typedef struct hf_plan_calibration {
    double
        needed; /* bound before calibration that leaves `required`; INFINITY: none does; NaN without a requirement */
    double at; /* bound before calibration that the rest speaks of: `needed`, else the expected one */
    double u, multiplier; /* relative standard uncertainty there and what is left; NaN when none is stated */
} hf_plan_calibration;

/* Where the scatter comes from. FITTED: mean and scatter are those of the law fitted to all pulls (only in a handover's outlook). */
typedef enum hf_plan_cv {
    HF_PLAN_CV_GUESSED,
    HF_PLAN_CV_STATED,
    HF_PLAN_CV_ASSUMED,
    HF_PLAN_CV_FITTED
} hf_plan_cv;

enum { HF_PLAN_PILOT_PULLS = 3 }; /* more than these speak for themselves: hf_plan_next_make */

/* A guess moved to the first finished pulls of the design. */
typedef struct hf_plan_pilot {
    size_t pulls; /* 0: the guess was not moved */
    const hf_specimen *first;
    hf_observation pull;    /* its */
    hf_pilot_belief belief; /* after all of them */
    double guessed;         /* mean before; NaN: none */
} hf_plan_pilot;

typedef struct hf_plan_scenario {
    double cv;
    hf_how_many parts;
} hf_plan_scenario;

/* What looks buy: a bound at each of them, and how soon one is enough, beside a fixed number of parts. */
typedef struct hf_plan_looks {
    hf_look_confidence each;     /* of every look; with strict early ones of the last */
    const hf_how_many_row *rows; /* one for each look, at its own confidence; NULL: no looks are stated */
    size_t count;
    hf_looks_gain gain,
        fixed; /* with a requirement: with looks, and with `fixed_parts` looked at once; exact readings */
    size_t fixed_parts,
        samples; /* fixed_parts: as recommended, else as many as the last look has; samples 0: no requirement */
} hf_plan_looks;

/* So many parts over 1, 2, 3, 5, 10 batches and over as many as are asked for: what they bring where these shares of the variance lie between
 * batches. */
enum { HF_PLAN_BATCH_SHARES = 3 };
extern const double hf_plan_batch_shares[HF_PLAN_BATCH_SHARES];

typedef struct hf_plan_batch_row {
    size_t batches, least, most; /* parts in a batch */
    hf_batch_gain gain[HF_PLAN_BATCH_SHARES];
    double bound[HF_PLAN_BATCH_SHARES],
        low[HF_PLAN_BATCH_SHARES]; /* N: half, one in ten of such tests end lower */
} hf_plan_batch_row;

typedef struct hf_plan_batches {
    const hf_plan_batch_row *rows; /* NULL: no batches are asked for, or no number of parts can be planned */
    size_t count, parts, samples;
} hf_plan_batches;

/* Telling the designs of a day apart: Welch's test on ln load as the comparison makes it, at a level shared by all pairs (Holm). */
typedef struct hf_plan_apart {
    double cv, step_sd, level, power; /* the largest scatter and step of the designs; level of one pair */
    size_t pairs;                     /* 0: one design, nothing to compare */
    size_t n;       /* of each, to notice setup.tell_apart; 0: not asked, or more than a million */
    double visible; /* least ratio that the fewest planned parts of a design notice; NaN: none */
} hf_plan_apart;

/* A design with a guess that cannot be planned, and why. */
typedef struct hf_plan_left_out {
    const char *design, *why;
} hf_plan_left_out;

/* The designs that are planned together, in the order of the file: all that have a guess or a first pull, or the one that was asked for. */
typedef struct hf_plan_day {
    const struct hf_plan *const
        *plans; /* the plan itself among them; of the others only what is written and told of all */
    size_t count;
    bool one_ladder;
    const hf_plan_left_out *left_out;
    size_t left_out_count;
    size_t parts;   /* of all; 0 when a number is missing */
    double minutes; /* for them; NaN when continuous */
    hf_plan_apart apart;
} hf_plan_day;

/* More of the heaviest weights, so that nearly no part outlasts the ladder, and what that brings. */
typedef struct hf_plan_borrow {
    const hf_weight *kind; /* NULL: nothing is to be borrowed, or the rig may not carry it */
    size_t pieces;
    size_t parts;    /* recommended then; 0: none */
    double expected; /* bound with them; NaN without */
} hf_plan_borrow;

/* What the scatter of earlier designs brings, by the expected bound. */
typedef struct hf_plan_earlier {
    size_t designs; /* 0: none are stated */
    size_t parts;   /* as recommended, else three */
    size_t alone;   /* parts that bring as much without them; 0: more than `most` */
    size_t most;
} hf_plan_earlier;

typedef struct hf_plan {
    hf_plan_setup setup;
    const hf_campaign *campaign; /* NULL without a file */
    bool stepped;
    hf_plan_calibration calibration;
    hf_plan_pilot pilot;
    hf_plan_cv cv_source;
    hf_plan_scenario base, half,
        twice; /* the guessed scatter, half of it, double (left out above 1: count 0) */
    hf_plan_looks looks;
    hf_plan_batches batches;
    hf_plan_earlier earlier;
    hf_ladder ladder; /* count 0 when continuous */
    double reach;     /* the most that rig and weights can put on a part; INFINITY where nothing limits it */
    bool reach_by_rating;
    hf_plan_borrow borrow;
    hf_weight_kind *kinds; /* of `weights`, values in micronewtons */
    hf_step_price price;   /* at the recommended n and the widest fine step */
    double price_step;     /* in standard deviations; NaN when continuous */
    size_t price_parts;
    hf_plan_day day;
    const hf_ladder_design *climbers; /* that share the ladder, the plan's own first; NULL: it is alone */
    size_t climber_count;
    hf_cautions cautions;
} hf_plan;

/* Defaults; with a campaign its rig, weights, goal and the guess of `design` (NULL: its first). HF_USAGE for an unknown design. */
hf_status hf_plan_setup_of(const hf_campaign *campaign, const char *design, hf_plan_setup *out,
                           hf_error *error);

/* What the goal asks of the bound: required_bound, or the service load times the stated factors where that is more. */
void hf_plan_take_goal(const hf_goal *goal, hf_plan_setup *out);

/* HF_USAGE (or HF_BAD_DATA with a campaign) with what is missing or out of range; HF_MEMORY. */
hf_status hf_plan_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                       const hf_plan **out, hf_error *error);

/* The parts that are to be pulled of a plan: as asked, the last look, else as recommended and enough to tell the designs of its day apart. 0: no
 * number can be recommended. */
size_t hf_plan_parts(const hf_plan *plan, const hf_plan_day *day);

/* What this number of parts brings; NULL when it is not in the table. */
const hf_how_many_row *hf_plan_row(const hf_plan *plan, size_t parts);

/* The question turned round, where a bound is required and no mean is guessed: how strong a typical part must be so that so many
 * of them show it. By a ladder that any weights make, or continuous; strength and bound grow alike. */
typedef struct hf_plan_strong_row {
    size_t parts;
    double
        mean; /* least mean strength that has the wanted assurance; NaN: not even a million times what is required */
    double top; /* load that one in a thousand such parts outlasts; NaN likewise */
    double
        shown; /* bound after the rig's errors that such parts show with that assurance, if only as strong as rig and weights break nearly
                     all of; NaN: nothing limits it, or no mean */
} hf_plan_strong_row;

typedef struct hf_plan_strong {
    hf_plan plan;                   /* question, calibration and reach; nothing is planned in it */
    const hf_plan_strong_row *rows; /* for 3, 5 and 10 parts and as many as were asked for */
    size_t count;
} hf_plan_strong;

/* Whether it is that question. */
bool hf_plan_is_inverse(const hf_campaign *campaign, const hf_plan_setup *setup);

/* HF_USAGE or HF_BAD_DATA with what is out of range; HF_MEMORY. */
hf_status hf_plan_strong_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                              const hf_plan_strong **out, hf_error *error);

/* Whether rig and weights break nearly all parts of one of these strengths. */
bool hf_plan_strong_can(const hf_plan_strong *strong);

enum { HF_PLAN_MORE_PARTS = 2 };

/* What more parts would bring to a design of the campaign. */
typedef struct hf_plan_next {
    const hf_campaign *campaign;
    const hf_design *design;
    double content, confidence, required; /* required NaN: none stated */
    hf_plan_calibration calibration;      /* at `needed`, else at the bound now */
    hf_next next;
    size_t whole; /* pulls that ended without a failure */
    hf_plan_borrow
        borrow; /* where some did and the weights ended them: with that much more, HF_PLAN_MORE_PARTS more parts bring `expected` */
    hf_design_looks looks; /* where the pulls stand; bounds are taken at looks.used */
    size_t batches;        /* of two or more, all parts stating theirs; else 0 */
    double batch_bound;    /* from their means, now; NaN: none */
    uint64_t seed;
} hf_plan_next;

/* HF_USAGE for an unknown design, HF_NO_RESULT when the pulls are too few to draw laws from. */
hf_status hf_plan_next_make(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                            size_t more, const hf_plan_next **out, hf_error *error);

/* A comparison to be planned. */
typedef struct hf_plan_contrast {
    double ratio, cv; /* or effect */
    double effect;    /* in standard deviations of ln load */
    bool by_ratio;
    double power, level;
    bool one_sided;
    size_t given_n; /* 0: not given */
    uint64_t seed;
    double step_sd; /* step of the ladder in standard deviations of strength; 0: exact readings */
    size_t
        n; /* per design: the least at which Welch's test, its degrees of freedom following the scatter seen, has the power */
    double
        n_noncentral_t; /* not rounded: by noncentral t, the scatter taken as equal and the degrees of freedom as known */
    size_t n_permutation; /* 0: not below 200 */
    size_t visible_at;    /* the n that smallest_visible speaks of */
    double smallest_effect;
    double smallest_ratio; /* NaN without a cv */
    double power_at_n;     /* at visible_at, as n */
} hf_plan_contrast;

/* Fills the results from ratio/cv or effect, power, level, one_sided, given_n, seed. HF_USAGE for values out of range. */
hf_status hf_plan_contrast_make(hf_plan_contrast *plan, hf_error *error);

/* A proof without failures to be planned. */
typedef struct hf_plan_proof {
    double content, confidence, overload, shape;
    size_t failures;
    size_t given_n; /* 0: not given */
    size_t n;
    double proven_content; /* by given_n (or n) parts */
    double chance_half,
        chance_tenth;    /* to pass when the true share of weaker parts is half, a tenth of the allowed */
    const hf_plan *plan; /* of a design of a file: what is required, the ladder and the day; NULL without */
} hf_plan_proof;

enum { HF_PLAN_PROOF_MOST = 1000 }; /* parts that are planned in a file */

hf_status hf_plan_proof_make(hf_plan_proof *plan, hf_error *error);

/* The proof for setup->required of a design: the load that leaves it after the rig's errors, hung on the way to it in two rungs. After the above.
 * HF_USAGE where nothing is required, HF_NO_RESULT where rig or weights do not reach it, HF_MEMORY. */
hf_status hf_plan_proof_in(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                           hf_plan_proof *plan, hf_error *error);

#endif
