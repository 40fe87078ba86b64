/* True confidence of bounds that are looked at, chosen among designs, or taken from batches. Writes sections of docs/coverage.md to standard
 * output.
 *
 *     promise_study [--part looks|best|batches|between|library] [--scale S] */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "holdfast/planning/coverage.h"

enum { SEED = 20261203, SAMPLES = 8000 };
static const double steps[] = {0, 0.5, 1, 2};
enum { STEPS = 4 };

static double scale = 1;
static size_t cells, low;

static hf_coverage cover(hf_coverage_cell *cell, double step) {
    hf_coverage out;
    cell->replicates = (size_t)(SAMPLES * scale);
    cell->seed = SEED + cells++;
    cell->ladder = step > 0 ? HF_LADDER_WORKING : HF_LADDER_CONTINUOUS;
    cell->step = step;
    cell->offset = 0.31 * step;
    hf_status status = hf_coverage_of(cell, &out);
    if (status != HF_OK) {
        fprintf(stderr, "coverage: %s n=%zu: %s\n", cell->truth->name, cell->n, hf_status_text(status));
        exit(2);
    }
    return out;
}

/* "0.9512", marked where it is three standard errors below what was promised. */
static void tell(hf_coverage_cell *cell, double step, double promised) {
    hf_coverage got = cover(cell, step);
    bool is_low = got.coverage + 3 * got.standard_error < promised;
    low += is_low;
    printf(" %.4f%s |", got.coverage, is_low ? " **low**" : "");
    fflush(stdout);
}

static hf_coverage_cell start(const hf_family *law, const hf_family *bound, double content,
                              double confidence) {
    return (hf_coverage_cell){
        .truth = law, .cv = 0.12, .family = bound, .content = content, .confidence = confidence};
}

/* --- Looks ------------------------------------------------------------------------------------------- */

typedef struct looks_row {
    const char *label;
    size_t first, last, list[4], count; /* first 0: the list */
} looks_row;

static const looks_row looks_rows[] = {
    {"3 … 6", 3, 6, {0}, 0},       {"3 … 10", 3, 10, {0}, 0},         {"3 … 15", 3, 15, {0}, 0},
    {"3 … 30", 3, 30, {0}, 0},     {"5 … 10", 5, 10, {0}, 0},         {"5 … 15", 5, 15, {0}, 0},
    {"5 … 30", 5, 30, {0}, 0},     {"3, 6", 0, 0, {3, 6}, 2},         {"5, 10", 0, 0, {5, 10}, 2},
    {"10, 20", 0, 0, {10, 20}, 2}, {"3, 5, 10", 0, 0, {3, 5, 10}, 3}, {"5, 8, 12", 0, 0, {5, 8, 12}, 3},
};

static void one_plan(const looks_row *row, const hf_family *law, const double promise[2]) {
    size_t parts[HF_LOOKS_MOST], count = row->count;
    hf_look_confidence each;
    if (row->first && hf_looks_list(row->first, row->last, 1, parts, &count) != HF_OK) exit(2);
    if (!row->first) memcpy(parts, row->list, sizeof row->list);
    hf_look_plan plan = {parts, count, 0};
    if (hf_looks_confidence(&plan, promise[0], promise[1], &each) != HF_OK) exit(2);
    hf_coverage_cell cell = start(law, law, promise[0], promise[1]);
    cell.looks = &plan;
    cell.n = parts[count - 1];
    printf("| %s, %s %.0f/%.0f | %.4f |", row->label, law->name, 100 * promise[0], 100 * promise[1],
           each.confidence);
    hf_coverage plain = cover(&cell, 0);
    printf(" %.4f |", plain.coverage);
    cell.confidence = each.confidence;
    for (size_t i = 0; i < STEPS; i++) tell(&cell, steps[i], promise[1]);
    printf("\n");
}

static void part_looks(void) {
    static const double promises[][2] = {{0.90, 0.95}, {0.99, 0.95}, {0.95, 0.75}};
    printf(
        "\n## Looks\n\nEvery law under its own bound, taken after each of these numbers of parts: how often "
        "all of a sample's "
        "bounds are right, when\neach is taken at the promised confidence (plain), and at C′, with steps in "
        "standard deviations. %.0f samples a cell.\n\n"
        "| looks, law, promise | C′ | plain | exact | ½ SD | 1 SD | 2 SD |\n"
        "| --- | --- | --- | --- | --- | --- | --- |\n",
        SAMPLES * scale);
    for (size_t i = 0; i < sizeof looks_rows / sizeof *looks_rows; i++)
        for (size_t f = 0; f < HF_FAMILY_COUNT; f++)
            for (size_t p = 0; p < (i < 8 ? 3 : 1); p++)
                one_plan(&looks_rows[i], hf_family_at(f), promises[p]);
}

/* --- The best of several designs ---------------------------------------------------------------------- */

