/* C′ by simulation of pivots. A bound at n parts is right when (mean − q)/s ≤ k(n, C′), q the true quantile; k rises with C′, so every look
 * of a sequence asks for some confidence, and the sequence for the highest of them. Normal pivots by Helmert's residuals: changing the sign
 * of the last mean or of all residuals leaves every s as it was and gives three more sequences for one. */
#include "strength/looks.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "numeric/kernel.h"

enum { LANES = 8, VARIANTS = 4, WIDE = LANES * VARIANTS, DEGREE = 7, GROUPS_A_BLOCK = 32 };
enum { BUDGET = 1300000, FEWEST = 20000, MOST = 100000 }; /* rows of a simulation; bases */
static const double usual_reach = 1.75;                   /* above z_C, where C′ is looked for */
static const uint64_t looks_seed = 20261201;

/* ln k ↔ z of one look: z = Σ slope[i]·x^i at x = (ln ratio − middle)/half, between the factors k at z_C and at z_C + reach. */
typedef struct look {
    size_t parts;
    bool is_fixed; /* a ratio above `low` breaks the sequence */
    double low, high, middle, half, slope[DEGREE + 1];
} look;

typedef struct looks_job {
    look looks[HF_LOOKS_MOST];
    size_t count, groups;
    bool running; /* `highest` is kept after every look, one look after the other, not after the last only */
    double lowest, reach; /* z of the factors looked at: lowest … lowest + reach */
    uint64_t seed;
    double shift;    /* −q: z_P */
    double *scratch; /* last·LANES per worker */
    double *
        highest; /* WIDE per group: z asked for; −INFINITY: not even that of C; INFINITY: broken at a fixed look */
} looks_job;

static hf_status factor(size_t n, double content, double confidence, double *k) {
    double root = sqrt((double)n), t;
    hf_status status =
        hf_noncentral_t_quantile(confidence, (double)n - 1, hf_normal_quantile_lower(content) * root, &t);
    *k = t / root;
    return status == HF_OK && !(*k > 0) ? HF_RANGE : status;
}

/* Coefficients of the polynomial through (x[i], y[i]): divided differences, then multiplied out. */
static void through(const double *x, const double *y, double *slope) {
    double difference[DEGREE + 1];
    memcpy(difference, y, sizeof difference);
    for (int order = 1; order <= DEGREE; order++)
        for (int i = DEGREE; i >= order; i--)
            difference[i] = (difference[i] - difference[i - 1]) / (x[i] - x[i - order]);
    for (int i = 0; i <= DEGREE; i++) slope[i] = 0;
    for (int i = DEGREE; i >= 0; i--) {
        for (int j = DEGREE - i; j > 0; j--) slope[j] = slope[j - 1] - x[i] * slope[j];
        slope[0] = difference[i] - x[i] * slope[0];
    }
}

/* Nodes: Chebyshev's places in z, both ends included, so that no ratio lies outside. */
static hf_status open_look(look *one, double content, double lowest, double reach) {
    double x[DEGREE + 1], z[DEGREE + 1];
    for (int i = 0; i <= DEGREE; i++) {
        z[i] = lowest + 0.5 * reach * (1 - cos(HF_PI * i / DEGREE));
        hf_status status = factor(one->parts, content, hf_normal_lower(z[i]), &x[i]);
        if (status != HF_OK) return status;
    }
    one->low = x[0];
    one->high = x[DEGREE];
    one->middle = 0.5 * (log(one->low) + log(one->high));
    one->half = 0.5 * (log(one->high) - log(one->low));
    for (int i = 0; i <= DEGREE; i++) x[i] = (log(x[i]) - one->middle) / one->half;
    through(x, z, one->slope);
    return HF_OK;
}

