/* Draws of (m, s) given the pulls. Whole data: pivots. Open data: the conditional density of conditional.h on slices of ln s with
 * grids of locations, one for all slices where the law allows it; a draw picks a slice by mass, then a place in it. */
#include "comparing/conditional_draws.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/base/memory.h"
#include "holdfast/comparing/quantile_difference.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/vector.h"
#include "strength/conditional.h"
#include "strength/mids.h"

enum { LOCATIONS = 128, MOST_SLICES = 1500, DRAWS_AT_ONCE = 256, GUIDES = 256 };

static const double negligible = 30;

/* start[g]: the first of the ascending values that is above the share g/GUIDES of their last. */
typedef struct draw_guide {
    uint16_t start[GUIDES];
} draw_guide;

typedef struct draw_grid {
    double cumulative[LOCATIONS + 1]; /* from 0 to 1 */
    draw_guide guide;
} draw_grid;

typedef struct draw_slice {
    double log_s, low, step; /* locations low + i·step, i = 0 … LOCATIONS */
    double log_mass;
    const draw_grid *grid;
} draw_slice;

struct hf_draws {
    const hf_family *family;
    uint64_t seed;
    double m, s;
    size_t whole; /* size of the sample when no pull is open; then s is the spread of the pivots */
    draw_slice *slices;
    double *upto; /* mass of a slice and all before it */
    draw_guide guide;
    size_t count;
    double step, stretch; /* of ln s between slices; of the draws about m */
};

/* --- Whole data ------------------------------------------------------------------------------------ */

static hf_status start_pivots(const hf_mids *mids, hf_draws *out) {
    double deviation;
    hf_status status = out->family->estimate(mids->y, mids->count, &out->m, &deviation);
    if (status != HF_OK) return status;
    out->whole = mids->count;
    out->s = sqrt(deviation * deviation + 0.125 * mids->h * mids->h);
    return out->s > 0 ? HF_OK : HF_NO_RESULT;
}

static void pivot_block(const hf_draws *draws, hf_random *random, size_t count, double *y, double *out_m,
                        double *out_s) {
    size_t stride = draws->whole * HF_LANES;
    double m[HF_LANES], s[HF_LANES];
    for (size_t i = 0; i < count; i += HF_LANES) {
        draws->family->fill(random, y, stride);
        draws->family->estimate_lanes(y, draws->whole, y + stride, m, s);
        for (size_t lane = 0; lane < HF_LANES && i + lane < count; lane++) {
            out_m[i + lane] = draws->m - draws->s * m[lane] / s[lane];
            out_s[i + lane] = draws->s / s[lane];
        }
    }
}

/* --- Open data -------------------------------------------------------------------------------------- */

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
        d->family->log_tails(z, above ? NULL : lower, upper, count);
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

static void fill_guide(const double *values, size_t count, draw_guide *out) {
    size_t at = 0;
    for (size_t g = 0; g < GUIDES; g++) {
        double share = (double)g / GUIDES * values[count - 1];
        while (at < count - 1 && !(values[at] > share)) at++;
        out->start[g] = (uint16_t)at;
    }
}

/* Index of the first of ascending values[0..count) above the share of their last, at most count − 1. */
static inline size_t first_above(const double *values, size_t count, const draw_guide *guide, double share) {
    size_t at = guide->start[(size_t)(share * GUIDES)];
    share *= values[count - 1];
    while (at < count - 1 && !(values[at] > share)) at++;
    return at;
}

/* One value of s. Prior 1/s on (m, s) is flat in ln s; the likelihood brings s^−d. Returns where the top is. */
static double fill_slice(const density *d, double log_s, double start, draw_grid *grid, draw_slice *slice) {
    double m[LOCATIONS + 1], value[LOCATIONS + 1], s = exp(log_s), sum = 0, top = -INFINITY;
    double mode = find_mode(d, s, start), high = find_edge(d, s, mode, 1);
    slice->log_s = log_s;
    slice->low = find_edge(d, s, mode, -1);
    slice->step = (high - slice->low) / LOCATIONS;
    for (int i = 0; i <= LOCATIONS; i++) m[i] = slice->low + i * slice->step;
    log_likelihood(d, s, m, value, LOCATIONS + 1);
    for (int i = 0; i <= LOCATIONS; i++) top = fmax(top, value[i]);
    for (int i = 0; i <= LOCATIONS; i++) value[i] = exp(value[i] - top);
    slice->grid = grid;
    grid->cumulative[0] = 0;
    for (int i = 1; i <= LOCATIONS; i++) {
        sum += 0.5 * (value[i - 1] + value[i]);
        grid->cumulative[i] = sum;
    }
    for (int i = 1; i <= LOCATIONS; i++) grid->cumulative[i] /= sum;
    fill_guide(grid->cumulative + 1, LOCATIONS, &grid->guide);
    slice->log_mass = top + log(sum * slice->step) - (double)d->data->count * log_s;
    return mode;
}

