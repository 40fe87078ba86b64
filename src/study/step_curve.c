#include "holdfast/study/step_curve.h"
#include <math.h>

hf_status hf_step_curve_of(const hf_plan *plan, hf_step_curve *out) {
    static const double steps[HF_STEP_CURVE_POINTS] = {0.125, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0};
    const hf_plan_setup *setup = &plan->setup;
    const hf_family *family = hf_family_governing(setup->family);
    hf_guess guess;
    *out = (hf_step_curve){0};
    if (isnan(plan->price_step)) return HF_OK;
    hf_status status = hf_guess_of(family, setup->mean, setup->cv, &guess);
    for (size_t i = 0; status == HF_OK && i < HF_STEP_CURVE_POINTS; i++) {
        double load = steps[i] * guess.deviation;
        double working = family->log_scale ? log1p(load / guess.mean) / guess.s : load / guess.s;
        status = hf_step_ratio_of(family, plan->price_parts, working, setup->content, setup->confidence,
                                  &out->ratio[i]);
        out->step[i] = steps[i];
    }
    if (status == HF_OK) out->count = HF_STEP_CURVE_POINTS;
    return status;
}
