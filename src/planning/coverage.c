#include "holdfast/planning/coverage.h"

#include <math.h>
#include "holdfast/numeric/parallel.h"
#include "planning/bench.h"
#include "planning/coverage_batches.h"
#include "planning/coverage_library.h"
#include "planning/rungs.h"

enum {
    GROUPS_A_BLOCK = 64,
    MOST_PARTS = 10000,
    MOST_DESIGNS = 1000,
    MOST_PAST = 10000,
    MEMO_SLOTS = 1 << 15
};
static const double margin_unit = 65536;

static const char *const ladder_names[] = {"continuous", "working", "load", "two_speed", "irregular"};

const char *hf_coverage_ladder_name(hf_coverage_ladder kind) {
    return ladder_names[kind];
}

typedef struct coverage_job {
    const hf_coverage_cell *cell;
    const hf_bench *bench;
    size_t groups, shard, shards;
    double truth, location,
        deviation;         /* true quantile, and what a margin is measured with: working scale of the bound */
    hf_bench_lanes *lanes; /* one per worker */
    const hf_guess *law;   /* with earlier designs */
    hf_coverage_library *rooms;
    hf_coverage_counts *results; /* one per block of this shard */
} coverage_job;

/* Samples side by side: the bound that counts (NaN: none), and whether every bound given was right. */
typedef struct outcome {
    double bound[HF_LANES];
    bool given[HF_LANES], right[HF_LANES];
} outcome;

static void take_look(const coverage_job *job, hf_bench_lanes *lanes, size_t n, outcome *out) {
    if (job->cell->batches)
        hf_coverage_batch_bounds(job->cell, job->bench, lanes, out->bound);
    else
        hf_bench_bounds(job->bench, lanes, n, NULL, out->bound);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        if (isnan(out->bound[lane])) continue;
        out->given[lane] = true;
        out->right[lane] &= out->bound[lane] <= job->truth;
    }
}

static void pull_design(const coverage_job *job, hf_bench_lanes *lanes, hf_random *random, outcome *out) {
    const hf_coverage_cell *cell = job->cell;
    if (cell->batches)
        hf_coverage_batch_fill(cell, job->bench, random, lanes);
    else
        job->bench->law.family->fill(random, lanes->z, cell->n * HF_LANES);
    hf_bench_pull(job->bench, lanes, 0, cell->n);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        out->given[lane] = false;
        out->right[lane] = true;
    }
    for (size_t i = 0; cell->looks && i < cell->looks->count; i++)
        take_look(job, lanes, cell->looks->parts[i], out);
    if (!cell->looks) take_look(job, lanes, cell->n, out);
}

/* The design with the highest bound; one without a bound is only chosen when none has one. */
static void choose(outcome *best, const outcome *other) {
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        if (isnan(other->bound[lane]) || best->bound[lane] >= other->bound[lane]) continue;
        best->bound[lane] = other->bound[lane];
        best->given[lane] = other->given[lane];
        best->right[lane] = other->right[lane];
    }
}

static void count_group(const coverage_job *job, hf_bench_lanes *lanes, hf_random *random,
                        hf_coverage_counts *result) {
    outcome best, other;
    pull_design(job, lanes, random, &best);
    for (size_t design = 1; design < job->cell->designs; design++) {
        pull_design(job, lanes, random, &other);
        choose(&best, &other);
    }
    result->replicates += HF_LANES;
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        if (!best.given[lane]) continue;
        result->given++;
        result->right += best.right[lane];
        if (isfinite(best.bound[lane]))
            result->margin += llrint((job->location - best.bound[lane]) / job->deviation * margin_unit);
    }
}

/* The lanes of one group for a design that counts on earlier ones. */
static void count_library(const coverage_job *job, hf_coverage_library *room, hf_random *random,
                          hf_coverage_counts *result) {
    for (size_t lane = 0; lane < HF_LANES; lane++)
        hf_coverage_library_count(job->cell, job->law, random, room, margin_unit, result);
}

/* Blocks shard, shard + shards, …: a sample has its number, and with it its random stream, whoever draws it. */
static void coverage_block(size_t index, int worker, void *context) {
    const coverage_job *job = context;
    hf_bench_lanes *lanes = job->lanes ? &job->lanes[worker] : NULL;
    hf_coverage_counts result = {0};
    size_t block = index * job->shards + job->shard, start = block * GROUPS_A_BLOCK;
    hf_random random;
    hf_random_start(&random, job->cell->seed, block);
    if (lanes) lanes->open = 0;
    for (size_t group = start; group < start + GROUPS_A_BLOCK && group < job->groups; group++)
        if (lanes)
            count_group(job, lanes, &random, &result);
        else
            count_library(job, &job->rooms[worker], &random, &result);
    if (lanes) result.open = lanes->open;
    job->results[index] = result;
}

