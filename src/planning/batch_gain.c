#include "holdfast/planning/batch_gain.h"

#include <math.h>
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "planning/coverage_batches.h"

enum { GROUPS_A_BLOCK = 64, MOST_PARTS = 10000 };

typedef struct gain_job {
    const hf_coverage_cell *cell;
    const hf_bench *bench;
    size_t groups;
    hf_bench_lanes *lanes; /* one per worker */
    double *margin;        /* of every sample; +INFINITY without a bound */
} gain_job;

static void gain_block(size_t block, int worker, void *context) {
    const gain_job *job = context;
    hf_bench_lanes *lanes = &job->lanes[worker];
    double bound[HF_LANES];
    hf_random random;
    hf_random_start(&random, job->cell->seed, block);
    for (size_t group = block * GROUPS_A_BLOCK; group < (block + 1) * GROUPS_A_BLOCK && group < job->groups;
         group++) {
        hf_coverage_batch_fill(job->cell, job->bench, &random, lanes);
        hf_bench_pull(job->bench, lanes, 0, job->cell->n);
        hf_coverage_batch_bounds(job->cell, job->bench, lanes, bound);
        for (size_t lane = 0; lane < HF_LANES; lane++)
            job->margin[group * HF_LANES + lane] = isnan(bound[lane]) ? INFINITY : -bound[lane];
    }
}

static void summarize(const gain_job *job, const hf_batch_gain_setup *setup, hf_batch_gain *out) {
    size_t size = job->groups * HF_LANES, right = 0, reached = 0;
    double truth = hf_normal_quantile_lower(setup->content), count = (double)size;
    hf_vector_sort(job->margin, size);
    for (size_t i = 0; i < size; i++) {
        right += job->margin[i] >= truth;
        reached += job->margin[i] <= setup->required;
    }
    out->middle = 0.5 * (job->margin[(size - 1) / 2] + job->margin[size / 2]);
    out->long_one = job->margin[size - 1 - size / 10];
    out->right = (double)right / count;
    out->right_error = sqrt(fmax(out->right * (1 - out->right), 1 / count) / count);
    out->reached = isnan(setup->required) ? NAN : (double)reached / count;
}

static hf_status simulate(hf_arena *arena, gain_job *job, const hf_batch_gain_setup *setup,
                          hf_batch_gain *out) {
    const hf_coverage_cell *cell = job->cell;
    const hf_guess standard = {.family = &hf_family_lognormal, .mean = 1, .deviation = NAN, .s = 1};
    const hf_bench_ladder read = {.stop = INFINITY};
    size_t sizes[2] = {cell->n, cell->n}, workers = (size_t)hf_parallel_threads();
    hf_bench_rule rule;
    hf_bench bench;
    hf_status status = hf_bench_rule_start(arena, cell->family, hf_planning_method_find("formula"),
                                           cell->content, cell->confidence, sizes, &rule);
    if (status == HF_OK) status = hf_bench_start(arena, &standard, &read, &rule, &bench);
    if (status != HF_OK) return status;
    job->bench = &bench;
    job->groups = (setup->replicates + HF_LANES - 1) / HF_LANES;
    job->margin = HF_ARENA_NEW_ARRAY(arena, double, job->groups *HF_LANES);
    job->lanes = HF_ARENA_NEW_ARRAY(arena, hf_bench_lanes, workers);
    if (!job->margin || !job->lanes) return HF_MEMORY;
    for (size_t i = 0; i < workers; i++)
        if (hf_bench_lanes_start(arena, cell->n, 0, &job->lanes[i]) != HF_OK) return HF_MEMORY;
    hf_parallel_blocks((job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK, gain_block, job);
    summarize(job, setup, out);
    return HF_OK;
}

hf_status hf_batch_gain_of(const hf_batch_gain_setup *setup, const size_t *batches, size_t count,
                           double share, hf_batch_gain *out) {
    hf_coverage_cell cell = {.family = hf_family_governing(setup->family),
                             .content = setup->content,
                             .confidence = setup->confidence,
                             .batches = batches,
                             .batch_count = count,
                             .between_share = share,
                             .batch_alone = setup->batch_alone,
                             .seed = setup->seed};
    *out = (hf_batch_gain){NAN, NAN, NAN, NAN, NAN};
    for (size_t i = 0; i < count; i++) {
        if (batches[i] < 1 || batches[i] > MOST_PARTS) return HF_RANGE;
        cell.n += batches[i];
    }
    if (cell.n < 2 || cell.n > MOST_PARTS || !cell.family->log_scale || setup->replicates < 1)
        return HF_RANGE;
    if (!(share >= 0 && share <= 1) || hf_bound_range(cell.content, cell.confidence, false) != HF_OK)
        return HF_RANGE;
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    gain_job job = {.cell = &cell};
    hf_status status = simulate(arena, &job, setup, out);
    hf_arena_free(arena);
    return status;
}
