#include "comparing/common_rungs.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/sample.h"

/* Two ends that are the same are one rung written in another unit. */
static bool below(double a, double b) {
    return a < b * (1 - HF_SAME);
}

static bool stepped_over(const hf_observation *items, size_t count, double rung) {
    for (size_t i = 0; i < count; i++)
        if (below(items[i].lower, rung) && below(rung, items[i].upper)) return true;
    return false;
}

static size_t merge_equal(double *loads, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || below(loads[kept - 1], loads[i])) loads[kept++] = loads[i];
    return kept;
}

hf_status hf_common_rungs(hf_arena *arena, const hf_observation *items, size_t count, hf_rungs *out) {
    double *loads = HF_ARENA_NEW_ARRAY(arena, double, 2 * count);
    double lowest = INFINITY, highest = 0;
    size_t ends = 0, exact = 0, kept = 0;
    *out = (hf_rungs){NULL, 0};
    if (!loads) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) {
        lowest = fmin(lowest, items[i].lower);
        highest = fmax(highest, items[i].upper);
        exact += items[i].kind == HF_INTERVAL_EXACT;
        if (items[i].kind == HF_INTERVAL_EXACT) continue;
        loads[ends++] = items[i].lower;
        loads[ends++] = items[i].upper;
    }
    if (ends == 0) return HF_OK;
    hf_vector_sort(loads, ends);
    ends = merge_equal(loads, ends);
    for (size_t i = 0; i < ends; i++)
        if (!stepped_over(items, count, loads[i])) loads[kept++] = loads[i];
    if (kept == ends && exact == 0) return HF_OK;
    if (kept == 0 || below(lowest, loads[0])) {
        memmove(loads + 1, loads, kept * sizeof *loads);
        loads[0] = lowest;
        kept++;
    }
    if (below(loads[kept - 1], highest)) loads[kept++] = highest;
    *out = (hf_rungs){loads, kept};
    return HF_OK;
}

void hf_widen_to_rungs(hf_rungs rungs, hf_observation *items, size_t count) {
    for (size_t i = 0; i < count; i++) {
        hf_observation *item = &items[i];
        size_t up = 0, down = rungs.count;
        while (up < rungs.count && below(rungs.loads[up], item->upper)) up++;
        while (down > 0 && below(item->lower, rungs.loads[down - 1])) down--;
        double lower = down > 0 ? rungs.loads[down - 1] : item->lower;
        double upper = up < rungs.count ? rungs.loads[up] : item->upper;
        /* A reading on a rung belongs to the step below it, on the lowest one to the step above. */
        if (!below(lower, upper) && up > 0)
            lower = rungs.loads[up - 1];
        else if (!below(lower, upper) && up + 1 < rungs.count)
            upper = rungs.loads[up + 1];
        item->lower = lower;
        item->upper = upper;
        item->kind = HF_INTERVAL_CLOSED;
    }
}
