/* Draws of (m, s) given the pulls. Whole data: pivots. Open data: the conditional density of conditional.h on slices of ln s, each
 * with its own grid of locations; a draw picks a slice by mass, then a place in it. */
#include "holdfast/comparing/quantile_difference.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/parallel.h"
#include "strength/conditional.h"
#include "strength/mids.h"

enum { LOCATIONS = 128, MOST_SLICES = 1500, DRAWS_A_BLOCK = 4096 };

static const double negligible = 30;

/* --- Whole data ------------------------------------------------------------------------------------ */

typedef struct pivot_job {
    const hf_family *family;
    double m, spread;
    size_t n, count;
    uint64_t seed;
    double *scratch; /* 2·n·HF_LANES per worker */
    double *out_m, *out_s;
} pivot_job;

static void pivot_block(size_t block, int worker, void *context) {
    const pivot_job *job = context;
    size_t start = block * DRAWS_A_BLOCK, stride = job->n * HF_LANES;
    size_t end = start + DRAWS_A_BLOCK < job->count ? start + DRAWS_A_BLOCK : job->count;
    double *y = job->scratch + 2 * stride * (size_t)worker, m[HF_LANES], s[HF_LANES];
    hf_random random;
    hf_random_start(&random, job->seed, block);
    for (size_t i = start; i < end; i += HF_LANES) {
        job->family->fill(&random, y, stride);
        job->family->estimate_lanes(y, job->n, y + stride, m, s);
        for (size_t lane = 0; lane < HF_LANES && i + lane < end; lane++) {
            job->out_m[i + lane] = job->m - job->spread * m[lane] / s[lane];
            job->out_s[i + lane] = job->spread / s[lane];
        }
    }
}

static hf_status draw_pivots(const hf_family *family, const hf_mids *mids, uint64_t seed, size_t count,
                             double *m, double *s) {
    pivot_job job = {
        .family = family, .n = mids->count, .count = count, .seed = seed, .out_m = m, .out_s = s};
    double deviation;
    hf_status status = family->estimate(mids->y, mids->count, &job.m, &deviation);
    if (status != HF_OK) return status;
    job.spread = sqrt(deviation * deviation + 0.125 * mids->h * mids->h);
    if (!(job.spread > 0)) return HF_NO_RESULT;
    job.scratch = hf_memory_take_zeroed(2 * mids->count * HF_LANES * (size_t)hf_parallel_threads(),
                                        sizeof *job.scratch);
    if (!job.scratch) return HF_MEMORY;
    hf_parallel_blocks((count + DRAWS_A_BLOCK - 1) / DRAWS_A_BLOCK, pivot_block, &job);
    hf_memory_free(job.scratch);
    return HF_OK;
}

/* --- Open data -------------------------------------------------------------------------------------- */

typedef struct draw_slice {
    double log_s, low, step;          /* locations low + i·step, i = 0 … LOCATIONS */
    double log_mass, upto;            /* upto: mass of this and all slices before it */
    double cumulative[LOCATIONS + 1]; /* from 0 to 1 */
} draw_slice;

typedef struct density {
    const hf_family *family;
    const hf_open_data *data;
} density;

static void log_likelihood(const density *d, double s, const double *m, double *out, size_t count) {
    const hf_open_data *data = d->data;
    double z[LOCATIONS + 1], lower[LOCATIONS + 1], upper[LOCATIONS + 1];
    d->family->log_density_sums(data->y, data->count, s, m, out, count);
    /* Weights end at the same few loads for many parts: equal ends, which stand together, are worked out once. */
    for (size_t i = 0, alike; i < data->above_count + data->below_count; i += alike) {
        bool above = i < data->above_count;
        const double *ends = above ? &data->above[i] : &data->below[i - data->above_count];
        size_t left = above ? data->above_count - i : data->above_count + data->below_count - i;
        for (alike = 1; alike < left && ends[alike] == ends[0];) alike++;
        for (size_t j = 0; j < count; j++) z[j] = (ends[0] - m[j]) / s;
        d->family->log_tails(z, lower, upper, count);
        for (size_t j = 0; j < count; j++) out[j] += (double)alike * (above ? upper[j] : lower[j]);
    }
}

static double log_likelihood_one(const density *d, double s, double m) {
    double out;
    log_likelihood(d, s, &m, &out, 1);
    return out;
}

