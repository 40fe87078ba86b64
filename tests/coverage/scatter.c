#include "coverage/scatter.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/planning/guess.h"
#include "holdfast/strength/stated_scatter.h"

const hf_scatter_promise hf_scatter_promises[HF_SCATTER_PROMISES] = {
    {0.90, 0.95, 0.95}, {0.99, 0.95, 0.95}, {0.95, 0.90, 0.90}, {0.95, 0.75, 0.75}};

enum { A_BLOCK = 500, MOST_BLOCKS = 4000 };

typedef struct tally {
    size_t right[HF_SCATTER_PROMISES];
    size_t contradicted, given;
} tally;

typedef struct scatter_job {
    const hf_scatter_cell *cell;
    hf_guess law, past; /* mean 1 */
    hf_scatter_factors factors[HF_SCATTER_PROMISES];
    bool own_leads[HF_SCATTER_PROMISES]; /* with so many parts */
    double truth[HF_SCATTER_PROMISES];
    tally *blocks;
} scatter_job;

static void stop(const char *what) {
    fprintf(stderr, "coverage of a stated scatter: %s\n", what);
    exit(2);
}

static void draw(hf_random *random, const hf_guess *law, double *load, size_t count) {
    law->family->fill(random, load, count);
    for (size_t i = 0; i < count; i++)
        load[i] = fmax(hf_family_load(law->family, law->m + law->s * load[i]), 1e-6);
}

static double cv_of(const double *load, size_t count) {
    double mean, deviation;
    hf_vector_mean_sd(load, count, &mean, &deviation);
    return deviation / mean;
}

static void pull(const scatter_job *job, const double *load, hf_observation *items) {
    const hf_scatter_cell *cell = job->cell;
    double step = cell->step * job->law.deviation, base = 1 + cell->place * step;
    for (size_t i = 0; i < cell->n; i++) {
        items[i] = (hf_observation){HF_INTERVAL_EXACT, load[i], load[i], false, -1};
        double below = step > 0 ? base + step * ceil((load[i] - base) / step - 1) : 0;
        if (below > 0) items[i] = (hf_observation){HF_INTERVAL_CLOSED, below, below + step, false, -1};
        if (i < cell->held && load[i] > 1)
            items[i] = (hf_observation){HF_INTERVAL_ABOVE, 1, INFINITY, false, -1};
    }
}

/* As the assessment goes by: the stated scatter unless contradicted or handed over, then the pulls' own by the Weibull law. */
static void count_sample(const scatter_job *job, hf_sample sample, hf_stated_scatter stated, tally *sum) {
    bool known = isinf(stated.degrees_of_freedom), given = false;
    bool refuted = !job->cell->unconfronted && hf_stated_scatter_confront(sample, stated).contradicted;
    sum->contradicted += refuted;
    for (size_t p = 0; p < HF_SCATTER_PROMISES; p++) {
        const hf_scatter_promise *promise = &hf_scatter_promises[p];
        hf_bound bound;
        hf_status status =
            refuted || job->own_leads[p]
                ? hf_bound_family(&hf_family_weibull, sample, promise->content, promise->confidence, &bound)
                : hf_bound_stated_scatter(sample, stated, known ? NULL : &job->factors[p], promise->content,
                                          promise->confidence, &bound);
        given = status == HF_OK;
        sum->right[p] += !given || bound.value <= job->truth[p];
    }
    sum->given += given;
}

static void block(size_t number, int worker, void *context) {
    const scatter_job *job = context;
    const hf_scatter_cell *cell = job->cell;
    double load[HF_SCATTER_MOST_PARTS];
    hf_observation items[HF_SCATTER_MOST_PARTS];
    hf_random random;
    (void)worker;
    hf_random_start(&random, cell->seed, number);
    for (size_t i = 0; i < A_BLOCK; i++) {
        hf_stated_scatter stated = {.cv = cell->cv / cell->times, .degrees_of_freedom = cell->degrees};
        if (isfinite(cell->degrees)) {
            size_t parts = (size_t)cell->degrees + 1;
            draw(&random, &job->past, load, parts);
            stated.cv = fmin(cv_of(load, parts), 1);
        }
        draw(&random, &job->law, load, cell->n);
        pull(job, load, items);
        count_sample(job, (hf_sample){items, cell->n}, stated, &job->blocks[number]);
    }
}

