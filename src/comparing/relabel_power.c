#include "holdfast/comparing/relabel_power.h"

#include <math.h>
#include "comparing/relabel_core.h"
#include "holdfast/base/memory.h"
#include "holdfast/comparing/power.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"

/* From here on relabelings are so many that the two tests agree to less than the simulation can see. */
enum { AS_GOOD_AS_T = 40 };

enum { USUAL_REPLICATES = 2000, REPLICATES_A_BLOCK = 25, FULL_LIMIT = 13000, RANDOM_DRAWS = 1999 };

typedef struct power_job {
    const hf_relabel_plan *plan;
    size_t n, replicates;
    double critical;         /* of t on 2n − 2 */
    double *values;          /* 2n per worker */
    hf_relabel_item *items;  /* 4n per worker: items and a deck */
    double *found, *control; /* rejections per block */
} power_job;

/* Share of random relabelings at least as extreme, the one seen counted; stops once the level is out of reach. */
static bool random_rejects(const hf_relabel_problem *p, double level, hf_relabel_item *deck,
                           hf_random *random) {
    size_t n = p->n_a + p->n_b, allowed = (size_t)floor(level * (RANDOM_DRAWS + 1) + 1e-9);
    hf_relabel_count count = {0, 0, 0, 0};
    for (size_t i = 0; i < n; i++) deck[i] = p->items[i];
    for (size_t draw = 0; draw < RANDOM_DRAWS && count.extreme < allowed; draw++) {
        hf_relabel_item sum = {0, 0, 0, 0};
        for (size_t i = 0; i < p->n_a; i++) {
            size_t j = i + (size_t)hf_random_below(random, n - i);
            hf_relabel_item drawn = deck[j];
            deck[j] = deck[i];
            deck[i] = drawn;
            hf_relabel_add(&sum, &drawn);
        }
        hf_relabel_judge(p, hf_relabel_statistic(p, &sum), &count);
    }
    return count.extreme < allowed;
}

static bool full_rejects(const hf_relabel_problem *p, double level) {
    double ways = hf_relabel_ways(p->n_a, p->n_b);
    uint64_t allowed = (uint64_t)floor(level * ways * (1 + 1e-12));
    hf_relabel_count count;
    hf_relabel_count_serial(p, allowed + 1, &count);
    return count.extreme <= allowed;
}

static void power_block(size_t block, int worker, void *context) {
    const power_job *job = context;
    size_t n = job->n, start = block * REPLICATES_A_BLOCK;
    size_t end = start + REPLICATES_A_BLOCK < job->replicates ? start + REPLICATES_A_BLOCK : job->replicates;
    double *y = job->values + 2 * n * (size_t)worker, level = job->plan->level;
    hf_relabel_item *items = job->items + 4 * n * (size_t)worker;
    bool full = hf_relabel_ways(n, n) <= FULL_LIMIT;
    hf_random random;
    hf_random_start(&random, job->plan->seed, block);
    for (size_t i = start; i < end; i++) {
        hf_relabel_problem problem;
        hf_random_fill_normal(&random, y, 2 * n);
        for (size_t k = 0; k < n; k++) y[k] += job->plan->effect;
        hf_relabel_prepare(y, NULL, n, n, job->plan->one_sided, items, &problem);
        /* Without steps and with equal n the statistic is t itself. */
        double t2 = job->plan->one_sided ? problem.observed : fabs(problem.observed);
        job->control[block] += t2 >= job->critical * job->critical;
        job->found[block] +=
            full ? full_rejects(&problem, level) : random_rejects(&problem, level, items + 2 * n, &random);
    }
}

static bool usable(const hf_relabel_plan *plan) {
    return plan->effect > 0 && plan->level > 0 && plan->level < 0.5 && plan->power > plan->level &&
           plan->power < 1;
}

static bool reaches_level(const hf_relabel_plan *plan, size_t n) {
    return (plan->one_sided ? 1 : 2) / hf_relabel_ways(n, n) <= plan->level;
}

