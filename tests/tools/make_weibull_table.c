/* Makes src/strength/weibull_table.c: √n·(w + q) by simulation (n = 2: the entry is not used, the factor is exact there).
 * Usage: make_weibull_table [samples per size, default 10000000] > src/strength/weibull_table.c
 *        make_weibull_table tail [samples, default 2000000] > src/strength/weibull_tail_table.c
 * The tail goes on from the last column of the table by the ratio w(C)/w(0.999) of its own samples. A sample of n + 1 is one of n
 * with one more value, so that neighbouring sizes err alike and the factor falls with n. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/family.h"
#include "strength/weibull.h"
#include "strength/weibull_table.h"

enum { SIZES = 63, CONTENTS = 16, CONFIDENCES = 13 };

static const double contents[CONTENTS] = {0.5,  0.6,   0.7,  0.75,  0.8,   0.85,   0.9,     0.925,
                                          0.95, 0.975, 0.99, 0.995, 0.999, 0.9999, 0.99999, 0.999999};
static const double confidences[CONFIDENCES] = {0.5,   0.6,  0.7,   0.75, 0.8,   0.85, 0.9,
                                                0.925, 0.95, 0.975, 0.99, 0.995, 0.999};

static int compare_ranks(const void *a, const void *b) {
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

/* Puts every wanted rank in its place, halving the list of ranks each time. */
static void select_all(double *x, size_t offset, size_t count, const size_t *ranks, size_t rank_count) {
    if (rank_count == 0 || count < 2) return;
    size_t middle = rank_count / 2, at = ranks[middle] - offset;
    hf_vector_select(x, count, at);
    select_all(x, offset, at, ranks, middle);
    select_all(x + at + 1, offset + at + 1, count - at - 1, ranks + middle + 1, rank_count - middle - 1);
}

static void one_size(int n, size_t samples, double *memory, double value[CONTENTS][CONFIDENCES],
                     double error[CONTENTS][CONFIDENCES]) {
    double *m = memory, *s = memory + samples, *x = memory + 2 * samples, root = sqrt(n);
    if (hf_weibull_pivots((size_t)n, samples, 20260501u + (unsigned)n, m, s) != HF_OK) exit(1);
    for (int p = 0; p < CONTENTS; p++) {
        double q = hf_sev_quantile_upper(contents[p]), size = (double)samples;
        size_t ranks[3 * CONFIDENCES], sorted[3 * CONFIDENCES];
        for (size_t i = 0; i < samples; i++) x[i] = (m[i] - q) / s[i];
        for (int c = 0; c < CONFIDENCES; c++) {
            double spread = sqrt(confidences[c] * (1 - confidences[c]) / size);
            for (int k = 0; k < 3; k++)
                sorted[3 * c + k] = ranks[3 * c + k] = (size_t)((confidences[c] + (k - 1) * spread) * size);
        }
        qsort(sorted, 3 * CONFIDENCES, sizeof *sorted, compare_ranks);
        size_t unique = 0;
        for (int i = 0; i < 3 * CONFIDENCES; i++)
            if (unique == 0 || sorted[i] != sorted[unique - 1]) sorted[unique++] = sorted[i];
        select_all(x, 0, samples, sorted, unique);
        for (int c = 0; c < CONFIDENCES; c++) {
            value[p][c] = root * (x[ranks[3 * c + 1]] + q);
            error[p][c] = root * 0.5 * (x[ranks[3 * c + 2]] - x[ranks[3 * c]]);
        }
    }
}

static void print_list(const char *head, const double *values, int count) {
    printf("%s = {", head);
    for (int i = 0; i < count; i++) printf("%s%.15g", i ? ", " : "", values[i]);
    printf("};\n");
}

/* --- The tail ------------------------------------------------------------------------------------------ */

static const double tail_confidences[HF_WEIBULL_TAIL] = {0.9995, 0.9999};

typedef struct tail_job {
    size_t n;
    double *m, *s, *scratch; /* scratch: 2·n·HF_LANES per worker */
} tail_job;

static void tail_block(size_t block, int worker, void *context) {
    const tail_job *job = context;
    size_t stride = job->n * HF_LANES, groups = HF_WEIBULL_BLOCK / HF_LANES;
    double *y = job->scratch + 2 * stride * (size_t)worker;
    for (size_t group = block * groups; group < (block + 1) * groups; group++) {
        hf_random random;
        hf_random_start(&random, 20260701, group);
        hf_random_fill_sev(&random, y, stride);
        hf_weibull_estimate_lanes(y, job->n, y + stride, job->m + group * HF_LANES,
                                  job->s + group * HF_LANES);
    }
}

/* The order statistic at C, and half the interval between those one standard deviation of its rank away. */
static double quantile_at(double *x, size_t samples, double confidence, double *error) {
    double size = (double)samples, spread = sqrt(confidence * (1 - confidence) / size);
    double above = hf_vector_select(x, samples, (size_t)fmin(size - 1, (confidence + spread) * size));
    double below = hf_vector_select(x, samples, (size_t)((confidence - spread) * size));
    *error = 0.5 * (above - below);
    return hf_vector_select(x, samples, (size_t)(confidence * size));
}