static hf_status open_looks(looks_job *job, const hf_look_plan *plan, double content) {
    job->count = plan->count;
    job->shift = hf_normal_quantile_lower(content);
    for (size_t i = 0; i < plan->count; i++) {
        look *one = &job->looks[i];
        *one = (look){.parts = plan->parts[i], .is_fixed = plan->early > 0 && i + 1 < plan->count};
        hf_status status = one->is_fixed ? factor(one->parts, content, plan->early, &one->low)
                                         : open_look(one, content, job->lowest, job->reach);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}

/* Sums of one group of sequences side by side. The mean of n values is that of all (`last`, independent of the residuals) less
 * Σ residual_j/√(j(j − 1)) over j > n; `path` is minus that sum, `squares` that of the residuals up to n. */
typedef struct sums {
    double last[LANES], path[LANES], squares[LANES];
} sums;

HF_VECTOR_CLONES static void add_row(sums *s, const double *z, double n) {
    double share = 1 / sqrt(n * (n - 1));
    for (size_t lane = 0; lane < LANES; lane++) {
        s->path[lane] += share * z[lane];
        s->squares[lane] += z[lane] * z[lane];
    }
}

/* Row 0 of z: the mean of all; row n − 1: the residual of part n. */
HF_VECTOR_CLONES static void start_sums(sums *s, const double *z, size_t parts) {
    double inverse = 1 / sqrt((double)parts);
    for (size_t lane = 0; lane < LANES; lane++) {
        s->last[lane] = z[lane] * inverse;
        s->path[lane] = s->squares[lane] = 0;
    }
    for (size_t row = parts - 1; row > 0; row--) {
        double share = 1 / sqrt((double)row * ((double)row + 1));
        for (size_t lane = 0; lane < LANES; lane++) s->path[lane] -= share * z[row * LANES + lane];
    }
}

/* (mean − q)/s, the mean being sign[0]·last + sign[1]·path and `inverse` 1/s; the highest of the eight is returned. */
HF_KERNEL double ratios(const sums *s, const double inverse[LANES], double shift, const double sign[2],
                        double ratio[LANES]) {
    double highest = -INFINITY;
    for (size_t lane = 0; lane < LANES; lane++)
        ratio[lane] = (shift + sign[0] * s->last[lane] + sign[1] * s->path[lane]) * inverse[lane];
    for (size_t lane = 0; lane < LANES; lane++) highest = ratio[lane] > highest ? ratio[lane] : highest;
    return highest;
}

HF_KERNEL void ask_z(const look *one, const double ratio[LANES], double highest[LANES]) {
    double scale = 1 / one->half, start = one->middle * scale, low = one->low, high = one->high, asked[LANES];
    for (size_t i = 0; i < LANES; i++) {
        double inside = ratio[i] > low ? ratio[i] : low;
        inside = inside < high ? inside : high;
        double x = hf_kernel_log(inside) * scale - start, z = one->slope[DEGREE];
        for (int j = DEGREE - 1; j >= 0; j--) z = z * x + one->slope[j];
        asked[i] = z;
    }
    for (size_t i = 0; i < LANES; i++) {
        double z = ratio[i] > low ? asked[i] : -INFINITY;
        highest[i] = z > highest[i] ? z : highest[i];
    }
}

HF_VECTOR_CLONES static void ask(const look *one, const sums *s, double shift, double highest[WIDE]) {
    static const double signs[VARIANTS][2] = {{1, 1}, {1, -1}, {-1, 1}, {-1, -1}};
    double inverse[LANES], degrees = (double)one->parts - 1;
    for (size_t lane = 0; lane < LANES; lane++) inverse[lane] = sqrt(degrees / s->squares[lane]);
    for (size_t v = 0; v < VARIANTS; v++) {
        double ratio[LANES], *mine = highest + v * LANES;
        if (ratios(s, inverse, shift, signs[v], ratio) <= one->low) continue;
        if (one->is_fixed)
            for (size_t i = 0; i < LANES; i++) mine[i] = ratio[i] > one->low ? INFINITY : mine[i];
        else
            ask_z(one, ratio, mine);
    }
}

static void one_group(const looks_job *job, const double *z, size_t group) {
    size_t row = 1, stride = job->running ? job->groups * WIDE : 0;
    double *highest = job->highest + group * WIDE;
    sums s;
    start_sums(&s, z, job->looks[job->count - 1].parts);
    for (size_t i = 0; i < WIDE; i++) highest[i] = -INFINITY;
    for (size_t i = 0; i < job->count; i++) {
        if (i > 0 && stride > 0) memcpy(highest + stride, highest, WIDE * sizeof *highest);
        if (i > 0) highest += stride;
        for (; row < job->looks[i].parts; row++) add_row(&s, z + row * LANES, (double)row + 1);
        ask(&job->looks[i], &s, job->shift, highest);
    }
}

static void looks_block(size_t block, int worker, void *context) {
    const looks_job *job = context;
    size_t rows = job->looks[job->count - 1].parts * LANES;
    double *z = job->scratch + rows * (size_t)worker;
    hf_random random;
    hf_random_start(&random, job->seed, block);
    size_t end = (block + 1) * GROUPS_A_BLOCK;
    for (size_t group = block * GROUPS_A_BLOCK; group < end && group < job->groups; group++) {
        hf_random_fill_normal(&random, z, rows);
        one_group(job, z, group);
    }
}

/* Share of sequences that ask for z at most, and its error from the bases, whose four sequences hang together. */
static double share_upto(const looks_job *job, double z, double *error) {
    size_t right = 0, squares = 0, bases = job->groups * LANES;
    for (size_t i = 0; i < bases; i++) {
        const double *one = job->highest + i / LANES * WIDE + i % LANES;
        size_t four = 0;
        for (size_t v = 0; v < VARIANTS; v++) four += one[v * LANES] <= z;
        right += four;
        squares += four * four;
    }
    double size = (double)bases, mean = (double)right / size;
    double variance = fmax((double)squares / size - mean * mean, 1 / size);
    *error = sqrt(variance / size) / VARIANTS;
    return mean / VARIANTS;
}

static double quantile(double *sorted, size_t count, double p) {
    size_t at = (size_t)fmin(fmax(ceil(p * (double)count) - 1, 0), (double)count - 1);
    return hf_vector_select(sorted, count, at);
}

/* C′ is where the share of right sequences is C; its error is that of the share, carried over by the quantiles beside it. */
static hf_status solve(const looks_job *job, double confidence, double *room, hf_look_confidence *out) {
    size_t count = job->groups * WIDE;
    double lowest = hf_normal_quantile_lower(confidence), error;
    out->plain = share_upto(job, -INFINITY, &out->plain_error);
    memcpy(room, job->highest, count * sizeof *room);
    double z = quantile(room, count, confidence);
    if (z == INFINITY) return HF_NO_RESULT;
    if (z == -INFINITY) z = lowest; /* C itself already keeps the promise */
    if (z >= lowest + job->reach) return HF_NUMERIC;
    (void)share_upto(job, z, &error);
    double above = quantile(room, count, confidence + error),
           below = quantile(room, count, confidence - error);
    out->confidence = hf_normal_lower(z);
    out->standard_error = 0.5 * (hf_normal_lower(above) - hf_normal_lower(fmax(below, lowest)));
    return HF_OK;
}

static hf_status check(const hf_look_plan *plan, double content, double confidence) {
    if (plan->count < 1 || plan->count > HF_LOOKS_MOST || plan->parts[0] < 2) return HF_RANGE;
    for (size_t i = 1; i < plan->count; i++)
        if (plan->parts[i] <= plan->parts[i - 1]) return HF_RANGE;
    if (plan->parts[plan->count - 1] > HF_LOOKS_LAST || !(content >= 0.5 && content < 1)) return HF_RANGE;
    if (plan->early != 0 && !(plan->early > 0.5 && plan->early < 1)) return HF_RANGE;
    return confidence > 0.5 && confidence < 0.9999 ? HF_OK : HF_RANGE;
}

static void draw(looks_job *job) {
    hf_parallel_blocks((job->groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK, looks_block, job);
}

static size_t scratch_size(const hf_look_plan *plan) {
    return plan->parts[plan->count - 1] * LANES * (size_t)hf_parallel_threads();
}

/* Draws all sequences. *memory holds the job's arrays, then as much room again as `highest`; to be freed by the caller. */
static hf_status draw_asked(const hf_look_plan *plan, double content, double confidence, size_t bases,
                            looks_job *job, double **memory) {
    size_t scratch = scratch_size(plan);
    *memory = NULL;
    *job = (looks_job){.lowest = hf_normal_quantile_lower(confidence),
                       .reach = usual_reach,
                       .seed = looks_seed,
                       .groups = (bases + LANES - 1) / LANES};
    hf_status status = open_looks(job, plan, content);
    if (status != HF_OK) return status;
    *memory = hf_memory_take(scratch + 2 * job->groups * WIDE, sizeof **memory);
    if (!*memory) return HF_MEMORY;
    job->scratch = *memory;
    job->highest = *memory + scratch;
    draw(job);
    return HF_OK;
}

hf_status hf_looks_running(const hf_look_plan *plan, double content, const double range[2], size_t bases,
                           uint64_t seed, double *asked) {
    looks_job job = {.running = true,
                     .lowest = range[0],
                     .reach = range[1] - range[0],
                     .seed = seed,
                     .groups = bases / LANES,
                     .highest = asked};
    hf_status status = open_looks(&job, plan, content);
    if (status != HF_OK) return status;
    job.scratch = hf_memory_take(scratch_size(plan), sizeof *job.scratch);
    if (!job.scratch) return HF_MEMORY;
    draw(&job);
    hf_memory_free(job.scratch);
    return HF_OK;
}

hf_status hf_looks_simulated(const hf_look_plan *plan, double content, double confidence, size_t bases,
                             hf_look_confidence *out) {
    looks_job job;
    double *memory;
    *out = (hf_look_confidence){NAN, NAN, NAN, NAN};
    if (check(plan, content, confidence) != HF_OK) return HF_RANGE;
    hf_status status = draw_asked(plan, content, confidence, bases, &job, &memory);
    if (status == HF_OK) status = solve(&job, confidence, job.highest + job.groups * WIDE, out);
    hf_memory_free(memory);
    return status;
}

static size_t usual_bases(const hf_look_plan *plan) {
    size_t bases = BUDGET / plan->parts[plan->count - 1];
    return bases < FEWEST ? FEWEST : bases > MOST ? MOST : bases;
}

/* The row of a plan of looks after every part, or HF_LOOKS_ROWS. */
static size_t table_row(const hf_look_plan *plan) {
    size_t first = plan->parts[0], last = plan->parts[plan->count - 1], row = 0;
    if (plan->early != 0 || plan->count < 2 || last - first + 1 != plan->count) return HF_LOOKS_ROWS;
    if (first > HF_LOOKS_FIRST_ROWS + 1 || last > 30) return HF_LOOKS_ROWS;
    for (size_t i = 2; i < first; i++) row += 30 - i;
    return row + last - first - 1;
}

static bool from_table(const hf_look_plan *plan, double content, double confidence, hf_look_confidence *out) {
    size_t row = table_row(plan), p = 0, c = 0;
    while (p < HF_LOOKS_CONTENTS && hf_looks_contents[p] != content) p++;
    while (c < HF_LOOKS_CONFIDENCES && hf_looks_confidences[c] != confidence) c++;
    if (row == HF_LOOKS_ROWS || p == HF_LOOKS_CONTENTS || c == HF_LOOKS_CONFIDENCES) return false;
    const double *cell = hf_looks_table[row][p][c];
    *out = (hf_look_confidence){cell[0], cell[1], cell[2], cell[3]};
    return true;
}

hf_status hf_looks_confidence(const hf_look_plan *plan, double content, double confidence,
                              hf_look_confidence *out) {
    *out = (hf_look_confidence){NAN, NAN, NAN, NAN};
    if (check(plan, content, confidence) != HF_OK) return HF_RANGE;
    if (plan->count == 1) {
        *out = (hf_look_confidence){confidence, 0, confidence, 0};
        return HF_OK;
    }
    if (from_table(plan, content, confidence, out)) return HF_OK;
    hf_status status = hf_looks_simulated(plan, content, confidence, usual_bases(plan), out);
    if (status != HF_OK || plan->early == 0) return status;
    hf_look_plan alike = {plan->parts, plan->count, 0};
    return hf_looks_worth(&alike, content, confidence, &out->plain, &out->plain_error);
}

hf_status hf_looks_worth(const hf_look_plan *plan, double content, double each, double *worth,
                         double *standard_error) {
    looks_job job;
    double *memory;
    hf_look_confidence tabled;
    *worth = *standard_error = NAN;
    if (check(plan, content, each) != HF_OK) return HF_RANGE;
    if (from_table(plan, content, each, &tabled)) {
        *worth = tabled.plain;
        *standard_error = tabled.plain_error;
        return HF_OK;
    }
    hf_status status = draw_asked(plan, content, each, FEWEST, &job, &memory);
    if (status == HF_OK) *worth = share_upto(&job, -INFINITY, standard_error);
    hf_memory_free(memory);
    return status;
}

hf_status hf_looks_list(size_t first, size_t last, size_t every, size_t *parts, size_t *count) {
    *count = 0;
    if (first < 2 || last < first || last > HF_LOOKS_LAST || every < 1) return HF_RANGE;
    if ((last - first + every - 1) / every + 1 > HF_LOOKS_MOST) return HF_RANGE;
    for (size_t n = first; n < last; n += every) parts[(*count)++] = n;
    parts[(*count)++] = last;
    return HF_OK;
}

double hf_best_of_confidence(double confidence, size_t designs) {
    return designs >= 1 && confidence > 0 && confidence < 1 ? pow(confidence, 1 / (double)designs) : NAN;
}

double hf_best_of_worth(double confidence, size_t designs) {
    return designs >= 1 && confidence > 0 && confidence < 1 ? pow(confidence, (double)designs) : NAN;
}
