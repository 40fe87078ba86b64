/* Looks while the parts are pulled: the bound at each of them, and what they buy. */
#include <math.h>
#include "study/plan_parts.h"

enum { SAMPLES = 20000 };

/* One table gives the rows of all looks at one confidence. */
static hf_status fill_rows(hf_arena *arena, const hf_plan *plan, double confidence, size_t from, size_t to,
                           hf_how_many_row *rows, hf_error *error) {
    const hf_stated_looks *looks = &plan->setup.looks;
    hf_plan_scenario table = {0};
    if (from == to) return HF_OK;
    hf_status status =
        hf_plan_table(arena, plan, plan->setup.cv, confidence, looks->parts[to - 1], &table, error);
    for (size_t i = from; status == HF_OK && i < to; i++) rows[i] = table.parts.rows[looks->parts[i] - 2];
    return status;
}

/* Exact readings of the guessed law: a fixed number, looked at once, and the plan of looks. */
static hf_status fill_gain(const hf_plan *plan, const hf_look_plan *looks, hf_plan_looks *out) {
    const hf_plan_setup *s = &plan->setup;
    hf_looks_gain_setup setup = {.family = s->family,
                                 .content = s->content,
                                 .required = plan->calibration.needed,
                                 .replicates = SAMPLES,
                                 .seed = s->seed};
    if (!isfinite(setup.required)) return HF_OK;
    const size_t last = looks->parts[looks->count - 1], chosen = plan->base.parts.recommended;
    const size_t parts = chosen ? chosen : last;
    hf_status status = hf_guess_of(hf_family_governing(s->family), s->mean, s->cv, &setup.law);
    if (status == HF_OK) status = hf_looks_gain_of(&setup, looks, out->each.confidence, &out->gain);
    if (status == HF_OK)
        status = hf_looks_gain_of(&setup, &(hf_look_plan){&parts, 1, 0}, s->confidence, &out->fixed);
    if (status != HF_OK) return status;
    out->fixed_parts = parts;
    out->samples = SAMPLES;
    return HF_OK;
}

hf_status hf_plan_make_looks(hf_arena *arena, hf_plan *plan, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    const hf_stated_looks *stated = &s->looks;
    const hf_look_plan looks = {stated->parts, stated->count, stated->early};
    hf_plan_looks *out = &plan->looks;
    if (!stated->given || s->pilot) return HF_OK;
    hf_status status = hf_looks_confidence(&looks, s->content, s->confidence, &out->each);
    if (status == HF_NO_RESULT)
        return hf_error_set(error, HF_USAGE,
                            "early looks at %g: alone they already break a promise of %g, expected a higher "
                            "confidence for them",
                            stated->early, s->confidence);
    if (status != HF_OK)
        return hf_error_set(
            error, status == HF_MEMORY ? status : HF_USAGE,
            "content %g with confidence %g is too strict a promise for looks: ask for less of "
            "both",
            s->content, s->confidence);
    hf_how_many_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_how_many_row, stated->count);
    if (!rows) return hf_error_set(error, HF_MEMORY, "out of memory");
    const size_t early = stated->early > 0 ? stated->count - 1 : 0;
    status = fill_rows(arena, plan, stated->early, 0, early, rows, error);
    if (status == HF_OK)
        status = fill_rows(arena, plan, out->each.confidence, early, stated->count, rows, error);
    if (status != HF_OK) return status;
    out->rows = rows;
    out->count = stated->count;
    status = fill_gain(plan, &looks, out);
    return status == HF_OK ? status : hf_error_set(error, status, "%s", hf_status_text(status));
}
