#include "holdfast/planning/looks_gain.h"

#include <math.h>
#include "holdfast/base/arena.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/vector.h"

enum { GROUPS_A_BLOCK = 64 };

typedef struct gain_tally {
    size_t reached, parts, squares;
} gain_tally;

typedef struct gain_job {
    const hf_looks_gain_setup *setup;
    const hf_look_plan *plan;
    const hf_family *family;
    double k[HF_LOOKS_MOST], required; /* required: working scale of the bound */
    size_t groups;
    double *scratch; /* 2·last·HF_LANES per worker */
    gain_tally *tallies;
} gain_job;

static void read_parts(const gain_job *job, double *y, size_t count) {
    const hf_guess *law = &job->setup->law;
    for (size_t i = 0; i < count; i++) y[i] = law->m + law->s * y[i];
    if (law->family->log_scale && !job->family->log_scale) hf_vector_exp(y, y, count);
    if (!law->family->log_scale && job->family->log_scale) hf_vector_log(y, y, count);
}

/* Samples side by side; one that has stopped keeps its number of parts. */
static void gain_group(const gain_job *job, double *y, double *work, gain_tally *tally) {
    size_t parts[HF_LANES] = {0}, last = job->plan->parts[job->plan->count - 1], waiting = HF_LANES;
    double m[HF_LANES], s[HF_LANES];
    for (size_t i = 0; i < job->plan->count && waiting > 0; i++) {
        job->family->estimate_lanes(y, job->plan->parts[i], work, m, s);
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            if (parts[lane] > 0 || !(m[lane] - job->k[i] * s[lane] >= job->required)) continue;
            parts[lane] = job->plan->parts[i];
            waiting--;
        }
    }
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        tally->reached += parts[lane] > 0;
        size_t pulled = parts[lane] > 0 ? parts[lane] : last;
        tally->parts += pulled;
        tally->squares += pulled * pulled;
    }
}

static void gain_block(size_t block, int worker, void *context) {
    const gain_job *job = context;
    size_t count = job->plan->parts[job->plan->count - 1] * HF_LANES;
    double *y = job->scratch + 2 * count * (size_t)worker;
    gain_tally tally = {0};
    hf_random random;
    hf_random_start(&random, job->setup->seed, block);
    for (size_t group = block * GROUPS_A_BLOCK; group < (block + 1) * GROUPS_A_BLOCK && group < job->groups;
         group++) {
        job->setup->law.family->fill(&random, y, count);
        read_parts(job, y, count);
        gain_group(job, y, y + count, &tally);
    }
    job->tallies[block] = tally;
}

static hf_status run(hf_arena *arena, gain_job *job, hf_looks_gain *out) {
    size_t blocks = (job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK;
    size_t count = job->plan->parts[job->plan->count - 1] * HF_LANES;
    gain_tally sum = {0};
    job->scratch = HF_ARENA_NEW_ARRAY(arena, double, 2 * count * (size_t)hf_parallel_threads());
    job->tallies = HF_ARENA_NEW_ARRAY(arena, gain_tally, blocks);
    if (!job->scratch || !job->tallies) return HF_MEMORY;
    hf_parallel_blocks(blocks, gain_block, job);
    for (size_t i = 0; i < blocks; i++) {
        sum.reached += job->tallies[i].reached;
        sum.parts += job->tallies[i].parts;
        sum.squares += job->tallies[i].squares;
    }
    double size = (double)(job->groups * HF_LANES);
    out->reached = (double)sum.reached / size;
    out->reached_error = sqrt(fmax(out->reached * (1 - out->reached), 1 / size) / size);
    out->parts = (double)sum.parts / size;
    out->parts_error = sqrt(fmax((double)sum.squares / size - out->parts * out->parts, 0) / size);
    return HF_OK;
}

static hf_status check(const hf_looks_gain_setup *setup, const hf_look_plan *plan, double required) {
    if (plan->count < 1 || plan->count > HF_LOOKS_MOST || plan->parts[0] < 2) return HF_RANGE;
    if (plan->parts[plan->count - 1] > HF_LOOKS_LAST || setup->replicates < 1) return HF_RANGE;
    for (size_t i = 1; i < plan->count; i++)
        if (plan->parts[i] <= plan->parts[i - 1]) return HF_RANGE;
    return isfinite(required) ? HF_OK : HF_RANGE;
}

hf_status hf_looks_gain_of(const hf_looks_gain_setup *setup, const hf_look_plan *plan, double each,
                           hf_looks_gain *out) {
    gain_job job = {.setup = setup, .plan = plan, .family = hf_family_governing(setup->family)};
    job.groups = (setup->replicates + HF_LANES - 1) / HF_LANES;
    job.required = hf_family_working(job.family, setup->required);
    *out = (hf_looks_gain){NAN, NAN, NAN, NAN};
    if (!hf_family_may_govern(job.family)) return HF_NO_RESULT;
    if (check(setup, plan, job.required) != HF_OK) return HF_RANGE;
    for (size_t i = 0; i < plan->count; i++) {
        double error, confidence = plan->early > 0 && i + 1 < plan->count ? plan->early : each;
        hf_status status = job.family->factor(plan->parts[i], setup->content, confidence, &job.k[i], &error);
        if (status != HF_OK) return status;
    }
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    hf_status status = run(arena, &job, out);
    hf_arena_free(arena);
    return status;
}