/* The law of the location that all slices share, up to place and scale: that of as many equal values whose place is 0, with s = 1. */
static hf_status fill_shared(hf_arena *arena, const hf_family *family, size_t values, draw_slice *out) {
    double *y = HF_ARENA_NEW_ARRAY(arena, double, values), log_mass;
    draw_grid *grid = HF_ARENA_NEW(arena, draw_grid);
    if (!y || !grid) return HF_MEMORY;
    hf_open_data data = {.y = y, .count = values};
    double place = family->location(&data, 1, &log_mass);
    for (size_t i = 0; i < values; i++) y[i] = -place;
    fill_slice(&(density){family, &data}, 0, -place, grid, out);
    return HF_OK;
}

/* A slice by the shared law of the location. */
static void place_slice(const density *d, double log_s, const draw_slice *shared, draw_slice *slice) {
    double s = exp(log_s), place = d->family->location(d->data, s, &slice->log_mass);
    slice->log_s = log_s;
    slice->low = place + s * shared->low;
    slice->step = s * shared->step;
    slice->grid = shared->grid;
}

static hf_status add_slice(hf_arena *arena, const density *d, double log_s, const draw_slice *shared,
                           double *start, draw_slice *slice) {
    if (shared->grid) {
        place_slice(d, log_s, shared, slice);
        return HF_OK;
    }
    draw_grid *grid = HF_ARENA_NEW(arena, draw_grid);
    if (!grid) return HF_MEMORY;
    *start = fill_slice(d, log_s, *start, grid, slice);
    return HF_OK;
}

/* Slices from the middle outwards until their mass is nothing. */
static hf_status spread_slices(hf_arena *arena, const density *d, hf_draws *out) {
    draw_slice shared = {0};
    double peak = -INFINITY, total = 0;
    if (d->family->location && d->data->below_count == 0 &&
        fill_shared(arena, d->family, d->data->count, &shared) != HF_OK)
        return HF_MEMORY;
    for (int direction = -1; direction <= 1; direction += 2) {
        double start = out->m;
        for (int i = direction < 0 ? 1 : 0;; i++) {
            if (out->count == MOST_SLICES) return HF_NUMERIC;
            draw_slice *slice = &out->slices[out->count];
            if (add_slice(arena, d, log(out->s) + direction * i * out->step, &shared, &start, slice) != HF_OK)
                return HF_MEMORY;
            if (!isfinite(slice->log_mass)) break;
            out->count++;
            peak = fmax(peak, slice->log_mass);
            if (slice->log_mass < peak - 25 && i > 2) break;
        }
    }
    for (size_t i = 0; i < out->count; i++) {
        total += exp(out->slices[i].log_mass - peak);
        out->upto[i] = total;
    }
    if (out->count == 0) return HF_NUMERIC;
    fill_guide(out->upto, out->count, &out->guide);
    return HF_OK;
}

static void slice_block(const hf_draws *draws, hf_random *random, size_t count, double *m, double *s) {
    double u[3 * DRAWS_AT_ONCE];
    for (size_t at = 0; at < count; at += DRAWS_AT_ONCE) {
        size_t size = count - at < DRAWS_AT_ONCE ? count - at : DRAWS_AT_ONCE;
        hf_random_fill_uniform(random, u, 3 * size);
        for (size_t i = 0; i < size; i++) {
            const draw_slice *slice =
                &draws->slices[first_above(draws->upto, draws->count, &draws->guide, u[3 * i])];
            const double *upto = slice->grid->cumulative;
            size_t cell = first_above(upto + 1, LOCATIONS, &slice->grid->guide, u[3 * i + 1]);
            double width = upto[cell + 1] - upto[cell];
            double part = width > 0 ? (u[3 * i + 1] - upto[cell]) / width : 0.5;
            m[at + i] = slice->low + slice->step * ((double)cell + part);
            s[at + i] = slice->log_s + draws->step * (u[3 * i + 2] - 0.5);
        }
    }
    hf_vector_exp(s, s, count);
    for (size_t i = 0; i < count; i++) {
        m[i] = draws->m + draws->stretch * (m[i] - draws->m);
        s[i] *= draws->stretch;
    }
}

