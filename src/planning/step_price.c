#include "holdfast/planning/step_price.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/solve.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/bound.h"

enum { MOST_PARTS = 1000, BLOCKS = 64, GROUPS_A_BLOCK = 100 };
static const double widest_step = 20;
static const uint64_t price_seed = 20260602;

/* --- Normal laws ------------------------------------------------------------------------------------ */

typedef struct root_integral {
    double nu, scale, extra; /* √(scale·W² + extra), W² = χ²/ν */
} root_integral;

static double root_integrand(double u, void *context) {
    const root_integral *integral = context;
    double nu = integral->nu, half = 0.5 * nu, square = exp(2 * u);
    double log_density = log(2.0) + half * log(half) - hf_log_gamma(half) + nu * u - half * square;
    return exp(log_density) * sqrt(integral->scale * square + integral->extra);
}

static double mean_root(double nu, double scale, double extra) {
    root_integral integral = {nu, scale, extra};
    double out;
    if (hf_integrate(root_integrand, &integral, -40 / nu - 3, 3, 0, 1e-11, &out, NULL) != HF_OK) return NAN;
    return out;
}

typedef struct margin_search {
    double content, confidence, allowance, log_wanted;
} margin_search;

/* ln of the expected margin k·s of n exact readings, n − 1 = e^x any number. */
static double margin_excess(double x, void *context) {
    const margin_search *search = context;
    double nu = exp(x), n = nu + 1, root = sqrt(n), t;
    if (hf_noncentral_t_quantile(search->confidence, nu, hf_normal_quantile_lower(search->content) * root,
                                 &t) != HF_OK)
        return NAN;
    return log(t / root * mean_root(nu, 1, 0)) - search->log_wanted;
}

static hf_status price_normal(size_t n, double h, margin_search *search, hf_step_price *out) {
    double nu = (double)n - 1, x;
    out->ratio = mean_root(nu, 1 + h * h / 12, search->allowance * h * h) / mean_root(nu, 1, 0);
    if (isnan(out->ratio)) return HF_NUMERIC;
    search->log_wanted = 0;
    search->log_wanted = margin_excess(log(nu), search) + log(out->ratio);
    if (n == 2 || margin_excess(0, search) < 0) return HF_OK;
    hf_status status = hf_solve_root(margin_excess, search, 0, log(nu), 1e-9, 1e-9, &x);
    if (status == HF_OK) out->parts_lost = nu - exp(x);
    return status;
}

/* --- Other laws ------------------------------------------------------------------------------------- */

typedef struct price_job {
    const hf_family *family;
    size_t n;
    double h, allowance;     /* h 0: exact readings only */
    double *scratch;         /* 3·n·HF_LANES per worker */
    double *exact, *stepped; /* sums by block */
} price_job;

static void price_group(const price_job *job, hf_random *random, double *z, size_t block) {
    size_t count = job->n * HF_LANES;
    double *y = z + count, *work = y + count, place[HF_LANES], m[HF_LANES], s[HF_LANES], h = job->h;
    hf_random_fill_uniform(random, place, HF_LANES);
    job->family->fill(random, z, count);
    job->family->estimate_lanes(z, job->n, work, m, s);
    for (size_t lane = 0; lane < HF_LANES; lane++) job->exact[block] += s[lane];
    if (h == 0) return;
    for (size_t i = 0; i < count; i++) {
        double offset = place[i % HF_LANES];
        y[i] = (floor(z[i] / h - offset) + 0.5 + offset) * h;
    }
    job->family->estimate_lanes(y, job->n, work, m, s);
    for (size_t lane = 0; lane < HF_LANES; lane++)
        job->stepped[block] += sqrt(s[lane] * s[lane] + job->allowance * h * h);
}

static void price_block(size_t block, int worker, void *context) {
    const price_job *job = context;
    hf_random random;
    hf_random_start(&random, price_seed, block);
    for (int group = 0; group < GROUPS_A_BLOCK; group++)
        price_group(job, &random, job->scratch + 3 * job->n * HF_LANES * (size_t)worker, block);
}

