#include <math.h>
#include "holdfast/planning/proof.h"
#include "planning/climb.h"

/* Shares of the proof load on the way to it: nothing is hung in one go. */
static const double on_the_way[] = {0.5, 0.75};

/* The least load that can be made and is not below `load`. */
static hf_status least_of(const hf_ladder_rig *rig, double load, int64_t *total, double *force) {
    *force = load;
    if (!rig->weights) return HF_OK;
    double value = ceil((load - rig->tare) / rig->force_per_value * (1 - 1e-12));
    if (!(value < 9e17) || hf_weight_smallest(rig->weights, (int64_t)value - 1, total) != HF_OK)
        return HF_NO_RESULT;
    *force = rig->tare + rig->force_per_value * (double)*total;
    return HF_OK;
}

/* A rung near this force, unless it would reach the proof load. */
static void climb_near(hf_climb *climb, double force, double top) {
    const hf_climb before = *climb;
    if (force <= climb->force) return;
    if (hf_climb_up(climb, force - climb->force, true) != HF_CLIMBED || climb->force >= top * (1 - 1e-9))
        *climb = before;
}

static void count_minutes(const hf_ladder_rig *rig, hf_ladder *out) {
    double pieces = 0;
    for (size_t i = 0; i < out->count; i++) pieces += rig->weights ? out->rungs[i].weights.handling : 1;
    out->expected_rungs = (double)out->count;
    out->expected_pieces = pieces;
    out->minutes_per_pull =
        (rig->mount_s + rig->dwell_s * (double)out->count + rig->handling_s * pieces) / 60;
}

hf_status hf_proof_ladder(hf_arena *arena, double load, const hf_ladder_rig *rig, hf_ladder *out) {
    hf_climb climb;
    int64_t total = 0;
    double top;
    *out = (hf_ladder){.step_coarse = NAN, .step_wanted = NAN, .step_widest = NAN, .change = NAN};
    out->run_out = out->below_first = out->over_rating = NAN;
    out->problem = rig->tare >= load ? HF_LADDER_TARE : HF_LADDER_NO_PROBLEM;
    if (out->problem == HF_LADDER_NO_PROBLEM && least_of(rig, load, &total, &top) != HF_OK)
        out->problem = HF_LADDER_WEIGHTS;
    else if (out->problem == HF_LADDER_NO_PROBLEM && top > rig->rating)
        out->problem = HF_LADDER_RATING;
    if (out->problem != HF_LADDER_NO_PROBLEM) return HF_NO_RESULT;
    if (hf_climb_start(arena, rig, &climb) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < sizeof on_the_way / sizeof *on_the_way; i++)
        climb_near(&climb, rig->tare + on_the_way[i] * (top - rig->tare), top);
    out->coarse_count = climb.count;
    hf_climb_to(&climb, total, top);
    hf_status status = hf_climb_finish(arena, &climb, out);
    if (status != HF_OK) return status;
    out->rating_below_twice_top = rig->rating < 2 * top;
    out->end = HF_LADDER_ENDS_ABOVE;
    count_minutes(rig, out);
    return HF_OK;
}