static void part_best(void) {
    static const size_t designs[] = {2, 3, 5, 10}, sizes[] = {3, 5, 10};
    printf("\n## The best of several designs\n\nDesigns of one law, the highest bound chosen; 90/95 plain, "
           "and at C^(1/d) "
           "with steps in standard deviations. %.0f samples a cell.\n\n"
           "| designs, parts, law | C^(1/d) | plain | exact | ½ SD | 1 SD | 2 SD |\n"
           "| --- | --- | --- | --- | --- | --- | --- |\n",
           SAMPLES * scale);
    for (size_t d = 0; d < 4; d++)
        for (size_t n = 0; n < 3; n++)
            for (size_t f = 0; f < HF_FAMILY_COUNT; f++) {
                hf_coverage_cell cell = start(hf_family_at(f), hf_family_at(f), 0.90, 0.95);
                cell.n = sizes[n];
                cell.designs = designs[d];
                double each = hf_best_of_confidence(0.95, designs[d]);
                printf("| %zu, %zu, %s | %.4f | %.4f |", designs[d], sizes[n], cell.truth->name, each,
                       cover(&cell, 0).coverage);
                cell.confidence = each;
                for (size_t i = 0; i < STEPS; i++) tell(&cell, steps[i], 0.95);
                printf("\n");
            }
}

/* --- Batches ------------------------------------------------------------------------------------------- */

enum { LAYOUTS = 7, SHARES = 7 };
static const size_t layouts[LAYOUTS][10] = {
    {5, 5}, {3, 3, 3}, {5, 5, 5}, {10, 2, 2}, {4, 1, 1}, {2, 2, 2, 2, 2}, {2, 2, 2, 2, 2, 2, 2, 2, 2, 2}};
static const size_t layout_batches[LAYOUTS] = {2, 3, 3, 3, 3, 5, 10};
static const char *const layout_labels[LAYOUTS] = {"5, 5",    "3, 3, 3",   "5, 5, 5", "10, 2, 2",
                                                   "4, 1, 1", "five of 2", "ten of 2"};
static const double shares[SHARES] = {0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97};

/* The worst over the laws. */
static void batch_cell(hf_coverage_cell cell, double step, double promised) {
    hf_coverage worst = {.coverage = 2};
    for (size_t f = 0; f < HF_FAMILY_COUNT; f++) {
        cell.truth = hf_family_at(f);
        if (cell.between_stated && !cell.truth->log_scale) continue;
        hf_coverage got = cover(&cell, step);
        if (got.coverage < worst.coverage) worst = got;
    }
    bool is_low = worst.coverage + 3 * worst.standard_error < promised;
    low += is_low && !cell.batches_skewed;
    printf(" %.4f%s |", worst.coverage, is_low ? " **low**" : "");
    fflush(stdout);
}

static void batch_rows(bool skewed, const double promise[2], size_t step_count) {
    for (size_t l = 0; l < LAYOUTS; l++)
        for (size_t s = 0; s < step_count; s++) {
            hf_coverage_cell cell = start(hf_family_at(0), hf_family_find("weibull"), promise[0], promise[1]);
            cell.batches = layouts[l];
            cell.batch_count = layout_batches[l];
            cell.batches_skewed = skewed;
            for (size_t i = 0; i < layout_batches[l]; i++) cell.n += layouts[l][i];
            printf("| %s, %.0f/%.0f, %g SD |", layout_labels[l], 100 * promise[0], 100 * promise[1],
                   steps[s]);
            for (size_t r = 0; r < SHARES; r++) {
                cell.between_share = shares[r];
                batch_cell(cell, steps[s], promise[1]);
            }
            printf("\n");
        }
}

