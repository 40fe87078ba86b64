#include "holdfast/planning/guess.h"

#include <math.h>
#include "holdfast/numeric/special.h"
#include "holdfast/strength/stated_scatter.h"

hf_status hf_guess_of(const hf_family *family, double mean, double cv, hf_guess *out) {
    if (!(mean > 0 && isfinite(mean) && cv > 0 && cv <= 1)) return HF_RANGE;
    double s = hf_stated_spread(family, cv, mean);
    if (!(s > 0 && isfinite(s))) return HF_RANGE;
    *out = (hf_guess){.family = family, .mean = mean, .deviation = cv * mean, .m = mean, .s = s};
    if (family->has_shape)
        out->m = log(mean) - hf_log_gamma(1 + s);
    else if (family->log_scale)
        out->m = log(mean) - 0.5 * s * s;
    return HF_OK;
}

hf_status hf_guess_from_fit(const hf_family *family, double m, double s, hf_guess *out) {
    double mean = m, cv = s / m;
    if (family->has_shape) {
        mean = exp(m + hf_log_gamma(1 + s));
        cv = sqrt(expm1(hf_log_gamma(1 + 2 * s) - 2 * hf_log_gamma(1 + s)));
    } else if (family->log_scale) {
        mean = exp(m + 0.5 * s * s);
        cv = sqrt(expm1(s * s));
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