/* Mean of s of exact readings, and the ratio with its standard error from the spread of the blocks. */
static hf_status simulate(hf_arena *arena, price_job job, hf_step_price *out, double *mean) {
    size_t n = job.n;
    double exact, stepped, squares = 0;
    job.scratch = HF_ARENA_NEW_ARRAY(arena, double, 3 * n * HF_LANES * (size_t)hf_parallel_threads());
    job.exact = HF_ARENA_NEW_ARRAY(arena, double, BLOCKS);
    job.stepped = HF_ARENA_NEW_ARRAY(arena, double, BLOCKS);
    if (!job.scratch || !job.exact || !job.stepped) return HF_MEMORY;
    hf_parallel_blocks(BLOCKS, price_block, &job);
    exact = hf_vector_sum(job.exact, BLOCKS);
    stepped = hf_vector_sum(job.stepped, BLOCKS);
    *mean = exact / (BLOCKS * GROUPS_A_BLOCK * HF_LANES);
    if (job.h == 0) return HF_OK;
    out->ratio = stepped / exact;
    for (int i = 0; i < BLOCKS; i++) {
        double residual = (job.stepped[i] - out->ratio * job.exact[i]) / (exact / BLOCKS);
        squares += residual * residual;
    }
    out->standard_error = sqrt(squares / (BLOCKS - 1) / BLOCKS);
    return HF_OK;
}

static hf_status log_margin(hf_arena *arena, const hf_family *family, size_t n, const margin_search *search,
                            double *out) {
    double k, error, mean;
    hf_status status = family->factor(n, search->content, search->confidence, &k, &error);
    if (status == HF_OK) status = simulate(arena, (price_job){.family = family, .n = n}, NULL, &mean);
    if (status == HF_OK) *out = log(k * mean);
    return status;
}

/* Whole numbers downwards until the margin without steps is as long; between two, ln margin is taken as straight in ln(n − 1). */
static hf_status lose_parts(hf_arena *arena, const hf_family *family, size_t n, const margin_search *search,
                            hf_step_price *out) {
    double upper, lower, wanted;
    hf_status status = log_margin(arena, family, n, search, &upper);
    wanted = upper + log(out->ratio);
    for (size_t fewer = n - 1; fewer >= 2 && status == HF_OK; fewer--, upper = lower) {
        status = log_margin(arena, family, fewer, search, &lower);
        if (status != HF_OK || lower < wanted) continue;
        double share = (lower - wanted) / (lower - upper), low = (double)fewer - 1;
        out->parts_lost = (double)n - 1 - low * pow((low + 1) / low, share);
        break;
    }
    return status;
}

static hf_status price_simulated(const hf_family *family, size_t n, double h, const margin_search *search,
                                 bool in_parts, hf_step_price *out) {
    double mean;
    price_job job = {.family = family, .n = n, .h = h, .allowance = search->allowance};
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    hf_status status = simulate(arena, job, out, &mean);
    if (status == HF_OK && in_parts) status = lose_parts(arena, family, n, search, out);
    hf_arena_free(arena);
    return status;
}

static hf_status price(const hf_family *family, size_t n, double h, double content, double confidence,
                       bool in_parts, hf_step_price *out) {
    margin_search search = {content, confidence, hf_bound_allowance(family, content, INFINITY), 0};
    *out = (hf_step_price){NAN, 0, NAN};
    if (!hf_family_may_govern(family)) return HF_NO_RESULT;
    if (n < 2 || n > MOST_PARTS || !(h > 0 && h <= widest_step)) return HF_RANGE;
    if (!(content > 0.5 && content < 1 && confidence >= 0.5 && confidence < 1)) return HF_RANGE;
    return family->spread_divides_by_n_minus_1 ? price_normal(n, h, &search, out)
                                               : price_simulated(family, n, h, &search, in_parts, out);
}

hf_status hf_step_price_of(const hf_family *family, size_t n, double h, double content, double confidence,
                           hf_step_price *out) {
    return price(family, n, h, content, confidence, true, out);
}

hf_status hf_step_ratio_of(const hf_family *family, size_t n, double h, double content, double confidence,
                           double *ratio) {
    hf_step_price out;
    hf_status status = price(family, n, h, content, confidence, false, &out);
    *ratio = out.ratio;
    return status;
}