/* Exact power of t plus the difference seen on the same samples. Blocks all have the same size but the last. */
static void combine(const power_job *job, size_t blocks, double exact, double *power,
                    double *standard_error) {
    double sum = 0, squares = 0, size = (double)blocks;
    for (size_t i = 0; i < blocks; i++) sum += job->found[i] - job->control[i];
    double mean = sum / size;
    for (size_t i = 0; i < blocks; i++) {
        double residual = job->found[i] - job->control[i] - mean;
        squares += residual * residual;
    }
    *power = exact + sum / (double)job->replicates;
    *standard_error = sqrt(squares * size / (size - 1)) / (double)job->replicates;
}

static hf_status simulate(power_job *job, double exact, double *power, double *standard_error) {
    size_t blocks = (job->replicates + REPLICATES_A_BLOCK - 1) / REPLICATES_A_BLOCK;
    size_t workers = (size_t)hf_parallel_threads();
    job->values = hf_memory_take_zeroed(2 * job->n * workers, sizeof *job->values);
    job->items = hf_memory_take_zeroed(4 * job->n * workers, sizeof *job->items);
    job->found = hf_memory_take_zeroed(blocks, sizeof *job->found);
    job->control = hf_memory_take_zeroed(blocks, sizeof *job->control);
    hf_status status = job->values && job->items && job->found && job->control ? HF_OK : HF_MEMORY;
    if (status == HF_OK) {
        hf_parallel_blocks(blocks, power_block, job);
        combine(job, blocks, exact, power, standard_error);
    }
    hf_memory_free(job->values);
    hf_memory_free(job->items);
    hf_memory_free(job->found);
    hf_memory_free(job->control);
    return status;
}

hf_status hf_relabel_power(const hf_relabel_plan *plan, size_t n, double *power, double *standard_error) {
    if (!usable(plan) || n < 2 || n > 100000) return HF_RANGE;
    *power = *standard_error = 0;
    if (!reaches_level(plan, n)) return HF_OK;
    size_t replicates = plan->replicates ? plan->replicates : USUAL_REPLICATES;
    if (replicates < 2 * REPLICATES_A_BLOCK) replicates = 2 * REPLICATES_A_BLOCK;
    hf_power_setup setup = {(double)n, (double)n, 1, 1, plan->level, plan->one_sided};
    power_job job = {.plan = plan, .n = n, .replicates = replicates};
    job.critical = hf_t_quantile_upper(plan->one_sided ? plan->level : 0.5 * plan->level, 2 * (double)n - 2);
    return simulate(&job, hf_power_of(&setup, plan->effect), power, standard_error);
}

hf_status hf_relabel_parts(const hf_relabel_plan *plan, size_t limit, size_t *n, double *power_reached) {
    double rough, power = 0, error;
    if (!usable(plan)) return HF_RANGE;
    hf_status status =
        hf_power_parts_for_effect(plan->effect, plan->power, plan->level, plan->one_sided, &rough);
    if (status != HF_OK) return status;
    if (!(rough <= (double)limit)) return HF_NO_RESULT;
    size_t at = (size_t)ceil(rough);
    if (at >= AS_GOOD_AS_T) {
        hf_power_setup setup = {(double)at, (double)at, 1, 1, plan->level, plan->one_sided};
        *n = at;
        *power_reached = hf_power_of(&setup, plan->effect);
        return HF_OK;
    }
    at = at > 3 ? at - 1 : 2; /* the relabeling test is at most a hair better than t */
    while (!reaches_level(plan, at)) at++;
    for (; at <= limit; at++) {
        status = hf_relabel_power(plan, at, &power, &error);
        if (status != HF_OK) return status;
        if (power < plan->power) continue;
        *n = at;
        *power_reached = power;
        return HF_OK;
    }
    return HF_NO_RESULT;
}
