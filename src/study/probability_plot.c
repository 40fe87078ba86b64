/* Plotting positions: nonparametric maximum likelihood of stepped and unfinished pulls (Peto 1973; Turnbull 1976), the share that has failed
 * by a load. Exact readings stand at the middle of their part of the jump (Meeker & Escobar 1998, Statistical Methods for Reliability
 * Data, section 6.4): (i − 1/2)/n for whole readings (Hazen 1914), the middle of each Kaplan–Meier jump with run-outs. A pull from held to
 * failed stands at the middle of the two and at the estimate there, even within a step that the estimate leaves open; what failed at its
 * first load stands at that load and at the estimate there.
 */
#include "holdfast/study/probability_plot.h"

#include <math.h>
#include <stdlib.h>
#include "holdfast/comparing/survival_curve.h"
#include "holdfast/numeric/special.h"
#include "study/event.h"

#define HF_TOLERANCE_LEAST 0.75 /* content */

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

static bool spans(const hf_probability_mark *mark) {
    return mark->kind == HF_INTERVAL_CLOSED && mark->lower > 0 && mark->lower < mark->upper;
}

double hf_probability_mark_load(const hf_probability_mark *mark, bool log_scale) {
    if (mark->kind == HF_INTERVAL_ABOVE) return NAN;
    if (!spans(mark)) return mark->upper;
    return log_scale ? sqrt(mark->lower) * sqrt(mark->upper) : mark->lower + (mark->upper - mark->lower) / 2;
}

static double part_of(const hf_survival_step *step, double load, bool log_scale) {
    if (load >= step->upper) return 1;
    if (load <= step->lower || isinf(step->upper)) return 0;
    return log_scale && step->lower > 0 ? log(load / step->lower) / log(step->upper / step->lower)
                                        : (load - step->lower) / (step->upper - step->lower);
}

static double failed_by(const hf_survival_curve *curve, double load, bool log_scale) {
    double sum = 0;
    for (size_t j = 0; j < curve->count && curve->steps[j].lower <= load; j++)
        sum += curve->steps[j].mass * part_of(&curve->steps[j], load, log_scale);
    return sum;
}

/* What has failed before the exact reading and the jump at it. */
static void jump_at(const hf_survival_curve *curve, double load, double *before, double *jump) {
    *before = *jump = 0;
    for (size_t j = 0; j < curve->count && curve->steps[j].lower <= load; j++) {
        const hf_survival_step *step = &curve->steps[j];
        if (step->lower == load && step->upper == load)
            *jump += step->mass;
        else
            *before += step->mass * part_of(step, load, false);
    }
}

/* Equal readings share their jump out evenly. `marks`: weakest first. Returns how many are equal. */
static size_t place_readings(hf_probability_mark *marks, size_t count, const hf_survival_curve *curve) {
    double before, jump;
    size_t alike = 1;
    while (alike < count && marks[alike].upper == marks->upper && marks[alike].lower == marks->lower) alike++;
    jump_at(curve, marks->upper, &before, &jump);
    for (size_t i = 0; i < alike; i++)
        marks[i].share = marks[i].share_log = before + jump * ((double)i + 0.5) / (double)alike;
    return alike;
}

/* 0 and 1 have no place on the paper: half a pull is left beside them, as beside the ends of whole readings. */
static double on_paper(double share, size_t count) {
    double half = 0.5 / (double)count;
    return fmax(half, fmin(1 - half, share));
}

static void place_marks(hf_probability_mark *marks, size_t count, const hf_survival_curve *curve) {
    for (size_t i = 0, taken; i < count; i += taken) {
        hf_probability_mark *mark = &marks[i];
        taken = 1;
        if (mark->kind == HF_INTERVAL_ABOVE) continue;
        if (mark->lower == mark->upper) {
            taken = place_readings(mark, count - i, curve);
            continue;
        }
        mark->share = on_paper(failed_by(curve, hf_probability_mark_load(mark, false), false), count);
        mark->share_log = on_paper(failed_by(curve, hf_probability_mark_load(mark, true), true), count);
    }
}

/* A step that was dropped on counts double, as in the fit. */
static hf_observation as_fitted(const hf_observation *item) {
    hf_observation out = *item;
    if (item->dropped && item->kind == HF_INTERVAL_CLOSED)
        out.upper = item->lower + 2 * (item->upper - item->lower);
    out.dropped = false;
    return out;
}

