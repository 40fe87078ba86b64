#include "holdfast/comparing/modes.h"

#include <math.h>
#include <string.h>
#include "comparing/conditional_draws.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/vector.h"

enum { USUAL_DRAWS = 40000, ROUNDS = 200, AT_ONCE = 256, FIRST_DRAWS = 1024, FIRST_MORE = 8 };

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

hf_mode_content hf_mode_content_of(const hf_family *family, size_t count, double content) {
    double log_content = log(content);
    return (hf_mode_content){log_content, family->quantile_upper(content),
                             family->quantile_upper(exp(log_content / (double)count))};
}

/* Σ ln P(Y_j > x) falls with x: Newton kept inside a bracket. A step of Newton's that is small leaves the square of it. */
hf_status hf_modes_quantile(const hf_family *family, const double *m, const double *s, size_t count,
                            const hf_mode_content *content, double *out) {
    double low = INFINITY, high = INFINITY, narrow = INFINITY, f[3];
    for (size_t j = 0; j < count; j++) {
        high = fmin(high, m[j] + content->alone * s[j]);
        low = fmin(low, m[j] + content->weak * s[j]);
        narrow = fmin(narrow, s[j]);
    }
    double x = high;
    for (int round = 0; round < ROUNDS; round++) {
        double value = -content->log_content, slope = 0;
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
        bool inside = next >= low && next <= high;
        if (!inside) next = 0.5 * (low + high);
        if ((inside && fabs(next - x) <= 1e-7 * narrow) || high - low <= 1e-14 * fabs(x)) {
            *out = next;
            return HF_OK;
        }
        x = next;
    }
    return HF_NUMERIC;
}

/* One bound of several modes together, read off the lowest draws of their quantile: only those below a ceiling are solved. */
typedef struct combination {
    size_t skipped; /* a mode left out; HF_MODE_LIMIT: none */
    hf_mode_content target;
    double ceiling;
    double *low;   /* solved draws of each block, from block·HF_DRAWS_A_BLOCK on; then all of them */
    size_t *count; /* of each block */
    size_t solved;
} combination;

typedef struct combine_job {
    const hf_family *family;
    const hf_draws *draws[HF_MODE_LIMIT]; /* of the fitted modes */
    size_t mode[HF_MODE_LIMIT], fitted, draw_count, block_count, scratch_size;
    double content;
    hf_observation *items; /* room for the sample of a mode */
    combination *combinations;
    size_t count;
    double *scratch, *m, *s; /* of each worker; m, s: a block of draws of each fitted mode */
} combine_job;

static double *block_of(const combine_job *job, double *array, int worker, size_t fitted) {
    return array + ((size_t)worker * job->fitted + fitted) * HF_DRAWS_A_BLOCK;
}

static size_t draw_block(const combine_job *job, size_t block, int worker) {
    size_t left = job->draw_count - block * HF_DRAWS_A_BLOCK;
    size_t count = left < HF_DRAWS_A_BLOCK ? left : HF_DRAWS_A_BLOCK;
    for (size_t j = 0; j < job->fitted; j++)
        hf_draws_block(job->draws[j], block, count, job->scratch + (size_t)worker * job->scratch_size,
                       block_of(job, job->m, worker, j), block_of(job, job->s, worker, j));
    return count;
}

static double solve_draw(const combine_job *job, int worker, const combination *one, size_t i) {
    double m[HF_MODE_LIMIT], s[HF_MODE_LIMIT], out;
    size_t count = 0;
    for (size_t j = 0; j < job->fitted; j++) {
        if (job->mode[j] == one->skipped) continue;
        m[count] = block_of(job, job->m, worker, j)[i];
        s[count++] = block_of(job, job->s, worker, j)[i];
    }
    return hf_modes_quantile(job->family, m, s, count, &one->target, &out) == HF_OK ? out : -INFINITY;
}

/* ln of the share that outlasts the ceiling, of draws at … at + size − 1. */
static void survive_ceiling(const combine_job *job, int worker, const combination *one, size_t at,
                            size_t size, double *out) {
    double z[AT_ONCE], upper[AT_ONCE];
    for (size_t i = 0; i < size; i++) out[i] = 0;
    for (size_t j = 0; j < job->fitted; j++) {
        if (job->mode[j] == one->skipped) continue;
        const double *m = block_of(job, job->m, worker, j) + at, *s = block_of(job, job->s, worker, j) + at;
        for (size_t i = 0; i < size; i++) z[i] = (one->ceiling - m[i]) / s[i];
        job->family->log_tails(z, NULL, upper, size);
        for (size_t i = 0; i < size; i++) out[i] += upper[i];
    }
}

