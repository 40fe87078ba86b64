/* Is the scatter as stated? Each pull leaves an interval of ln load; the least sum of squares about a common centre that the intervals
 * allow is confronted, so that no step can contradict by its width. The least sum is convex in the centre, and piecewise a parabola. */
#include <math.h>
#include "holdfast/numeric/special.h"
#include "holdfast/strength/stated_scatter.h"

enum { MOST_ROUNDS = 200 };
static const double level = 0.05;

static double lower_end(const hf_observation *item) {
    return item->lower > 0 && item->kind != HF_INTERVAL_BELOW ? log(item->lower) : -INFINITY;
}

static double upper_end(const hf_observation *item) {
    return log(hf_observation_upper(item));
}

typedef struct pull_sum {
    double squares, slope; /* Σ dist², Σ signed distance */
    double outside;        /* intervals that the centre lies outside of */
} pull_sum;

static pull_sum about(hf_sample sample, double centre) {
    pull_sum out = {0, 0, 0};
    for (size_t i = 0; i < sample.count; i++) {
        double low = lower_end(&sample.items[i]), high = upper_end(&sample.items[i]);
        double distance = centre < low ? centre - low : centre > high ? centre - high : 0;
        out.squares += distance * distance;
        out.slope += distance;
        out.outside += distance != 0;
    }
    return out;
}

/* Newton's step lands on the minimum of the parabola at hand; a bracket keeps it from running to and fro. */
static double least_squares(hf_sample sample) {
    double left = INFINITY, right = -INFINITY;
    for (size_t i = 0; i < sample.count; i++) {
        left = fmin(left, upper_end(&sample.items[i]));
        right = fmax(right, lower_end(&sample.items[i]));
    }
    if (!(left < right)) return 0; /* one load lies in all of them */
    double centre = 0.5 * (left + right), least = INFINITY;
    for (int round = 0; round < MOST_ROUNDS; round++) {
        pull_sum here = about(sample, centre);
        least = fmin(least, here.squares);
        if (here.slope > 0) right = centre;
        if (here.slope < 0) left = centre;
        double next = here.outside > 0 ? centre - here.slope / here.outside : centre;
        if (!(next > left && next < right)) next = 0.5 * (left + right);
        if (fabs(next - centre) <= 1e-15 * fmax(1, fabs(centre))) break;
        centre = next;
    }
    return least;
}

/* 95 % point of F(a, b), by the beta law of a·F/(a·F + b). */
static double f_point(double a, double b) {
    double x = hf_beta_quantile_lower(1 - level, 0.5 * a, 0.5 * b);
    return b * x / (a * (1 - x));
}

hf_scatter_confrontation hf_scatter_confront(hf_sample sample, double s0, double degrees) {
    hf_scatter_confrontation out = {.parts = sample.count, .statistic = NAN, .critical = NAN};
    out.significance = NAN;
    if (sample.count < 2 || !(s0 > 0) || !(degrees > 0)) return out;
    double own = (double)sample.count - 1;
    out.available = true;
    out.statistic = least_squares(sample) / (s0 * s0);
    if (isinf(degrees)) {
        out.critical = hf_chi2_quantile_upper(level, own);
        out.significance = hf_chi2_upper(out.statistic, own);
    } else {
        out.critical = own * f_point(own, degrees);
        out.significance = hf_f_upper(out.statistic / own, own, degrees);
    }
    out.contradicted = out.statistic > out.critical;
    return out;
}

hf_scatter_confrontation hf_stated_scatter_confront(hf_sample sample, hf_stated_scatter scatter) {
    double s0 = scatter.pooled.degrees > 0 ? scatter.pooled.s0 : hf_scatter_of_cv(scatter.cv);
    return hf_scatter_confront(sample, s0, scatter.degrees_of_freedom);
}
