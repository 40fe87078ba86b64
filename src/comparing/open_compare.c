#include "holdfast/comparing/open_compare.h"

#include <math.h>
#include <stdint.h>
#include <string.h>
#include "comparing/maximize.h"
#include "comparing/open_compare_private.h"
#include "holdfast/base/memory.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/sample.h"

static const double farthest = 60; /* of |difference| on the ln scale; beyond it an end is open */
static const double nothing_lost = 1e-10;
static const double met = 1e-6, nearly_met = 1e-2; /* of the difference at which two places meet */
static const double tolerance = 1e-9; /* of locations, in units of s; the likelihood then has 1e-18 */

typedef struct comparison {
    const hf_family *family;
    hf_sample a, b;
    bool common;
    hf_observation *pooled;   /* a.count + b.count; B's loads are multiplied by exp(difference) */
    double exact_b;           /* number of exact pulls in B: their densities stretch with the loads */
    hf_fit fit_a, fit_b;      /* separate fits, where they exist */
    bool failed;              /* a fit inside the search had no maximum */
    double fixed, difference; /* separate: the location being tried, the difference being tried */
    double s_common;
    bool level;       /* the likelihood only levels out: no one difference is the likeliest */
    double cells;     /* what it levels out at as the scatter shrinks to 0; NaN where it does not */
    double meeting;   /* then the difference at which both places fall on one another */
    double log_loads; /* sum over exact pulls: turns densities of ln load into densities of load */
} comparison;

size_t hf_failures(hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    return counts.exact + counts.closed + counts.below;
}

void hf_open_compare_clear(hf_open_compare *out, bool common_spread) {
    memset(out, 0, sizeof *out);
    out->common_spread = common_spread;
    out->m_a = out->m_b = out->s_a = out->s_b = out->difference = out->ratio = out->low = out->high = NAN;
    out->statistic = out->degrees_of_freedom = out->p = out->p_chi2 = NAN;
    out->log_likelihood = out->log_likelihood_together = NAN;
}

hf_status hf_open_compare_refuse(hf_open_compare *out, hf_status status, const char *reason) {
    out->available = false;
    out->reason = reason;
    return status;
}

/* --- No scatter to be seen ------------------------------------------------------------------------------ */

/* The strengths that could explain every pull of the sample at once: none when low > high. */
static void one_strength(const hf_family *family, hf_sample sample, double *low, double *high) {
    *low = -INFINITY;
    *high = INFINITY;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        *low = fmax(*low, hf_family_working(family, item->lower));
        if (item->kind != HF_INTERVAL_ABOVE)
            *high = fmin(*high, hf_family_working(family, hf_observation_upper(item)));
    }
}

static bool in_one_place(const hf_family *family, hf_sample sample) {
    double low, high;
    one_strength(family, sample, &low, &high);
    return low <= high + HF_SAME;
}

/* Steps that meet at one load: as the scatter shrinks to 0 there, any share of the parts may lie below it, and the likelihood nears
 * that of two cells. NaN for other samples. */
static double cells_of(const hf_family *family, hf_sample sample, double *place) {
    double at, high, below = 0, above = 0;
    one_strength(family, sample, &at, &high);
    *place = at;
    if (hf_sample_count(sample).exact > 0 || !(fabs(high - at) <= HF_SAME)) return NAN;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        bool ends = item->kind != HF_INTERVAL_ABOVE &&
                    hf_family_working(family, hf_observation_upper(item)) <= at + HF_SAME;
        below += ends;
        above += !ends && hf_family_working(family, item->lower) >= at - HF_SAME;
    }
    double all = below + above;
    return (below > 0 ? below * log(below / all) : 0) + (above > 0 ? above * log(above / all) : 0);
}

/* --- Common s: shifting B's loads turns the profile of the difference into a one-sample fit. --------- */

static double common_profile(double difference, void *context) {
    comparison *c = context;
    double stretch = exp(difference);
    hf_fit fit;
    memcpy(c->pooled, c->a.items, c->a.count * sizeof *c->pooled);
    for (size_t i = 0; i < c->b.count; i++) {
        hf_observation item = c->b.items[i];
        item.lower *= stretch;
        item.upper *= stretch;
        c->pooled[c->a.count + i] = item;
    }
    /* Where the two places fall on one another the level itself is the least upper bound, and the scatter too small to search for. */
    double off = isnan(c->cells) ? INFINITY : fabs(difference - c->meeting);
    if (off <= met) return c->cells;
    if (hf_fit_maximum(c->family, (hf_sample){c->pooled, c->a.count + c->b.count}, &fit) != HF_OK) {
        if (off <= nearly_met) return c->cells;
        c->failed = true;
        return NAN;
    }
    c->fixed = fit.m;
    c->s_common = fit.s;
    return fit.log_likelihood + difference * c->exact_b;
}

