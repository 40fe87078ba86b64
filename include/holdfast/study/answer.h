/* The answer for one design, decided once.
 *
 * Which load may one work with, on what does it hang, is what was asked for met, and what to do next: text, Markdown, pages, pictures,
 * notebook, JSON and exit code read it here and decide nothing themselves. It is never more cheerful than the worst caution: one that
 * breaks the number leaves nothing met, one that it hangs on leaves met only "if". Loads are newtons. */
#ifndef HOLDFAST_STUDY_ANSWER_H
#define HOLDFAST_STUDY_ANSWER_H

#include "holdfast/strength/bound.h"
#include "holdfast/study/caution.h"

typedef enum hf_answer_verdict {
    HF_ANSWER_NONE,        /* no bound, or none above 0 */
    HF_ANSWER_NOT_ASSURED, /* the pulls reject the law and no bound without a law is there */
    HF_ANSWER_BOUND_ONLY,  /* a bound; what would make a working load of it is not stated */
    HF_ANSWER_WORKING_LOAD
} hf_answer_verdict;

/* Their words in JSON, in that order. */
#define HF_ANSWER_VERDICTS "none", "not_assured", "bound_only", "working_load"

/* Whether what was asked for is met, worst last. */
typedef enum hf_met {
    HF_MET_NOT_STATED, /* nothing was asked */
    HF_MET,
    HF_MET_IF, /* met, if something holds that these pulls cannot check */
    HF_NOT_MET
} hf_met;

#define HF_METS "not_stated", "met", "met_if", "not_met"

/* What most needs doing: X(NAME, "code"). */
#define HF_NEXT_LIST(X)                                                                                      \
    X(PULL_FIRST, "pull")             /* nothing is pulled yet */                                            \
    X(MEND_PULLS, "mend_pulls")       /* no bound: what the reason of the refused bound asks for */          \
    X(START_LIGHTER, "start_lighter") /* no bound above 0: parts failed at the first load */                 \
    X(FINER_STEPS, "finer_steps")     /* no bound above 0 */                                                 \
    X(CHECK_LOADS, "check_loads")     /* a load that the rig or its weights cannot have made */              \
    X(PULL_TO_LOOK, "pull_to_look")   /* not enough yet, and a stated look is still to come */               \
    X(NOT_AT_SERVICE_LOAD, "not_at_service_load")                                                            \
    X(STRONGER_OR_MORE, "stronger_or_more")           /* the required bound is not met */                    \
    X(FIND_WEAK_BATCH_FIRST, "find_weak_batch_first") /* the law is rejected, and batches differ */          \
    X(FIND_WHY_LAW_FAILS, "find_why_law_fails")                                                              \
    X(PULL_MORE, "pull_more")                                                                                \
    X(FIND_WEAK_BATCH, "find_weak_batch")                                                                    \
    X(STATE_BATCHES, "state_batches")         /* none is stated */                                           \
    X(STATE_ALL_BATCHES, "state_all_batches") /* not every part states one */                                \
    X(PULL_BATCHES, "pull_batches")           /* all of one */                                               \
    X(STATE_FACTOR, "state_factor")           /* what lacks for a working load is not stated */              \
    X(SETTLE_CAUTIONS, "settle_cautions")                                                                    \
    X(MARK_PARTS, "mark_parts")

typedef enum hf_answer_next {
#define HF_NEXT(name, code) HF_NEXT_##name,
    HF_NEXT_LIST(HF_NEXT) HF_NEXT_COUNT
#undef HF_NEXT
} hf_answer_next;

typedef struct hf_answer {
    hf_answer_verdict verdict;
    const hf_bound *bound;  /* that leads; NULL with HF_ANSWER_NONE */
    const hf_bound *by_law; /* of the law that the pulls reject, when another leads or none can; else NULL */
    const hf_bound *
        confirming; /* the bound without a law that is no lower than a rejected law's, which leads; else NULL */
    bool of_set;    /* `bound` is against first movement, which limits */
    double working_load, unrounded; /* NaN without */
    double
        working_load_mass; /* of all that may hang, in `mass_unit`, rounded down to three figures; NaN without */
    const struct hf_unit *mass_unit;
    double content, confidence, confidence_used;
    const struct hf_family
        *if_law; /* the promise holds if strength follows it; NULL: no law was chosen by hand */
    hf_met required, service;
    int worst_caution; /* index into the design's cautions, −1: none */
    hf_answer_next next;
} hf_answer;

/* The words of JSON. Static. */
const char *hf_answer_verdict_code(hf_answer_verdict verdict);

/* What to do is, or may be, to pull more parts. */
bool hf_next_is_more(hf_answer_next next);

#endif