static void start(scatter_job *job) {
    const hf_scatter_cell *cell = job->cell;
    if (cell->n > HF_SCATTER_MOST_PARTS ||
        (isfinite(cell->degrees) && cell->degrees + 1 > HF_SCATTER_MOST_PARTS))
        stop("too many parts");
    if (hf_guess_of(cell->truth, 1, cell->cv, &job->law) != HF_OK ||
        hf_guess_of(cell->truth, 1, cell->cv / cell->times, &job->past) != HF_OK)
        stop("no such law");
    for (size_t p = 0; p < HF_SCATTER_PROMISES; p++) {
        const hf_scatter_promise *promise = &hf_scatter_promises[p];
        hf_past_scatter past = {1, hf_scatter_degrees(cell->degrees, 1), false};
        if (isfinite(cell->degrees) && hf_scatter_factors_of(past, cell->n, promise->content,
                                                             promise->confidence, &job->factors[p]) != HF_OK)
            stop("no factor");
        hf_stated_scatter stated = {.cv = cell->cv, .degrees_of_freedom = cell->degrees};
        job->own_leads[p] = hf_scatter_hands_over(stated, promise->content, promise->confidence, cell->n) > 0;
        double z = job->law.family->quantile_upper(promise->content);
        job->truth[p] = hf_family_load(job->law.family, job->law.m + job->law.s * z);
    }
}

hf_scatter_coverage hf_scatter_coverage_of(const hf_scatter_cell *cell) {
    static tally blocks[MOST_BLOCKS];
    size_t count = (cell->replicates + A_BLOCK - 1) / A_BLOCK;
    scatter_job job = {.cell = cell, .blocks = blocks};
    hf_scatter_coverage out = {{0}, {0}, 0, 0};
    if (count > MOST_BLOCKS) stop("too many samples");
    for (size_t i = 0; i < count; i++) blocks[i] = (tally){{0}, 0, 0};
    start(&job);
    hf_parallel_blocks(count, block, &job);
    double samples = (double)(count * A_BLOCK);
    for (size_t i = 0; i < count; i++) {
        for (size_t p = 0; p < HF_SCATTER_PROMISES; p++) out.right[p] += (double)blocks[i].right[p] / samples;
        out.contradicted += (double)blocks[i].contradicted / samples;
        out.given += (double)blocks[i].given / samples;
    }
    for (size_t p = 0; p < HF_SCATTER_PROMISES; p++)
        out.error[p] = sqrt(fmax(out.right[p] * (1 - out.right[p]), 1 / samples) / samples);
    return out;
}

hf_scatter_coverage hf_scatter_worst(const hf_scatter_cell *cell, size_t places, size_t refined) {
    hf_scatter_cell one = *cell;
    double least[HF_SCATTER_PROMISES], at[HF_SCATTER_PROMISES] = {0};
    hf_scatter_coverage out = {{0}, {0}, 0, 0};
    for (size_t p = 0; p < HF_SCATTER_PROMISES; p++) least[p] = INFINITY;
    for (size_t i = 0; i < (cell->step > 0 ? places : 1); i++) {
        one.place = (double)i / (double)places;
        hf_scatter_coverage seen = hf_scatter_coverage_of(&one);
        for (size_t p = 0; p < HF_SCATTER_PROMISES; p++)
            if (seen.right[p] < least[p]) {
                least[p] = seen.right[p];
                at[p] = one.place;
            }
    }
    one.replicates = refined;
    for (size_t p = 0; p < HF_SCATTER_PROMISES; p++) {
        bool again = p > 0 && at[p] == at[p - 1];
        one.place = at[p];
        one.seed = cell->seed + 1000003;
        hf_scatter_coverage seen = again ? out : hf_scatter_coverage_of(&one);
        if (!again) out = seen;
        out.right[p] = seen.right[p];
        out.error[p] = seen.error[p];
    }
    return out;
}