/* --- Separate s: for each location of A, the best s on either side. ---------------------------------- */

typedef struct spread_search {
    const hf_family *family;
    hf_sample sample;
    double m;
} spread_search;

static double likelihood_of_spread(double log_s, void *context) {
    const spread_search *search = context;
    return hf_log_likelihood_at(search->family, search->sample, search->m, exp(log_s));
}

static double best_spread(const comparison *c, hf_sample sample, const hf_fit *fit, double m) {
    spread_search search = {c->family, sample, m};
    double center = log(fit->s), reach = log(fmax(1, fabs(m - fit->m) / fit->s)), top;
    hf_maximize(likelihood_of_spread, &search, center - 4, center + reach + 4, tolerance, &top);
    return top;
}

static double at_location(double m, void *context) {
    const comparison *c = context;
    return best_spread(c, c->a, &c->fit_a, m) + best_spread(c, c->b, &c->fit_b, m - c->difference);
}

static double separate_profile(double difference, void *context) {
    comparison *c = context;
    double one = c->fit_a.m, other = c->fit_b.m + difference, top;
    double low = fmin(one, other), high = fmax(one, other), margin = 0.05 * (c->fit_a.s + c->fit_b.s);
    c->difference = difference;
    c->fixed = hf_maximize(at_location, c, low - margin, high + margin, tolerance * margin, &top);
    return top;
}

static double profile(comparison *c, double difference) {
    return c->common ? common_profile(difference, c) : separate_profile(difference, c) - c->log_loads;
}

/* --- The free maximum ---------------------------------------------------------------------------- */

/* ln load that stands for the middle of a sample, to begin the search. */
static double typical(const hf_family *family, hf_sample sample) {
    double sum = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double load =
            item->kind == HF_INTERVAL_ABOVE || item->kind == HF_INTERVAL_EXACT ? item->lower : item->upper;
        sum += load > 0 ? hf_family_working(family, load) : 0;
    }
    return sum / (double)sample.count;
}

/* Where a location runs off to when all pulls of a design are open on one side: none failed (+1), or each broke at its first load (−1). */
static double runs_off(hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    if (counts.exact + counts.closed > 0 || (counts.above > 0 && counts.below > 0)) return 0;
    return counts.above > 0 ? 1 : -1;
}

/* The other design is fitted alone. */
static void free_at_infinity(const comparison *c, double off_a, double off_b, hf_open_compare *out) {
    const hf_fit *fit = off_a != 0 ? &c->fit_b : &c->fit_a;
    out->difference = off_a != 0 ? off_a * INFINITY : -off_b * INFINITY;
    out->log_likelihood = fit->log_likelihood;
    out->m_a = off_a != 0 ? off_a * INFINITY : fit->m;
    out->m_b = off_a != 0 ? fit->m : off_b * INFINITY;
    out->s_a = out->s_b = fit->s;
}

/* Slope of the profile: at its top in m and s only B's own shift is left. */
static double profile_slope(double difference, void *context) {
    comparison *c = context;
    if (isnan(common_profile(difference, c))) return NAN;
    return -hf_location_score(c->family, c->b, c->fixed - difference, c->s_common);
}

/* A search by values alone ends where they differ by less than their rounding; the slope goes on from there. False without a turning point. */
static bool polish(comparison *c, double *at) {
    double s = c->s_common;
    for (double reach = 1e-3 * s; reach <= 4 * s; reach *= 4) {
        if (!(profile_slope(*at - reach, c) > 0) || !(profile_slope(*at + reach, c) < 0)) continue;
        return hf_solve_root(profile_slope, c, *at - reach, *at + reach, 1e-13 * s, 1e-15, at) == HF_OK;
    }
    return false;
}

/* Half a standard deviation away nothing is lost that could be told from rounding. */
static bool is_level(comparison *c, double at, double top) {
    double half = 0.5 * c->s_common;
    return !(top - common_profile(at - half, c) > nothing_lost) ||
           !(top - common_profile(at + half, c) > nothing_lost);
}

