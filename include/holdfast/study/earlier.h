/* The scatter of designs that were pulled before, by kind.
 *
 * How strong the next design is, earlier ones cannot tell; how evenly parts of a kind are made, they can. Of each earlier design all of whose
 * parts were pulled until they failed, the scatter of ln load is taken, and the designs of one kind are set beside each other: how far
 * they agree decides what their scatter is worth for the next one (holdfast/strength/scatter_library.h). */
#ifndef HOLDFAST_STUDY_EARLIER_H
#define HOLDFAST_STUDY_EARLIER_H

#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"

/* Why a design is left out: X(NAME, "code", "words"). */
#define HF_EARLIER_LACK_LIST(X)                                                                              \
    X(NOTHING, "none", "")                                                                                   \
    X(FEW, "too_few", "fewer than two parts were pulled")                                                    \
    X(OPEN, "open_observations",                                                                             \
      "not every part failed between two known loads; those that did are the weaker ones")                   \
    X(EQUAL, "one_value", "all readings are equal, so they show no scatter")                                 \
    X(WIDE, "range", "it scatters by more than its mean")

typedef enum hf_earlier_lack {
#define HF_EARLIER_LACK(name, code, words) HF_EARLIER_##name,
    HF_EARLIER_LACK_LIST(HF_EARLIER_LACK)
#undef HF_EARLIER_LACK
} hf_earlier_lack;

typedef struct hf_earlier_design {
    const hf_campaign *campaign;
    const hf_design *design;
    size_t file, place; /* which of the campaigns, and which of all designs, as given */
    hf_earlier_lack lack;
    size_t parts, batches; /* used; batches stated, 0: none */
    double step;           /* root mean square, of ln load; 0: exact readings */
    double cv;             /* that a campaign file states so that its ln load scatters as the middles did */
    double s;              /* of ln load, step allowance in it; NaN where it is left out */
    double degrees_of_freedom;
    double low, high; /* 90 % interval of the true one, as if normal */
} hf_earlier_design;

enum { HF_EARLIER_SIZES = 5 };

typedef struct hf_earlier_kind {
    const char *name;           /* NULL: the designs that state none */
    size_t count, left_out;     /* designs that count, and others */
    hf_scatter_library library; /* of two or more */
    hf_past_scatter pooled;     /* what the rule takes of them; degrees 0 where none counts */
    double k[HF_EARLIER_SIZES],
        alone
            [HF_EARLIER_SIZES]; /* factor for 1, 2, … parts with them, and by the normal law without; NaN: none */
} hf_earlier_kind;

typedef struct hf_earlier {
    double content, confidence;
    const hf_campaign *const *campaigns;
    size_t campaign_count;
    const hf_earlier_design *designs; /* by kind, in the order given; those without a kind last */
    size_t count;
    const hf_earlier_kind *kinds;
    size_t kind_count;
} hf_earlier;

/* All designs with pulls of these campaigns; borrows the list. HF_USAGE where a design stands in them twice; HF_MEMORY. */
hf_status hf_earlier_of(hf_arena *arena, const hf_campaign *const *campaigns, size_t count, double content,
                        double confidence, const hf_earlier **out, hf_error *error);

/* The kind with this name (NULL: none stated); NULL: there is none. */
const hf_earlier_kind *hf_earlier_kind_of(const hf_earlier *earlier, const char *name);

/* The code and the words of a lack. Static. */
const char *hf_earlier_lack_code(hf_earlier_lack lack);
const char *hf_earlier_lack_words(hf_earlier_lack lack);

#endif
