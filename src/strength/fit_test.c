/* Anderson–Darling with a simulated null distribution, and the maximum normed residual. */
#include "holdfast/strength/fit_test.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/sample.h"
#include "numeric/kernel.h"
#include "strength/fit_test_cells.h"
#include "strength/mids.h"

static const double level = 0.05;

static void standardise(const double *y, double *z, size_t n, double m, double s) {
    for (size_t i = 0; i < n; i++) z[i] = (y[i] - m) / s;
}

/* A² from sorted standardised values; log_lower and log_upper have n places. */
static double statistic_of_sorted(const hf_family *family, const double *z, double *log_lower,
                                  double *log_upper, size_t n) {
    double sum = 0;
    family->log_tails(z, log_lower, log_upper, n);
    for (size_t i = 0; i < n; i++) sum += (double)(2 * i + 1) * (log_lower[i] + log_upper[n - 1 - i]);
    return -(double)n - sum / (double)n;
}

double hf_anderson_darling(const hf_family *family, double *y, size_t n, double m, double s) {
    double *work = hf_memory_take(2 * n, sizeof *work);
    if (!work) return NAN;
    standardise(y, y, n, m, s);
    hf_vector_sort(y, n);
    double a2 = statistic_of_sorted(family, y, work, work + n, n);
    hf_memory_free(work);
    return a2;
}

/* The ladder of one part: rungs at origin + j·width. width 0: read continuously. */
typedef struct part_grid {
    double origin, width;
} part_grid;

typedef struct null_job {
    const hf_family *family;
    const part_grid *grids; /* NULL when every pull is exact */
    size_t n;
    double m, s;
    double *y, *work, *ends; /* y, work: n·HF_LANES; ends: twice that */
} null_job;

/* The ends of the steps in which HF_LANES strengths (loads) of one part fall, on its own ladder. On a log scale a first step
 * from 0 (to rounding) has half its rung as lower end, so that a logarithm exists. */
HF_VECTOR_CLONES
static void find_steps(part_grid grid, bool log_scale, const double *load, double *low, double *high) {
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        double rungs = ceil((load[lane] - grid.origin) / grid.width) - 1;
        low[lane] = grid.origin + grid.width * rungs;
        high[lane] = low[lane] + grid.width;
    }
    for (size_t lane = 0; lane < HF_LANES; lane++)
        if (log_scale && low[lane] <= HF_SAME * high[lane]) low[lane] = 0.5 * high[lane];
}

/* Standard draws become the middles that the stepped pulls would have shown. */
static void see_steps(const null_job *job) {
    size_t total = job->n * HF_LANES;
    bool logs = job->family->log_scale;
    double *load = job->work, *low = job->ends, *high = job->ends + total;
    for (size_t i = 0; i < total; i++) load[i] = job->m + job->s * job->y[i];
    if (logs) hf_vector_exp(load, load, total);
    for (size_t i = 0; i < job->n; i++) {
        size_t at = i * HF_LANES;
        if (job->grids[i].width > 0)
            find_steps(job->grids[i], logs, load + at, low + at, high + at);
        else
            for (size_t lane = 0; lane < HF_LANES; lane++) low[at + lane] = high[at + lane] = load[at + lane];
    }
    if (logs) hf_vector_log(low, low, 2 * total);
    for (size_t i = 0; i < total; i++) job->y[i] = 0.5 * (low[i] + high[i]);
}

static void draw_lanes(const null_job *job, hf_random *random) {
    job->family->fill(random, job->y, job->n * HF_LANES);
    if (job->grids) see_steps(job);
}

/* Exchanges places of two rows lane by lane, so that the lower values come first. */
HF_KERNEL void order_rows(double *first, double *second) {
    double low[HF_LANES], high[HF_LANES];
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        low[lane] = second[lane] < first[lane] ? second[lane] : first[lane];
        high[lane] = second[lane] < first[lane] ? first[lane] : second[lane];
    }
    memcpy(first, low, sizeof low);
    memcpy(second, high, sizeof high);
}

/* Sorts HF_LANES samples side by side by merging and exchanging: which rows are compared depends on n alone. Batcher (1968), in
 * the form for any n of Knuth, The Art of Computer Programming 3, 5.2.2 algorithm M. */
