/* Planning a comparison and a proof. */
#include <math.h>
#include "holdfast/comparing/relabel_power.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/planning/proof.h"
#include "study/plan_parts.h"

enum { MOST_RELABEL = 200, MOST_STEP = 12 };

static hf_status check_contrast(hf_plan_contrast *p, hf_error *error) {
    if (!(p->level > 0 && p->level < 0.5))
        return hf_error_set(error, HF_USAGE, "level %g: expected above 0 and below 0.5", p->level);
    if (!(p->power > p->level && p->power < 1))
        return hf_error_set(error, HF_USAGE, "power %g: expected above the level %g and below 1", p->power,
                            p->level);
    if (p->by_ratio && !(p->ratio > 0 && p->ratio != 1))
        return hf_error_set(error, HF_USAGE, "ratio %g: expected above 0 and not 1", p->ratio);
    if (p->by_ratio && !(p->cv > 0 && p->cv <= 1))
        return hf_error_set(error, HF_USAGE, "--cv: expected a scatter above 0 and at most 1");
    if (!p->by_ratio && !(p->effect > 0))
        return hf_error_set(error, HF_USAGE, "effect %g: expected above 0", p->effect);
    if (!(p->step_sd >= 0 && p->step_sd <= MOST_STEP))
        return hf_error_set(error, HF_USAGE, "step %g: expected 0 to %d standard deviations", p->step_sd,
                            MOST_STEP);
    if (p->given_n == 1)
        return hf_error_set(error, HF_USAGE, "one part of each shows no scatter: expected 2 or more");
    return HF_OK;
}

/* Middles of steps scatter by h²/12 more, and the step allowance takes h²/8 on top: what the test sees of an effect. */
double hf_plan_seen(double effect, double step_sd) {
    return effect / sqrt(1 + step_sd * step_sd * (1.0 / 12 + 1.0 / 8));
}

static void what_can_be_seen(hf_plan_contrast *p, double seen) {
    p->visible_at = p->given_n ? p->given_n : p->n;
    hf_power_setup setup = {(double)p->visible_at, (double)p->visible_at, 1, 1, p->level, p->one_sided};
    if (hf_welch_power_smallest_difference(&setup, p->power, &p->smallest_effect) != HF_OK)
        p->smallest_effect = NAN;
    p->smallest_effect *= p->effect / seen;
    p->smallest_ratio = p->by_ratio ? hf_power_ratio_of_effect(p->smallest_effect, p->cv) : NAN;
    p->power_at_n = hf_welch_power_of(&setup, seen);
}

hf_status hf_plan_contrast_make(hf_plan_contrast *p, hf_error *error) {
    hf_status status = check_contrast(p, error);
    if (status != HF_OK) return status;
    if (p->by_ratio) p->effect = hf_power_effect_of_ratio(p->ratio, p->cv);
    double seen = hf_plan_seen(p->effect, p->step_sd), n = INFINITY, reached;
    hf_power_setup setup = {2, 2, 1, 1, p->level, p->one_sided};
    status = hf_power_parts(&setup, seen, p->power, &p->n_noncentral_t);
    if (status == HF_OK) status = hf_welch_power_parts(&setup, seen, p->power, &n);
    if (status != HF_OK || !isfinite(n))
        return hf_error_set(error, HF_USAGE, "more than a million parts would be needed");
    p->n = (size_t)n;
    hf_relabel_plan relabel = {seen, p->power, p->level, p->one_sided, p->seed, 0};
    if (hf_relabel_parts(&relabel, MOST_RELABEL > p->n + 60 ? MOST_RELABEL : p->n + 60, &p->n_permutation,
                         &reached) != HF_OK)
        p->n_permutation = 0;
    what_can_be_seen(p, seen);
    return HF_OK;
}

hf_status hf_plan_proof_make(hf_plan_proof *p, hf_error *error) {
    if (!(p->content > 0 && p->content < 1 && p->confidence > 0 && p->confidence < 1))
        return hf_error_set(error, HF_USAGE, "content %g, confidence %g: expected both above 0 and below 1",
                            p->content, p->confidence);
    if (p->overload < 1) return hf_error_set(error, HF_USAGE, "overload %g: expected 1 or more", p->overload);
    if (p->overload > 1 && !(p->shape > 0))
        return hf_error_set(error, HF_USAGE,
                            "an overload needs --shape: the low end of the plausible Weibull shapes");
    if (p->shape > 0 && !(p->overload > 1))
        return hf_error_set(error, HF_USAGE,
                            "--shape counts only with an overload: expected --overload above 1 beside it");
    if (p->overload > 1 && p->failures > 0)
        return hf_error_set(error, HF_USAGE, "with an overload no failure is allowed: one voids the proof");
    hf_proof proof = {p->content, p->confidence, p->failures, p->overload, p->shape};
    if (hf_proof_parts(&proof, &p->n) != HF_OK)
        return hf_error_set(error, HF_USAGE, "more than a million parts would be needed");
    size_t n = p->given_n ? p->given_n : p->n;
    if (hf_proof_content(&proof, n, &p->proven_content) != HF_OK) p->proven_content = NAN;
    if (hf_proof_chance(&proof, p->n, 1 - (1 - p->content) / 2, &p->chance_half) != HF_OK)
        p->chance_half = NAN;
    if (hf_proof_chance(&proof, p->n, 1 - (1 - p->content) / 10, &p->chance_tenth) != HF_OK)
        p->chance_tenth = NAN;
    return HF_OK;
}
