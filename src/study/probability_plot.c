/* Plotting positions: nonparametric maximum likelihood of stepped and unfinished pulls (Peto 1973; Turnbull 1976). Where it puts weight
 * the estimated share rises, and a pull stands at the middle of its part of the rise (Meeker & Escobar 1998, Statistical Methods
 * for Reliability Data, section 6.4): (i − 1/2)/n for whole readings (Hazen 1914), the middle of each Kaplan–Meier jump with run-outs.
 * Pulls of one step share its rise out evenly, one that may lie in several steps in proportion to their weight.
 *
 * Band: y_p = m + q_p·s on the working scale, variance by the delta method from the observed information: exact for an infinite
 * number of parts (same book, section 8.4). */
#include "holdfast/study/probability_plot.h"

#include <math.h>
#include <stdlib.h>
#include "holdfast/comparing/survival_curve.h"
#include "holdfast/numeric/special.h"
#include "study/event.h"

static int weaker_first(const void *a, const void *b) {
    const hf_probability_mark *left = a, *right = b;
    if (left->lower != right->lower) return left->lower < right->lower ? -1 : 1;
    return (left->upper > right->upper) - (left->upper < right->upper);
}

static int by_share(const void *a, const void *b) {
    const hf_probability_mark *left = a, *right = b;
    if (isnan(left->share) != isnan(right->share)) return isnan(left->share) ? 1 : -1;
    if (!isnan(left->share) && left->share != right->share) return left->share < right->share ? -1 : 1;
    return weaker_first(a, b);
}

static bool allows(const hf_probability_mark *mark, const hf_survival_step *step) {
    if (mark->lower == mark->upper) return step->lower == step->upper && step->upper == mark->upper;
    if (step->lower == step->upper) return mark->lower < step->upper && step->upper <= mark->upper;
    return mark->lower <= step->lower && step->upper <= mark->upper;
}

static double weight_in(const hf_probability_mark *mark, const hf_survival_curve *curve) {
    double sum = 0;
    for (size_t j = 0; j < curve->count; j++)
        if (allows(mark, &curve->steps[j])) sum += curve->steps[j].mass;
    return sum;
}

/* Adds to each failed mark its part of the rise of one step that starts at the share `before`. `weights`: weight_in of each. */
static void share_out(hf_probability_mark *marks, const double *weights, size_t count,
                      const hf_survival_step *step, double before) {
    double pulls = 0, passed = 0;
    for (size_t i = 0; i < count; i++)
        if (marks[i].kind != HF_OBSERVED_ABOVE && allows(&marks[i], step)) pulls += step->mass / weights[i];
    for (size_t i = 0; i < count && pulls > 0; i++) {
        if (marks[i].kind == HF_OBSERVED_ABOVE || !allows(&marks[i], step)) continue;
        double part = step->mass / weights[i];
        marks[i].share += part * (before + step->mass * (passed + part / 2) / pulls);
        passed += part;
    }
}

static void place_marks(hf_probability_mark *marks, double *weights, size_t count,
                        const hf_survival_curve *curve) {
    double before = 0;
    for (size_t i = 0; i < count; i++) {
        marks[i].share = marks[i].kind == HF_OBSERVED_ABOVE ? NAN : 0;
        weights[i] = weight_in(&marks[i], curve);
    }
    for (size_t j = 0; j < curve->count; j++) {
        if (curve->steps[j].mass > 0) share_out(marks, weights, count, &curve->steps[j], before);
        before += curve->steps[j].mass;
    }
}

/* A step that was dropped on counts double, as in the fit. */
static hf_observation as_fitted(const hf_observation *item) {
    hf_observation out = *item;
    if (item->dropped && item->kind == HF_OBSERVED_CLOSED)
        out.upper = item->lower + 2 * (item->upper - item->lower);
    out.dropped = false;
    return out;
}

