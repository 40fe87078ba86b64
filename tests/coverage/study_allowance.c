/* How little step allowance the Weibull law needs: worst true confidence with A = 1/D in √(s² + A·h²), over steps, ladder places,
 * promises, ladders and open pulls. Writes a section of docs/coverage.md to standard output.
 *
 *     allowance_study [--kind NAME] [--scale S] [--divisor D]
 *
 * D is the law's own unless given. Kinds: working, load5, load25, coarse2, coarse4, coarse8, irregular5, irregular12, irregular25, normal,
 * lognormal, open; all without --kind. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "coverage/study.h"
#include "holdfast/planning/guess.h"

enum { SEED = 20261130, FIRST_LOOK = 2000, SECOND_LOOK = 40000, PLACES = 25, IRREGULAR = 100, SIZES = 7 };

static double scale = 1, divisor;
static size_t cells, low;

typedef struct promise {
    double content, confidence, floor;
} promise;

/* The last three lie where the allowance is at least 1/(4k²). */
static const promise promises[] = {{0.90, 0.95, 0.95},  {0.99, 0.95, 0.95}, {0.95, 0.90, 0.90},
                                   {0.95, 0.75, 0.743}, {0.85, 0.90, 0.90}, {0.80, 0.95, 0.95},
                                   {0.75, 0.90, 0.90}};
enum { PROMISES = sizeof promises / sizeof *promises };
static const size_t sizes[SIZES] = {2, 3, 4, 5, 8, 10, 20};

typedef struct kind {
    const char *name, *label, *truth;
    hf_coverage_ladder ladder;
    double cv, coarse, widest; /* widest: step, in deviations */
} kind;

static const kind kinds[] = {
    {"working", "equal in ln load", "weibull", HF_LADDER_WORKING, 0.12, 1, 6},
    {"load5", "equal in load, CV 5 %", "weibull", HF_LADDER_LOAD, 0.05, 1, 6},
    {"load25", "equal in load, CV 25 %", "weibull", HF_LADDER_LOAD, 0.25, 1, 2},
    {"coarse2", "coarse 2 × fine", "weibull", HF_LADDER_TWO_SPEED, 0.12, 2, 3},
    {"coarse4", "coarse 4 × fine", "weibull", HF_LADDER_TWO_SPEED, 0.12, 4, 1.5},
    {"coarse8", "coarse 8 × fine", "weibull", HF_LADDER_TWO_SPEED, 0.12, 8, 0.75},
    {"irregular5", "irregular, CV 5 %", "weibull", HF_LADDER_IRREGULAR, 0.05, 1, 4},
    {"irregular12", "irregular, CV 12 %", "weibull", HF_LADDER_IRREGULAR, 0.12, 1, 3},
    {"irregular25", "irregular, CV 25 %", "weibull", HF_LADDER_IRREGULAR, 0.25, 1, 1.5},
    {"normal", "normal parts, equal in load", "normal", HF_LADDER_LOAD, 0.12, 1, 3},
    {"lognormal", "lognormal parts, equal in ln load", "lognormal", HF_LADDER_WORKING, 0.12, 1, 6},
};

static hf_study_search search_of(const hf_family *law, const promise *p, size_t n, const kind *k) {
    static const double steps[] = {0.2,  0.3, 0.5,  0.75, 1,   1.25, 1.5, 1.75, 2,
                                   2.25, 2.5, 2.75, 3,    3.5, 4,    5,   6};
    hf_study_search out = {
        .steps = steps, .offsets = k->ladder == HF_LADDER_IRREGULAR ? IRREGULAR : PLACES, .floor = p->floor};
    out.samples = (size_t)(FIRST_LOOK * scale);
    out.refined = (size_t)(SECOND_LOOK * scale);
    out.cell = (hf_coverage_cell){.truth = hf_family_find(k->truth),
                                  .cv = k->cv,
                                  .family = law,
                                  .n = n,
                                  .content = p->content,
                                  .confidence = p->confidence,
                                  .ladder = k->ladder,
                                  .coarse = k->coarse,
                                  .seed = SEED};
    while (out.step_count < sizeof steps / sizeof *steps && steps[out.step_count] <= k->widest)
        out.step_count++;
    hf_guess guess;
    if (k->ladder == HF_LADDER_TWO_SPEED && hf_guess_of(out.cell.truth, 1, k->cv, &guess) == HF_OK)
        out.offset_from =
            (guess.mean - guess.deviation - 0.75 * hf_guess_quantile(&guess, 0.005)) / guess.deviation;
    return out;
}

