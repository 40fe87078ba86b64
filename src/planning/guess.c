#include "holdfast/planning/guess.h"

#include <math.h>
#include "holdfast/numeric/special.h"
#include "holdfast/strength/stated_scatter.h"

hf_status hf_guess_of(const hf_family *family, double mean, double cv, hf_guess *out) {
    if (!(mean > 0 && isfinite(mean) && cv > 0 && cv <= 1)) return HF_RANGE;
    double s = hf_stated_spread(family, cv, mean);
    if (!(s > 0 && isfinite(s))) return HF_RANGE;
    *out = (hf_guess){.family = family, .mean = mean, .deviation = cv * mean, .m = mean, .s = s};
    out->m = family->log_scale ? log(mean) - family->log_moment(s) : mean - s * family->mean_z;
    return HF_OK;
}

hf_status hf_guess_from_fit(const hf_family *family, double m, double s, hf_guess *out) {
    double mean = m + s * family->mean_z, cv = s * family->deviation_z / mean;
    if (family->log_scale) {
        mean = exp(m + family->log_moment(s));
        cv = sqrt(expm1(family->log_moment(2 * s) - 2 * family->log_moment(s)));
    }
    if (!(mean > 0 && isfinite(mean) && cv > 0 && cv <= 1)) return HF_RANGE;
    *out = (hf_guess){.family = family, .mean = mean, .deviation = cv * mean, .m = m, .s = s};
    return HF_OK;
}

double hf_guess_quantile(const hf_guess *guess, double weaker) {
    return hf_family_load(guess->family, guess->m + guess->s * guess->family->quantile_upper(1 - weaker));
}

double hf_guess_stronger(const hf_guess *guess, double load) {
    if (guess->family->log_scale && load <= 0) return 1;
    return guess->family->upper((hf_family_working(guess->family, load) - guess->m) / guess->s);
}
