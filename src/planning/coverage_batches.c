#include "planning/coverage_batches.h"

#include <math.h>
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/batch_bound.h"

/* A batch lies so far from the others on ln load, in normal scores; a law of the log scale is moved by it, the normal law multiplied. */
static double moved(const hf_coverage_cell *cell, const hf_family *law, double z, double batch) {
    double shared = sqrt(cell->between_share), own = sqrt(1 - cell->between_share), mean = law->mean_z;
    if (law->log_scale) return mean + shared * law->deviation_z * batch + own * (z - mean);
    return ((1 + cell->cv * own * z) * exp(cell->cv * shared * batch) - 1) / cell->cv;
}

/* And back: the z of a part within its batch that ends at `place`. */
static double within(const hf_coverage_cell *cell, const hf_family *law, double place, double batch) {
    double shared = sqrt(cell->between_share), own = sqrt(1 - cell->between_share), mean = law->mean_z;
    if (law->log_scale) return (place - mean - shared * law->deviation_z * batch) / own + mean;
    return ((1 + cell->cv * place) * exp(-cell->cv * shared * batch) - 1) / (cell->cv * own);
}

void hf_coverage_batch_fill(const hf_coverage_cell *cell, const hf_bench *bench, hf_random *random,
                            hf_bench_lanes *lanes) {
    const hf_family *law = bench->law.family;
    double shared = sqrt(cell->between_share), own = sqrt(1 - cell->between_share), batch[HF_LANES];
    double *z = lanes->z;
    if (cell->batches_skewed)
        hf_random_fill_normal(random, z, cell->n * HF_LANES);
    else
        law->fill(random, z, cell->n * HF_LANES);
    for (size_t b = 0; b < cell->batch_count; b++) {
        hf_random_fill_normal(random, batch, HF_LANES);
        for (size_t i = 0; i < cell->batches[b] * HF_LANES; i++, z++)
            *z = cell->batches_skewed
                     ? law->quantile_upper(hf_normal_upper(shared * batch[i % HF_LANES] + own * *z))
                     : moved(cell, law, *z, batch[i % HF_LANES]);
    }
}

typedef struct mixture {
    const hf_coverage_cell *cell;
    const hf_family *law;
    double place;
} mixture;

static double stronger_in_batch(double batch, void *context) {
    const mixture *m = context;
    return exp(hf_normal_log_density(batch)) * m->law->upper(within(m->cell, m->law, m->place, batch));
}

static double mixture_excess(double place, void *context) {
    mixture *m = context;
    double share;
    m->place = place;
    if (hf_integrate(stronger_in_batch, m, -12, 12, 1e-12, 1e-10, &share, NULL) != HF_OK) return NAN;
    return share - m->cell->content;
}

double hf_coverage_batch_quantile(const hf_coverage_cell *cell, const hf_family *law) {
    double q;
    if (!cell->batches || cell->batches_skewed || cell->between_share == 0)
        return law->quantile_upper(cell->content);
    if (cell->between_share == 1)
        return moved(cell, law, law->mean_z, -hf_normal_quantile_lower(cell->content));
    mixture m = {cell, law, 0};
    double low = law->log_scale ? -40 : fmax(-40, -1 / cell->cv), high = 40;
    return hf_solve_root(mixture_excess, &m, low, high, 1e-10, 0, &q) == HF_OK ? q : NAN;
}

/* Open pulls leave no batch bound. */
static bool all_closed(const hf_bench *bench, const hf_bench_lanes *lanes, size_t lane, size_t n) {
    for (size_t i = 0; i < n; i++) {
        uint32_t step = lanes->step[i * HF_LANES + lane];
        if (step == 0 || step == bench->last) return false;
    }
    return true;
}

/* What the batch bound needs of one lane; batches lie one after the other in the rows. */
static void describe(const hf_coverage_cell *cell, const hf_bench_lanes *lanes, size_t lane,
                     hf_batch_bound *b) {
    double inverse = 0, square = 0, within = 0, mean_square = 0, count = (double)cell->batch_count;
    const double *y = lanes->y + lane, *width = lanes->square + lane;
    *b = (hf_batch_bound){.batches = cell->batch_count, .parts = cell->n};
    for (size_t j = 0; j < cell->batch_count; j++) {
        double size = (double)cell->batches[j], mean = 0;
        for (size_t i = 0; i < cell->batches[j]; i++) mean += y[i * HF_LANES] / size;
        for (size_t i = 0; i < cell->batches[j]; i++, y += HF_LANES, width += HF_LANES) {
            within += (*y - mean) * (*y - mean);
            square += *width;
        }
        inverse += 1 / size;
        /* Welford's update over the batch means. */
        double away = mean - b->mean;
        b->mean += away / ((double)j + 1);
        mean_square += away * (mean - b->mean);
    }
    b->mean_parts = count / inverse;
    b->between = mean_square / (count - 1);
    b->within = cell->n > cell->batch_count ? within / (double)(cell->n - cell->batch_count) : 0;
    b->h = cell->ladder == HF_LADDER_CONTINUOUS ? 0 : sqrt(square / (double)cell->n);
}

/* The one that leads, one batch and the true scatter between batches counted. */
static double count_between(const hf_coverage_cell *cell, const hf_bench *bench, const hf_bench_lanes *lanes,
                            size_t lane, double without) {
    const double tau = sqrt(cell->between_share) * bench->law.family->deviation_z * bench->law.s;
    double mean = 0, reach, value;
    for (size_t i = 0; i < cell->n; i++) mean += lanes->y[i * HF_LANES + lane] / (double)cell->n;
    hf_status status =
        hf_one_batch_bound(mean, exp(without), tau, cell->content, cell->confidence, &reach, &value);
    return status == HF_OK ? mean - reach : without;
}

void hf_coverage_batch_bounds(const hf_coverage_cell *cell, const hf_bench *bench, hf_bench_lanes *lanes,
                              double out[HF_LANES]) {
    hf_bench_bounds(bench, lanes, cell->n, NULL, out);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        hf_batch_bound b;
        if (cell->batch_alone) out[lane] = NAN;
        if (!all_closed(bench, lanes, lane, cell->n)) continue;
        if (cell->between_stated) {
            out[lane] = count_between(cell, bench, lanes, lane, out[lane]);
            continue;
        }
        describe(cell, lanes, lane, &b);
        if (hf_batch_bound_solve(cell->content, cell->confidence, &b) != HF_OK) continue;
        out[lane] = isnan(out[lane]) ? b.value : fmin(out[lane], b.value);
    }
}