static void tell(const hf_study_search *search) {
    hf_study_worst worst = hf_study_find_worst(search);
    cells += worst.cells;
    low += worst.low;
    printf(" %.4f%s (%.3g, %.2f) |", worst.coverage, worst.low ? " **low**" : "", worst.step, worst.offset);
    fflush(stdout);
}

static void header(const char *first, const size_t *n, size_t count) {
    printf("\n| %s |", first);
    for (size_t i = 0; i < count; i++) printf(" n=%zu |", n[i]);
    printf("\n| --- |");
    for (size_t i = 0; i < count; i++) printf(" --- |");
    printf("\n");
}

static void finished(const hf_family *law, const char *wanted) {
    header("ladder, content/confidence", sizes, SIZES);
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
        for (size_t p = 0; p < PROMISES && (!wanted || strcmp(wanted, kinds[k].name) == 0); p++) {
            printf("| %s, %.0f/%.0f |", kinds[k].label, 100 * promises[p].content,
                   100 * promises[p].confidence);
            for (size_t i = 0; i < SIZES; i++) {
                hf_study_search search = search_of(law, &promises[p], sizes[i], &kinds[k]);
                tell(&search);
            }
            printf("\n");
        }
}

static void unfinished(const hf_family *law) {
    static const size_t few[] = {3, 5, 10};
    static const double shares[] = {0.6, 0.9, 0.97}, steps[] = {0.5, 1, 1.5, 2};
    header("open, content/confidence", few, 3);
    for (size_t k = 0; k < 6; k++)
        for (size_t p = 0; p < 4; p++) {
            double share = shares[k % 3];
            printf("| %.0f %% %s, %.0f/%.0f |", 100 * (1 - share), k < 3 ? "run out" : "below the first",
                   100 * promises[p].content, 100 * promises[p].confidence);
            for (size_t i = 0; i < 3; i++) {
                hf_study_search search = search_of(law, &promises[p], few[i], &kinds[0]);
                *(k < 3 ? &search.cell.stop_share : &search.cell.first_share) = k < 3 ? share : 1 - share;
                search.steps = steps;
                search.step_count = 4;
                search.offsets = 4;
                search.samples = (size_t)(800 * scale);
                search.refined = (size_t)(8000 * scale);
                tell(&search);
            }
            printf("\n");
        }
}

static bool read_options(int count, char **words, const char **wanted) {
    for (int i = 1; i < count; i += 2) {
        if (i + 1 == count) return false;
        if (strcmp(words[i], "--kind") == 0)
            *wanted = words[i + 1];
        else if (strcmp(words[i], "--scale") == 0)
            scale = strtod(words[i + 1], NULL);
        else if (strcmp(words[i], "--divisor") == 0)
            divisor = strtod(words[i + 1], NULL);
        else
            return false;
    }
    return scale >= 0.1 && scale <= 100 && divisor >= 0;
}

int main(int count, char **words) {
    const char *wanted = NULL;
    time_t begin = time(NULL);
    if (!read_options(count, words, &wanted)) {
        fprintf(stderr, "usage: allowance_study [--kind NAME] [--scale S] [--divisor D]\n");
        return 2;
    }
    hf_family law = *hf_family_find("weibull");
    if (divisor > 0)
        law.step_allowance = 1 / divisor;
    else
        divisor = 1 / law.step_allowance;
    printf(
        "\n## A step allowance of h²/%g for the Weibull law\n\nWeibull parts. %.0f samples a cell, the eight "
        "worst of a figure again with %.0f and a new seed, of which the lowest stands here;\nin brackets "
        "its step and ladder place in standard deviations. Seed %d.\n",
        divisor, FIRST_LOOK * scale, SECOND_LOOK * scale, SEED);
    if (!wanted || strcmp(wanted, "open") != 0) finished(&law, wanted);
    if (!wanted || strcmp(wanted, "open") == 0) unfinished(&law);
    printf("\n%zu cells, %zu figures low, %.0f s.\n", cells, low, difftime(time(NULL), begin));
    return low > 0;
}
