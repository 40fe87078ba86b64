#include "holdfast/comparing/two_ended.h"

#include <math.h>

static hf_observation whole_end(const hf_observation *pull) {
    return (hf_observation){HF_INTERVAL_ABOVE, pull->lower, INFINITY, false, pull->batch};
}

hf_status hf_two_ended_split(const hf_observation *pull, hf_end_broke broke, hf_observation ends[2]) {
    bool open = pull->kind == HF_INTERVAL_ABOVE;
    if (!open && broke == HF_END_NEITHER) return HF_RANGE;
    bool first = !open && (broke == HF_END_FIRST || broke == HF_END_BOTH);
    bool second = !open && (broke == HF_END_SECOND || broke == HF_END_BOTH);
    ends[0] = first ? *pull : whole_end(pull);
    ends[1] = second ? *pull : whole_end(pull);
    return HF_OK;
}

int hf_end_says_nothing(const hf_observation *end) {
    return end->kind == HF_INTERVAL_ABOVE && !(end->lower > 0);
}

hf_status hf_bound_in_a_row(const hf_family *family, hf_sample sample, size_t in_row, double content,
                            double confidence, hf_bound *out) {
    double single = in_row > 0 ? pow(content, 1 / (double)in_row) : NAN;
    return hf_bound_family(family, sample, single, confidence, out);
}
