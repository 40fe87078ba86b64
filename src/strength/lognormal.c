/* Lognormal family: the normal law on ln load. */
#include "strength/normal.h"

#include <math.h>
#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"

static double log_moment(double s) {
    return 0.5 * s * s;
}

static double spread_of_cv(double cv) {
    return sqrt(log1p(cv * cv));
}

const hf_family hf_family_lognormal = {.name = "lognormal",
                                       .label = "lognormal",
                                       .log_scale = true,
                                       .log_moment = log_moment,
                                       .spread_of_cv = spread_of_cv,
                                       HF_NORMAL_LAW};