/* A draw lies above the ceiling when more than the content outlasts it. */
static void combine_block(size_t block, int worker, void *context) {
    const combine_job *job = context;
    double survival[AT_ONCE];
    size_t drawn = draw_block(job, block, worker);
    for (const combination *one = job->combinations; one < job->combinations + job->count; one++) {
        double *low = one->low + block * HF_DRAWS_A_BLOCK;
        size_t solved = 0;
        for (size_t at = 0; at < drawn; at += AT_ONCE) {
            size_t size = drawn - at < AT_ONCE ? drawn - at : AT_ONCE;
            survive_ceiling(job, worker, one, at, size, survival);
            for (size_t i = 0; i < size; i++)
                if (!(survival[i] > one->target.log_content))
                    low[solved++] = solve_draw(job, worker, one, at + i);
        }
        one->count[block] = solved;
    }
}

/* Moves the solved draws of all blocks together. */
static void gather(const combine_job *job, combination *one) {
    one->solved = 0;
    for (size_t block = 0; block < job->block_count; block++) {
        memmove(one->low + one->solved, one->low + block * HF_DRAWS_A_BLOCK,
                one->count[block] * sizeof *one->low);
        one->solved += one->count[block];
    }
}

/* The first draws tell the ceilings, which rise until `needed` draws of every combination lie below. */
static void combine_lowest(combine_job *job, size_t needed) {
    size_t first = job->draw_count < FIRST_DRAWS ? job->draw_count : FIRST_DRAWS, fewest = 0;
    for (double share = 1.25; fewest < needed; share *= 2) {
        size_t rank = (size_t)(share * (double)(needed * first) / (double)job->draw_count) + FIRST_MORE;
        draw_block(job, 0, 0);
        for (combination *one = job->combinations; one < job->combinations + job->count; one++) {
            for (size_t i = 0; i < first; i++) one->low[i] = solve_draw(job, 0, one, i);
            one->ceiling = rank < first ? hf_vector_select(one->low, first, rank) : INFINITY;
        }
        hf_parallel_blocks(job->block_count, combine_block, job);
        fewest = job->draw_count;
        for (combination *one = job->combinations; one < job->combinations + job->count; one++) {
            gather(job, one);
            if (one->solved < fewest) fewest = one->solved;
        }
    }
}

static void count_failures(const hf_mode_data *data, hf_mode_result *results) {
    double total = 0;
    for (size_t i = 0; i < data->sample.count; i++) {
        int mode = data->mode[i];
        if (!failed(&data->sample.items[i]) || mode < 0) continue;
        results[mode].failures++;
        total++;
    }
    for (size_t j = 0; j < data->mode_count; j++)
        results[j].share = total > 0 ? (double)results[j].failures / total : 0;
}

static bool modes_in_range(const hf_mode_data *data) {
    if (data->mode_count < 1 || data->mode_count > HF_MODE_LIMIT) return false;
    for (size_t i = 0; i < data->sample.count; i++)
        if (failed(&data->sample.items[i]) &&
            (data->mode[i] < 0 || (size_t)data->mode[i] >= data->mode_count))
            return false;
    return true;
}

/* The bound of a mode alone, and its draws. */
static hf_status fit_mode(hf_arena *scratch, const hf_mode_data *data, size_t mode, uint64_t seed,
                          const hf_modes *out, combine_job *job, hf_mode_result *result) {
    hf_draws *draws;
    hf_sample sample = {job->items, hf_mode_sample(data, mode, job->items)};
    hf_status status = hf_bound_family(out->family, sample, out->content, out->confidence, &result->bound);
    if (status == HF_MEMORY || result->bound.reason == HF_REASON_RANGE) return status;
    if (status == HF_OK) status = hf_draws_start(scratch, out->family, sample, seed + mode, &draws);
    if (status != HF_OK) return status == HF_MEMORY ? HF_MEMORY : HF_OK; /* named, not fitted */
    size_t size = hf_draws_scratch(draws);
    result->fitted = true;
    job->mode[job->fitted] = mode;
    job->draws[job->fitted++] = draws;
    job->scratch_size = size > job->scratch_size ? size : job->scratch_size;
    return HF_OK;
}

