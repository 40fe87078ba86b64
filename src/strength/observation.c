#include "holdfast/strength/observation.h"

#include <math.h>

hf_sample_counts hf_sample_count(hf_sample sample) {
    hf_sample_counts counts = {0};
    for (size_t i = 0; i < sample.count; i++) {
        switch (sample.items[i].kind) {
        case HF_INTERVAL_EXACT:
            counts.exact++;
            break;
        case HF_INTERVAL_CLOSED:
            counts.closed++;
            break;
        case HF_INTERVAL_BELOW:
            counts.below++;
            break;
        case HF_INTERVAL_ABOVE:
            counts.above++;
            break;
        case HF_INTERVAL_NONE: /* no observation */
            break;
        }
    }
    return counts;
}

double hf_observation_upper(const hf_observation *item) {
    return item->dropped && item->kind == HF_INTERVAL_CLOSED ? item->lower + 2 * (item->upper - item->lower)
                                                             : item->upper;
}

double hf_sample_step(hf_sample sample) {
    double sum = 0;
    size_t count = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_CLOSED) continue;
        double width = (item->upper - item->lower) * (item->dropped ? 2 : 1);
        sum += width * width;
        count++;
    }
    return count ? sqrt(sum / (double)count) : 0;
}
