#include "holdfast/planning/next.h"

#include <math.h>
#include "holdfast/comparing/quantile_difference.h"
#include "holdfast/numeric/parallel.h"
#include "planning/bench.h"
#include "planning/spread.h"
#include "strength/mids.h"

enum { DEFAULT_MORE = 10, MOST_MORE = 200, REPLICATES = 4000, OPEN_REPLICATES = 400, GROUPS_A_BLOCK = 4 };
static const double often_open = 0.01;

typedef struct next_job {
    const hf_bench *bench; /* its law is the standard one: thresholds stand on the working scale */
    hf_bench_before before;
    const double *mids;  /* of the sample, in its order */
    const double *m, *s; /* laws drawn, one per replicate */
    size_t more, groups;
    uint64_t seed;
    hf_bench_lanes *lanes; /* one per worker */
    double *loads;         /* bound of replicate r after j more parts at (j − 1)·count + r */
} next_job;

static void one_group(const next_job *job, hf_bench_lanes *lanes, size_t group) {
    size_t done = job->before.sample.count, first = group * HF_LANES, count = job->groups * HF_LANES;
    double bound[HF_LANES];
    hf_random random;
    hf_random_start(&random, job->seed, group);
    for (size_t i = 0; i < done * HF_LANES; i++) lanes->y[i] = job->mids[i / HF_LANES];
    job->bench->rule.family->fill(&random, lanes->z + done * HF_LANES, job->more * HF_LANES);
    for (size_t i = done * HF_LANES; i < (done + job->more) * HF_LANES; i++) {
        size_t replicate = first + i % HF_LANES;
        lanes->z[i] = job->m[replicate] + job->s[replicate] * lanes->z[i];
    }
    hf_bench_pull(job->bench, lanes, done, done + job->more);
    for (size_t j = 1; j <= job->more; j++) {
        double *row = job->loads + (j - 1) * count + first;
        hf_bench_bounds(job->bench, lanes, done + j, &job->before, bound);
        for (size_t lane = 0; lane < HF_LANES; lane++)
            row[lane] = isnan(bound[lane]) ? -INFINITY : hf_family_load(job->bench->rule.family, bound[lane]);
    }
}

static void next_block(size_t block, int worker, void *context) {
    const next_job *job = context;
    size_t end = (block + 1) * GROUPS_A_BLOCK;
    for (size_t group = block * GROUPS_A_BLOCK; group < end && group < job->groups; group++)
        one_group(job, &job->lanes[worker], group);
}

/* Middles in the order of the sample; those of open pulls are never used. */
static hf_status look_back(hf_arena *arena, const hf_family *family, hf_sample sample, next_job *job) {
    double *mids = HF_ARENA_NEW_ARRAY(arena, double, sample.count);
    if (!mids) return HF_MEMORY;
    job->before = (hf_bench_before){.sample = sample};
    for (size_t i = 0; i < sample.count; i++) {
        hf_mids one;
        hf_status status = hf_mids_of(family, (hf_sample){&sample.items[i], 1}, &one);
        if (status != HF_OK) return status;
        if (one.count == 0)
            job->before.open = true;
        else
            mids[i] = one.y[0];
        job->before.square += one.h * one.h;
        job->before.closed += sample.items[i].kind == HF_INTERVAL_CLOSED;
    }
    job->mids = mids;
    return HF_OK;
}

/* A bench whose law is the standard one, so that its thresholds are the loads on the working scale. */
static hf_status start_bench(hf_arena *arena, const hf_next_setup *setup, hf_bench *bench) {
    size_t have = setup->sample.count, sizes[2] = {have + 1, have + setup->more};
    hf_guess standard = {.family = setup->family, .mean = NAN, .deviation = NAN, .m = 0, .s = 1};
    hf_bench_ladder ladder = {setup->loads, setup->load_count, setup->tare, 0, INFINITY};
    hf_bench_rule rule;
    hf_status status = hf_bench_rule_start(arena, setup->family, hf_planning_method_find("formula"),
                                           setup->content, setup->confidence, sizes, &rule);
    if (status == HF_OK) status = hf_bench_rule_scatter(arena, setup->scatter, sizes[1], &rule);
    return status == HF_OK ? hf_bench_start(arena, &standard, &ladder, &rule, bench) : status;
}

