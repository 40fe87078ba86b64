#include <math.h>
#include "comparing/open_compare_private.h"

/* ln P(low < Z ≤ high); a step too narrow for a difference is density times width with the next term of its series. */
static double step_term(const hf_family *family, double low, double high) {
    double width = high - low, f[3], c[3];
    if (!isfinite(low) || width * fmax(1, fmax(fabs(low), fabs(high))) > 1e-4)
        return family->log_interval(low, high);
    family->log_density(0.5 * (low + high), f);
    family->curvature(0.5 * (low + high), c);
    return f[0] + log(width) + log1p(c[0] * width * width / 24);
}

double hf_log_likelihood_at(const hf_family *family, hf_sample sample, double m, double s) {
    double sum = 0, f[3];
    if (!(s > 0)) return NAN;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double low = (hf_family_working(family, item->lower) - m) / s;
        if (item->kind == HF_INTERVAL_EXACT) {
            family->log_density(low, f);
            sum += f[0] - log(s);
        } else if (item->kind == HF_INTERVAL_ABOVE) {
            if (isinf(low)) continue;
            family->log_upper(low, f);
            sum += f[0];
        } else {
            sum += step_term(family, low, (hf_family_working(family, hf_observation_upper(item)) - m) / s);
        }
    }
    return sum;
}

/* d/dz of ln P(low < Z ≤ high) when both ends move together. */
static double step_slope(const hf_family *family, double low, double high) {
    double width = high - low, f[3], c[3];
    if (isfinite(low) && width * fmax(1, fmax(fabs(low), fabs(high))) <= 1e-4) {
        double next = width * width / 24;
        family->log_density(0.5 * (low + high), f);
        family->curvature(0.5 * (low + high), c);
        return f[1] + c[1] * next / (1 + c[0] * next);
    }
    double value = family->log_interval(low, high), at_low = 0;
    if (isfinite(low)) {
        family->log_density(low, f);
        at_low = exp(f[0] - value);
    }
    family->log_density(high, f);
    return exp(f[0] - value) - at_low;
}

double hf_location_score(const hf_family *family, hf_sample sample, double m, double s) {
    double sum = 0, f[3];
    if (!(s > 0)) return NAN;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double low = (hf_family_working(family, item->lower) - m) / s;
        if (item->kind == HF_INTERVAL_EXACT) {
            family->log_density(low, f);
            sum -= f[1] / s;
        } else if (item->kind == HF_INTERVAL_ABOVE) {
            if (isinf(low)) continue;
            family->log_upper(low, f);
            sum -= f[1] / s;
        } else {
            sum -=
                step_slope(family, low, (hf_family_working(family, hf_observation_upper(item)) - m) / s) / s;
        }
    }
    return sum;
}