HF_VECTOR_CLONES
static void sort_lanes(double *y, size_t n) {
    size_t half = 1;
    while (2 * half < n) half *= 2;
    for (size_t p = half; p > 0; p /= 2) {
        size_t q = half, rest = 0, apart = p;
        for (;;) {
            for (size_t i = 0; i + apart < n; i++)
                if ((i & p) == rest) order_rows(y + i * HF_LANES, y + (i + apart) * HF_LANES);
            if (q == p) break;
            apart = q - p;
            q /= 2;
            rest = p;
        }
    }
}

/* Standardises the lanes in place. A lane without spread becomes zeros. */
HF_VECTOR_CLONES
static void standardise_lanes(double *y, size_t n, const double *m, const double *s) {
    double shift[HF_LANES], scale[HF_LANES];
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        shift[lane] = m[lane];
        scale[lane] = s[lane] > 0 ? s[lane] : HUGE_VAL;
    }
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++)
            y[i * HF_LANES + lane] = (y[i * HF_LANES + lane] - shift[lane]) / scale[lane];
}

HF_VECTOR_CLONES
static void statistic_lanes(const double *log_lower, const double *log_upper, size_t n, double *a2) {
    double sum[HF_LANES] = {0};
    for (size_t i = 0; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++)
            sum[lane] += (double)(2 * i + 1) *
                         (log_lower[i * HF_LANES + lane] + log_upper[(n - 1 - i) * HF_LANES + lane]);
    for (size_t lane = 0; lane < HF_LANES; lane++) a2[lane] = -(double)n - sum[lane] / (double)n;
}

/* A spread that is rounding alone: the middles are equal. */
static bool is_nothing(const hf_family *family, double m, double s) {
    return !(s > HF_SAME * (family->log_scale ? 1 : fabs(m)));
}

/* Samples of HF_LANES whose statistic is at least this. A sample whose middles
 * are all equal has no statistic and counts in: it is the farthest from any law. */
static size_t count_exceeding(const null_job *job, double least) {
    double m[HF_LANES], s[HF_LANES], seen[HF_LANES];
    double *log_lower = job->ends, *log_upper = job->ends + job->n * HF_LANES;
    size_t exceeding = 0;
    job->family->estimate_lanes(job->y, job->n, job->work, m, s);
    standardise_lanes(job->y, job->n, m, s);
    sort_lanes(job->y, job->n);
    job->family->log_tails(job->y, log_lower, log_upper, job->n * HF_LANES);
    statistic_lanes(log_lower, log_upper, job->n, seen);
    for (size_t lane = 0; lane < HF_LANES; lane++)
        exceeding += is_nothing(job->family, m[lane], s[lane]) || seen[lane] >= least;
    return exceeding;
}

/* Of HF_LANES samples drawn, how many stray at least so far. */
typedef size_t (*draw_group)(void *context, hf_random *random, double least);

static size_t lanes_group(void *context, hf_random *random, double least) {
    const null_job *job = context;
    draw_lanes(job, random);
    return count_exceeding(job, least);
}

static size_t cells_group(void *context, hf_random *random, double least) {
    size_t exceeding = 0;
    for (size_t lane = 0; lane < HF_LANES; lane++) exceeding += hf_cell_job_exceeds(context, random, least);
    return exceeding;
}

/* Stops early where the rest could not change the verdict: above `clear` after `enough` samples. */
static void simulate_significance(draw_group group, void *context, uint64_t seed, size_t replicates,
                                  hf_fit_test *out) {
    static const double clear = 0.2;
    enum { ENOUGH = 256 };
    hf_random random;
    size_t exceeding = 0, done = 0;
    double least = out->a2 - HF_SAME * fmax(1, fabs(out->a2)); /* stepped samples tie with the one seen */
    hf_random_start(&random, seed, 0);
    while (done < replicates) {
        exceeding += group(context, &random, least);
        done += HF_LANES;
        if (done == ENOUGH && (double)exceeding > clear * (double)done) break;
    }
    out->replicates = done;
    out->significance = (double)exceeding / (double)done;
    out->standard_error = sqrt(out->significance * (1 - out->significance) / (double)done);
}

static hf_status unavailable(hf_fit_test *out, const char *reason) {
    out->reason = reason;
    return HF_NO_RESULT;
}

static void fill_grids(hf_sample sample, part_grid *grids) {
    for (size_t i = 0; i < sample.count; i++)
        grids[i] = (part_grid){sample.items[i].lower, sample.items[i].upper - sample.items[i].lower};
}

