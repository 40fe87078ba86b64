/* Makes src/strength/looks_table.c: C′ of looks after every part and what plain looks are worth, by simulation in chunks, whose means and errors
 * stand in the table. Usage: make_looks_table [chunks of 160000 sequences, default 24] > src/strength/looks_table.c */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "strength/looks.h"

enum { BASES = 40000, SEQUENCES = 4 * BASES, LAST = 30, SEED = 20261202 };

static const double contents[HF_LOOKS_CONTENTS] = {0.90, 0.95, 0.99};
static const double confidences[HF_LOOKS_CONFIDENCES] = {0.75, 0.90, 0.95, 0.99};
static const double range[2] = {0.67, 4.0}; /* z; 0.75 lies just above the lower end */

/* Sums and sums of squares over the chunks: C′, plain. */
typedef struct tally {
    double sum[2], squares[2];
} tally;

static tally tallies[LAST][HF_LOOKS_CONTENTS]
                    [HF_LOOKS_CONFIDENCES]; /* of one first look; index: last − first */

static void add(tally *t, const double *asked, double *room, double confidence) {
    double z = hf_normal_quantile_lower(confidence), value[2];
    size_t plain = 0;
    for (size_t i = 0; i < SEQUENCES; i++) plain += asked[i] <= z;
    memcpy(room, asked, SEQUENCES * sizeof *room);
    value[0] = hf_normal_lower(hf_vector_select(room, SEQUENCES, (size_t)(confidence * SEQUENCES)));
    value[1] = (double)plain / SEQUENCES;
    for (int k = 0; k < 2; k++) {
        t->sum[k] += value[k];
        t->squares[k] += value[k] * value[k];
    }
}

static void print_tally(const tally *t, double chunks) {
    for (int k = 0; k < 2; k++) {
        double mean = t->sum[k] / chunks;
        double variance = fmax(t->squares[k] / chunks - mean * mean, 0) / (chunks - 1);
        printf("%s%.5f, %.1e", k ? ", " : "{", mean, sqrt(variance));
    }
    printf("}");
}

static void print_first(size_t first, double chunks) {
    for (size_t last = first + 1; last <= LAST; last++) {
        printf("  { /* %zu … %zu */\n", first, last);
        for (int p = 0; p < HF_LOOKS_CONTENTS; p++) {
            printf("    {");
            for (int c = 0; c < HF_LOOKS_CONFIDENCES; c++) {
                print_tally(&tallies[last - first][p][c], chunks);
                if (c + 1 < HF_LOOKS_CONFIDENCES) printf(", ");
            }
            printf("},\n");
        }
        printf("  },\n");
    }
}

static void one_first(size_t first, int chunks, double *memory) {
    size_t parts[HF_LOOKS_MOST], count;
    memset(tallies, 0, sizeof tallies);
    if (hf_looks_list(first, LAST, 1, parts, &count) != HF_OK) exit(1);
    hf_look_plan plan = {parts, count, 0};
    for (int p = 0; p < HF_LOOKS_CONTENTS; p++)
        for (int chunk = 0; chunk < chunks; chunk++) {
            if (hf_looks_running(&plan, contents[p], range, BASES, SEED + (unsigned)chunk,
                                 memory + SEQUENCES) != HF_OK)
                exit(1);
            for (size_t i = 1; i < count; i++)
                for (int c = 0; c < HF_LOOKS_CONFIDENCES; c++)
                    add(&tallies[i][p][c], memory + (i + 1) * SEQUENCES, memory, confidences[c]);
        }
    print_first(first, chunks);
}

static void print_list(const char *head, const double *values, int count) {
    printf("%s = {", head);
    for (int i = 0; i < count; i++) printf("%s%.15g", i ? ", " : "", values[i]);
    printf("};\n");
}

int main(int argc, char **argv) {
    int chunks = argc > 1 ? atoi(argv[1]) : 24;
    double *memory = malloc((LAST + 1) * SEQUENCES * sizeof *memory);
    if (!memory || chunks < 2) return 1;
    printf("/* Made by tests/tools/make_looks_table.c, %d chunks of %d sequences. Do not edit. */\n", chunks,
           SEQUENCES);
    printf("#include \"strength/looks.h\"\n\n");
    print_list("const double hf_looks_contents[HF_LOOKS_CONTENTS]", contents, HF_LOOKS_CONTENTS);
    print_list("const double hf_looks_confidences[HF_LOOKS_CONFIDENCES]", confidences, HF_LOOKS_CONFIDENCES);
    printf("const double hf_looks_table[HF_LOOKS_ROWS][HF_LOOKS_CONTENTS][HF_LOOKS_CONFIDENCES][4] = {\n");
    for (size_t first = 2; first <= HF_LOOKS_FIRST_ROWS + 1; first++) {
        one_first(first, chunks, memory);
        fprintf(stderr, "\rfirst %zu ", first);
    }
    printf("};\n");
    free(memory);
    return 0;
}