void hf_coverage_add(hf_coverage_counts *sum, const hf_coverage_counts *other) {
    sum->replicates += other->replicates;
    sum->given += other->given;
    sum->right += other->right;
    sum->open += other->open;
    sum->margin += other->margin;
}

static hf_status start_rooms(hf_arena *arena, coverage_job *job, size_t workers) {
    job->rooms = HF_ARENA_NEW_ARRAY(arena, hf_coverage_library, workers);
    hf_status status = job->rooms ? HF_OK : HF_MEMORY;
    for (size_t i = 0; status == HF_OK && i < workers; i++)
        status = hf_coverage_library_start(arena, job->cell, &job->rooms[i]);
    return status;
}

static hf_status start_lanes(hf_arena *arena, coverage_job *job, size_t workers) {
    size_t slots = hf_bench_open_share(job->bench) > 1e-3 ? MEMO_SLOTS : 0;
    job->lanes = HF_ARENA_NEW_ARRAY(arena, hf_bench_lanes, workers);
    hf_status status = job->lanes ? HF_OK : HF_MEMORY;
    for (size_t i = 0; status == HF_OK && i < workers; i++)
        status = hf_bench_lanes_start(arena, job->cell->n, slots, &job->lanes[i]);
    return status;
}

static hf_status run(hf_arena *arena, coverage_job *job, hf_coverage_counts *out) {
    size_t blocks = (job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK;
    size_t mine = blocks > job->shard ? (blocks - job->shard - 1) / job->shards + 1 : 0;
    size_t workers = (size_t)hf_parallel_threads();
    job->results = HF_ARENA_NEW_ARRAY(arena, hf_coverage_counts, mine + 1);
    hf_status status = job->bench ? start_lanes(arena, job, workers) : start_rooms(arena, job, workers);
    if (!job->results || status != HF_OK) return HF_MEMORY;
    hf_parallel_blocks(mine, coverage_block, job);
    for (size_t i = 0; i < mine; i++) hf_coverage_add(out, &job->results[i]);
    return HF_OK;
}

static hf_status check_looks(const hf_coverage_cell *cell) {
    const hf_look_plan *plan = cell->looks;
    if (!plan) return HF_OK;
    if (plan->count < 1 || plan->parts[0] < 2 || plan->parts[plan->count - 1] != cell->n || plan->early != 0)
        return HF_RANGE;
    for (size_t i = 1; i < plan->count; i++)
        if (plan->parts[i] <= plan->parts[i - 1]) return HF_RANGE;
    return cell->batches ? HF_RANGE : HF_OK;
}

static hf_status check_batches(const hf_coverage_cell *cell) {
    size_t parts = 0;
    if (!cell->batches) return HF_OK;
    for (size_t i = 0; i < cell->batch_count; i++) {
        if (cell->batches[i] < 1) return HF_RANGE;
        parts += cell->batches[i];
    }
    bool formula = isnan(cell->method->allowance) && !cell->method->bound;
    if (parts != cell->n || cell->batch_count < 1 || !cell->family->log_scale || !formula) return HF_RANGE;
    return cell->between_share >= 0 && cell->between_share <= 1 ? HF_OK : HF_RANGE;
}

static hf_status check(const hf_coverage_cell *cell) {
    bool stepped =
        cell->ladder != HF_LADDER_CONTINUOUS && isnan(cell->method->allowance) && !cell->method->bound;
    if (cell->past_designs > MOST_PAST || cell->past_parts > MOST_PARTS ||
        (cell->past_designs && hf_coverage_library_check(cell) != HF_OK))
        return HF_RANGE;
    if ((cell->n < 2 && !cell->past_designs) || cell->n > MOST_PARTS || cell->replicates < 1 ||
        cell->designs > MOST_DESIGNS)
        return HF_RANGE;
    if (check_looks(cell) != HF_OK || check_batches(cell) != HF_OK) return HF_RANGE;
    if (hf_bound_range(cell->content, cell->confidence, stepped) != HF_OK) return HF_RANGE;
    if (cell->ladder != HF_LADDER_CONTINUOUS && !(cell->step > 0 && isfinite(cell->step))) return HF_RANGE;
    if (!isfinite(cell->offset) || !(cell->stop_share >= 0 && cell->stop_share < 1)) return HF_RANGE;
    if (!(cell->first_share >= 0 && cell->first_share < 1)) return HF_RANGE;
    return cell->ladder != HF_LADDER_TWO_SPEED || cell->coarse >= 1 ? HF_OK : HF_RANGE;
}

/* The true law, and its quantile on the working scale of the bound. */
static hf_status true_law(const hf_coverage_cell *cell, hf_guess *law, double *truth) {
    hf_status status = hf_guess_of(cell->truth, 1, cell->cv, law);
    if (status != HF_OK) return status;
    double quantile = law->m + law->s * hf_coverage_batch_quantile(cell, law->family);
    bool same_scale = law->family->log_scale == cell->family->log_scale;
    *truth = same_scale ? quantile : hf_family_working(cell->family, hf_family_load(law->family, quantile));
    return isnan(*truth) ? HF_NUMERIC : HF_OK;
}

static hf_status simulate(hf_arena *arena, coverage_job *job, hf_coverage_counts *out) {
    const hf_coverage_cell *cell = job->cell;
    hf_guess law;
    hf_bench_ladder ladder;
    hf_bench_rule rule;
    hf_bench bench;
    size_t sizes[2] = {cell->looks ? cell->looks->parts[0] : cell->n, cell->n};
    hf_status status = true_law(cell, &law, &job->truth);
    job->groups = (cell->replicates + HF_LANES - 1) / HF_LANES;
    job->law = &law;
    if (status == HF_OK && cell->past_designs) return run(arena, job, out);
    if (status == HF_OK) status = hf_rungs_of(arena, cell, &law, &ladder);
    if (status == HF_OK)
        status = hf_bench_rule_start(arena, cell->family, cell->method, cell->content, cell->confidence,
                                     sizes, &rule);
    if (status == HF_OK) status = hf_bench_start(arena, &law, &ladder, &rule, &bench);
    if (status != HF_OK) return status;
    job->bench = &bench;
    job->location = law.m;
    job->deviation = law.s;
    return run(arena, job, out);
}

/* NULL members of a cell filled with what they mean. */
static hf_coverage_cell whole_cell(const hf_coverage_cell *cell) {
    hf_coverage_cell whole = *cell;
    whole.family = hf_family_governing(cell->family);
    if (!whole.method) whole.method = hf_planning_method_find("formula");
    return whole;
}

hf_status hf_coverage_count(const hf_coverage_cell *cell, size_t shard, size_t shards,
                            hf_coverage_counts *out) {
    hf_coverage_cell whole = whole_cell(cell);
    *out = (hf_coverage_counts){0};
    if (check(&whole) != HF_OK || shards < 1 || shard >= shards) return HF_RANGE;
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    coverage_job job = {.cell = &whole, .shard = shard, .shards = shards};
    hf_status status = simulate(arena, &job, out);
    hf_arena_free(arena);
    return status;
}

hf_status hf_coverage_summary(const hf_coverage_cell *cell, const hf_coverage_counts *counts,
                              hf_coverage *out) {
    hf_coverage_cell whole = whole_cell(cell);
    hf_guess law;
    double truth, size = (double)counts->replicates, given = (double)counts->given;
    if (counts->replicates == 0) return HF_NO_RESULT;
    if (true_law(&whole, &law, &truth) != HF_OK) return HF_RANGE;
    *out = (hf_coverage){.replicates = counts->replicates, .given_bound = NAN, .mean_margin = NAN};
    out->coverage = 1 - (double)(counts->given - counts->right) / size;
    out->standard_error = sqrt(fmax(out->coverage * (1 - out->coverage), 1 / size) / size);
    out->bound_share = given / size;
    double looks = (double)(cell->looks ? cell->looks->count : 1) * fmax(1, (double)cell->designs);
    out->open_share = (double)counts->open / size / looks;
    out->true_quantile = hf_family_load(whole.family, truth);
    if (counts->given == 0) return HF_OK;
    out->given_bound = (double)counts->right / given;
    if (law.family->log_scale == whole.family->log_scale || whole.past_designs)
        out->mean_margin = (double)counts->margin / margin_unit / given;
    return HF_OK;
}

hf_status hf_coverage_of(const hf_coverage_cell *cell, hf_coverage *out) {
    hf_coverage_counts counts;
    hf_status status = hf_coverage_count(cell, 0, 1, &counts);
    return status == HF_OK ? hf_coverage_summary(cell, &counts, out) : status;
}
