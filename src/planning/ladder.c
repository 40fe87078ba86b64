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

/* Coarse rungs in equal steps to `change`; the last bit below one fine step is left to the fine ones. */
static hf_climb_result climb_coarse(hf_climb *climb, double change, double fine, hf_ladder *out) {
    double way = change - climb->force;
    hf_climb_result result = HF_CLIMBED;
    if (!(way > fine)) return result;
    double coarse = way / fmax(ceil(way / (coarse_over_fine * fine) * (1 - 1e-12)), least_coarse);
    if (coarse < fine) coarse = fine;
    if (isnan(out->step_coarse)) out->step_coarse = coarse;
    while (result == HF_CLIMBED && change - climb->force >= fine * (1 - 1e-9)) {
        result = hf_climb_up(climb, fmin(coarse, change - climb->force), true);
        if (result == HF_CLIMBED) out->coarse_count++;
    }
    return result;
}

typedef struct climbers {
    const hf_ladder_design *designs;
    size_t count;
} climbers;

static bool outlasted(const hf_guess *guess, double force) {
    return !(hf_guess_stronger(guess, force) > outlasting_share);
}

/* The finest step of the designs whose parts break above this force; INFINITY: none does here, and the next that will is *next, NULL when all
 * are outlasted. */
static double fine_step(const climbers *all, double force, const hf_ladder_design **next) {
    double step = INFINITY, nearest = INFINITY;
    *next = NULL;
    for (size_t i = 0; i < all->count; i++) {
        const hf_ladder_design *d = &all->designs[i];
        double change = hf_ladder_change(&d->guess);
        if (outlasted(&d->guess, force)) continue;
        if (!(change - force > d->step))
            step = fmin(step, d->step);
        else if (change < nearest) {
            nearest = change;
            *next = d;
        }
    }
    return step;
}

static hf_climb_result climb_all(hf_climb *climb, const climbers *all, hf_ladder *out) {
    hf_climb_result result = HF_CLIMBED;
    while (result == HF_CLIMBED) {
        const hf_ladder_design *next;
        double step = fine_step(all, climb->force, &next);
        if (isfinite(step))
            result = hf_climb_up(climb, step, false);
        else if (next)
            result = climb_coarse(climb, hf_ladder_change(&next->guess), next->step, out);
        else
            break;
    }
    return result;
}

/* Where parts of the judged design break. */
static void widest_step(const hf_ladder_rung *rungs, const hf_guess *guess, double tare, hf_ladder *out) {
    for (size_t i = 0; i < out->count; i++) {
        double before = i ? rungs[i - 1].force : tare;
        if (rungs[i].coarse || rungs[i].force <= out->change || outlasted(guess, before)) continue;
        out->step_widest = fmax(out->step_widest, rungs[i].force - before);
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

static hf_ladder_problem problem_of(const climbers *all, const hf_ladder_rig *rig) {
    for (size_t i = 0; i < all->count; i++) {
        const hf_ladder_design *d = &all->designs[i];
        if (!(d->step > 0 && d->step <= d->guess.mean)) return HF_LADDER_STEP;
        if (!(rig->tare >= 0 && rig->tare < d->guess.mean)) return HF_LADDER_TARE;
    }
    return HF_LADDER_NO_PROBLEM;
}

static hf_status plan_all(hf_arena *arena, const climbers *all, const hf_ladder_rig *rig, hf_ladder *out) {
    const hf_guess *guess = &all->designs[0].guess;
    hf_climb climb;
    *out = (hf_ladder){
        .step_wanted = all->designs[0].step, .step_coarse = NAN, .change = hf_ladder_change(guess)};
    hf_ladder_problem problem = problem_of(all, rig);
    if (problem != HF_LADDER_NO_PROBLEM) return refuse(out, problem);
    if (hf_climb_start(arena, rig, &climb) != HF_OK) return HF_MEMORY;
    hf_climb_result result = climb_all(&climb, all, out);
    if (result == HF_CLIMB_FULL) return refuse(out, HF_LADDER_TOO_MANY);
    if (climb.count == 0)
        return refuse(out, result == HF_CLIMB_RATING ? HF_LADDER_RATING : HF_LADDER_WEIGHTS);
    out->end = result == HF_CLIMB_RATING    ? HF_LADDER_ENDS_RATING
               : result == HF_CLIMB_WEIGHTS ? HF_LADDER_ENDS_WEIGHTS
                                            : HF_LADDER_ENDS_ABOVE;
    hf_status status = hf_climb_finish(arena, &climb, out);
    if (status != HF_OK) return status;
    widest_step(climb.rungs, guess, rig->tare, out);
    hf_ladder_judge(guess, rig, climb.rungs, out);
    return HF_OK;
}

hf_status hf_ladder_plan_common(hf_arena *arena, const hf_ladder_design *designs, size_t count,
                                const hf_ladder_rig *rig, hf_ladder *out) {
    hf_ladder_design *own = HF_ARENA_NEW_ARRAY(arena, hf_ladder_design, count);
    if (!own) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) {
        own[i] = designs[i];
        if (own[i].step == 0) own[i].step = hf_ladder_default_step(&own[i].guess, 0);
    }
    return plan_all(arena, &(climbers){own, count}, rig, out);
}

hf_status hf_ladder_plan(hf_arena *arena, const hf_guess *guess, size_t parts, double step,
                         const hf_ladder_rig *rig, hf_ladder *out) {
    const hf_ladder_design one = {*guess, step == 0 ? hf_ladder_default_step(guess, parts) : step};
    return plan_all(arena, &(climbers){&one, 1}, rig, out);
}
