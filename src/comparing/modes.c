#include "holdfast/comparing/modes.h"

#include <math.h>
#include <string.h>
#include "holdfast/comparing/quantile_difference.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/vector.h"

enum { USUAL_DRAWS = 40000, DRAWS_A_BLOCK = 4096, ROUNDS = 200 };

static bool failed(const hf_observation *item) {
    return item->kind != HF_INTERVAL_ABOVE;
}

size_t hf_mode_sample(const hf_mode_data *data, size_t mode, hf_observation *out) {
    size_t count = 0;
    for (size_t i = 0; i < data->sample.count; i++) {
        hf_observation item = data->sample.items[i];
        if (failed(&item) && data->mode[i] != (int)mode) {
            item.kind = HF_INTERVAL_ABOVE;
            item.upper = INFINITY;
            item.dropped = false;
        }
        if (failed(&item) || item.lower > 0) out[count++] = item;
    }
    return count;
}

/* Σ ln P(Y_j > x) falls with x: Newton kept inside a bracket. */
hf_status hf_modes_quantile(const hf_family *family, const double *m, const double *s, size_t count,
                            double content, double *out) {
    double target = log(content), low = -INFINITY, high = INFINITY, f[3], narrow = INFINITY;
    for (size_t j = 0; j < count; j++) {
        /* Alone, a mode with content P^(1/count) or P bounds the answer from below and above. */
        double z = family->quantile_upper(content),
               weak = family->quantile_upper(exp(target / (double)count));
        high = fmin(isinf(high) ? INFINITY : high, m[j] + z * s[j]);
        low = j == 0 ? m[j] + weak * s[j] : fmin(low, m[j] + weak * s[j]);
        narrow = fmin(narrow, s[j]);
    }
    double x = high;
    for (int round = 0; round < ROUNDS; round++) {
        double value = -target, slope = 0;
        for (size_t j = 0; j < count; j++) {
            family->log_upper((x - m[j]) / s[j], f);
            value += f[0];
            slope += f[1] / s[j];
        }
        if (value > 0)
            low = x;
        else
            high = x;
        double next = x - value / slope;
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        if (fabs(next - x) <= 1e-10 * narrow || high - low <= 1e-14 * fabs(x)) {
            *out = next;
            return HF_OK;
        }
        x = next;
    }
    return HF_NUMERIC;
}

typedef struct combine_job {
    const hf_family *family;
    const double *m[HF_MODE_LIMIT], *s[HF_MODE_LIMIT];
    size_t count, draws;
    double content;
    double *out;
} combine_job;

static void combine_block(size_t block, int worker, void *context) {
    const combine_job *job = context;
    size_t start = block * DRAWS_A_BLOCK;
    size_t end = start + DRAWS_A_BLOCK < job->draws ? start + DRAWS_A_BLOCK : job->draws;
    double m[HF_MODE_LIMIT], s[HF_MODE_LIMIT];
    (void)worker;
    for (size_t i = start; i < end; i++) {
        for (size_t j = 0; j < job->count; j++) {
            m[j] = job->m[j][i];
            s[j] = job->s[j][i];
        }
        if (hf_modes_quantile(job->family, m, s, job->count, job->content, &job->out[i]) != HF_OK)
            job->out[i] = -INFINITY;
    }
}

/* Lower 1 − C quantile of the combined draws as load, with the standard error of the simulation. */
static double combined_bound(combine_job *job, double confidence, double *error) {
    double size = (double)job->draws, tail = 1 - confidence, spread = sqrt(tail * confidence / size);
    hf_parallel_blocks((job->draws + DRAWS_A_BLOCK - 1) / DRAWS_A_BLOCK, combine_block, job);
    size_t low = (size_t)fmax(0, (tail - spread) * size),
           high = (size_t)fmin(size - 1, (tail + spread) * size);
    double value = hf_family_load(job->family, hf_vector_select(job->out, job->draws, (size_t)(tail * size)));
    double upper = hf_family_load(job->family, hf_vector_select(job->out, job->draws, high));
    double lower = hf_family_load(job->family, hf_vector_select(job->out, job->draws, low));
    *error = 0.5 * (upper - lower);
    return value;
}

typedef struct modes_work {
    hf_arena *scratch; /* draws of every mode: given back when the bounds are known */
    const hf_mode_data *data;
    hf_modes *out;
    hf_mode_result *results;
    uint64_t seed;
    hf_observation *items;
    double *m[HF_MODE_LIMIT], *s[HF_MODE_LIMIT], *combined;
} modes_work;

