/* The table by simulation. A group of HF_LANES samples draws its parts once; sample size n uses the first n of them, so all n
 * (and, with one seed, all scatters) share their random numbers. */
#include <math.h>
#include "holdfast/numeric/parallel.h"
#include "planning/how_many.h"
#include "planning/spread.h"

enum { GROUPS_A_BLOCK = 4, MEMO_SLOTS = 8192 };

typedef struct table_job {
    const hf_bench *bench;
    size_t first, most, groups;
    uint64_t seed;
    hf_bench_lanes *lanes; /* one per worker */
    double *
        loads; /* bound of replicate r with n parts at (n − first)·count + r; −INFINITY where there is none */
    size_t *open; /* by block and n */
} table_job;

static void one_group(const table_job *job, hf_bench_lanes *lanes, size_t group, size_t *open) {
    const hf_family *family = job->bench->rule.family;
    size_t count = job->groups * HF_LANES;
    double bound[HF_LANES];
    hf_random random;
    hf_random_start(&random, job->seed, group);
    job->bench->law.family->fill(&random, lanes->z, job->most * HF_LANES);
    hf_bench_pull(job->bench, lanes, 0, job->most);
    for (size_t n = job->first; n <= job->most; n++) {
        double *row = job->loads + (n - job->first) * count + group * HF_LANES;
        lanes->open = 0;
        hf_bench_bounds(job->bench, lanes, n, NULL, bound);
        open[n - job->first] += lanes->open;
        for (size_t lane = 0; lane < HF_LANES; lane++)
            row[lane] = isnan(bound[lane]) ? -INFINITY : hf_family_load(family, bound[lane]);
    }
}

static void table_block(size_t block, int worker, void *context) {
    const table_job *job = context;
    size_t end = (block + 1) * GROUPS_A_BLOCK;
    for (size_t group = block * GROUPS_A_BLOCK; group < end && group < job->groups; group++)
        one_group(job, &job->lanes[worker], group, job->open + block * (job->most - job->first + 1));
}

static void summarize(double *loads, size_t count, double required, hf_how_many_row *row) {
    hf_spread spread = hf_spread_of(loads, count, required);
    row->expected = spread.mean;
    row->expected_error = spread.mean_error;
    row->low = spread.low;
    row->middle = spread.middle;
    row->high = spread.high;
    row->assurance = spread.reached;
    row->assurance_error = spread.reached_error;
    row->without_bound = spread.missing;
}

hf_status hf_how_many_simulated(hf_arena *arena, const hf_how_many_setup *setup, const hf_bench *bench,
                                size_t replicates, hf_how_many_row *rows) {
    table_job job = {
        .bench = bench, .first = hf_how_many_first(setup), .most = setup->most, .seed = setup->seed};
    size_t workers = (size_t)hf_parallel_threads(), sizes = setup->most - job.first + 1;
    job.groups = (replicates + HF_LANES - 1) / HF_LANES;
    size_t blocks = (job.groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK, count = job.groups * HF_LANES;
    job.lanes = HF_ARENA_NEW_ARRAY(arena, hf_bench_lanes, workers);
    job.loads = HF_ARENA_NEW_ARRAY(arena, double, sizes *count);
    job.open = HF_ARENA_NEW_ARRAY(arena, size_t, blocks * sizes);
    if (!job.lanes || !job.loads || !job.open) return HF_MEMORY;
    for (size_t i = 0; i < workers; i++)
        if (hf_bench_lanes_start(arena, setup->most, MEMO_SLOTS, &job.lanes[i]) != HF_OK) return HF_MEMORY;
    hf_parallel_blocks(blocks, table_block, &job);
    for (size_t i = 0; i < sizes; i++) {
        size_t open = 0;
        for (size_t block = 0; block < blocks; block++) open += job.open[block * sizes + i];
        rows[i].open = (double)open / (double)count;
        summarize(job.loads + i * count, count, setup->required, &rows[i]);
    }
    return HF_OK;
}