typedef struct null_run {
    uint64_t seed;
    size_t replicates;
} null_run;

/* The law the samples are drawn from. */
typedef struct null_law {
    double m, s;
} null_law;

static hf_status by_lanes(hf_arena *arena, const hf_family *family, hf_sample sample, null_law law,
                          null_run run, hf_fit_test *out) {
    size_t n = sample.count, block = n * HF_LANES;
    bool stepped = hf_sample_step(sample) > 0;
    double *memory = HF_ARENA_NEW_ARRAY(arena, double, 4 * block);
    part_grid *grids = HF_ARENA_NEW_ARRAY(arena, part_grid, n);
    if (!memory || !grids) return HF_MEMORY;
    fill_grids(sample, grids);
    null_job job = {family,         stepped ? grids : NULL, n, law.m, law.s, memory,
                    memory + block, memory + 2 * block};
    simulate_significance(lanes_group, &job, run.seed, run.replicates, out);
    return HF_OK;
}

static hf_status simulate(const hf_family *family, hf_sample sample, null_law law, null_run run,
                          hf_fit_test *out) {
    hf_arena *arena = hf_arena_create();
    hf_cell_job *cells;
    if (!arena) return HF_MEMORY;
    hf_status status = hf_cell_job_start(arena, family, sample, law.m, law.s, &cells);
    if (status == HF_OK && cells)
        simulate_significance(cells_group, cells, run.seed, run.replicates, out);
    else if (status == HF_OK)
        status = by_lanes(arena, family, sample, law, run, out);
    hf_arena_free(arena);
    return status;
}

static hf_status test_mids(const hf_family *family, hf_sample sample, hf_mids *mids, null_run run,
                           hf_fit_test *out) {
    size_t n = mids->count;
    null_law law;
    if (family->estimate(mids->y, n, &law.m, &law.s) != HF_OK) return unavailable(out, "numeric");
    if (is_nothing(family, law.m, law.s)) return unavailable(out, "one_value");
    out->a2 = hf_anderson_darling(family, mids->y, n, law.m, law.s);
    hf_status status = simulate(family, sample, law, run, out);
    if (status != HF_OK) return status;
    out->handbook = n >= 8 ? family->handbook_significance(out->a2, n) : NAN;
    out->rejected = out->significance < level;
    out->available = true;
    return HF_OK;
}

hf_status hf_fit_test_run(const hf_family *family, hf_sample sample, uint64_t seed, size_t replicates,
                          hf_fit_test *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    memset(out, 0, sizeof *out);
    out->a2 = out->significance = out->standard_error = out->handbook = NAN;
    if (counts.above + counts.below > 0) return unavailable(out, "open_observations");
    if (sample.count < 3) return unavailable(out, "too_few");
    hf_mids mids;
    if (hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    hf_status status = test_mids(family, sample, &mids, (null_run){seed, replicates}, out);
    hf_mids_free(&mids);
    return status;
}

double hf_outlier_critical(size_t n, double alpha) {
    double size = (double)n, t = hf_t_quantile_upper(alpha / (2 * size), size - 2);
    return (size - 1) / sqrt(size) * sqrt(t * t / (size - 2 + t * t));
}

void hf_outlier_test_run(hf_sample sample, hf_outlier_test *out) {
    double sum = 0, squares = 0, n = 0, worst = -1;
    *out = (hf_outlier_test){.statistic = NAN, .critical = NAN};
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_EXACT && item->kind != HF_INTERVAL_CLOSED) continue;
        sum += 0.5 * (item->lower + item->upper);
        n++;
    }
    double mean = sum / n;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_EXACT && item->kind != HF_INTERVAL_CLOSED) continue;
        double residual = 0.5 * (item->lower + item->upper) - mean;
        squares += residual * residual;
        if (fabs(residual) > worst * (1 + HF_SAME)) {
            worst = fabs(residual);
            out->index = i;
        }
    }
    double rounding = HF_SAME * mean;
    if (n < 3 || !(squares > n * rounding * rounding)) return;
    out->available = true;
    out->statistic = worst / sqrt(squares / (n - 1));
    out->critical = hf_outlier_critical((size_t)n, level);
    out->flagged = out->statistic > out->critical;
}
