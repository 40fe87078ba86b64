/* Operating characteristics of `compare`, as sections for docs/coverage.md on standard output.
 *
 *     comparison_study [SCALE [PART]]      SCALE multiplies the samples; 1 is the published size
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "comparing/cells.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/numeric/parallel.h"

enum { SEED = 20261125, NUMBERS = 6, SCATTERS = 5, STEPS = 4 };

static const size_t numbers[NUMBERS][2] = {{3, 3}, {5, 5}, {10, 10}, {3, 6}, {5, 10}, {3, 10}};
static const struct {
    const char *name;
    double b_over_a;
} scatters[SCATTERS] = {{"1 : 1", 1}, {"1 : 2", 2}, {"1 : 3", 3}, {"2 : 1", 1.0 / 2}, {"3 : 1", 1.0 / 3}};
static const double steps[STEPS] = {0.25, 0.5, 1, 2}, wide_steps[] = {0.25, 0.5, 1, 2, 3, 4};

static double scale = 1;
static size_t cells_seen, samples_seen, low_seen;
static double begun;

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static size_t samples(double count) {
    return (size_t)fmax(200, count * scale);
}

/* Spread of 10 % for the first; steps count in the smaller of the two spreads, the harder case. */
static hf_comparison_cell cell_of(size_t number, size_t scatter, double step) {
    double smaller = fmin(1, scatters[scatter].b_over_a);
    hf_comparison_cell cell = {
        .a = {.n = numbers[number][0], .spread = 0.1, .step = step * smaller},
        .b = {.n = numbers[number][1], .spread = 0.1 * scatters[scatter].b_over_a, .step = step * smaller},
        .ratio = 1,
        .seed = SEED + 1000 * (number * SCATTERS + scatter)};
    return cell;
}

static double floor_of(const hf_comparison_cell *cell) {
    return hf_cell_is_cautioned(cell) ? 0.90 : 0.93;
}

static void begin_part(void) {
    begun = now();
    cells_seen = samples_seen = 0;
}

static void end_part(void) {
    printf("\n%zu cells, %.1f million samples, %.0f s.\n", cells_seen, 1e-6 * (double)samples_seen,
           now() - begun);
}

static void tell(const hf_cell_search *search) {
    hf_cell_worst worst = hf_cell_find_worst(search);
    printf(" %.4f%s |", worst.seen.coverage, worst.low ? " **low**" : "");
    fflush(stdout);
    cells_seen += worst.cells;
    samples_seen += worst.samples;
    low_seen += worst.low;
}

static void row_head(size_t number, size_t scatter) {
    printf("| %zu, %zu | %s |", numbers[number][0], numbers[number][1], scatters[scatter].name);
}

/* --- One ladder for both ------------------------------------------------------------------------------ */