/* All fitted modes but `skipped` (SIZE_MAX: none). */
static double bound_without(modes_work *work, size_t skipped, double *error) {
    combine_job job = {.family = work->out->family, .draws = work->out->draws, .content = work->out->content};
    job.out = work->combined;
    size_t last = 0;
    *error = NAN;
    for (size_t j = 0; j < work->out->count; j++) {
        if (j == skipped || !work->results[j].fitted) continue;
        last = j;
        job.m[job.count] = work->m[j];
        job.s[job.count++] = work->s[j];
    }
    if (job.count == 0) return NAN;
    if (job.count > 1) return combined_bound(&job, work->out->confidence, error);
    *error = 0; /* nothing to combine: its own bound, which is not simulated */
    return work->results[last].bound.value;
}

static hf_status fit_mode(modes_work *work, size_t mode) {
    hf_modes *out = work->out;
    hf_mode_result *result = &work->results[mode];
    hf_sample sample = {work->items, hf_mode_sample(work->data, mode, work->items)};
    hf_status status = hf_bound_family(out->family, sample, out->content, out->confidence, &result->bound);
    if (status == HF_MEMORY || result->bound.reason == HF_REASON_RANGE) return status;
    if (status != HF_OK) return HF_OK; /* named, not fitted */
    work->m[mode] = HF_ARENA_NEW_ARRAY(work->scratch, double, out->draws);
    work->s[mode] = HF_ARENA_NEW_ARRAY(work->scratch, double, out->draws);
    if (!work->m[mode] || !work->s[mode]) return HF_MEMORY;
    status = hf_conditional_draws(out->family, sample, work->seed + mode, out->draws, work->m[mode],
                                  work->s[mode]);
    result->fitted = status == HF_OK;
    return status == HF_MEMORY ? status : HF_OK;
}

static void count_failures(modes_work *work) {
    double total = 0;
    for (size_t i = 0; i < work->data->sample.count; i++) {
        int mode = work->data->mode[i];
        if (!failed(&work->data->sample.items[i]) || mode < 0 || (size_t)mode >= work->out->count) continue;
        work->results[mode].failures++;
        total++;
    }
    for (size_t j = 0; j < work->out->count; j++)
        work->results[j].share = total > 0 ? (double)work->results[j].failures / total : 0;
}

static bool modes_in_range(const hf_mode_data *data) {
    if (data->mode_count < 1 || data->mode_count > HF_MODE_LIMIT) return false;
    for (size_t i = 0; i < data->sample.count; i++)
        if (failed(&data->sample.items[i]) &&
            (data->mode[i] < 0 || (size_t)data->mode[i] >= data->mode_count))
            return false;
    return true;
}

static hf_status fit_all(modes_work *work) {
    hf_modes *out = work->out;
    size_t fitted = 0;
    for (size_t j = 0; j < out->count; j++) {
        hf_status status = fit_mode(work, j);
        if (status != HF_OK) return status;
        if (work->results[j].fitted)
            fitted++;
        else
            out->unfitted_failures += work->results[j].failures;
    }
    if (fitted == 0) return HF_NO_RESULT;
    out->bound = bound_without(work, SIZE_MAX, &out->standard_error);
    for (size_t j = 0; j < out->count; j++)
        if (work->results[j].fitted)
            work->results[j].without = bound_without(work, j, &work->results[j].without_error);
    return HF_OK;
}

static hf_status modes_of(hf_arena *arena, hf_arena *scratch, const hf_mode_data *data, uint64_t seed,
                          hf_modes *out) {
    modes_work work = {.scratch = scratch, .data = data, .out = out, .seed = seed};
    work.results = HF_ARENA_NEW_ARRAY(arena, hf_mode_result, data->mode_count);
    work.items = HF_ARENA_NEW_ARRAY(scratch, hf_observation, data->sample.count);
    work.combined = HF_ARENA_NEW_ARRAY(scratch, double, out->draws);
    if (!work.results || !work.items || !work.combined) return HF_MEMORY;
    out->modes = work.results;
    out->count = data->mode_count;
    for (size_t j = 0; j < out->count; j++) work.results[j].without = work.results[j].without_error = NAN;
    count_failures(&work);
    return fit_all(&work);
}

hf_status hf_modes_of(hf_arena *arena, const hf_family *family, const hf_mode_data *data, double content,
                      double confidence, uint64_t seed, size_t draws, hf_modes *out) {
    memset(out, 0, sizeof *out);
    out->family = family;
    out->content = content;
    out->confidence = confidence;
    out->bound = out->standard_error = NAN;
    if (!modes_in_range(data) || hf_bound_range(content, confidence, false) != HF_OK) return HF_RANGE;
    out->draws = draws ? draws : USUAL_DRAWS;
    hf_arena *scratch = hf_arena_create();
    hf_status status = scratch ? modes_of(arena, scratch, data, seed, out) : HF_MEMORY;
    hf_arena_free(scratch);
    return status;
}
