/* Lognormal family: the normal law on ln load. */
#include "strength/normal.h"

#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"

const hf_family hf_family_lognormal = {
    .name = "lognormal", .label = "lognormal", .log_scale = true, HF_NORMAL_LAW};