static void same_ladder(double true_difference) {
    printf("\n| parts | scatter | exact |");
    for (size_t s = 0; s < STEPS; s++) printf(" %g SD |", steps[s]);
    printf(" cautions |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (size_t n = 0; n < NUMBERS; n++)
        for (size_t r = 0; r < SCATTERS; r++) {
            row_head(n, r);
            for (size_t s = 0; s <= STEPS; s++) {
                hf_cell_search search = {cell_of(n, r, s ? steps[s - 1] : 0), 4, false, samples(5000), 0};
                search.cell.ratio = exp(true_difference * search.cell.a.spread);
                search.floor = floor_of(&search.cell);
                tell(&search);
            }
            hf_comparison_cell cell = cell_of(n, r, steps[0]);
            cell.replicates = samples(20000);
            hf_comparison_coverage seen = hf_cell_look(&cell);
            printf(" %.0f %%, %.0f %%%s |\n", 100 * seen.caution_small, 100 * seen.caution_scatter,
                   hf_cell_is_cautioned(&cell) ? " *" : "");
        }
}

static void part_level(void) {
    printf("\n## Comparisons: one ladder\n\n"
           "Two designs without a difference, pulled on one ladder, compared by Welch's test with the step "
           "allowance as `compare` "
           "does.\nEach figure is the share of 95 %% intervals that hold the true ratio, at the worst of "
           "four ladder places (looked at "
           "again\nwith a new seed and ten times the samples, standard error about %.4f); one less it is the "
           "level of the test. Steps in\n"
           "standard deviations of the design that scatters less. `scatter`: first to second design. "
           "`cautions`: how often, at steps of\n"
           "0.25 SD, the cautions \"few parts that scatter more\" and \"scatters apart\" fire; * marks where "
           "they are due by the true\n"
           "scatters, and where 0.90 is promised in place of 0.93.\n",
           sqrt(0.95 * 0.05 / (10 * (double)samples(5000))));
    begin_part();
    same_ladder(0);
    end_part();
}

static void part_difference(void) {
    printf("\n## Comparisons: a true difference\n\nThe same where the first design is stronger by 1.7 of its "
           "standard deviations.\n");
    begin_part();
    same_ladder(1.7);
    end_part();
}

/* --- Two ladders ----------------------------------------------------------------------------------------- */

static void part_ladders(void) {
    static const double pairs[][2] = {{0.5, 0.5}, {1, 1}, {2, 2}, {0.5, 1}, {1, 2}, {0, 2}};
    enum { PAIRS = sizeof pairs / sizeof *pairs };
    printf("\n## Comparisons: each design on its own ladder\n\nWorst of nine pairs of ladder places, "
           "otherwise as above. Steps of the "
           "first and of the second design.\n\n| parts | scatter |");
    for (size_t p = 0; p < PAIRS; p++) printf(" %g, %g |", pairs[p][0], pairs[p][1]);
    printf("\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    begin_part();
    for (size_t n = 0; n < NUMBERS; n++)
        for (size_t r = 0; r < SCATTERS; r++) {
            row_head(n, r);
            for (size_t p = 0; p < PAIRS; p++) {
                hf_cell_search search = {cell_of(n, r, pairs[p][0]), 3, true, samples(2000), 0};
                search.cell.b.step = cell_of(n, r, pairs[p][1]).b.step;
                search.floor = floor_of(&search.cell);
                tell(&search);
            }
            printf("\n");
        }
    end_part();
}

/* --- Other laws, other ladders, and a habit ------------------------------------------------------------- */

typedef struct variation {
    const char *name, *family;
    bool load_steps;
    hf_comparison_rule rule;
} variation;

static void part_variations(void) {
    static const variation list[] = {
        {"as `compare`, lognormal", "lognormal", false, HF_RULE_AS_COMPARED},
        {"lognormal, steps equal in load, CV 10 %", "lognormal", true, HF_RULE_AS_COMPARED},
        {"Weibull, CV about 10 %", "weibull", false, HF_RULE_AS_COMPARED},
        {"habit: middles as if read, no allowance", "lognormal", false, HF_RULE_WITHOUT_ALLOWANCE}};
    enum { WIDE = sizeof wide_steps / sizeof *wide_steps };
    printf("\n## Comparisons: other laws, wide steps, and why the allowance\n\nEqual scatter, each design on "
           "its own ladder with the same "
           "step, worst of nine pairs of ladder places. Beyond 2 SD nothing is\npromised: the middle of so "
           "wide a step is off by more "
           "than many parts can average out.\n\n| what | parts |");
    for (size_t s = 0; s < WIDE; s++) printf(" %g SD |", wide_steps[s]);
    printf("\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    begin_part();
    for (size_t v = 0; v < sizeof list / sizeof *list; v++)
        for (size_t n = 0; n < NUMBERS; n++) {
            printf("| %s | %zu, %zu |", list[v].name, numbers[n][0], numbers[n][1]);
            for (size_t s = 0; s < WIDE; s++) {
                hf_cell_search search = {cell_of(n, 0, wide_steps[s]), 3, true, samples(2000), 0};
                search.cell.truth = hf_family_find(list[v].family);
                search.cell.load_steps = list[v].load_steps;
                search.cell.rule = list[v].rule;
                bool promised = list[v].rule == HF_RULE_AS_COMPARED && wide_steps[s] <= 2;
                search.floor = promised ? floor_of(&search.cell) : 0;
                tell(&search);
            }
            printf("\n");
        }
    end_part();
}

/* --- Power ------------------------------------------------------------------------------------------------ */

static void part_power(void) {
    static const double effects[] = {3.5, 2.5, 2, 1.75, 1.25, 1};
    printf("\n## Comparisons: is a difference found as often as planned?\n\nParts by `plan contrast` for a "
           "chance of 80 %%, one ladder, "
           "equal scatter; then the share of samples in which it was\nfound on the right side, the lower of "
           "four ladder places (standard "
           "error about %.4f).\n\n| difference | step | parts | found | on the wrong side |\n| --- | --- | "
           "--- | --- | --- |\n",
           sqrt(0.16 / (double)samples(40000)));
    begin_part();
    for (size_t e = 0; e < sizeof effects / sizeof *effects; e++)
        for (size_t s = 0; s <= STEPS; s++) {
            double step = s ? steps[s - 1] : 0, seen = effects[e] / sqrt(1 + step * step * (5.0 / 24)), n;
            hf_power_setup setup = {2, 2, 1, 1, 0.05, false};
            if (hf_welch_power_parts(&setup, seen, 0.80, &n) != HF_OK) exit(2);
            double least = INFINITY, wrong = 0;
            for (int place = 0; place < (step > 0 ? 4 : 1); place++, cells_seen++) {
                hf_comparison_cell cell = cell_of(0, 0, step);
                cell.a.n = cell.b.n = (size_t)n;
                cell.a.offset = cell.b.offset = 0.25 * step * place;
                cell.ratio = exp(effects[e] * cell.a.spread);
                cell.replicates = samples(40000);
                hf_comparison_coverage found = hf_cell_look(&cell);
                samples_seen += found.replicates;
                least = fmin(least, found.rejected - found.wrong_side);
                wrong = fmax(wrong, found.wrong_side);
            }
            printf("| %g SD | %g SD | %.0f | %.3f | %.4f |\n", effects[e], step, n, least, wrong);
        }
    end_part();
}

/* --- Run-outs --------------------------------------------------------------------------------------------- */

static void part_open(void) {
    static const struct {
        size_t number, scatter;
    } rows[] = {{1, 0}, {2, 0}, {2, 2}, {2, 4}, {4, 0}, {4, 4}, {5, 2}, {5, 4}};
    static const struct {
        hf_comparison_rule rule;
        double samples;
    } rules[] = {{HF_RULE_AS_COMPARED, 2000}, {HF_RULE_OPEN_WELCH, 4000}, {HF_RULE_OWN_SCATTER, 250}};
    static const double shares[] = {0.7, 0.4};
    printf("\n## Comparisons: weights gone before the parts broke\n\nNo difference, one ladder with steps of "
           "0.5 SD, its last rung at "
           "the load that 70 %% or 40 %% of the first design's parts\ndo not hold. Coverage of the interval, "
           "in brackets the share of samples "
           "that give one; samples without any count as covered.\n`compare`: the likelihood with one scatter "
           "for both, as the verdict takes it "
           "(%.0f samples, standard error about %.3f). Beside it Welch's\ntest carried over (%.0f samples), "
           "and the likelihood with a scatter for "
           "each (%.0f). * marks where a caution about scatter is due.\n\n"
           "| parts | scatter | last rung | `compare` | Welch carried over | a scatter for each |\n| --- | "
           "--- | --- | --- | --- | --- |\n",
           (double)samples(2000), sqrt(0.05 * 0.95 / (double)samples(2000)), (double)samples(4000),
           (double)samples(250));
    begin_part();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (size_t k = 0; k < 2; k++) {
            row_head(rows[i].number, rows[i].scatter);
            printf(" %.0f %% |", 100 * shares[k]);
            for (size_t rule = 0; rule < 3; rule++, cells_seen++) {
                hf_comparison_cell cell = cell_of(rows[i].number, rows[i].scatter, 0.5);
                cell.stop_share = shares[k];
                cell.rule = rules[rule].rule;
                cell.replicates = samples(rules[rule].samples);
                hf_comparison_coverage seen = hf_cell_look(&cell);
                samples_seen += seen.replicates;
                printf(" %.3f (%.0f %%)%s |", seen.coverage, 100 * seen.given,
                       rule == 0 && hf_cell_is_cautioned(&cell) ? " *" : "");
                fflush(stdout);
            }
            printf("\n");
        }
    end_part();
}

/* --- Batches ---------------------------------------------------------------------------------------------- */

enum { LAYOUTS = 12, SHARES = 4 };
static const size_t one_batch[][1] = {{2}, {3}, {5}, {10}, {20}};
static const size_t threes[] = {3, 3, 3}, fives[] = {5, 5, 5}, pairs_of[] = {2, 2, 2, 2, 2, 2, 2, 2, 2, 2},
                    two_fives[] = {5, 5}, uneven[] = {10, 2, 2}, singles[] = {4, 1, 1};
static const struct {
    const char *name;
    const size_t *a, *b;
    size_t count_a, count_b;
} layouts[LAYOUTS] = {{"5, 5", two_fives, two_fives, 2, 2},
                      {"3, 3, 3", threes, threes, 3, 3},
                      {"5, 5, 5", fives, fives, 3, 3},
                      {"10, 2, 2", uneven, uneven, 3, 3},
                      {"4, 1, 1", singles, singles, 3, 3},
                      {"five of 2", pairs_of, pairs_of, 5, 5},
                      {"ten of 2", pairs_of, pairs_of, 10, 10},
                      {"3, 3, 3 against five of 2", threes, pairs_of, 3, 5},
                      {"5, 5 against 3, 3, 3", two_fives, threes, 2, 3},
                      {"5, 5 against five of 2", two_fives, pairs_of, 2, 5},
                      {"3, 3, 3 against ten of 2", threes, pairs_of, 3, 10},
                      {"5, 5 against ten of 2", two_fives, pairs_of, 2, 10}};
static const double between_shares[SHARES] = {0, 0.25, 0.5, 0.9};

static hf_comparison_side in_batches(const size_t *batches, size_t count) {
    hf_comparison_side side = {.spread = 0.1, .batches = batches, .batch_count = count};
    for (size_t i = 0; i < count; i++) side.n += batches[i];
    return side;
}

static void share_header(const char *first) {
    printf("\n| %s |", first);
    for (size_t i = 0; i < SHARES; i++) printf(" %g |", between_shares[i]);
    printf("\n| --- | --- | --- | --- | --- |\n");
}

/* How often two equal designs are told apart when each part is taken for itself. */
static void told_apart(const char *name, const size_t *batches, size_t count) {
    printf("| %s |", name);
    for (size_t i = 0; i < SHARES; i++, cells_seen++) {
        hf_comparison_side side = in_batches(batches, count);
        hf_comparison_cell cell = {.a = side,
                                   .b = side,
                                   .ratio = 1,
                                   .between_share = between_shares[i],
                                   .rule = HF_RULE_BY_PARTS,
                                   .replicates = samples(200000),
                                   .seed = SEED + cells_seen};
        hf_comparison_coverage seen = hf_cell_look(&cell);
        samples_seen += seen.replicates;
        printf(" %.4f |", seen.rejected);
    }
    printf("\n");
}

static void batch_means(size_t layout, double step) {
    size_t most =
        layouts[layout].count_a > layouts[layout].count_b ? layouts[layout].count_a : layouts[layout].count_b;
    bool apart = most >= 2 * (layouts[layout].count_a + layouts[layout].count_b - most);
    printf("| %s, %g SD%s |", layouts[layout].name, step, apart ? " *" : "");
    for (size_t i = 0; i < SHARES; i++) {
        hf_cell_search search = {.places = 4, .samples = samples(5000), .floor = apart ? 0.89 : 0.93};
        search.cell = (hf_comparison_cell){.a = in_batches(layouts[layout].a, layouts[layout].count_a),
                                           .b = in_batches(layouts[layout].b, layouts[layout].count_b),
                                           .ratio = 1,
                                           .between_share = between_shares[i],
                                           .seed = SEED + 1000 * layout + 100 * i};
        search.cell.a.step = search.cell.b.step = step;
        tell(&search);
    }
    printf("\n");
}

static void part_batches(void) {
    static const double batch_steps[] = {0, 0.5, 1, 2};
    char name[32];
    printf(
        "\n## Comparisons: batches\n\nTwo designs without a difference; a share of the variance lies between "
        "batches, normal from batch to batch. How often they are told\napart at a level of 0.05 where each "
        "part is taken for itself, exact readings (standard error below %.4f). One batch of so many parts "
        "each: the\nfigures of the caution; and several, taken so.\n",
        sqrt(0.25 / (double)samples(200000)));
    begin_part();
    share_header("batches of each");
    for (size_t i = 0; i < sizeof one_batch / sizeof *one_batch; i++) {
        (void)snprintf(name, sizeof name, "one of %zu", one_batch[i][0]);
        told_apart(name, one_batch[i], 1);
    }
    for (size_t i = 0; i < 7; i++) told_apart(layouts[i].name, layouts[i].a, layouts[i].count_a);
    printf(
        "\nBy the means of the batches, as `compare` does where every part states its batch and both designs "
        "have two or more: the share of 95 %% intervals\nthat hold the true ratio, at the worst of four "
        "ladder places. 0.93 is promised, and 0.89 where one has twice as many batches (*): a caution says "
        "so.\n");
    share_header("batches of each, step");
    for (size_t i = 0; i < LAYOUTS; i++)
        for (size_t s = 0; s < sizeof batch_steps / sizeof *batch_steps; s++) batch_means(i, batch_steps[s]);
    end_part();
}

typedef struct part {
    const char *name;
    void (*run)(void);
} part;

int main(int count, char **words) {
    static const part parts[] = {{"level", part_level},     {"difference", part_difference},
                                 {"ladders", part_ladders}, {"variations", part_variations},
                                 {"power", part_power},     {"open", part_open},
                                 {"batches", part_batches}};
    if (count > 1) scale = strtod(words[1], NULL);
    if (!(scale > 0 && scale <= 100)) {
        fprintf(stderr, "usage: comparison_study [SCALE [PART]]\n");
        return 2;
    }
    double start = now();
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (count < 3 || strcmp(words[2], parts[i].name) == 0) parts[i].run();
    printf("\nComparisons: %zu figures low, seed %d, scale %g, %d threads, %.0f s in all.\n", low_seen, SEED,
           scale, hf_parallel_threads(), now() - start);
    return low_seen > 0;
}