static hf_status start_combining(hf_arena *scratch, combine_job *job) {
    size_t workers = (size_t)hf_parallel_threads();
    job->scratch = HF_ARENA_NEW_ARRAY(scratch, double, job->scratch_size *workers);
    job->m = HF_ARENA_NEW_ARRAY(scratch, double, HF_DRAWS_A_BLOCK * job->fitted * workers);
    job->s = HF_ARENA_NEW_ARRAY(scratch, double, HF_DRAWS_A_BLOCK * job->fitted * workers);
    job->combinations = HF_ARENA_NEW_ARRAY(scratch, combination, job->fitted + 1);
    if (!job->scratch || !job->m || !job->s || !job->combinations) return HF_MEMORY;
    /* One mode left alone is not simulated: its own bound is known. */
    job->count = job->fitted < 2 ? 0 : job->fitted == 2 ? 1 : job->fitted + 1;
    for (size_t i = 0; i < job->count; i++) {
        combination *one = &job->combinations[i];
        one->skipped = i ? job->mode[i - 1] : HF_MODE_LIMIT;
        one->target = hf_mode_content_of(job->family, job->fitted - (i > 0), job->content);
        one->low = HF_ARENA_NEW_ARRAY(scratch, double, job->draw_count);
        one->count = HF_ARENA_NEW_ARRAY(scratch, size_t, job->block_count);
        if (!one->low || !one->count) return HF_MEMORY;
    }
    return HF_OK;
}

/* Lower 1 − C quantile of the combined draws as load, with the standard error of the simulation. */
static double read_bound(const combine_job *job, combination *one, double tail, double spread,
                         double *error) {
    double size = (double)job->draw_count;
    size_t rank[3] = {(size_t)fmax(0, (tail - spread) * size), (size_t)(tail * size),
                      (size_t)fmin(size - 1, (tail + spread) * size)};
    double load[3];
    for (int i = 0; i < 3; i++)
        load[i] = hf_family_load(job->family, hf_vector_select(one->low, one->solved, rank[i]));
    *error = 0.5 * (load[2] - load[0]);
    return load[1];
}

static void read_bounds(combine_job *job, hf_modes *out, hf_mode_result *results) {
    double tail = 1 - out->confidence, spread = sqrt(tail * out->confidence / (double)job->draw_count);
    if (job->fitted == 1) {
        out->bound = results[job->mode[0]].bound.value;
        out->standard_error = 0;
    }
    if (job->fitted == 2)
        for (size_t j = 0; j < 2; j++) {
            results[job->mode[j]].without = results[job->mode[1 - j]].bound.value;
            results[job->mode[j]].without_error = 0;
        }
    if (job->fitted < 2) return;
    combine_lowest(job,
                   1 + (size_t)fmin((double)job->draw_count - 1, (tail + spread) * (double)job->draw_count));
    out->bound = read_bound(job, job->combinations, tail, spread, &out->standard_error);
    for (size_t i = 1; i < job->count; i++) {
        hf_mode_result *result = &results[job->combinations[i].skipped];
        result->without = read_bound(job, &job->combinations[i], tail, spread, &result->without_error);
    }
}

static hf_status modes_of(hf_arena *arena, hf_arena *scratch, const hf_mode_data *data, uint64_t seed,
                          hf_modes *out) {
    combine_job job = {.family = out->family, .draw_count = out->draws, .content = out->content};
    job.block_count = (out->draws + HF_DRAWS_A_BLOCK - 1) / HF_DRAWS_A_BLOCK;
    hf_mode_result *results = HF_ARENA_NEW_ARRAY(arena, hf_mode_result, data->mode_count);
    job.items = HF_ARENA_NEW_ARRAY(scratch, hf_observation, data->sample.count);
    if (!results || !job.items) return HF_MEMORY;
    out->modes = results;
    out->count = data->mode_count;
    count_failures(data, results);
    for (size_t j = 0; j < out->count; j++) {
        results[j].without = results[j].without_error = NAN;
        hf_status status = fit_mode(scratch, data, j, seed, out, &job, &results[j]);
        if (status != HF_OK) return status;
        if (!results[j].fitted) out->unfitted_failures += results[j].failures;
    }
    if (job.fitted == 0) return HF_NO_RESULT;
    if (start_combining(scratch, &job) != HF_OK) return HF_MEMORY;
    read_bounds(&job, out, results);
    return HF_OK;
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
