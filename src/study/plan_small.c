/* Planning a comparison and a proof. */
#include <math.h>
#include "holdfast/comparing/power.h"
#include "holdfast/comparing/relabel_power.h"
#include "holdfast/planning/proof.h"
#include "holdfast/study/plan.h"

enum { MOST_RELABEL = 200 };

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
    if (p->given_n == 1)
        return hf_error_set(error, HF_USAGE, "one part of each shows no scatter: expected 2 or more");
    return HF_OK;
}

hf_status hf_plan_contrast_make(hf_plan_contrast *p, hf_error *error) {
    hf_status status = check_contrast(p, error);
    if (status != HF_OK) return status;
    if (p->by_ratio) p->effect = hf_power_effect_of_ratio(p->ratio, p->cv);
    status = hf_power_parts_for_effect(p->effect, p->power, p->level, p->one_sided, &p->n_unrounded);
    if (status != HF_OK || !isfinite(p->n_unrounded))
        return hf_error_set(error, HF_USAGE, "more than a million parts would be needed");
    p->n = (size_t)ceil(p->n_unrounded - 1e-9);
    hf_relabel_plan relabel = {p->effect, p->power, p->level, p->one_sided, p->seed, 0};
    double reached;
    if (hf_relabel_parts(&relabel, MOST_RELABEL > p->n + 60 ? MOST_RELABEL : p->n + 60, &p->n_permutation,
                         &reached) != HF_OK)
        p->n_permutation = 0;
    p->visible_at = p->given_n ? p->given_n : p->n;
    hf_power_setup setup = {(double)p->visible_at, (double)p->visible_at, 1, 1, p->level, p->one_sided};
    if (hf_power_smallest_difference(&setup, p->power, &p->smallest_effect) != HF_OK)
        p->smallest_effect = NAN;
    p->smallest_ratio = p->by_ratio ? hf_power_ratio_of_effect(p->smallest_effect, p->cv) : NAN;
    p->power_at_n = hf_power_of(&setup, p->effect);
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