/* Top of the (log-concave) likelihood in m by golden section on a bracket that is widened until it holds it. */
static double find_mode(const density *d, double s, double start) {
    double step = s, low = start - step, high = start + step;
    double here = log_likelihood_one(d, s, start);
    while (log_likelihood_one(d, s, low) > here && step < 1e8 * s) low = start - (step *= 2);
    step = s;
    while (log_likelihood_one(d, s, high) > here && step < 1e8 * s) high = start + (step *= 2);
    while (high - low > 1e-3 * s) {
        double one = low + 0.382 * (high - low), other = high - 0.382 * (high - low);
        if (log_likelihood_one(d, s, one) < log_likelihood_one(d, s, other))
            low = one;
        else
            high = other;
    }
    return 0.5 * (low + high);
}

static double find_edge(const density *d, double s, double mode, double direction) {
    double peak = log_likelihood_one(d, s, mode), inside = 0, outside = s;
    while (log_likelihood_one(d, s, mode + direction * outside) > peak - negligible && outside < 1e6 * s) {
        inside = outside;
        outside *= 2;
    }
    for (int i = 0; i < 5; i++) {
        double middle = 0.5 * (inside + outside);
        if (log_likelihood_one(d, s, mode + direction * middle) > peak - negligible)
            inside = middle;
        else
            outside = middle;
    }
    return mode + direction * outside;
}

/* One value of s. Prior 1/s on (m, s) is flat in ln s; the likelihood brings s^−d. Returns where the top is. */
static double fill_slice(const density *d, double log_s, double start, draw_slice *slice) {
    double m[LOCATIONS + 1], value[LOCATIONS + 1], s = exp(log_s), sum = 0, top = -INFINITY;
    double mode = find_mode(d, s, start), high = find_edge(d, s, mode, 1);
    slice->log_s = log_s;
    slice->low = find_edge(d, s, mode, -1);
    slice->step = (high - slice->low) / LOCATIONS;
    for (int i = 0; i <= LOCATIONS; i++) m[i] = slice->low + i * slice->step;
    log_likelihood(d, s, m, value, LOCATIONS + 1);
    for (int i = 0; i <= LOCATIONS; i++) top = fmax(top, value[i]);
    for (int i = 0; i <= LOCATIONS; i++) value[i] = exp(value[i] - top);
    slice->cumulative[0] = 0;
    for (int i = 1; i <= LOCATIONS; i++) {
        sum += 0.5 * (value[i - 1] + value[i]);
        slice->cumulative[i] = sum;
    }
    for (int i = 1; i <= LOCATIONS; i++) slice->cumulative[i] /= sum;
    slice->log_mass = top + log(sum * slice->step) - (double)d->data->count * log_s;
    return mode;
}

/* Slices from the middle outwards until their mass is nothing. */
static hf_status spread_slices(const density *d, double m, double s, draw_slice *slices, size_t *count,
                               double step) {
    double peak = -INFINITY, total = 0;
    *count = 0;
    for (int direction = -1; direction <= 1; direction += 2) {
        double start = m;
        for (int i = direction < 0 ? 1 : 0;; i++) {
            if (*count == MOST_SLICES) return HF_NUMERIC;
            draw_slice *slice = &slices[*count];
            start = fill_slice(d, log(s) + direction * i * step, start, slice);
            if (!isfinite(slice->log_mass)) break;
            ++*count;
            peak = fmax(peak, slice->log_mass);
            if (slice->log_mass < peak - 25 && i > 2) break;
        }
    }
    for (size_t i = 0; i < *count; i++) {
        total += exp(slices[i].log_mass - peak);
        slices[i].upto = total;
    }
    return *count ? HF_OK : HF_NUMERIC;
}

