/* The lines of the step-down in words. */
#include "words/load_steps.h"

static const hf_step_row rows[] = {
    [HF_STEP_BEST_PULL] = {"most that a part held", "", HF_AS_SEEN},
    [HF_STEP_MEAN] = {"mean of the failed parts", "", HF_AS_MEAN},
    [HF_STEP_BOUND] = {"lower bound", "", HF_AS_BOUND},
    [HF_STEP_CALIBRATION] = {"rig's load error", "×", HF_AS_BOUND},
    [HF_STEP_DESIGN_FACTOR] = {"design factor", "÷", HF_AS_BOUND},
    [HF_STEP_SET] = {"set factor, on first movement", "÷", HF_AS_BOUND},
    [HF_STEP_USE_FACTOR] = {"factor of use", "÷", HF_AS_BOUND},
    [HF_STEP_ROUND] = {"working load", "", HF_AS_RATING},
};

const hf_step_row *hf_step_row_of(const hf_load_step *step) {
    return &rows[step->kind];
}

size_t hf_steps_above_nothing(const hf_design_assessment *a) {
    size_t count = 0;
    while (count < a->step_count && a->steps[count].value > 0) count++;
    return count;
}