static hf_status free_common(comparison *c, hf_open_compare *out) {
    double off_a = runs_off(c->a), off_b = runs_off(c->b);
    if (off_a != 0 && off_b != 0) return HF_NO_RESULT;
    if (off_a != 0 || off_b != 0) {
        free_at_infinity(c, off_a, off_b, out);
        return HF_OK;
    }
    if (in_one_place(c->family, c->a) && in_one_place(c->family, c->b)) {
        double place_a, place_b;
        c->cells = cells_of(c->family, c->a, &place_a) + cells_of(c->family, c->b, &place_b);
        c->meeting = place_a - place_b;
        c->s_common = nearly_met;                 /* a scale for the search that may begin where they meet */
        if (isnan(c->cells)) return HF_NO_RESULT; /* likelier and likelier as the scatter shrinks */
    }
    double center = typical(c->family, c->a) - typical(c->family, c->b), width = 1, top;
    common_profile(center, c);
    if (!c->failed) width = 8 * c->s_common;
    double at = hf_maximize(common_profile, c, center - width, center + width, tolerance * width, &top);
    while (!c->failed && (at < center - 0.99 * width || at > center + 0.99 * width) && width < farthest) {
        width *= 4;
        at = hf_maximize(common_profile, c, center - width, center + width, tolerance * width, &top);
    }
    if (c->failed) return HF_NO_RESULT;
    top = common_profile(at, c);
    double found = at;
    c->level = !isnan(c->cells) || is_level(c, at, top);
    if (!c->level) c->level = isnan(common_profile(at, c)) || !polish(c, &at);
    if (c->level) at = found;
    c->failed = false; /* a neighbour may have none */
    out->log_likelihood = isnan(c->cells) ? fmax(top, common_profile(at, c)) : c->cells;
    out->difference = at;
    out->m_a = c->fixed;
    out->m_b = c->fixed - at;
    out->s_a = out->s_b = c->s_common;
    return HF_OK;
}

static double sum_log_exact(const hf_family *family, hf_sample sample) {
    double sum = 0;
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_EXACT)
            sum += hf_family_working(family, sample.items[i].lower);
    return sum;
}

static void free_separate(comparison *c, hf_open_compare *out) {
    out->m_a = c->fit_a.m;
    out->m_b = c->fit_b.m;
    out->s_a = c->fit_a.s;
    out->s_b = c->fit_b.s;
    out->difference = out->m_a - out->m_b;
    out->log_likelihood = c->fit_a.log_likelihood + c->fit_b.log_likelihood;
}

/* --- Test and interval ----------------------------------------------------------------------------- */

/* The statistic that t on ν degrees of freedom corresponds to, and back. */
static double statistic_of_t(double t, double nu) {
    return (nu + 2) * log1p(t * t / nu);
}
static double t_of_statistic(double statistic, double nu) {
    return sqrt(nu * expm1(fmax(0, statistic) / (nu + 2)));
}

typedef struct edge_search {
    comparison *comparison;
    double needed; /* log-likelihood at the end of the interval */
} edge_search;

static double edge_excess(double difference, void *context) {
    const edge_search *search = context;
    return profile(search->comparison, difference) - search->needed;
}

/* Where the profile has fallen to `needed` on one side of `inside`. */
static double edge(comparison *c, double needed, double inside, double step) {
    edge_search search = {c, needed};
    double outside = inside + step, at = NAN;
    while (edge_excess(outside, &search) > 0) {
        inside = outside;
        step *= 2;
        outside = inside + step;
        if (fabs(outside) > farthest) return copysign(INFINITY, step);
    }
    double low = fmin(inside, outside), high = fmax(inside, outside);
    hf_status status = hf_solve_root(edge_excess, &search, low, high, 1e-9 * fabs(step), 1e-10, &at);
    return status == HF_OK ? at : NAN;
}