hf_status hf_probability_marks(hf_arena *arena, hf_sample sample, const hf_probability_mark **out,
                               size_t *failed) {
    hf_survival_curve curve;
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, sample.count);
    hf_probability_mark *marks = HF_ARENA_NEW_ARRAY(arena, hf_probability_mark, sample.count);
    if (!items || !marks) return HF_MEMORY;
    *failed = 0;
    for (size_t i = 0; i < sample.count; i++) {
        items[i] = as_fitted(&sample.items[i]);
        marks[i] = (hf_probability_mark){items[i].kind, items[i].lower, items[i].upper, NAN, NAN};
        *failed += items[i].kind != HF_INTERVAL_ABOVE;
    }
    hf_status status = hf_survival_curve_of(arena, (hf_sample){items, sample.count}, &curve);
    if (status != HF_OK) return status;
    qsort(marks, sample.count, sizeof *marks, weaker_first);
    place_marks(marks, sample.count, &curve);
    qsort(marks, sample.count, sizeof *marks, by_share);
    *out = marks;
    return HF_OK;
}

double hf_probability_line_at(const hf_fit *fit, double failed) {
    return hf_family_load(fit->family, fit->m + fit->family->quantile_upper(1 - failed) * fit->s);
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
        out->load[i] = hf_probability_line_at(fit, out->failed[i]);
    }
}

/* Half as far from both ends as the outermost mark, and the share of the bound with some room. */
static void set_reach(double content, hf_probability_plot *plot) {
    double first = 1, last = 0;
    for (size_t i = 0; i < plot->failed; i++) {
        first = fmin(first, fmin(plot->marks[i].share, plot->marks[i].share_log));
        last = fmax(last, fmax(plot->marks[i].share, plot->marks[i].share_log));
    }
    plot->least = fmin(first, 1 - content) / 2;
    plot->most = 1 - fmin(1 - last, 0.1) / 2;
}

/* By the method of the bound that leads, or on another law's paper by that law's own. */
static hf_status tolerance_at(hf_arena *arena, const hf_assessment *assessment,
                              const hf_design_assessment *design, const hf_probability_plot *plot,
                              double content, double *load) {
    hf_bound other;
    if (plot->bound == design->break_event.governing)
        return hf_bound_at_content(arena, assessment, design, content, load);
    hf_status status = hf_bound_family(plot->law, design->sample, content, plot->bound->confidence, &other);
    *load = status == HF_OK ? other.value : NAN;
    return status == HF_MEMORY ? status : HF_OK;
}

/* Even steps along the paper, from the least share to the greatest that a bound is proven for, and the share of the answer itself. */
static hf_status fill_tolerance(hf_arena *arena, const hf_assessment *assessment,
                                const hf_design_assessment *design, hf_probability_plot *plot) {
    const double greatest = 1 - HF_TOLERANCE_LEAST, own = 1 - design->content;
    double from = plot->law->quantile_upper(1 - fmin(plot->least, own)),
           to = plot->law->quantile_upper(1 - fmax(greatest, own));
    hf_tolerance_curve *curve = &plot->tolerance;
    bool own_done = false;
    for (size_t i = 0; i + 1 < HF_TOLERANCE_POINTS; i++) {
        double failed = plot->law->lower(from + (to - from) * (double)i / (HF_TOLERANCE_POINTS - 2)), load;
        if (!own_done && failed >= own * (1 - 1e-9)) {
            curve->failed[curve->count] = own;
            curve->load[curve->count++] = plot->bound->value;
            own_done = true;
            if (failed <= own * (1 + 1e-9)) continue;
        }
        hf_status status = tolerance_at(arena, assessment, design, plot, 1 - failed, &load);
        if (status != HF_OK) return status;
        if (isnan(load)) continue;
        curve->failed[curve->count] = failed;
        curve->load[curve->count++] = load;
    }
    return HF_OK;
}

/* Whose paper, and which bound stands on it. */
static void choose_law(const hf_event_assessment *event, const hf_family *law, hf_probability_plot *plot) {
    const hf_bound *governing = event->governing;
    plot->law = law ? law : hf_family_governing(governing ? governing->family : NULL);
    if (governing && (!law || governing->family == law)) {
        plot->bound = governing;
        return;
    }
    for (size_t i = 0; law && i < HF_FAMILY_COUNT; i++)
        if (hf_family_at(i) == law && event->bounds[i].method != HF_BOUND_NONE)
            plot->bound = &event->bounds[i];
}

hf_status hf_probability_plot_of(hf_arena *arena, const hf_assessment *assessment,
                                 const hf_design_assessment *design, const hf_family *law,
                                 const hf_probability_plot **out) {
    const hf_campaign *campaign = assessment->campaign;
    hf_pulled pulled;
    hf_probability_plot *plot = HF_ARENA_NEW(arena, hf_probability_plot);
    hf_status status = plot ? hf_design_sample(arena, campaign, design->design, &pulled) : HF_MEMORY;
    if (status != HF_OK) return status;
    hf_sample sample = pulled.sample;
    *out = plot;
    plot->confidence = design->confidence;
    choose_law(&design->break_event, law, plot);
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
    return plot->bound && plot->bound->family ? fill_tolerance(arena, assessment, design, plot) : HF_OK;
}
