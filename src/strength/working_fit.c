#include "strength/conditional.h"

#include <math.h>
#include <stdint.h>
#include "holdfast/base/memory.h"
#include "holdfast/strength/fit.h"

static double load_of(const hf_family *family, double y, double shift) {
    return family->log_scale ? exp(y - shift) : y - shift;
}

/* The fit works on loads; shifting first keeps exp() in range whatever the unit. */
hf_status hf_working_fit(const hf_family *family, const hf_open_data *data, double *m, double *s) {
    size_t total = data->count + data->above_count + data->below_count, at = 0;
    double nothing = family->log_scale ? 0 : -INFINITY, shift = data->y[0];
    if (total > SIZE_MAX / sizeof(hf_observation)) return HF_MEMORY;
    hf_observation *items = hf_memory_take(total, sizeof *items);
    if (!items) return HF_MEMORY;
    for (size_t i = 0; i < data->count; i++) {
        double load = load_of(family, data->y[i], shift);
        items[at++] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
    }
    for (size_t i = 0; i < data->above_count; i++)
        items[at++] =
            (hf_observation){HF_INTERVAL_ABOVE, load_of(family, data->above[i], shift), INFINITY, false, -1};
    for (size_t i = 0; i < data->below_count; i++)
        items[at++] =
            (hf_observation){HF_INTERVAL_BELOW, nothing, load_of(family, data->below[i], shift), false, -1};
    hf_fit fit;
    hf_status status = hf_fit_maximum(family, (hf_sample){items, total}, &fit);
    hf_memory_free(items);
    if (status != HF_OK) return status;
    *m = fit.m + shift;
    *s = fit.s;
    return HF_OK;
}
