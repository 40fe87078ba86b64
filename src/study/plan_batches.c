/* Parts spread over batches: what each number of them brings at shares of the variance that are assumed. */
#include <math.h>
#include "study/plan_parts.h"

enum { SAMPLES = 4000 };
const double hf_plan_batch_shares[HF_PLAN_BATCH_SHARES] = {0.1, 0.3, 0.5};

/* So many parts over so many batches, as evenly as can be. */
static void spread(size_t parts, size_t batches, size_t *out) {
    for (size_t i = 0; i < batches; i++) out[i] = parts / batches + (i < parts % batches);
}

static hf_status fill_row(hf_arena *arena, const hf_plan *plan, const hf_guess *law, size_t parts,
                          hf_plan_batch_row *row) {
    const hf_plan_setup *s = &plan->setup;
    const double needed = plan->calibration.needed;
    const hf_batch_gain_setup setup = {.family = s->family,
                                       .content = s->content,
                                       .confidence = s->confidence,
                                       .required = isnan(needed) ? NAN : (law->m - log(needed)) / law->s,
                                       .replicates = SAMPLES,
                                       .seed = s->seed};
    size_t *batches = HF_ARENA_NEW_ARRAY(arena, size_t, row->batches);
    if (!batches) return HF_MEMORY;
    spread(parts, row->batches, batches);
    row->least = batches[row->batches - 1];
    row->most = batches[0];
    for (size_t i = 0; i < HF_PLAN_BATCH_SHARES; i++) {
        hf_batch_gain *gain = &row->gain[i];
        hf_status status = hf_batch_gain_of(&setup, batches, row->batches, hf_plan_batch_shares[i], gain);
        if (status != HF_OK) return status;
        row->bound[i] = exp(law->m - law->s * gain->middle);
        row->low[i] = exp(law->m - law->s * gain->long_one);
    }
    return HF_OK;
}

hf_status hf_plan_make_batches(hf_arena *arena, hf_plan *plan, hf_error *error) {
    static const size_t usual[] = {1, 2, 3, 5, 10};
    enum { USUAL = sizeof usual / sizeof *usual };
    const hf_plan_setup *s = &plan->setup;
    hf_plan_batches *out = &plan->batches;
    const size_t parts = hf_plan_parts(plan, &plan->day);
    size_t numbers[USUAL + 1];
    hf_guess law;
    if (s->batches < 2 || s->pilot || !parts) return HF_OK;
    if (!s->batches_asked && (s->batches > parts || !hf_family_governing(s->family)->log_scale)) return HF_OK;
    if (s->batches > parts)
        return hf_error_set(error, HF_USAGE,
                            "--batches %zu: %zu parts are planned, expected at most as many batches "
                            "(--parts says how many parts)",
                            s->batches, parts);
    if (!hf_family_governing(s->family)->log_scale)
        return hf_error_set(
            error, HF_USAGE,
            "--batches: batches are counted on ln load, expected --family weibull or lognormal");
    hf_plan_batch_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_plan_batch_row, USUAL + 1);
    if (!rows) return hf_error_set(error, HF_MEMORY, "out of memory");
    out->count = hf_plan_numbers(usual, USUAL, s->batches, parts, numbers);
    for (size_t i = 0; i < out->count; i++) rows[i].batches = numbers[i];
    hf_status status = hf_guess_of(&hf_family_lognormal, s->mean, s->cv, &law);
    for (size_t i = 0; status == HF_OK && i < out->count; i++)
        status = fill_row(arena, plan, &law, parts, &rows[i]);
    if (status != HF_OK) return hf_error_set(error, status, "%s", hf_status_text(status));
    out->rows = rows;
    out->parts = parts;
    out->samples = SAMPLES;
    return HF_OK;
}
