/* Peto (1973), Turnbull (1976): weight only on the maximal intersections; self-consistency steps, sped up by squared extrapolation
 * (Varadhan & Roland 2008), stopped by the condition of the optimum (Gentleman & Geyer 1994). */
#include "holdfast/comparing/survival_curve.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "holdfast/numeric/vector.h"

enum { MOST_ROUNDS = 200000 };

static const double wanted_gap = 1e-7;

typedef struct curve_work {
    const hf_observation *items;
    size_t n, count;
    hf_survival_step *steps;
    double *mass, *next, *after;
} curve_work;

static bool is_exact(const hf_observation *item) {
    return item->kind == HF_OBSERVED_EXACT;
}

/* Whether all of step j lies within what the pull allows: steps are never cut by a pull's ends. */
static bool allows(const hf_observation *item, const hf_survival_step *step) {
    if (step->lower == step->upper) {
        if (is_exact(item)) return item->lower == step->upper;
        return item->lower < step->upper && step->upper <= item->upper;
    }
    return !is_exact(item) && item->lower <= step->lower && step->upper <= item->upper;
}

/* Largest lower end of a step or open pull below `right`. */
static double nearest_left(const curve_work *work, double right) {
    double left = -INFINITY;
    for (size_t i = 0; i < work->n; i++)
        if (!is_exact(&work->items[i]) && work->items[i].lower < right)
            left = fmax(left, work->items[i].lower);
    return left;
}

static bool any_right_within(const curve_work *work, double left, double right) {
    for (size_t i = 0; i < work->n; i++)
        if (work->items[i].upper > left && work->items[i].upper < right) return true;
    return false;
}

static bool is_exact_value(const curve_work *work, double value) {
    for (size_t i = 0; i < work->n; i++)
        if (is_exact(&work->items[i]) && work->items[i].lower == value) return true;
    return false;
}

/* A left end followed at once by a right end; a reading is both. */
static void find_steps(curve_work *work, double *rights) {
    for (size_t i = 0; i < work->n; i++) rights[i] = work->items[i].upper;
    hf_vector_sort(rights, work->n);
    for (size_t i = 0; i < work->n; i++) {
        if (i > 0 && rights[i] == rights[i - 1]) continue;
        bool exact = is_exact_value(work, rights[i]);
        double left = exact ? rights[i] : nearest_left(work, rights[i]);
        if (!exact && any_right_within(work, left, rights[i])) continue;
        work->steps[work->count++] = (hf_survival_step){left, rights[i], 0};
    }
}

static double log_likelihood(const curve_work *work, const double *mass) {
    double sum = 0;
    for (size_t i = 0; i < work->n; i++) {
        double share = 0;
        for (size_t j = 0; j < work->count; j++)
            if (allows(&work->items[i], &work->steps[j])) share += mass[j];
        sum += log(share);
    }
    return sum;
}

/* One self-consistency step; returns the largest excess of Σ_i 1[j in i]/P_i over n, which is 0 at the maximum. */
static double improve(const curve_work *work, const double *mass, double *out) {
    double n = (double)work->n, gap = 0;
    memset(out, 0, work->count * sizeof *out);
    for (size_t i = 0; i < work->n; i++) {
        double share = 0;
        for (size_t j = 0; j < work->count; j++)
            if (allows(&work->items[i], &work->steps[j])) share += mass[j];
        for (size_t j = 0; j < work->count; j++)
            if (allows(&work->items[i], &work->steps[j])) out[j] += 1 / share;
    }
    for (size_t j = 0; j < work->count; j++) {
        gap = fmax(gap, out[j] / n - 1);
        if (mass[j] > 1e-9) gap = fmax(gap, 1 - out[j] / n);
        out[j] *= mass[j] / n;
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

static hf_status climb(curve_work *work, double *tried, hf_survival_curve *out) {
    for (size_t j = 0; j < work->count; j++) work->mass[j] = 1 / (double)work->count;
    for (out->iterations = 0; out->iterations < MOST_ROUNDS; out->iterations += 2) {
        out->gap = improve(work, work->mass, work->next);
        if (out->gap <= wanted_gap) return HF_OK;
        improve(work, work->next, work->after);
        extrapolate(work, tried);
    }
    return HF_NUMERIC;
}

hf_status hf_survival_curve_of(hf_arena *arena, hf_sample sample, hf_survival_curve *out) {
    size_t n = sample.count;
    memset(out, 0, sizeof *out);
    if (n == 0) return HF_NO_RESULT;
    curve_work work = {.items = sample.items, .n = n};
    work.steps = HF_ARENA_NEW_ARRAY(arena, hf_survival_step, n);
    double *numbers = HF_ARENA_NEW_ARRAY(arena, double, 5 * n);
    if (!work.steps || !numbers) return HF_MEMORY;
    work.mass = numbers + n;
    work.next = numbers + 2 * n;
    work.after = numbers + 3 * n;
    find_steps(&work, numbers);
    hf_status status = climb(&work, numbers + 4 * n, out);
    for (size_t j = 0; j < work.count; j++) work.steps[j].mass = work.mass[j];
    out->log_likelihood = log_likelihood(&work, work.mass);
    out->steps = work.steps;
    out->count = work.count;
    return status;
}
