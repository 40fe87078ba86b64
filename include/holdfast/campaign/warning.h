/* What is odd in a campaign file but leaves it usable.
 *
 * Each kind is one row: X(NAME, "code"). `check` prints it where it stands, and every result repeats it as the caution of the same
 * name (caution_list.h). */
#ifndef HOLDFAST_CAMPAIGN_WARNING_H
#define HOLDFAST_CAMPAIGN_WARNING_H

#define HF_WARNING_LIST(X)                                                                                   \
    X(ABOVE_RATING, "above_rating")                                                                          \
    X(ABOVE_WEIGHTS, "above_weights")                                                                        \
    X(NO_UNCERTAINTY, "no_uncertainty")                                                                      \
    X(UNLIKE_DESIGN, "unlike_design")                                                                        \
    X(RUNGS_BETWEEN, "rungs_between")                                                                        \
    X(NOT_MAKEABLE, "not_makeable")                                                                          \
    X(MIXED_UNITS, "mixed_units")                                                                            \
    X(MIXED_PULL_KINDS, "mixed_pull_kinds")                                                                  \
    X(ORDER, "order")                                                                                        \
    X(FIRST_RUNG_HELD, "first_rung_held")                                                                    \
    X(TARE_ZERO, "tare_zero")                                                                                \
    X(LADDER_WEIGHTS, "ladder_weights")

typedef enum hf_warning {
#define HF_WARNING_NAME(name, code) HF_WARNING_##name,
    HF_WARNING_LIST(HF_WARNING_NAME)
#undef HF_WARNING_NAME
        HF_WARNING_COUNT
} hf_warning;

#endif