static void interval(comparison *c, double level, hf_open_compare *out) {
    double t = hf_t_quantile_upper(0.5 * level, out->degrees_of_freedom), s = out->s_a + out->s_b;
    double needed = out->log_likelihood - 0.5 * statistic_of_t(t, out->degrees_of_freedom);
    double low = -INFINITY, high = INFINITY;
    if (isfinite(out->difference)) {
        low = edge(c, needed, out->difference, -0.5 * s);
        high = edge(c, needed, out->difference, 0.5 * s);
    } else { /* from a difference that is surely inside */
        double inside = out->difference > 0 ? farthest : -farthest;
        double start = typical(c->family, c->a) - typical(c->family, c->b);
        double away = copysign(0.5 * s, out->difference);
        while (profile(c, start) < needed && fabs(start) < fabs(inside)) start += away;
        if (out->difference > 0)
            low = edge(c, needed, start, -0.5 * s);
        else
            high = edge(c, needed, start, 0.5 * s);
    }
    out->ratio = exp(out->difference);
    out->low = exp(low);
    out->high = exp(high);
}

static bool enough_failures(const comparison *c) {
    size_t d_a = hf_failures(c->a), d_b = hf_failures(c->b);
    if (!c->common) return d_a >= 2 && d_b >= 2;
    return d_a + d_b >= 3;
}

/* ν of the reference; welch.h's rule with d − 1 for separate s. */
static double reference_degrees(const comparison *c) {
    double d_a = (double)hf_failures(c->a), d_b = (double)hf_failures(c->b);
    if (c->common) return d_a > 0 && d_b > 0 ? d_a + d_b - 2 : d_a + d_b - 1;
    double part_a = c->fit_a.se_m * c->fit_a.se_m, part_b = c->fit_b.se_m * c->fit_b.se_m,
           sum = part_a + part_b;
    return sum * sum / (part_a * part_a / (d_a - 1) + part_b * part_b / (d_b - 1));
}

static hf_status compare(comparison *c, double level, hf_open_compare *out) {
    hf_status status_a = hf_fit_maximum(c->family, c->a, &c->fit_a);
    hf_status status_b = hf_fit_maximum(c->family, c->b, &c->fit_b);
    bool needs_a = !c->common || runs_off(c->b) != 0, needs_b = !c->common || runs_off(c->a) != 0;
    if ((needs_a && status_a != HF_OK) || (needs_b && status_b != HF_OK))
        return hf_open_compare_refuse(out, HF_NO_RESULT, "no_maximum");
    if (c->common && free_common(c, out) != HF_OK)
        return hf_open_compare_refuse(out, HF_NO_RESULT, "no_maximum");
    if (!c->common) free_separate(c, out);
    out->log_likelihood_together = profile(c, 0);
    if (c->failed) return hf_open_compare_refuse(out, HF_NO_RESULT, "no_maximum");
    out->statistic = fmax(0, 2 * (out->log_likelihood - out->log_likelihood_together));
    out->degrees_of_freedom = reference_degrees(c);
    out->p = fmin(
        1, 2 * hf_t_upper(t_of_statistic(out->statistic, out->degrees_of_freedom), out->degrees_of_freedom));
    out->p_chi2 = hf_chi2_upper(out->statistic, 1);
    interval(c, level, out);
    if (c->failed || isnan(out->low) || isnan(out->high))
        return hf_open_compare_refuse(out, HF_NUMERIC, "numeric");
    if (c->level) out->difference = out->ratio = out->m_a = out->m_b = out->s_a = out->s_b = NAN;
    out->available = true;
    return HF_OK;
}

hf_status hf_open_compare_likelihood(const hf_family *family, hf_sample a, hf_sample b,
                                     const hf_open_compare_options *options, hf_open_compare *out) {
    double level = options && options->level != 0 ? options->level : 0.05;
    comparison c = {
        .family = family, .a = a, .b = b, .common = options && options->common_spread, .cells = NAN};
    hf_open_compare_clear(out, c.common);
    if (!family->log_scale) return hf_open_compare_refuse(out, HF_NO_RESULT, "not_log_scale");
    if (!(level > 0 && level < 1)) return hf_open_compare_refuse(out, HF_NO_RESULT, "range");
    if (a.count == 0 || b.count == 0 || !enough_failures(&c))
        return hf_open_compare_refuse(out, HF_NO_RESULT, "too_few");
    if (a.count > SIZE_MAX / sizeof *c.pooled - b.count) return HF_MEMORY;
    c.pooled = hf_memory_take(a.count + b.count, sizeof *c.pooled);
    if (!c.pooled) return HF_MEMORY;
    c.exact_b = (double)hf_sample_count(b).exact;
    c.log_loads = sum_log_exact(family, a) + sum_log_exact(family, b);
    hf_status status = compare(&c, level, out);
    hf_memory_free(c.pooled);
    return status;
}
