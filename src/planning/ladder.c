#include "holdfast/planning/ladder.h"

#include <math.h>
#include "planning/climb.h"

static const double change_share = 0.75, weak_share = 0.005, normal_weak = 2.6;
static const double outlasting_share = 0.001;
static const double coarse_over_fine = 4; /* the step allowance is proven up to 8 (methods.md 3) */
static const double least_coarse = 2;     /* rungs: the first load must not be a leap in the dark */
enum { FEW_PARTS = 4 };

double hf_ladder_default_step(const hf_guess *guess, size_t parts) {
    return parts > 0 && parts <= FEW_PARTS ? 0.5 * guess->deviation : guess->deviation;
}

double hf_ladder_change(const hf_guess *guess) {
    double weak = guess->family->log_scale ? hf_guess_quantile(guess, weak_share)
                                           : guess->mean - normal_weak * guess->deviation;
    return change_share * weak;
}

static hf_status refuse(hf_ladder *out, hf_ladder_problem problem) {
    out->problem = problem;
    return problem == HF_LADDER_RATING || problem == HF_LADDER_WEIGHTS ? HF_NO_RESULT : HF_RANGE;
}

/* Coarse rungs in equal steps to the change; the last bit below one fine step is left to the fine ones. */
static hf_climb_result climb_coarse(hf_climb *climb, hf_ladder *out) {
    double way = out->change - climb->force, fine = out->step_wanted;
    hf_climb_result result = HF_CLIMBED;
    out->step_coarse = NAN;
    if (!(way > fine)) return result;
    out->step_coarse = way / fmax(ceil(way / (coarse_over_fine * fine) * (1 - 1e-12)), least_coarse);
    if (out->step_coarse < fine) out->step_coarse = fine;
    while (result == HF_CLIMBED && out->change - climb->force >= fine * (1 - 1e-9)) {
        result = hf_climb_up(climb, fmin(out->step_coarse, out->change - climb->force), true);
        if (result == HF_CLIMBED) out->coarse_count++;
    }
    return result;
}

static void widest_step(const hf_ladder_rung *rungs, double tare, hf_ladder *out) {
    for (size_t i = out->coarse_count; i < out->count; i++) {
        double step = rungs[i].force - (i ? rungs[i - 1].force : tare);
        out->step_widest = fmax(out->step_widest, step);
    }
    out->step_too_wide = out->step_widest > out->step_wanted * (1 + 1e-6);
}

void hf_ladder_judge(const hf_guess *guess, const hf_ladder_rig *rig, hf_ladder_rung *rungs,
                     hf_ladder *ladder) {
    double seconds = rig->mount_s, before = rig->tare;
    ladder->expected_rungs = ladder->expected_pieces = 0;
    for (size_t i = 0; i < ladder->count; i++) {
        double reached = i ? hf_guess_stronger(guess, before) : 1;
        double pieces = rig->weights ? rungs[i].weights.handling : 1;
        rungs[i].reached = reached;
        ladder->expected_rungs += reached;
        ladder->expected_pieces += reached * pieces;
        seconds += reached * (rig->dwell_s + pieces * rig->handling_s);
        before = rungs[i].force;
    }
    ladder->minutes_per_pull = seconds / 60;
    ladder->run_out = hf_guess_stronger(guess, before);
    ladder->below_first = ladder->count ? 1 - hf_guess_stronger(guess, rungs[0].force) : 1;
    ladder->over_rating = isfinite(rig->rating) ? hf_guess_stronger(guess, rig->rating) : 0;
    ladder->rating_below_twice_top = rig->rating < 2 * before;
}

hf_status hf_ladder_plan(hf_arena *arena, const hf_guess *guess, size_t parts, double step,
                         const hf_ladder_rig *rig, hf_ladder *out) {
    hf_climb climb;
    *out = (hf_ladder){.step_wanted = step == 0 ? hf_ladder_default_step(guess, parts) : step};
    if (!(out->step_wanted > 0 && out->step_wanted <= guess->mean)) return refuse(out, HF_LADDER_STEP);
    if (!(rig->tare >= 0 && rig->tare < guess->mean)) return refuse(out, HF_LADDER_TARE);
    if (hf_climb_start(arena, rig, &climb) != HF_OK) return HF_MEMORY;
    out->change = hf_ladder_change(guess);
    hf_climb_result result = climb_coarse(&climb, out);
    while (result == HF_CLIMBED && hf_guess_stronger(guess, climb.force) > outlasting_share)
        result = hf_climb_up(&climb, out->step_wanted, false);
    if (result == HF_CLIMB_FULL) return refuse(out, HF_LADDER_TOO_MANY);
    if (climb.count == 0)
        return refuse(out, result == HF_CLIMB_RATING ? HF_LADDER_RATING : HF_LADDER_WEIGHTS);
    out->end = result == HF_CLIMB_RATING    ? HF_LADDER_ENDS_RATING
               : result == HF_CLIMB_WEIGHTS ? HF_LADDER_ENDS_WEIGHTS
                                            : HF_LADDER_ENDS_ABOVE;
    hf_status status = hf_climb_finish(arena, &climb, out);
    if (status != HF_OK) return status;
    widest_step(climb.rungs, rig->tare, out);
    hf_ladder_judge(guess, rig, climb.rungs, out);
    return HF_OK;
}