static void tail_of_size(size_t row, size_t samples, double *memory) {
    size_t n = (size_t)hf_weibull_sizes[row], last = HF_WEIBULL_CONFIDENCES - 1;
    double *m = memory, *s = m + samples, *x = s + samples, root = sqrt((double)n), error, at_error;
    tail_job job = {n, m, s, malloc(2 * n * HF_LANES * sizeof(double) * (size_t)hf_parallel_threads())};
    if (!job.scratch) exit(1);
    hf_parallel_blocks(samples / HF_WEIBULL_BLOCK, tail_block, &job);
    free(job.scratch);
    printf("  { /* n = %zu */\n", n);
    for (size_t p = 0; p < HF_WEIBULL_CONTENTS; p++) {
        double q = hf_sev_quantile_upper(hf_weibull_contents[p]);
        for (size_t i = 0; i < samples; i++) x[i] = (m[i] - q) / s[i];
        double at = quantile_at(x, samples, hf_weibull_confidences[last], &at_error);
        double table = hf_weibull_table[row][p][last] / root - q;
        printf("    {");
        for (size_t c = 0; c < HF_WEIBULL_TAIL; c++) {
            double w = quantile_at(x, samples, tail_confidences[c], &error);
            double share = hypot(error / w, (double)hf_weibull_table_error[row][p][last] / root / table);
            printf("%s{%.7g, %.2g}", c ? ", " : "", root * (table * w / at + q),
                   root * table * w / at * share);
        }
        printf("},\n");
    }
    printf("  },\n");
    fflush(stdout);
    fprintf(stderr, "\rn = %zu ", n);
}

static int make_tail(size_t samples) {
    double *memory = malloc(3 * samples * sizeof *memory);
    if (!memory || samples % HF_WEIBULL_BLOCK != 0) return 1;
    printf("/* Made by tests/tools/make_weibull_table.c tail, %zu samples a size, seed 20260701. Do not "
           "edit. */\n"
           "#include \"strength/weibull_table.h\"\n\n"
           "const double hf_weibull_tail_confidences[HF_WEIBULL_TAIL] = {0.9995, 0.9999};\n"
           "const double hf_weibull_tail[HF_WEIBULL_SIZES][HF_WEIBULL_CONTENTS][HF_WEIBULL_TAIL][2] = {\n",
           samples);
    for (size_t row = 0; row < HF_WEIBULL_SIZES; row++) tail_of_size(row, samples, memory);
    printf("};\n");
    fprintf(stderr, "\n");
    free(memory);
    return 0;
}

int main(int argc, char **argv) {
    enum { TAIL_BLOCKS = 256 };
    if (argc > 1 && strcmp(argv[1], "tail") == 0)
        return make_tail(argc > 2 ? (size_t)strtoull(argv[2], NULL, 10) : TAIL_BLOCKS * HF_WEIBULL_BLOCK);
    size_t samples = argc > 1 ? (size_t)strtoull(argv[1], NULL, 10) : 10000000;
    static double value[SIZES][CONTENTS][CONFIDENCES], error[SIZES][CONTENTS][CONFIDENCES];
    int sizes[SIZES];
    double *memory = malloc(3 * samples * sizeof *memory);
    if (!memory || samples % 8 != 0) return 1;
    for (int i = 0; i < 59; i++) sizes[i] = i + 2;
    sizes[59] = 80, sizes[60] = 120, sizes[61] = 250, sizes[62] = 1000;
    for (int i = 0; i < SIZES; i++) {
        one_size(sizes[i], samples, memory, value[i], error[i]);
        fprintf(stderr, "\rn = %d ", sizes[i]);
    }
    fprintf(stderr, "\n");
    printf("/* Made by tests/tools/make_weibull_table.c, %zu samples a size, seed 20260501 + n. Do not edit. "
           "*/\n",
           samples);
    printf("#include \"strength/weibull_table.h\"\n\nconst int hf_weibull_sizes[HF_WEIBULL_SIZES] = {");
    for (int i = 0; i < SIZES; i++) printf("%s%d", i ? ", " : "", sizes[i]);
    printf("};\n");
    print_list("const double hf_weibull_contents[HF_WEIBULL_CONTENTS]", contents, CONTENTS);
    print_list("const double hf_weibull_confidences[HF_WEIBULL_CONFIDENCES]", confidences, CONFIDENCES);
    for (int which = 0; which < 2; which++) {
        printf("const %s hf_weibull_table%s[HF_WEIBULL_SIZES][HF_WEIBULL_CONTENTS][HF_WEIBULL_CONFIDENCES] = "
               "{\n",
               which ? "float" : "double", which ? "_error" : "");
        for (int i = 0; i < SIZES; i++) {
            printf("  { /* n = %d */\n", sizes[i]);
            for (int p = 0; p < CONTENTS; p++) {
                printf("    {");
                for (int c = 0; c < CONFIDENCES; c++)
                    printf(which ? "%s%#.2gF" : "%s%.7g", c ? "," : "",
                           which ? error[i][p][c] : value[i][p][c]);
                printf("},\n");
            }
            printf("  },\n");
        }
        printf("};\n");
    }
    free(memory);
    return 0;
}
