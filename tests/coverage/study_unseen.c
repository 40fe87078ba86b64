/* What pulls cannot show: a weaker kind among the parts, and a tail that none of the laws has; and ways of failing that scatter differently. Writes
 * sections of docs/coverage.md to standard output. Not promises of this program: what its bounds are then worth.
 *
 *     unseen_study [--scale S] */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "coverage/study_ways.h"
#include "holdfast/base/memory.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/planning/guess.h"
#include "holdfast/strength/bound.h"

enum { SEED = 20261130, SAMPLES = 40000, A_BLOCK = 500, MOST = 20 };

static const size_t sizes[] = {5, 10, 20};
static const double weak = 0.7, euler = 0.57721566490153286061, pi = 3.14159265358979323846;
static double scale = 1;
static uint64_t cells;

/* Strengths about a mean of 1: a share of the parts is `weak` times as strong. No guess: the smallest extreme law in load. */
typedef struct truth {
    const hf_guess *law;
    double m, s, share, quantile;
} truth;

typedef struct job {
    const truth *truth;
    size_t n;
    double content, confidence;
    uint64_t seed;
    size_t *right; /* of each block */
} job;

static void one_block(size_t block, int worker, void *context) {
    const job *j = context;
    const truth *t = j->truth;
    double z[MOST], u[MOST];
    hf_observation items[MOST];
    hf_random random;
    (void)worker;
    hf_random_start(&random, j->seed, block);
    for (size_t k = 0; k < A_BLOCK; k++) {
        hf_bound bound;
        if (t->law)
            t->law->family->fill(&random, z, j->n);
        else
            hf_random_fill_sev(&random, z, j->n);
        hf_random_fill_uniform(&random, u, j->n);
        for (size_t i = 0; i < j->n; i++) {
            double y = t->m + t->s * z[i], x = t->law ? hf_family_load(t->law->family, y) : y;
            x = fmax(x, 1e-6) * (u[i] < t->share ? weak : 1);
            items[i] = (hf_observation){HF_INTERVAL_EXACT, x, x, false, -1};
        }
        if (hf_bound_family(hf_family_governing(NULL), (hf_sample){items, j->n}, j->content, j->confidence,
                            &bound) == HF_OK)
            j->right[block] += bound.value <= t->quantile;
    }
}

static double right_share(const truth *t, size_t n, double content, double confidence) {
    const size_t blocks = (size_t)(SAMPLES * scale) / A_BLOCK;
    size_t right = 0;
    job j = {t, n, content, confidence, SEED + cells++, hf_memory_take_zeroed(blocks, sizeof *j.right)};
    if (!j.right) exit(2);
    hf_parallel_blocks(blocks, one_block, &j);
    for (size_t i = 0; i < blocks; i++) right += j.right[i];
    hf_memory_free(j.right);
    return (double)right / (double)(blocks * A_BLOCK);
}

static double share_below(const truth *t, double load) {
    double log_lower[2], log_upper[2],
        z[] = {(hf_family_working(t->law->family, load) - t->m) / t->s,
               (hf_family_working(t->law->family, load / weak) - t->m) / t->s};
    t->law->family->log_tails(z, log_lower, log_upper, 2);
    return (1 - t->share) * exp(log_lower[0]) + t->share * exp(log_lower[1]);
}

/* The load that `content` of the mixture carry. */
static double quantile_of(const truth *t, double content) {
    double low = 1e-6, high = 3;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (share_below(t, middle) < 1 - content)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

static void tell(const truth *t, double content, double confidence) {
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        printf(" %.3f |", right_share(t, sizes[i], content, confidence));
    printf("\n");
    fflush(stdout);
}

static void weak_kinds(void) {
    static const double scatters[] = {0.05, 0.08, 0.12}, shares[] = {0, 0.10, 0.15, 0.20};
    printf("## A weaker kind among the parts\n\n"
           "A share of the parts is of another kind, %.1f times as strong; exact readings, Weibull bound "
           "90/95 of the mixture. The worse the less "
           "the good\nparts scatter, and more parts make it worse: the law fits the middle and misses the "
           "lump below it. Not a promise of this "
           "program: what its\nbound is then worth, when no test rejects the law.\n\n"
           "| parts follow, scatter of each kind, weaker share | n=5 | n=10 | n=20 |\n| --- | --- | --- | "
           "--- |\n",
           weak);
    for (size_t law = 0; law < HF_FAMILY_COUNT; law++)
        for (size_t cv = 0; cv < sizeof scatters / sizeof *scatters; cv++)
            for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
                hf_guess guess;
                if (hf_guess_of(hf_family_at(law), 1, scatters[cv], &guess) != HF_OK) exit(2);
                truth t = {&guess, guess.m, guess.s, shares[i], 0};
                t.quantile = quantile_of(&t, 0.90);
                printf("| %s, %.0f %%, %.0f %% |", hf_family_at(law)->label, 100 * scatters[cv],
                       100 * shares[i]);
                tell(&t, 0.90, 0.95);
            }
}

static void other_tail(void) {
    static const double contents[] = {0.90, 0.99};
    const double s = 0.12 * sqrt(6) / pi;
    printf("\n## A tail that none of the laws has\n\n"
           "Strengths follow the law of the smallest of many in load itself (not in its logarithm), with a "
           "scatter of 12 %%; exact readings, Weibull "
           "bound\nwith 95 %% confidence. At 99 %% of all parts the tail of the law decides, and pulls "
           "cannot show it.\n\n"
           "| content | n=5 | n=10 | n=20 |\n| --- | --- | --- | --- |\n");
    for (size_t i = 0; i < sizeof contents / sizeof *contents; i++) {
        truth t = {NULL, 1 + euler * s, s, 0, 1 + euler * s + s * log(-log(contents[i]))};
        printf("| %.2f |", contents[i]);
        tell(&t, contents[i], 0.95);
    }
    printf("\n");
}

int main(int count, char **words) {
    for (int i = 1; i + 1 < count; i++)
        if (strcmp(words[i], "--scale") == 0) scale = strtod(words[i + 1], NULL);
    weak_kinds();
    other_tail();
    hf_study_ways(scale);
    return 0;
}
