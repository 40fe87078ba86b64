/* Is A stronger than B, the same, or can this test not tell?
 *
 * Welch's test on ln load, each variance with the step allowance: the ratio of geometric means with its
 * interval, the chance of such a difference if there were none (p), and, when the user says what "the same" means
 * to them, two one-sided tests that the ratio really lies within it. "Cannot tell" is an honest answer; beside it stand the
 * smallest ratio this test could have seen and the parts that would settle it. */
#ifndef HOLDFAST_COMPARING_CONTRAST_H
#define HOLDFAST_COMPARING_CONTRAST_H

#include <stdbool.h>
#include "holdfast/base/status.h"
#include "holdfast/comparing/group.h"
#include "holdfast/strength/stated_scatter.h"

typedef enum hf_verdict {
    HF_VERDICT_CANNOT_TELL, /* cannot_tell */
    HF_VERDICT_A_STRONGER,  /* a_stronger */
    HF_VERDICT_B_STRONGER,  /* b_stronger */
    HF_VERDICT_SAME_WITHIN  /* same_within */
} hf_verdict;

/* The code as it stands in JSON. Static. */
const char *hf_verdict_code(hf_verdict verdict);

typedef enum hf_contrast_reason {
    HF_CONTRAST_NO_REASON,
    HF_CONTRAST_ONE_PART,          /* one_part: a group of fewer than two parts shows no scatter */
    HF_CONTRAST_ONE_VALUE,         /* one_value: all readings equal in both groups */
    HF_CONTRAST_OPEN_OBSERVATIONS, /* open_observations */
    HF_CONTRAST_NOT_STATED,        /* scatter_not_stated */
    HF_CONTRAST_RANGE,             /* range */
    HF_CONTRAST_NUMERIC            /* numeric */
} hf_contrast_reason;

/* Code and one sentence for people. Static. */
const char *hf_contrast_reason_code(hf_contrast_reason reason);
const char *hf_contrast_reason_text(hf_contrast_reason reason);

typedef struct hf_contrast_options {
    double level;       /* of every test and of the interval (1 − level); 0 means 0.05 */
    double same_within; /* share X: "the same" is a ratio between 1/(1 + X) and 1 + X; 0: not stated */
    double power;       /* for the two figures at the end; 0 means 0.80 */
} hf_contrast_options;

/* The options with the defaults filled in; false when a number lies outside its range. */
bool hf_contrast_options_fill(hf_contrast_options *options);

typedef struct hf_contrast {
    bool available;
    hf_contrast_reason reason;        /* when not */
    double level, same_within, power; /* as used; same_within is 0 when not stated */
    double difference;                /* mean ln load of A − that of B */
    double standard_error;            /* √(variance_a/n_a + variance_b/n_b) */
    double t, degrees_of_freedom;
    double p;         /* two-sided */
    double ratio;     /* of geometric means, A over B: exp(difference) */
    double low, high; /* its interval */
    double p_not_lower,
        p_not_higher; /* one-sided: against ratio ≤ 1/(1 + X), against ratio ≥ 1 + X; NaN when X is not stated */
    double p_same; /* the larger of the two */
    double
        smallest_visible_ratio; /* ≥ 1, seen with `power` (welch_power.h) at these n and this scatter; NaN when it has none */
    double
        parts_to_settle; /* per design in all, to see the ratio found with `power`; whole; INFINITY when a million are not enough */
    bool
        caution_small_group; /* n differ by 2:1 or more and the smaller group scatters more (coverage 0.93–0.94, docs/coverage.md) */
    bool caution_scatter; /* the scatters (allowance included) differ by more than 2:1 */
} hf_contrast;

/* Compares two groups. Always fills *out; HF_OK, or HF_NO_RESULT/HF_RANGE with out->reason. Allocates nothing beyond the root finder.
 * Swapping a and b swaps the signs and inverts ratio and interval, nothing else. */
hf_status hf_contrast_groups(const hf_group *a, const hf_group *b, const hf_contrast_options *options,
                             hf_contrast *out);

/* The same without the last two figures (a millisecond): a few hundred nanoseconds, for simulations. */
hf_status hf_contrast_test(const hf_group *a, const hf_group *b, const hf_contrast_options *options,
                           hf_contrast *out);

/* From as little as one pull each, with scatter known from elsewhere (cv > 0 and its degrees of freedom, both groups). Steps are
 * met by their ends: the interval reaches from lower ends against upper ends to the reverse, and p is that of the nearest
 * pair of means the pulls allow, so that no step can make it wrong. Open pulls leave that side of the interval open. */
hf_status hf_contrast_stated(hf_sample a, hf_sample b, hf_stated_scatter scatter_a,
                             hf_stated_scatter scatter_b, const hf_contrast_options *options,
                             hf_contrast *out);

#endif