/* Few where the next part ends open too often: the mean chance over some of the laws. */
static size_t choose_replicates(const hf_next_setup *setup, const next_job *job) {
    enum { DRAWS = HF_LANES * 16 };
    double m[DRAWS], s[DRAWS], open = 0;
    if (setup->replicates > 0) return setup->replicates;
    if (job->before.open) return OPEN_REPLICATES;
    if (!setup->loads) return REPLICATES;
    if (hf_conditional_draws(setup->family, setup->sample, setup->seed, DRAWS, m, s) != HF_OK)
        return REPLICATES;
    for (size_t i = 0; i < DRAWS; i++) {
        double first = (job->bench->threshold[0] - m[i]) / s[i];
        double top = (job->bench->threshold[job->bench->last - 1] - m[i]) / s[i];
        open += setup->family->lower(first) + setup->family->upper(top);
    }
    return open / DRAWS > often_open ? OPEN_REPLICATES : REPLICATES;
}

static hf_status run(hf_arena *arena, const hf_next_setup *setup, next_job *job, hf_next *out) {
    size_t count = job->groups * HF_LANES, workers = (size_t)hf_parallel_threads();
    hf_next_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_next_row, setup->more);
    job->lanes = HF_ARENA_NEW_ARRAY(arena, hf_bench_lanes, workers);
    job->loads = HF_ARENA_NEW_ARRAY(arena, double, setup->more *count);
    if (!rows || !job->lanes || !job->loads) return HF_MEMORY;
    for (size_t i = 0; i < workers; i++)
        if (hf_bench_lanes_start(arena, setup->sample.count + setup->more, 0, &job->lanes[i]) != HF_OK)
            return HF_MEMORY;
    hf_parallel_blocks((job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK, next_block, job);
    for (size_t j = 0; j < setup->more; j++) {
        hf_spread spread = hf_spread_of(job->loads + j * count, count, setup->required);
        rows[j] = (hf_next_row){j + 1,
                                setup->sample.count + j + 1,
                                spread.mean,
                                spread.mean_error,
                                spread.low,
                                spread.middle,
                                spread.high,
                                spread.reached,
                                spread.reached_error};
    }
    out->rows = rows;
    out->count = setup->more;
    out->replicates = count;
    return HF_OK;
}

static hf_status draw_and_run(hf_arena *arena, const hf_next_setup *setup, hf_next *out) {
    next_job job = {.more = setup->more, .seed = setup->seed ^ 0x9e3779b97f4a7c15U};
    hf_bench bench;
    hf_status status = look_back(arena, setup->family, setup->sample, &job);
    if (status == HF_OK) status = start_bench(arena, setup, &bench);
    if (status != HF_OK) return status;
    job.bench = &bench;
    job.groups = (choose_replicates(setup, &job) + HF_LANES - 1) / HF_LANES;
    double *m = HF_ARENA_NEW_ARRAY(arena, double, job.groups *HF_LANES);
    double *s = HF_ARENA_NEW_ARRAY(arena, double, job.groups *HF_LANES);
    if (!m || !s) return HF_MEMORY;
    status = hf_conditional_draws(setup->family, setup->sample, setup->seed, job.groups * HF_LANES, m, s);
    if (status != HF_OK) return status;
    job.m = m;
    job.s = s;
    return run(arena, setup, &job, out);
}

hf_status hf_next_parts(hf_arena *arena, const hf_next_setup *setup, hf_next *out) {
    hf_next_setup whole = *setup;
    hf_bound bound;
    *out = (hf_next){.now = NAN};
    whole.family = hf_family_governing(whole.family);
    if (whole.more == 0) whole.more = DEFAULT_MORE;
    if (whole.more > MOST_MORE || whole.sample.count < 2)
        return whole.more > MOST_MORE ? HF_RANGE : HF_NO_RESULT;
    bool stepped = whole.loads || hf_sample_step(whole.sample) > 0;
    if (hf_bound_range(whole.content, whole.confidence, stepped) != HF_OK) return HF_RANGE;
    const hf_governing_scatter scatter = {whole.scatter, NULL, 0};
    if (hf_governing_bound(whole.family, whole.sample, scatter, whole.content, whole.confidence, &bound) ==
        HF_OK)
        out->now = bound.value;
    return draw_and_run(arena, &whole, out);
}
