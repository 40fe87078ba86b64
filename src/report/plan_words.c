/* Loads hung and weights in words, for the plan and the worksheet. */
#include <math.h>
#include "holdfast/base/number.h"
#include "report/plan_report.h"

/* "4x10 kg + 1x5 kg" in the units the weights are owned in. */
const char *hf_weights_text(hf_arena *arena, const hf_plan *plan, const hf_weight_load *load) {
    hf_text text = {0};
    char number[HF_NUMBER_SIZE];
    for (size_t i = 0; i < plan->setup.weight_count; i++) {
        const hf_weight *weight = &plan->setup.weights[i];
        if (load->count[i] > 0)
            hf_text_addf(&text, "%s%dx%s %s", text.length ? " + " : "", load->count[i],
                         hf_number_shortest(weight->value, number), weight->unit->name);
    }
    const char *out = hf_arena_text(arena, text.bytes ? text.bytes : "", text.length);
    hf_text_free(&text);
    return out ? out : "";
}

double hf_plan_added(const hf_plan *plan, double force) {
    double along = cos(plan->setup.force.angle_deg * (3.14159265358979323846 / 180));
    return (force / along - plan->setup.force.tare) / plan->setup.force.advantage;
}
