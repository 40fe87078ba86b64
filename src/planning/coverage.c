#include "holdfast/planning/coverage.h"

#include <math.h>
#include "holdfast/numeric/parallel.h"
#include "planning/bench.h"
#include "planning/rungs.h"

enum { GROUPS_A_BLOCK = 64, MOST_PARTS = 10000, MEMO_SLOTS = 1 << 15 };

static const char *const ladder_names[] = {"continuous", "working", "load", "two_speed", "irregular"};

const char *hf_coverage_ladder_name(hf_coverage_ladder kind) {
    return ladder_names[kind];
}

typedef struct block_result {
    size_t right, given, open;
    double margin;
} block_result;

typedef struct coverage_job {
    const hf_bench *bench;
    size_t n, groups;
    uint64_t seed;
    double truth;          /* true quantile, working scale of the bound */
    hf_bench_lanes *lanes; /* one per worker */
    block_result *results; /* one per block */
} coverage_job;

static void count_group(const coverage_job *job, hf_bench_lanes *lanes, block_result *result) {
    double bound[HF_LANES];
    hf_bench_pull(job->bench, lanes, 0, job->n);
    hf_bench_bounds(job->bench, lanes, job->n, NULL, bound);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        if (isnan(bound[lane])) continue;
        result->given++;
        result->right += bound[lane] <= job->truth;
        result->margin += bound[lane];
    }
}

static void coverage_block(size_t block, int worker, void *context) {
    const coverage_job *job = context;
    hf_bench_lanes *lanes = &job->lanes[worker];
    block_result result = {0};
    size_t start = block * GROUPS_A_BLOCK, end = start + GROUPS_A_BLOCK;
    hf_random random;
    hf_random_start(&random, job->seed, block);
    lanes->open = 0;
    for (size_t group = start; group < end && group < job->groups; group++) {
        job->bench->law.family->fill(&random, lanes->z, job->n * HF_LANES);
        count_group(job, lanes, &result);
    }
    result.open = lanes->open;
    job->results[block] = result;
}

static void summarize(const coverage_job *job, size_t blocks, hf_coverage *out) {
    size_t right = 0, given = 0, open = 0;
    double margin = 0, count = (double)(job->groups * HF_LANES);
    const hf_guess *law = &job->bench->law;
    for (size_t i = 0; i < blocks; i++) {
        right += job->results[i].right;
        given += job->results[i].given;
        open += job->results[i].open;
        margin += job->results[i].margin;
    }
    out->replicates = job->groups * HF_LANES;
    out->coverage = 1 - (double)(given - right) / count;
    out->standard_error = sqrt(fmax(out->coverage * (1 - out->coverage), 1 / count) / count);
    out->given_bound = given ? (double)right / (double)given : NAN;
    out->bound_share = (double)given / count;
    out->open_share = (double)open / count;
    bool same_scale = law->family->log_scale == job->bench->rule.family->log_scale;
    out->mean_margin = same_scale && given ? (law->m - margin / (double)given) / law->s : NAN;
    out->true_quantile = hf_family_load(job->bench->rule.family, job->truth);
}

static hf_status run(hf_arena *arena, coverage_job *job, hf_coverage *out) {
    size_t blocks = (job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK;
    size_t workers = (size_t)hf_parallel_threads();
    size_t slots = hf_bench_open_share(job->bench) > 1e-3 ? MEMO_SLOTS : 0;
    job->lanes = HF_ARENA_NEW_ARRAY(arena, hf_bench_lanes, workers);
    job->results = HF_ARENA_NEW_ARRAY(arena, block_result, blocks);
    if (!job->lanes || !job->results) return HF_MEMORY;
    for (size_t i = 0; i < workers; i++)
        if (hf_bench_lanes_start(arena, job->n, slots, &job->lanes[i]) != HF_OK) return HF_MEMORY;
    hf_parallel_blocks(blocks, coverage_block, job);
    summarize(job, blocks, out);
    return HF_OK;
}

static hf_status check(const hf_coverage_cell *cell) {
    bool stepped =
        cell->ladder != HF_LADDER_CONTINUOUS && isnan(cell->method->allowance) && !cell->method->bound;
    if (cell->n < 2 || cell->n > MOST_PARTS || cell->replicates < 1) return HF_RANGE;
    if (hf_bound_range(cell->content, cell->confidence, stepped) != HF_OK) return HF_RANGE;
    if (cell->ladder != HF_LADDER_CONTINUOUS && !(cell->step > 0 && isfinite(cell->step))) return HF_RANGE;
    if (!isfinite(cell->offset) || !(cell->stop_share >= 0 && cell->stop_share < 1)) return HF_RANGE;
    if (!(cell->first_share >= 0 && cell->first_share < 1)) return HF_RANGE;
    return cell->ladder != HF_LADDER_TWO_SPEED || cell->coarse >= 1 ? HF_OK : HF_RANGE;
}

static hf_status simulate(hf_arena *arena, const hf_coverage_cell *cell, hf_coverage *out) {
    hf_guess law;
    hf_bench_ladder ladder;
    hf_bench_rule rule;
    hf_bench bench;
    size_t sizes[2] = {cell->n, cell->n};
    hf_status status = hf_guess_of(cell->truth, 1, cell->cv, &law);
    if (status == HF_OK) status = hf_rungs_of(arena, cell, &law, &ladder);
    if (status == HF_OK)
        status = hf_bench_rule_start(arena, cell->family, cell->method, cell->content, cell->confidence,
                                     sizes, &rule);
    if (status == HF_OK) status = hf_bench_start(arena, &law, &ladder, &rule, &bench);
    if (status != HF_OK) return status;
    coverage_job job = {.bench = &bench, .n = cell->n, .seed = cell->seed};
    job.groups = (cell->replicates + HF_LANES - 1) / HF_LANES;
    double quantile = law.m + law.s * law.family->quantile_upper(cell->content);
    bool same_scale = law.family->log_scale == cell->family->log_scale;
    job.truth = same_scale ? quantile : hf_family_working(cell->family, hf_family_load(law.family, quantile));
    return run(arena, &job, out);
}

hf_status hf_coverage_of(const hf_coverage_cell *cell, hf_coverage *out) {
    hf_coverage_cell whole = *cell;
    whole.family = hf_governing_family(cell->family);
    if (!whole.method) whole.method = hf_planning_method_find("formula");
    if (check(&whole) != HF_OK) return HF_RANGE;
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    hf_status status = simulate(arena, &whole, out);
    hf_arena_free(arena);
    return status;
}
