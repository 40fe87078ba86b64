/* True confidence of the bound with open observations (methods.md 3): first-rung failures, and two-speed ladders with run-outs, in all
 * three families. A cell is low when it lies more than three standard errors below its promise; it is then run again with another
 * seed and ten times the samples, and counts only if it is low again. Samples that give no bound promise nothing and count as right;
 * their share is printed.
 * Usage: coverage_open [REPLICATES [seed]]. Exit 1 when a cell is low. Prints a Markdown table. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/strength/bound.h"

enum { MOST_PARTS = 10, BLOCK = 100 };

typedef struct cell {
    const hf_family *family;
    size_t n;
    double content, confidence;
    double first_chance; /* a part fails at the first rung; 0: the ladder starts far below */
    double end_chance;   /* a part outlives the ladder; 0: it never ends */
    double step,
        coarse;    /* in standard deviations; coarse: factor of the steps below the 10 % point, 1: none */
    double offset; /* of the ladder, share of a step */
} cell;

typedef struct job {
    const cell *at;
    unsigned long long seed;
    size_t replicates;
    unsigned *right, *none; /* one a block */
} job;

/* Loads: the log families are scaled to a scatter of about 10 %, the normal is moved away from 0. */
static double load_of(const hf_family *family, double y) {
    return family->log_scale ? exp(0.1 * y) : 1000 + y;
}

static double deviation_of(const hf_family *family) {
    return family->has_shape ? 1.2825498301618641 : 1;
}

/* The step in which y falls: coarse below `slow`, fine above. */
static void step_of(const cell *c, double y, double first, double slow, double *low, double *high) {
    double fine = c->step * deviation_of(c->family), coarse = fine * c->coarse;
    if (y <= slow && coarse > fine) {
        *low = slow - coarse * (1 + floor((slow - y) / coarse));
        *high = *low + coarse;
        if (y > *high) *low += coarse, *high += coarse;
        return;
    }
    double origin = c->first_chance > 0 ? first : slow;
    *low = origin + fine * (ceil((y - origin) / fine) - 1);
    *high = *low + fine;
}

static hf_observation observe(const cell *c, double y, double offset) {
    double sd = deviation_of(c->family), first = c->family->quantile_upper(1 - c->first_chance);
    double end = c->end_chance > 0 ? c->family->quantile_upper(c->end_chance) : INFINITY;
    double slow = c->family->quantile_upper(0.90) + offset * c->step * sd, low, high;
    if (c->first_chance > 0 && y <= first)
        return (hf_observation){HF_INTERVAL_BELOW, 0, load_of(c->family, first), false, -1};
    step_of(c, y, first, slow, &low, &high);
    if (high > end) { /* the last rung below the end of the weights is what was held */
        double last = low <= end ? low : end;
        step_of(c, end, first, slow, &low, &high);
        last = fmin(last, low);
        return (hf_observation){HF_INTERVAL_ABOVE, load_of(c->family, last), INFINITY, false, -1};
    }
    return (hf_observation){HF_INTERVAL_CLOSED, load_of(c->family, low), load_of(c->family, high), false, -1};
}

static void run_block(size_t block, int worker, void *context) {
    const job *work = context;
    const cell *c = work->at;
    double truth = load_of(c->family, c->family->quantile_upper(c->content)), y[MOST_PARTS];
    hf_observation items[MOST_PARTS];
    hf_random random;
    (void)worker;
    hf_random_start(&random, work->seed, block);
    for (size_t i = 0; i < BLOCK; i++) {
        hf_bound bound;
        double offset = hf_random_uniform(&random);
        c->family->fill(&random, y, c->n);
        for (size_t j = 0; j < c->n; j++) items[j] = observe(c, y[j], offset);
        bool given =
            hf_bound_family(c->family, (hf_sample){items, c->n}, c->content, c->confidence, &bound) == HF_OK;
        work->none[block] += !given;
        work->right[block] += !given || bound.value <= truth;
    }
}

static double run(const cell *c, unsigned long long seed, size_t replicates, double *none) {
    size_t blocks = (replicates + BLOCK - 1) / BLOCK, right = 0, without = 0;
    unsigned *counts = calloc(2 * blocks, sizeof *counts);
    if (!counts) exit(5);
    job work = {c, seed, replicates, counts, counts + blocks};
    hf_parallel_blocks(blocks, run_block, &work);
    for (size_t i = 0; i < blocks; i++) {
        right += work.right[i];
        without += work.none[i];
    }
    free(counts);
    *none = (double)without / (double)(blocks * BLOCK);
    return (double)right / (double)(blocks * BLOCK);
}

/* Prints one cell; returns 1 when it is low twice. */
static int judge(const cell *c, unsigned long long seed, size_t replicates) {
    double none, coverage = run(c, seed, replicates, &none);
    double error = sqrt(c->confidence * (1 - c->confidence) / (double)replicates);
    int low = coverage < c->confidence - 3 * error;
    const char *again = "";
    if (low) {
        coverage = run(c, seed + 1000003, 10 * replicates, &none);
        error /= sqrt(10);
        low = coverage < c->confidence - 3 * error;
        again = " (run again)";
    }
    printf("| %s | %zu | %g/%g | %g | %g | %g | %g | %.4f | %.4f | %.3f | %s%s |\n", c->family->name, c->n,
           100 * c->content, 100 * c->confidence, c->first_chance, c->end_chance, c->step, c->coarse,
           coverage, error, none, low ? "LOW" : "holds", again);
    fflush(stdout);
    return low;
}

int main(int argc, char **argv) {
    static const size_t sizes[] = {3, 5, 10};
    static const double chances[] = {0.1, 0.3, 0.5}, steps[] = {0.25, 1};
    size_t replicates = argc > 1 ? (size_t)strtoull(argv[1], NULL, 10) : 20000;
    unsigned long long seed = argc > 2 ? strtoull(argv[2], NULL, 10) : 7;
    int low = 0;
    printf("| law | n | promise | first rung | outlives | step, SD | coarse | confidence | ± | no bound | |\n"
           "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (size_t f = 0; f < HF_FAMILY_COUNT; f++)
        for (size_t n = 0; n < 3; n++)
            for (size_t p = 0; p < 3; p++)
                for (size_t s = 0; s < 2; s++) {
                    cell first = {hf_family_at(f), sizes[n], 0.90, 0.95, chances[p], 0, steps[s], 1, 0};
                    cell ladder = {hf_family_at(f), sizes[n], 0.90, 0.95, 0, chances[p], steps[s], 4, 0};
                    low += judge(&first, seed++, replicates);
                    low += judge(&ladder, seed++, replicates);
                }
    printf("\n%zu samples a cell, first seed given on the command line or 7; %d cells low\n", replicates,
           low);
    return low > 0;
}
