/* The ways in which the parts of one design fail, and what each of them means for its bound.
 *
 * Where parts fail in two ways or more, the bound that takes the pulls as they came holds for parts in which those ways come in the same
 * shares. The bound by ways of failing holds whatever the shares; it stands beside the other. All loads are newtons. */
#ifndef HOLDFAST_STUDY_MODES_OF_FAILING_H
#define HOLDFAST_STUDY_MODES_OF_FAILING_H

#include <stdbool.h>
#include "holdfast/comparing/modes.h"

typedef struct hf_design_modes {
    bool available;
    const char *
        reason; /* when not: "no_mode_stated", "too_many_modes", "no_failure", "no_bound", "range"; the shares stand all the same
                                 where modes are named */
    const char *const
        *names;   /* result.count of them, by name; NULL, last: failures whose mode nobody noted */
    size_t named; /* how many ways, "not noted" among them; more than HF_MODE_LIMIT are not told apart */
    hf_modes result;
    double undivided; /* N: the bound of the same law without telling modes apart; NaN: none */
} hf_design_modes;

#endif