hf_status hf_probability_marks(hf_arena *arena, hf_sample sample, const hf_probability_mark **out,
                               size_t *failed) {
    hf_survival_curve curve;
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, sample.count);
    hf_probability_mark *marks = HF_ARENA_NEW_ARRAY(arena, hf_probability_mark, sample.count);
    double *weights = HF_ARENA_NEW_ARRAY(arena, double, sample.count);
    if (!items || !marks || !weights) return HF_MEMORY;
    *failed = 0;
    for (size_t i = 0; i < sample.count; i++) {
        items[i] = as_fitted(&sample.items[i]);
        marks[i] = (hf_probability_mark){items[i].kind, items[i].lower, items[i].upper, NAN};
        *failed += items[i].kind != HF_OBSERVED_ABOVE;
    }
    hf_status status = hf_survival_curve_of(arena, (hf_sample){items, sample.count}, &curve);
    if (status != HF_OK) return status;
    qsort(marks, sample.count, sizeof *marks, weaker_first);
    place_marks(marks, weights, sample.count, &curve);
    qsort(marks, sample.count, sizeof *marks, by_share);
    *out = marks;
    return HF_OK;
}

void hf_probability_line_at(const hf_fit *fit, double failed, double confidence, double *load, double *low,
                            double *high) {
    double q = fit->family->quantile_upper(1 - failed), y = fit->m + q * fit->s;
    double variance = fit->se_m * fit->se_m + 2 * q * fit->cov + q * q * fit->se_s * fit->se_s;
    double reach = hf_normal_quantile_lower(0.5 + confidence / 2) * sqrt(fmax(variance, 0));
    *load = hf_family_load(fit->family, y);
    *low = hf_family_load(fit->family, y - reach);
    *high = hf_family_load(fit->family, y + reach);
}

static void fill_line(const hf_fit *fit, const hf_probability_plot *plot, hf_probability_line *out) {
    out->family = fit->family;
    out->available = fit->stop == HF_FIT_CONVERGED && isfinite(fit->se_m) && isfinite(fit->se_s);
    if (!out->available) return;
    double low = fit->family->quantile_upper(1 - plot->least),
           high = fit->family->quantile_upper(1 - plot->most);
    for (size_t i = 0; i < HF_PROBABILITY_POINTS; i++) {
        double z = low + (high - low) * (double)i / (HF_PROBABILITY_POINTS - 1);
        out->failed[i] = fit->family->lower(z);
        hf_probability_line_at(fit, out->failed[i], plot->confidence, &out->load[i], &out->low[i],
                               &out->high[i]);
    }
}

/* Half as far from both ends as the outermost mark, and the share of the bound with some room. */
static void set_reach(double content, hf_probability_plot *plot) {
    double first = plot->marks[0].share, last = plot->marks[plot->failed - 1].share;
    plot->least = fmin(first, 1 - content) / 2;
    plot->most = 1 - fmin(1 - last, 0.1) / 2;
}

hf_status hf_probability_plot_of(hf_arena *arena, const hf_campaign *campaign,
                                 const hf_design_assessment *design, const hf_probability_plot **out) {
    hf_sample sample;
    hf_probability_plot *plot = HF_ARENA_NEW(arena, hf_probability_plot);
    hf_status status = plot ? hf_design_sample(arena, campaign, design->design, &sample) : HF_MEMORY;
    if (status != HF_OK) return status;
    *out = plot;
    plot->confidence = design->confidence;
    if (sample.count > HF_PROBABILITY_PULLS)
        plot->reason = "more than 2000 pulls on one paper cannot be told apart";
    else if (!sample.count)
        plot->reason = "no part of this design has been pulled";
    if (plot->reason) return HF_OK;
    status = hf_probability_marks(arena, sample, &plot->marks, &plot->failed);
    plot->count = sample.count;
    if (status == HF_OK && !plot->failed)
        plot->reason = "no part of this design has failed: all that is known is that they are stronger";
    if (status != HF_OK || plot->reason) return status;
    set_reach(design->content, plot);
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        fill_line(&design->break_event.fits[i], plot, &plot->lines[i]);
    return HF_OK;
}