static void batch_header(void) {
    printf("\n| batches, promise, step |");
    for (size_t r = 0; r < SHARES; r++) printf(" %g |", shares[r]);
    printf("\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
}

static void part_batches(void) {
    static const double promises[][2] = {{0.90, 0.95}, {0.99, 0.95}, {0.95, 0.75}};
    printf(
        "\n## Batches\n\nThe lower of the batch bound and the Weibull bound that ignores batches, by the "
        "share of the variance "
        "that lies between batches;\nthe worst over the three laws, CV 12 %%, %.0f samples a cell and law. "
        "Batches differ by a normal amount of ln load, parts follow the law about it.\n",
        SAMPLES * scale);
    batch_header();
    batch_rows(false, promises[0], STEPS);
    batch_rows(false, promises[1], 1);
    batch_rows(false, promises[2], 1);
    printf("\nBatch means as skewed as the parts, so that all parts together follow the law exactly. Nothing "
           "is promised for "
           "this: few batches show no law.\n");
    batch_header();
    batch_rows(true, promises[0], 1);
    batch_rows(true, promises[1], 1);
    batch_rows(true, promises[2], 1);
}

static void part_between(void) {
    static const size_t sizes[] = {3, 5, 10, 20};
    static const double promises[][2] = {{0.90, 0.95}, {0.99, 0.95}, {0.95, 0.75}};
    printf("\n## One batch, the scatter between batches stated\n\nParts of one batch, and the true scatter "
           "of ln load "
           "between batches stated: the Weibull bound and that scatter counted together, by the share of the "
           "variance that\nlies between batches; the worst over the laws of the log scale, CV 12 %%, %.0f "
           "samples a "
           "cell and law.\n",
           SAMPLES * scale);
    batch_header();
    for (size_t p = 0; p < 3; p++)
        for (size_t n = 0; n < 4; n++)
            for (size_t s = 0; s < (p ? 1 : STEPS); s++) {
                hf_coverage_cell cell =
                    start(hf_family_at(0), &hf_family_weibull, promises[p][0], promises[p][1]);
                cell.n = sizes[n];
                cell.batches = &sizes[n];
                cell.batch_count = 1;
                cell.between_stated = true;
                printf("| one of %zu, %.0f/%.0f, %g SD |", sizes[n], 100 * promises[p][0],
                       100 * promises[p][1], steps[s]);
                for (size_t r = 0; r < SHARES; r++) {
                    cell.between_share = shares[r];
                    batch_cell(cell, steps[s], promises[p][1]);
                }
                printf("\n");
            }
}

/* --- Earlier designs ----------------------------------------------------------------------------------- */

enum { NUMBERS = 4, APARTS = 4 };
static const size_t past_numbers[NUMBERS] = {2, 3, 5, 10};
static const double aparts[APARTS] = {0, 0.2, 0.4, 0.6};

/* The worst over the laws, and the mean margin of parts of the normal law of ln load. */
static double library_cell(hf_coverage_cell cell, double promised) {
    hf_coverage worst = {.coverage = 2};
    double margin = NAN;
    for (size_t f = 0; f < HF_FAMILY_COUNT; f++) {
        cell.truth = hf_family_at(f);
        hf_coverage got = cover(&cell, cell.step);
        if (got.coverage < worst.coverage) worst = got;
        if (cell.truth == &hf_family_lognormal) margin = got.mean_margin;
    }
    bool is_low = worst.coverage + 3 * worst.standard_error < promised;
    low += is_low;
    printf(" %.4f%s |", worst.coverage, is_low ? " **low**" : "");
    fflush(stdout);
    return margin;
}

static void library_rows(const double promise[2], double past_step, double step) {
    static const size_t sizes[] = {1, 2, 3, 5, 10};
    for (size_t j = 0; j < NUMBERS; j++)
        for (size_t n = 0; n < sizeof sizes / sizeof *sizes; n++) {
            hf_coverage_cell cell = start(hf_family_at(0), &hf_family_weibull, promise[0], promise[1]);
            double margin = NAN;
            cell.n = sizes[n];
            cell.step = step;
            cell.past_designs = past_numbers[j];
            cell.past_parts = 5;
            cell.past_step = past_step;
            printf("| %zu, %zu, %.0f/%.0f, %g and %g SD |", past_numbers[j], sizes[n], 100 * promise[0],
                   100 * promise[1], past_step, step);
            for (size_t t = 0; t < APARTS; t++) {
                cell.past_apart = aparts[t];
                double here = library_cell(cell, promise[1]);
                if (t == 1) margin = here;
            }
            printf(" %.2f |\n", margin);
        }
}

static void part_library(void) {
    static const double promises[][2] = {{0.90, 0.95}, {0.99, 0.95}, {0.95, 0.90}, {0.95, 0.75}};
    printf("\n## Earlier designs\n\nA new design that counts on the scatter of earlier ones, of five parts "
           "each: how "
           "often its bound is right, unless the pulls contradict\nthem, then that of its own Weibull bound. "
           "From "
           "design to design ln σ varies by a normal amount of this standard deviation, the new design's "
           "too;\nthe "
           "worst over the three laws, CV 12 %%, %.0f samples a cell and law. Margin: mean distance of the "
           "bound below "
           "the mean in true standard deviations,\nlognormal parts, at 0.2.\n\n"
           "| earlier designs, new parts, promise, steps of both | 0 | 0.2 | 0.4 | 0.6 | margin |\n"
           "| --- | --- | --- | --- | --- | --- |\n",
           SAMPLES * scale);
    for (size_t p = 0; p < sizeof promises / sizeof *promises; p++) library_rows(promises[p], 0, 0);
    library_rows(promises[0], 0.5, 0);
    library_rows(promises[0], 1, 0);
    library_rows(promises[0], 1, 1);
}

typedef struct part {
    const char *name;
    void (*run)(void);
} part;

int main(int count, char **words) {
    static const part parts[] = {{"looks", part_looks},
                                 {"best", part_best},
                                 {"batches", part_batches},
                                 {"between", part_between},
                                 {"library", part_library}};
    const char *wanted = NULL;
    for (int i = 1; i + 1 < count; i += 2) {
        if (strcmp(words[i], "--part") == 0) wanted = words[i + 1];
        if (strcmp(words[i], "--scale") == 0) scale = strtod(words[i + 1], NULL);
    }
    if (count % 2 == 0 || !(scale >= 0.01 && scale <= 1000)) {
        fprintf(stderr, "usage: promise_study [--part looks|best|batches|between|library] [--scale S]\n");
        return 2;
    }
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        if (wanted && strcmp(wanted, parts[i].name) != 0) continue;
        time_t begin = time(NULL);
        cells = low = 0;
        parts[i].run();
        printf("\n%zu cells, %zu figures low, seed %d, %.0f s.\n", cells, low, SEED,
               difftime(time(NULL), begin));
    }
    return 0;
}
