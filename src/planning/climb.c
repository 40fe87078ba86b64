#include "planning/climb.h"

#include <math.h>

static const double window = 0.75;
static const double slack = 1e-9; /* of a step: keeps a total that just fits from being lost to rounding */

hf_status hf_climb_start(hf_arena *arena, const hf_ladder_rig *rig, hf_climb *out) {
    *out = (hf_climb){.rig = rig, .force = rig->tare};
    out->rungs = HF_ARENA_NEW_ARRAY(arena, hf_ladder_rung, HF_LADDER_MOST);
    return out->rungs ? HF_OK : HF_MEMORY;
}

static int64_t value_up_to(const hf_ladder_rig *rig, double force) {
    double value = floor((force - rig->tare) / rig->force_per_value);
    return value < 0 ? -1 : value > 9e17 ? (int64_t)9e17 : (int64_t)value;
}

/* Largest possible in (now, high], by least handling in the window first. */
static bool with_weights(const hf_climb *climb, double step, hf_weight_load *next) {
    const hf_ladder_rig *rig = climb->rig;
    double high = fmin(climb->force + step * (1 + slack), rig->rating);
    int64_t now = climb->hanging.total, upper = value_up_to(rig, high), total;
    int64_t lower = value_up_to(rig, climb->force + window * step * (1 - slack)) + 1;
    if (lower <= now) lower = now + 1;
    if (hf_weight_next(rig->weights, &climb->hanging, lower, upper, next) == HF_OK) return true;
    if (hf_weight_largest(rig->weights, upper, &total) != HF_OK || total <= now) {
        if (hf_weight_smallest(rig->weights, now, &total) != HF_OK) return false;
    }
    return hf_weight_next(rig->weights, &climb->hanging, total, total, next) == HF_OK;
}

hf_climb_result hf_climb_up(hf_climb *climb, double step, bool coarse) {
    const hf_ladder_rig *rig = climb->rig;
    hf_ladder_rung rung = {.coarse = coarse, .force = climb->force + step, .reached = NAN};
    if (climb->count == HF_LADDER_MOST) return HF_CLIMB_FULL;
    if (rig->weights) {
        if (!with_weights(climb, step, &rung.weights)) return HF_CLIMB_WEIGHTS;
        rung.force = rig->tare + rig->force_per_value * (double)rung.weights.total;
    } else if (rung.force > rig->rating && climb->force < rig->rating)
        rung.force = rig->rating;
    if (rung.force > rig->rating || !(rung.force > climb->force)) return HF_CLIMB_RATING;
    climb->rungs[climb->count++] = rung;
    climb->force = rung.force;
    climb->hanging = rung.weights;
    return HF_CLIMBED;
}

void hf_climb_to(hf_climb *climb, int64_t total, double force) {
    hf_ladder_rung rung = {.force = force, .reached = NAN};
    if (climb->rig->weights)
        (void)hf_weight_next(climb->rig->weights, &climb->hanging, total, total, &rung.weights);
    climb->rungs[climb->count++] = rung;
    climb->force = rung.force;
    climb->hanging = rung.weights;
}

hf_status hf_climb_finish(hf_arena *arena, const hf_climb *climb, hf_ladder *out) {
    double *loads = HF_ARENA_NEW_ARRAY(arena, double, climb->count);
    if (!loads) return HF_MEMORY;
    for (size_t i = 0; i < climb->count; i++) loads[i] = climb->rungs[i].force;
    out->rungs = climb->rungs;
    out->loads = loads;
    out->count = climb->count;
    return HF_OK;
}
