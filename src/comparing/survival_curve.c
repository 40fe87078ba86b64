/* Peto (1973), Turnbull (1976): weight only on the maximal intersections. Self-consistency steps, sped up by squared extrapolation (Varadhan &
 * Roland 2008), creep where steps overlap in long chains; each round therefore ends with a step of the iterative convex minorant
 * (Groeneboom & Wellner 1992; the hybrid is that of Wellner & Zhan 1997). Stopped by the condition of the optimum (Gentleman & Geyer 1994). */
#include "holdfast/comparing/survival_curve.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "holdfast/numeric/vector.h"

enum { MOST_ROUNDS = 30000 };

static const double wanted_gap = 1e-9;

typedef struct span {
    size_t first, end;
} span;

typedef struct curve_work {
    const hf_observation *items;
    size_t n, count;
    hf_survival_step *steps;
    span *spans; /* of each pull: the steps it allows, which always lie side by side */
    double *mass, *next, *after, *sums;
    size_t *lengths;
} curve_work;

static bool is_exact(const hf_observation *item) {
    return item->kind == HF_INTERVAL_EXACT;
}

/* How many of the ascending values lie at or below x; strictly below it when `below`. */
static size_t how_many(const double *values, size_t count, double x, bool below) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (below ? values[middle] < x : values[middle] <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

typedef struct sorted_ends {
    double *rights, *lefts, *exact; /* all upper ends; lower ends of what is no reading; readings */
    size_t n, left_count, exact_count;
} sorted_ends;

static void sort_ends(const curve_work *work, sorted_ends *ends) {
    ends->n = work->n;
    for (size_t i = 0; i < work->n; i++) {
        const hf_observation *item = &work->items[i];
        ends->rights[i] = item->upper;
        if (is_exact(item))
            ends->exact[ends->exact_count++] = item->lower;
        else
            ends->lefts[ends->left_count++] = item->lower;
    }
    hf_vector_sort(ends->rights, ends->n);
    hf_vector_sort(ends->lefts, ends->left_count);
    hf_vector_sort(ends->exact, ends->exact_count);
}

/* A left end followed at once by a right end; a reading is both. */
static void find_steps(curve_work *work, const sorted_ends *ends) {
    for (size_t i = 0; i < ends->n; i++) {
        double right = ends->rights[i], before = i > 0 ? ends->rights[i - 1] : -INFINITY;
        if (i > 0 && right == before) continue;
        size_t at = how_many(ends->exact, ends->exact_count, right, true);
        bool exact = at < ends->exact_count && ends->exact[at] == right;
        size_t lefts = how_many(ends->lefts, ends->left_count, right, true);
        double left = exact ? right : lefts > 0 ? ends->lefts[lefts - 1] : -INFINITY;
        if (!exact && before > left) continue;
        work->steps[work->count++] = (hf_survival_step){left, right, 0};
    }
}

/* A step is never cut by a pull's ends, so its upper end alone tells whether the pull allows it. */
static void find_spans(curve_work *work, double *uppers) {
    for (size_t j = 0; j < work->count; j++) uppers[j] = work->steps[j].upper;
    for (size_t i = 0; i < work->n; i++) {
        const hf_observation *item = &work->items[i];
        work->spans[i].first = how_many(uppers, work->count, item->lower, is_exact(item));
        work->spans[i].end = how_many(uppers, work->count, item->upper, false);
    }
}

/* sums[j] becomes the mass of the steps before j; a pull's share is then a difference. */
static void add_up(const curve_work *work, const double *mass) {
    work->sums[0] = 0;
    for (size_t j = 0; j < work->count; j++) work->sums[j + 1] = work->sums[j] + mass[j];
}

static double share_of(const curve_work *work, size_t i) {
    return work->sums[work->spans[i].end] - work->sums[work->spans[i].first];
}

static double log_likelihood(const curve_work *work, const double *mass) {
    double sum = 0;
    add_up(work, mass);
    for (size_t i = 0; i < work->n; i++) sum += log(share_of(work, i));
    return sum;
}

/* One self-consistency step; returns the largest excess of Σ_i 1[j in i]/P_i over n, which is 0 at the maximum. */
static double improve(const curve_work *work, const double *mass, double *out) {
    double n = (double)work->n, gap = 0, running = 0;
    add_up(work, mass);
    memset(out, 0, (work->count + 1) * sizeof *out);
    for (size_t i = 0; i < work->n; i++) { /* what begins and what ends at each step */
        double weight = 1 / share_of(work, i);
        out[work->spans[i].first] += weight;
        out[work->spans[i].end] -= weight;
    }
    for (size_t j = 0; j < work->count; j++) {
        running += out[j];
        gap = fmax(gap, running / n - 1);
        if (mass[j] > 1e-9) gap = fmax(gap, 1 - running / n);
        out[j] = mass[j] * running / n;
    }
    return gap;
}

/* mass + 2·step·r + step²·v where that keeps every mass positive and does not lose likelihood. */
static void extrapolate(curve_work *work, double *tried) {
    double r2 = 0, v2 = 0, sum = 0;
    for (size_t j = 0; j < work->count; j++) {
        double r = work->next[j] - work->mass[j], v = work->after[j] - work->next[j] - r;
        r2 += r * r;
        v2 += v * v;
    }
    double step = v2 > 0 ? sqrt(r2 / v2) : 1;
    bool usable = step > 1;
    for (size_t j = 0; usable && j < work->count; j++) {
        double r = work->next[j] - work->mass[j], v = work->after[j] - work->next[j] - r;
        tried[j] = fmax(work->mass[j] + 2 * step * r + step * step * v, 1e-12 * work->mass[j]);
        sum += tried[j];
    }
    for (size_t j = 0; usable && j < work->count; j++) tried[j] /= sum;
    bool better = usable && log_likelihood(work, tried) >= log_likelihood(work, work->after);
    memcpy(work->mass, better ? tried : work->after, work->count * sizeof *work->mass);
}

/* Weighted least squares under "not falling", within 0 and 1: adjacent violators are pooled from the left. Writes over value and weight. */
static void make_rising(double *value, double *weight, size_t count, size_t *length) {
    size_t blocks = 0;
    for (size_t j = 0; j < count; j++) {
        double v = value[j], w = weight[j];
        size_t members = 1;
        while (blocks > 0 && value[blocks - 1] >= v) {
            blocks--;
            v = (v * w + value[blocks] * weight[blocks]) / (w + weight[blocks]);
            w += weight[blocks];
            members += length[blocks];
        }
        value[blocks] = v;
        weight[blocks] = w;
        length[blocks++] = members;
    }
    for (size_t at = count; blocks > 0; blocks--) {
        double level = fmin(fmax(value[blocks - 1], 0), 1);
        for (size_t k = length[blocks - 1]; k > 0; k--) value[--at] = level;
    }
}

/* One step of the convex-minorant iteration: Newton with the diagonal of the second derivatives for the cumulated masses, kept rising,
 * shortened until the likelihood does not fall. It lifts steps again that stand at 0 and moves mass far, where self-consistency creeps. */
static void leap(curve_work *work, double *tried) {
    size_t inner = work->count - 1;
    double *aim = work->next, *weight = work->after, here = log_likelihood(work, work->mass);
    memset(aim, 0, (work->count + 1) * sizeof *aim);
    memset(weight, 0, (work->count + 1) * sizeof *weight);
    for (size_t i = 0; i < work->n; i++) {
        double one = 1 / share_of(work, i);
        aim[work->spans[i].end] += one;
        aim[work->spans[i].first] -= one;
        weight[work->spans[i].end] += one * one;
        weight[work->spans[i].first] += one * one;
    }
    for (size_t j = 1; j <= inner; j++) aim[j] = work->sums[j] + aim[j] / weight[j];
    make_rising(aim + 1, weight + 1, inner, work->lengths);
    aim[0] = 0;
    aim[work->count] = 1;
    for (double part = 1; part > 1e-6; part *= 0.5) {
        for (size_t j = 0; j < work->count; j++)
            tried[j] = (1 - part) * work->mass[j] + part * (aim[j + 1] - aim[j]);
        if (!(log_likelihood(work, tried) >= here)) continue;
        memcpy(work->mass, tried, work->count * sizeof *tried);
        return;
    }
}

static hf_status climb(curve_work *work, double *tried, hf_survival_curve *out) {
    for (size_t j = 0; j < work->count; j++) work->mass[j] = 1 / (double)work->count;
    for (out->iterations = 0; out->iterations < MOST_ROUNDS; out->iterations += 3) {
        out->gap = improve(work, work->mass, work->next);
        if (out->gap <= wanted_gap) return HF_OK;
        improve(work, work->next, work->after);
        extrapolate(work, tried);
        leap(work, tried);
    }
    return HF_NUMERIC;
}

hf_status hf_survival_curve_of(hf_arena *arena, hf_sample sample, hf_survival_curve *out) {
    size_t n = sample.count, row = n + 1;
    memset(out, 0, sizeof *out);
    if (n == 0) return HF_NO_RESULT;
    curve_work work = {.items = sample.items, .n = n};
    work.steps = HF_ARENA_NEW_ARRAY(arena, hf_survival_step, n);
    work.spans = HF_ARENA_NEW_ARRAY(arena, span, n);
    double *numbers = HF_ARENA_NEW_ARRAY(arena, double, 5 * row);
    work.lengths = HF_ARENA_NEW_ARRAY(arena, size_t, n);
    if (!work.steps || !work.spans || !work.lengths || !numbers) return HF_MEMORY;
    sorted_ends ends = {.rights = numbers, .lefts = numbers + row, .exact = numbers + 2 * row};
    sort_ends(&work, &ends);
    find_steps(&work, &ends);
    find_spans(&work, numbers);
    work.mass = numbers;
    work.next = numbers + row;
    work.after = numbers + 2 * row;
    work.sums = numbers + 3 * row;
    hf_status status = climb(&work, numbers + 4 * row, out);
    for (size_t j = 0; j < work.count; j++) work.steps[j].mass = work.mass[j];
    out->log_likelihood = log_likelihood(&work, work.mass);
    out->steps = work.steps;
    out->count = work.count;
    return isfinite(out->log_likelihood) ? status : HF_NUMERIC;
}
