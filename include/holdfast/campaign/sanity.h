/* Whether a pull can be what was typed.
 *
 * A slip of the pen at the rig becomes a confident working load unless somebody asks. So a pull is held against what is known: the weights
 * there are, what the rig may carry, the ladder it climbed, and how strong parts of this design are. None of this makes a pull wrong; each
 * is a doubt, with what was said, what would be nearest, and the option that says otherwise. */
#ifndef HOLDFAST_CAMPAIGN_SANITY_H
#define HOLDFAST_CAMPAIGN_SANITY_H

#include "holdfast/campaign/campaign.h"

/* X(NAME, "code") */
#define HF_DOUBT_LIST(X)                                                                                     \
    X(ABOVE_WEIGHTS, "above_weights") /* more than all listed weights together */                            \
    X(NOT_MAKEABLE, "not_makeable")   /* no set of the listed weights makes it */                            \
    X(ABOVE_RATING, "above_rating")   /* above what the rig may carry */                                     \
    X(RUNGS_BETWEEN, "rungs_between") /* rungs of the plan lie between held and failed */                    \
    X(UNLIKE_DESIGN, "unlike_design") /* more than three times, or less than a third, of what is known */

typedef enum hf_doubt_code {
#define HF_DOUBT_ENUM(name, code) HF_DOUBT_##name,
    HF_DOUBT_LIST(HF_DOUBT_ENUM)
#undef HF_DOUBT_ENUM
} hf_doubt_code;

typedef struct hf_doubt {
    const char *code;
    const char *part;    /* id */
    const char *option;  /* of `record` that says it otherwise: "held" */
    const char *said;    /* the load as it stands in the file, with its unit */
    const char *nearest; /* the nearest load that would raise no such doubt; NULL: none is known */
    const char *words;   /* one sentence without the part's name */
} hf_doubt;

enum { HF_DOUBTS_MOST = 8 };

/* A ratio to what is known of the design beyond which a pull is doubted, and the pulls that make it known without a guess. */
#define HF_UNLIKE_RATIO 3.0
enum { HF_UNLIKE_PULLS = 3 };

/* What is known of a design's strength (N on the part): the median of its counted pulls if there are three or more, else the guess; 0 when
 * nothing is known. */
double hf_known_strength(hf_arena *arena, const hf_design *design);

/* Strength that a counted pull stands for, N: the middle of its interval, what it held when it did not fail. 0 for other pulls. */
double hf_pull_middle(const hf_specimen *specimen);

/* Rungs of the design's written ladder that lie between what the part held (0 when not stated) and what it failed at; *below and *above are
 * the highest rung below the failure and the lowest above what held (N recorded). 0 without a ladder or without a failure. */
size_t hf_rungs_between(const hf_campaign *campaign, const hf_design *design, const hf_specimen *specimen,
                        double *below, double *above);

/* Whether a pull is unlike what is known of its design (N; 0: nothing): 1 far stronger, -1 far weaker, 0 neither. A part that stayed whole
 * may have been meant to hold little. */
int hf_pull_unlike(const hf_specimen *specimen, double known);

/* What is known before the pulls of a campaign are doubted one by one: found once, however many there are. */
typedef struct hf_sanity hf_sanity;

/* In the arena; hf_sanity_end must follow. NULL: out of memory. */
hf_sanity *hf_sanity_start(hf_arena *arena, const hf_campaign *campaign);
void hf_sanity_end(hf_sanity *sanity);

/* The doubts about one pull of the campaign into list[HF_DOUBTS_MOST]; returns how many. Texts live in the arena. Void pulls and those where the
 * rig let go are held against weights and rating only; of its own design every pull but itself is known. */
size_t hf_sanity_check(hf_sanity *sanity, const hf_design *design, const hf_specimen *specimen,
                       hf_doubt *list);

#endif
