#include "planning/rungs.h"

#include <math.h>
#include "holdfast/numeric/special.h"

static const double nobody = 1e-10; /* share of parts beyond the ends of an unlimited ladder */
static const double weak_share = 0.005, speed_change = 0.75;

typedef struct span {
    double low, high; /* loads, or working scale */
} span;

static span whole_span(const hf_guess *law, bool working) {
    double low = law->m + law->s * law->family->quantile_upper(1 - nobody);
    double high = law->m + law->s * law->family->quantile_upper(nobody);
    if (working || !law->family->log_scale) return (span){low, high};
    return (span){exp(low), exp(high)};
}

static hf_status reserve(hf_arena *arena, double count, hf_bench_ladder *out, double **loads) {
    if (!(count >= 1 && count <= HF_BENCH_MOST_LOADS)) return HF_RANGE;
    *loads = HF_ARENA_NEW_ARRAY(arena, double, (size_t)count);
    out->loads = *loads;
    return *loads ? HF_OK : HF_MEMORY;
}

/* Rungs base + j·step over the span, on the working scale or in load. */
static hf_status equal_steps(hf_arena *arena, const hf_coverage_cell *cell, const hf_guess *law,
                             hf_bench_ladder *out) {
    bool working = cell->ladder == HF_LADDER_WORKING, to_load = working && law->family->log_scale;
    bool positive = !to_load && (law->family->log_scale || cell->family->log_scale);
    double deviation = law->deviation, base = law->mean, *loads;
    if (working && law->family->log_scale) {
        deviation = law->s * law->family->deviation_z;
        base = law->m + law->s * law->family->mean_z;
    }
    double step = cell->step * deviation;
    span ends = whole_span(law, working);
    base += cell->offset * deviation;
    double first = ceil((ends.low - base) / step), last = ceil((ends.high - base) / step);
    if (positive) first = fmax(first, floor(-base / step) + 1);
    hf_status status = reserve(arena, last - first + 1, out, &loads);
    if (status != HF_OK) return status;
    for (double j = first; j <= last; j++) {
        double place = base + j * step;
        if (positive && !(place > 0)) continue;
        loads[out->count++] = to_load ? exp(place) : place;
    }
    return HF_OK;
}

/* Coarse steps downwards from the change of speed, fine ones upwards. */
static hf_status two_speed(hf_arena *arena, const hf_coverage_cell *cell, const hf_guess *law,
                           hf_bench_ladder *out) {
    double fine = cell->step * law->deviation, coarse = fine * cell->coarse, *loads;
    double change = speed_change * hf_guess_quantile(law, weak_share) + cell->offset * law->deviation;
    double below = floor(change / coarse), above = ceil((whole_span(law, false).high - change) / fine);
    if (!(change > 0)) return HF_RANGE;
    hf_status status = reserve(arena, below + 1 + above, out, &loads);
    if (status != HF_OK) return status;
    for (double j = below; j >= 0; j--)
        if (change - j * coarse > 0) loads[out->count++] = change - j * coarse;
    for (double j = 1; j <= above; j++) loads[out->count++] = change + j * fine;
    return HF_OK;
}

static hf_status irregular(hf_arena *arena, const hf_coverage_cell *cell, const hf_guess *law,
                           hf_bench_ladder *out) {
    span ends = whole_span(law, false);
    double step = cell->step * law->deviation, place = fmax(ends.low, 0) + cell->offset * law->deviation,
           *loads;
    hf_status status = reserve(arena, ceil(2 * (ends.high - place) / step) + 2, out, &loads);
    if (status != HF_OK) return status;
    hf_random random;
    hf_random_start(&random, cell->ladder_seed, UINT64_MAX);
    while (place <= ends.high) {
        place += step * (0.5 + hf_random_uniform(&random));
        if (place > 0) loads[out->count++] = place;
    }
    return HF_OK;
}

/* Cuts the ladder to the wanted shares of run-outs and first-rung failures. */
static hf_status cut(const hf_coverage_cell *cell, const hf_guess *law, hf_bench_ladder *out) {
    size_t first = 0;
    if (cell->stop_share > 0)
        while (out->count > 0 && 1 - hf_guess_stronger(law, out->loads[out->count - 1]) > cell->stop_share)
            out->count--;
    if (cell->first_share > 0)
        while (first < out->count && 1 - hf_guess_stronger(law, out->loads[first]) < cell->first_share)
            first++;
    out->loads += first;
    out->count -= first;
    return out->count > 0 ? HF_OK : HF_RANGE;
}

hf_status hf_rungs_of(hf_arena *arena, const hf_coverage_cell *cell, const hf_guess *law,
                      hf_bench_ladder *out) {
    hf_status status = HF_OK;
    *out = (hf_bench_ladder){.stop = INFINITY};
    if (cell->ladder == HF_LADDER_CONTINUOUS) {
        if (cell->stop_share > 0) out->stop = hf_guess_quantile(law, cell->stop_share);
        if (cell->first_share > 0)
            out->first = hf_guess_quantile(law, cell->first_share);
        else if (cell->family->log_scale && !law->family->log_scale)
            out->first = 1e-3 * law->mean;
        return HF_OK;
    }
    if (cell->ladder == HF_LADDER_TWO_SPEED)
        status = two_speed(arena, cell, law, out);
    else if (cell->ladder == HF_LADDER_IRREGULAR)
        status = irregular(arena, cell, law, out);
    else
        status = equal_steps(arena, cell, law, out);
    return status == HF_OK ? cut(cell, law, out) : status;
}