static hf_status start_slices(hf_arena *arena, const hf_open_data *data, double h, hf_draws *out) {
    density d = {out->family, data};
    double size = (double)data->count;
    hf_status status = hf_working_fit(out->family, data, &out->m, &out->s);
    if (status != HF_OK) return status == HF_MEMORY || status == HF_NUMERIC ? status : HF_NO_RESULT;
    out->slices = HF_ARENA_NEW_ARRAY(arena, draw_slice, MOST_SLICES);
    out->upto = HF_ARENA_NEW_ARRAY(arena, double, MOST_SLICES);
    if (!out->slices || !out->upto) return HF_MEMORY;
    out->step = fmin(0.1, 0.2 / sqrt(size));
    double spread = out->family->spread_divides_by_n_minus_1 ? out->s * sqrt(size / (size - 1)) : out->s;
    out->stretch = sqrt(1 + 0.125 * h * h / (spread * spread));
    return spread_slices(arena, &d, out);
}

static bool all_equal(const double *y, size_t n) {
    for (size_t i = 1; i < n; i++)
        if (y[i] != y[0]) return false;
    return true;
}

static hf_status start_open(hf_arena *arena, hf_sample sample, const hf_mids *mids, hf_draws *out) {
    double *ends = HF_ARENA_NEW_ARRAY(arena, double, sample.count);
    size_t above = 0, below = 0;
    if (!ends) return HF_MEMORY;
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_ABOVE &&
            hf_family_working(out->family, sample.items[i].lower) > -INFINITY)
            ends[above++] = hf_family_working(out->family, sample.items[i].lower);
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].kind == HF_INTERVAL_BELOW)
            ends[above + below++] = hf_family_working(out->family, sample.items[i].upper);
    hf_vector_sort(ends, above);
    hf_vector_sort(ends + above, below);
    hf_open_data data = {mids->y, mids->count, ends, above, ends + above, below};
    return start_slices(arena, &data, mids->h, out);
}

/* --- Both ------------------------------------------------------------------------------------------- */

hf_status hf_draws_start(hf_arena *arena, const hf_family *family, hf_sample sample, uint64_t seed,
                         hf_draws **out) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_mids mids;
    if (sample.count > SIZE_MAX / (4 * HF_LANES * sizeof(double))) return HF_RANGE;
    if (counts.exact + counts.closed < 2) return HF_NO_RESULT;
    hf_draws *draws = HF_ARENA_NEW(arena, hf_draws);
    if (!draws || hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    draws->family = family;
    draws->seed = seed;
    hf_status status = counts.above + counts.below == 0 ? start_pivots(&mids, draws)
                       : all_equal(mids.y, mids.count)  ? HF_NO_RESULT
                                                        : start_open(arena, sample, &mids, draws);
    hf_mids_free(&mids);
    *out = draws;
    return status;
}

size_t hf_draws_scratch(const hf_draws *draws) {
    return 2 * draws->whole * HF_LANES;
}

void hf_draws_block(const hf_draws *draws, size_t block, size_t count, double *scratch, double *m,
                    double *s) {
    hf_random random;
    hf_random_start(&random, draws->seed, block);
    if (draws->whole)
        pivot_block(draws, &random, count, scratch, m, s);
    else
        slice_block(draws, &random, count, m, s);
}

typedef struct draw_job {
    const hf_draws *draws;
    size_t count;
    double *scratch, *m, *s;
} draw_job;

static void draw_block(size_t block, int worker, void *context) {
    const draw_job *job = context;
    size_t start = block * HF_DRAWS_A_BLOCK, left = job->count - start;
    hf_draws_block(job->draws, block, left < HF_DRAWS_A_BLOCK ? left : HF_DRAWS_A_BLOCK,
                   job->scratch + hf_draws_scratch(job->draws) * (size_t)worker, job->m + start,
                   job->s + start);
}

static hf_status draw_all(hf_arena *scratch, const hf_draws *draws, size_t count, double *m, double *s) {
    draw_job job = {draws, count, NULL, m, s};
    job.scratch =
        HF_ARENA_NEW_ARRAY(scratch, double, hf_draws_scratch(draws) * (size_t)hf_parallel_threads());
    if (!job.scratch) return HF_MEMORY;
    hf_parallel_blocks((count + HF_DRAWS_A_BLOCK - 1) / HF_DRAWS_A_BLOCK, draw_block, &job);
    return HF_OK;
}

hf_status hf_conditional_draws(const hf_family *family, hf_sample sample, uint64_t seed, size_t count,
                               double *m, double *s) {
    hf_arena *scratch = hf_arena_create();
    hf_draws *draws;
    hf_status status = scratch ? hf_draws_start(scratch, family, sample, seed, &draws) : HF_MEMORY;
    if (status == HF_OK) status = draw_all(scratch, draws, count, m, s);
    hf_arena_free(scratch);
    return status;
}
