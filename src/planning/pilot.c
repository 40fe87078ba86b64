#include "holdfast/planning/pilot.h"

#include <math.h>
#include "planning/climb.h"

static const double most_ratio = 4, ninety_percent = 1.6448536269514722;

static hf_status refuse(hf_ladder *out, hf_status status, hf_ladder_problem problem) {
    out->problem = problem;
    return status;
}

hf_status hf_pilot_ladder(hf_arena *arena, double start, double top, double ratio, const hf_ladder_rig *rig,
                          hf_ladder *out) {
    hf_climb climb;
    *out = (hf_ladder){.step_coarse = NAN, .step_wanted = NAN, .step_widest = NAN, .change = NAN};
    out->expected_rungs = out->expected_pieces = out->minutes_per_pull = NAN;
    out->run_out = out->below_first = out->over_rating = NAN;
    if (!(start > 0 && top > start && isfinite(top) && ratio > 1 && ratio <= most_ratio))
        return refuse(out, HF_RANGE, HF_LADDER_STEP);
    if (!(rig->tare >= 0 && rig->tare < start)) return refuse(out, HF_RANGE, HF_LADDER_TARE);
    if (hf_climb_start(arena, rig, &climb) != HF_OK) return HF_MEMORY;
    hf_climb_result result = hf_climb_up(&climb, start - rig->tare, true);
    while (result == HF_CLIMBED && climb.force < top * (1 - 1e-9))
        result = hf_climb_up(&climb, climb.force * (ratio - 1), true);
    if (result == HF_CLIMB_FULL) return refuse(out, HF_RANGE, HF_LADDER_TOO_MANY);
    if (climb.count == 0)
        return refuse(out, HF_NO_RESULT, result == HF_CLIMB_RATING ? HF_LADDER_RATING : HF_LADDER_WEIGHTS);
    out->end = result == HF_CLIMB_RATING    ? HF_LADDER_ENDS_RATING
               : result == HF_CLIMB_WEIGHTS ? HF_LADDER_ENDS_WEIGHTS
                                            : HF_LADDER_ENDS_ABOVE;
    out->coarse_count = climb.count;
    out->rating_below_twice_top = rig->rating < 2 * climb.force;
    return hf_climb_finish(arena, &climb, out);
}

hf_status hf_pilot_update(const hf_pilot_belief *before, double cv, hf_observation pull,
                          hf_pilot_belief *after) {
    if (!(cv > 0 && cv <= 1)) return HF_RANGE;
    if (pull.kind == HF_INTERVAL_BELOW || pull.kind == HF_INTERVAL_ABOVE) return HF_NO_RESULT;
    if (!(pull.lower > 0 && pull.upper >= pull.lower && isfinite(pull.upper))) return HF_RANGE;
    double width = log(pull.upper / pull.lower) * (pull.dropped ? 2 : 1);
    double middle = 0.5 * (log(pull.lower) + log(pull.upper)), variance = cv * cv + width * width / 12;
    double old_precision =
        before && isfinite(before->uncertainty) ? 1 / (before->uncertainty * before->uncertainty) : 0;
    double precision = old_precision + 1 / variance;
    double place = middle / variance + (old_precision > 0 ? old_precision * log(before->mean) : 0);
    after->mean = exp(place / precision);
    after->uncertainty = 1 / sqrt(precision);
    after->low = after->mean * exp(-ninety_percent * after->uncertainty);
    after->high = after->mean * exp(ninety_percent * after->uncertainty);
    return HF_OK;
}
