/* From values to places, and the round numbers between. */
#include <float.h>
#include <math.h>
#include "chart/chart.h"

enum { WANTED_TICKS = 7 };

static const int most_exponent = 300;
static const double arrow_share = 0.1; /* of the axis, that an arrow of a part still whole has at least */

/* The smallest of 1, 2, 5 × 10^e that is not below `least`, as mantissa and exponent. */
typedef struct round_step {
    double mantissa;
    int exponent;
} round_step;

static round_step step_not_below(double least) {
    static const double mantissas[] = {1, 2, 5};
    least = fmax(least, DBL_MIN);
    int exponent = (int)floor(log10(least));
    for (int e = exponent - 1;; e++)
        for (size_t i = 0; i < 3; i++)
            if (mantissas[i] * pow(10, e) >= least * (1 - 1e-9)) return (round_step){mantissas[i], e};
}

/* count × step without the rounding of an inexact step, so that the shortest text stays short. */
static double multiple(round_step step, double count) {
    double whole = count * step.mantissa;
    if (step.exponent < -most_exponent) return whole * pow(10, step.exponent); /* its power has no inverse */
    return step.exponent < 0 ? whole / pow(10, -step.exponent) : whole * pow(10, step.exponent);
}

hf_scale hf_scale_linear(double low, double high, double from, double to) {
    double size = fmax(fabs(low), fabs(high));
    if (!(high - low > 1e-9 * size)) {
        double half = size > 0 ? size / 10 : 1;
        low -= half;
        high += half;
    }
    round_step step = step_not_below((high - low) / WANTED_TICKS);
    double unit = multiple(step, 1);
    low = multiple(step, floor(low / unit + 1e-9));
    high = fmax(multiple(step, ceil(high / unit - 1e-9)),
                low + unit); /* below the normal numbers both round to 0 */
    return (hf_scale){HF_SCALE_LINEAR, NULL, low, high, from, to};
}

hf_scale hf_scale_log(double low, double high, double from, double to) {
    double margin = exp(0.04 * (log(high) - log(low))) * 1.01;
    return (hf_scale){HF_SCALE_LOG, NULL, fmax(low / margin, DBL_TRUE_MIN), fmin(high * margin, DBL_MAX),
                      from,         to};
}

double hf_scale_past(double low, double high, double open, bool is_log) {
    if (!isfinite(open)) return high;
    double share = arrow_share / (1 - arrow_share);
    if (is_log) return fmin(DBL_MAX, fmax(high, open * exp(share * (log(open) - log(low)))));
    return fmin(DBL_MAX, fmax(high, open + (open - low) * share));
}

hf_scale hf_scale_probability(const hf_family *law, double low, double high, double from, double to) {
    return (hf_scale){HF_SCALE_PROBABILITY, law, low, high, from, to};
}

static double stretch(const hf_scale *scale, double value) {
    if (scale->kind == HF_SCALE_LOG) return log(value);
    if (scale->kind == HF_SCALE_PROBABILITY) return scale->law->quantile_upper(1 - value);
    return value;
}

double hf_scale_place(const hf_scale *scale, double value) {
    double low = stretch(scale, scale->low), high = stretch(scale, scale->high);
    return scale->from + (stretch(scale, value) - low) / (high - low) * (scale->to - scale->from);
}

static size_t linear_ticks(const hf_scale *scale, size_t most, double *ticks) {
    round_step step = step_not_below((scale->high - scale->low) / (double)(most > 1 ? most - 1 : 1));
    double unit = multiple(step, 1), first = ceil(scale->low / unit - 1e-9);
    size_t count = 0;
    while (count < most && (first + (double)count) * unit <= scale->high + 1e-9 * unit) {
        ticks[count] = multiple(step, first + (double)count);
        count++;
    }
    return count;
}

/* 1, 2, 5 in every decade, or 1 and 3, or 1 in every so many. */
static size_t log_ticks(const hf_scale *scale, size_t most, double *ticks) {
    static const double mantissas[] = {1, 2, 5, 1, 3};
    double decades = log10(scale->high) - log10(scale->low);
    if (decades < 1) return linear_ticks(scale, most, ticks);
    size_t each = decades * 3 < (double)most - 1 ? 3 : decades * 2 < (double)most - 1 ? 2 : 1;
    const double *of = each == 3 ? mantissas : mantissas + 3;
    int stride = each > 1 ? 1 : (int)ceil((decades + 1) / (double)most);
    size_t count = 0;
    for (int e = (int)floor(log10(scale->low)); e <= (int)ceil(log10(scale->high)); e += stride)
        for (size_t i = 0; i < each; i++) {
            double tick = multiple((round_step){of[i], e}, 1);
            if (tick >= scale->low && tick <= scale->high && count < most) ticks[count++] = tick;
        }
    return count;
}

static size_t probability_ticks(const hf_scale *scale, size_t most, double *ticks) {
    static const double shares[] = {0.0001, 0.001, 0.01, 0.05, 0.1,   0.25,  0.5,
                                    0.75,   0.9,   0.95, 0.99, 0.999, 0.9999};
    size_t count = 0;
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
        if (shares[i] >= scale->low && shares[i] <= scale->high && count < most) ticks[count++] = shares[i];
    return count;
}

size_t hf_scale_ticks(const hf_scale *scale, size_t most, double ticks[HF_TICKS_MOST]) {
    if (most > HF_TICKS_MOST) most = HF_TICKS_MOST;
    if (scale->kind == HF_SCALE_LOG) return log_ticks(scale, most, ticks);
    if (scale->kind == HF_SCALE_PROBABILITY) return probability_ticks(scale, most, ticks);
    return linear_ticks(scale, most, ticks);
}
