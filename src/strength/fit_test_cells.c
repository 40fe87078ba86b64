/* Pulls on one ladder are counts of its steps: a sample is then drawn as binomials along the ladder and costs the number of steps, not
 * of pulls. The law is the same as that of single strengths seen through the steps. */
#include "strength/fit_test_cells.h"

#include <math.h>
#include <string.h>
#include "holdfast/strength/sample.h"

enum { LEAST_PULLS = 2000, MOST_LADDERS = 16, MOST_CELLS = 4096 };

static const double same_ladder = 1e-7; /* of a step */
static const double nobody = 1e-13;     /* share of parts beyond the cells */

typedef struct ladder {
    double origin, width, pulls;
    size_t first, count; /* its cells */
} ladder;

struct hf_cell_job {
    const hf_family *family;
    ladder ladders[MOST_LADDERS];
    size_t ladder_count, cell_count;
    double pulls;
    double *share; /* of the pulls that reach this step, those that break in it */
    double *y;     /* its middle on the working scale */
    size_t *order; /* cells by rising middle, over all ladders */
    double *drawn, *sorted_y, *sorted, *z, *log_lower, *log_upper;
};

static bool is_on(const ladder *at, const hf_observation *item) {
    double width = item->upper - item->lower, place = (item->lower - at->origin) / at->width;
    return fabs(width - at->width) <= same_ladder * at->width && fabs(place - round(place)) <= same_ladder;
}

static bool find_ladders(hf_cell_job *job, hf_sample sample) {
    size_t last = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind != HF_INTERVAL_CLOSED || !(item->upper > item->lower)) return false;
        if (job->ladder_count == 0 || !is_on(&job->ladders[last], item))
            for (last = 0; last < job->ladder_count && !is_on(&job->ladders[last], item);) last++;
        if (last == job->ladder_count) {
            if (job->ladder_count == MOST_LADDERS) return false;
            job->ladders[job->ladder_count++] =
                (ladder){.origin = item->lower, .width = item->upper - item->lower};
        }
        job->ladders[last].pulls++;
    }
    return true;
}

static double rung(const ladder *at, double j) {
    return at->origin + at->width * j;
}

/* Steps from the first to the last that a part may break in; on a log scale none begins below 0. */
static bool range_of(const hf_cell_job *job, const ladder *at, const double law[2], double range[2]) {
    double low = hf_family_load(job->family, law[0] + law[1] * job->family->quantile_upper(1 - nobody));
    double high = hf_family_load(job->family, law[0] + law[1] * job->family->quantile_upper(nobody));
    range[0] = floor((low - at->origin) / at->width);
    range[1] = ceil((high - at->origin) / at->width);
    if (job->family->log_scale)
        while (rung(at, range[0] + 1) <= 0) range[0]++;
    return range[1] - range[0] >= 1 && range[1] - range[0] <= MOST_CELLS;
}

static void fill_ladder(hf_cell_job *job, ladder *at, const double law[2], const double range[2]) {
    const hf_family *family = job->family;
    double reach = 1; /* everybody reaches the first step */
    for (size_t i = 0; i < at->count; i++) {
        double low = rung(at, range[0] + (double)i), high = low + at->width;
        double left = family->upper((hf_family_working(family, high) - law[0]) / law[1]);
        if (family->log_scale && low <= HF_SAME * high) low = 0.5 * high;
        bool is_last = i + 1 == at->count;
        job->share[at->first + i] = is_last || !(reach > 0) ? 1 : fmin(1, (reach - left) / reach);
        job->y[at->first + i] = 0.5 * (hf_family_working(family, low) + hf_family_working(family, high));
        reach = left;
    }
}

/* Merges the rising middles of the ladders. */
static void sort_cells(hf_cell_job *job) {
    size_t next[MOST_LADDERS] = {0};
    for (size_t i = 0; i < job->cell_count; i++) {
        size_t best = MOST_LADDERS;
        for (size_t l = 0; l < job->ladder_count; l++) {
            const ladder *at = &job->ladders[l];
            if (next[l] == at->count) continue;
            if (best == MOST_LADDERS ||
                job->y[at->first + next[l]] < job->y[job->ladders[best].first + next[best]])
                best = l;
        }
        job->order[i] = job->ladders[best].first + next[best];
        next[best]++;
        job->sorted_y[i] = job->y[job->order[i]];
    }
}

static bool take_memory(hf_arena *arena, hf_cell_job *job) {
    double **rows[] = {&job->share,  &job->y, &job->drawn,     &job->sorted_y,
                       &job->sorted, &job->z, &job->log_lower, &job->log_upper};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (!(*rows[i] = HF_ARENA_NEW_ARRAY(arena, double, job->cell_count))) return false;
    job->order = HF_ARENA_NEW_ARRAY(arena, size_t, job->cell_count);
    return job->order != NULL;
}

hf_status hf_cell_job_start(hf_arena *arena, const hf_family *family, hf_sample sample, double m, double s,
                            hf_cell_job **out) {
    double range[MOST_LADDERS][2], law[2] = {m, s};
    *out = NULL;
    if (sample.count < LEAST_PULLS) return HF_OK;
    hf_cell_job *job = HF_ARENA_NEW(arena, hf_cell_job);
    if (!job) return HF_MEMORY;
    job->family = family;
    job->pulls = (double)sample.count;
    if (!find_ladders(job, sample)) return HF_OK;
    for (size_t l = 0; l < job->ladder_count; l++) {
        if (!range_of(job, &job->ladders[l], law, range[l])) return HF_OK;
        job->ladders[l].first = job->cell_count;
        job->ladders[l].count = (size_t)(range[l][1] - range[l][0]);
        job->cell_count += job->ladders[l].count;
    }
    if (!take_memory(arena, job)) return HF_MEMORY;
    for (size_t l = 0; l < job->ladder_count; l++) fill_ladder(job, &job->ladders[l], law, range[l]);
    sort_cells(job);
    *out = job;
    return HF_OK;
}

static void draw(hf_cell_job *job, hf_random *random) {
    for (size_t l = 0; l < job->ladder_count; l++) {
        const ladder *at = &job->ladders[l];
        double left = at->pulls;
        for (size_t i = at->first; i < at->first + at->count; i++) {
            job->drawn[i] = left > 0 ? hf_random_binomial(random, left, job->share[i]) : 0;
            left -= job->drawn[i];
        }
    }
    for (size_t i = 0; i < job->cell_count; i++) job->sorted[i] = job->drawn[job->order[i]];
}

/* Σ (2i − 1)(ln F(z_i) + ln S(z_{n+1−i})) over runs of equal values. */
static double statistic(hf_cell_job *job, double m, double s) {
    double below = 0, sum = 0, n = job->pulls;
    for (size_t i = 0; i < job->cell_count; i++) job->z[i] = (job->sorted_y[i] - m) / s;
    job->family->log_tails(job->z, job->log_lower, job->log_upper, job->cell_count);
    for (size_t i = 0; i < job->cell_count; i++) {
        double count = job->sorted[i];
        if (!(count > 0)) continue;
        double above = n - below - count;
        sum += count * ((2 * below + count) * job->log_lower[i] + (2 * above + count) * job->log_upper[i]);
        below += count;
    }
    return -n - sum / n;
}

bool hf_cell_job_exceeds(hf_cell_job *job, hf_random *random, double least) {
    double m, s;
    draw(job, random);
    if (job->family->estimate_counted(job->sorted_y, job->sorted, job->cell_count, &m, &s) != HF_OK ||
        !(s > 0))
        return true;
    return statistic(job, m, s) >= least;
}