/* Index of the first of ascending values[0..count) that is above x, at most count − 1. stride: bytes between values. */
static size_t first_above(const double *values, size_t count, size_t stride, double x) {
    size_t low = 0, high = count - 1;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (*(const double *)(const void *)((const char *)values + middle * stride) > x)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

typedef struct slice_job {
    const draw_slice *slices;
    size_t slice_count, count;
    double step; /* of ln s */
    uint64_t seed;
    double *out_m, *out_s;
} slice_job;

static void slice_block(size_t block, int worker, void *context) {
    const slice_job *job = context;
    size_t start = block * DRAWS_A_BLOCK;
    size_t end = start + DRAWS_A_BLOCK < job->count ? start + DRAWS_A_BLOCK : job->count;
    hf_random random;
    (void)worker;
    hf_random_start(&random, job->seed, block);
    for (size_t i = start; i < end; i++) {
        double mass = hf_random_uniform(&random) * job->slices[job->slice_count - 1].upto;
        const draw_slice *slice =
            &job->slices[first_above(&job->slices->upto, job->slice_count, sizeof *slice, mass)];
        double share = hf_random_uniform(&random);
        size_t cell = first_above(slice->cumulative + 1, LOCATIONS, sizeof(double), share);
        double width = slice->cumulative[cell + 1] - slice->cumulative[cell];
        double part = width > 0 ? (share - slice->cumulative[cell]) / width : 0.5;
        job->out_m[i] = slice->low + slice->step * ((double)cell + part);
        job->out_s[i] = exp(slice->log_s + job->step * (hf_random_uniform(&random) - 0.5));
    }
}

static hf_status draw_slices(const hf_family *family, const hf_open_data *data, double h, uint64_t seed,
                             size_t count, double *out_m, double *out_s) {
    density d = {family, data};
    double m, s, size = (double)data->count;
    hf_status status = hf_working_fit(family, data, &m, &s);
    if (status != HF_OK) return status == HF_MEMORY || status == HF_NUMERIC ? status : HF_NO_RESULT;
    draw_slice *slices = hf_memory_take(MOST_SLICES, sizeof *slices);
    if (!slices) return HF_MEMORY;
    slice_job job = {slices, 0, count, fmin(0.1, 0.2 / sqrt(size)), seed, out_m, out_s};
    status = spread_slices(&d, m, s, slices, &job.slice_count, job.step);
    if (status == HF_OK) {
        hf_parallel_blocks((count + DRAWS_A_BLOCK - 1) / DRAWS_A_BLOCK, slice_block, &job);
        double spread = family->spread_divides_by_n_minus_1 ? s * sqrt(size / (size - 1)) : s;
        double stretch = sqrt(1 + 0.125 * h * h / (spread * spread));
        for (size_t i = 0; i < count; i++) {
            out_m[i] = m + stretch * (out_m[i] - m);
            out_s[i] *= stretch;
        }
    }
    hf_memory_free(slices);
    return status;
}

static bool all_equal(const double *y, size_t n) {
    for (size_t i = 1; i < n; i++)
        if (y[i] != y[0]) return false;
    return true;
}

static int compare_numbers(const void *a, const void *b) {
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static hf_status draw_open(const hf_family *family, hf_sample sample, const hf_mids *mids, uint64_t seed,
                           size_t count, double *m, double *s) {
    double *ends = hf_memory_take(sample.count, sizeof *ends);
    size_t above = 0, below = 0;
    if (!ends) return HF_MEMORY;
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_ABOVE &&
            hf_family_working(family, sample.items[i].lower) > -INFINITY)
            ends[above++] = hf_family_working(family, sample.items[i].lower);
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_BELOW)
            ends[above + below++] = hf_family_working(family, sample.items[i].upper);
    qsort(ends, above, sizeof *ends, compare_numbers);
    qsort(ends + above, below, sizeof *ends, compare_numbers);
    hf_open_data data = {mids->y, mids->count, ends, above, ends + above, below};
    hf_status status = draw_slices(family, &data, mids->h, seed, count, m, s);
    hf_memory_free(ends);
    return status;
}

hf_status hf_conditional_draws(const hf_family *family, hf_sample sample, uint64_t seed, size_t count,
                               double *m, double *s) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_mids mids;
    if (sample.count > SIZE_MAX / (4 * HF_LANES * sizeof(double))) return HF_RANGE;
    if (counts.exact + counts.closed < 2) return HF_NO_RESULT;
    if (hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    hf_status status;
    if (counts.above + counts.below == 0)
        status = draw_pivots(family, &mids, seed, count, m, s);
    else if (all_equal(mids.y, mids.count))
        status = HF_NO_RESULT;
    else
        status = draw_open(family, sample, &mids, seed, count, m, s);
    hf_mids_free(&mids);
    return status;
}
