#include "holdfast/planning/comparison_coverage.h"

#include <math.h>
#include "holdfast/base/arena.h"
#include "holdfast/comparing/contrast.h"
#include "holdfast/comparing/open_compare.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "planning/bench.h"
#include "planning/coverage_batches.h"

enum { GROUPS_A_BLOCK = 32, MOST_PARTS = 10000 };

static const double nobody = 1e-10; /* share of parts beyond the ends of a ladder that goes on */

typedef struct tally {
    double rejected, wrong_side, covered, given, open, small, scatter, width, widths;
} tally;

/* Scratch of one worker: samples side by side for each design, and one sample of each at a time. */
typedef struct workplace {
    hf_bench_lanes lanes[2];
    double *y[2];
    hf_observation *items[2];
} workplace;

typedef struct comparison_job {
    const hf_comparison_cell *cell;
    hf_bench bench[2];
    hf_coverage_cell batches[2]; /* what fills the lanes of each side */
    size_t n[2], groups;
    double truth; /* ln of the true ratio */
    workplace *places;
    tally *tallies; /* one per block */
} comparison_job;

/* --- One sample of each ------------------------------------------------------------------------------ */

typedef struct outcome {
    bool given, told_apart, small, scatter;
    double difference, low, high; /* ln of the ratio and its interval */
} outcome;

static bool is_open(const comparison_job *job, const workplace *place, size_t side, size_t lane) {
    const hf_bench_lanes *lanes = &place->lanes[side];
    uint32_t last = (uint32_t)job->bench[side].last;
    for (size_t i = 0; i < job->n[side]; i++) {
        uint32_t step = lanes->step[i * HF_LANES + lane];
        if (step == 0 || step == last) return true;
    }
    return false;
}

static hf_group group_of(const comparison_job *job, const workplace *place, size_t side, size_t lane) {
    const hf_bench_lanes *lanes = &place->lanes[side];
    size_t n = job->n[side];
    double squares = 0;
    for (size_t i = 0; i < n; i++) {
        place->y[side][i] = lanes->y[i * HF_LANES + lane];
        squares += lanes->square[i * HF_LANES + lane];
    }
    bool blind = job->cell->rule == HF_RULE_WITHOUT_ALLOWANCE;
    return hf_group_from_mids(place->y[side], n, blind ? 0 : sqrt(squares / (double)n));
}

/* Batches lie one after the other in the rows, and so in parts.y, where their means may take the place of what was read. */
static hf_group group_of_batches(const hf_comparison_side *side, hf_group parts, double *y) {
    double inverse = 0;
    const double *part = parts.y;
    for (size_t j = 0; j < side->batch_count; j++) {
        double size = (double)side->batches[j], mean = 0;
        for (size_t i = 0; i < side->batches[j]; i++) mean += *part++ / size;
        y[j] = mean;
        inverse += 1 / size;
    }
    return hf_group_from_batch_means(y, side->batch_count, parts.h, inverse);
}

static outcome by_welch(const comparison_job *job, const workplace *place, size_t lane) {
    const hf_comparison_cell *cell = job->cell;
    hf_group a = group_of(job, place, 0, lane), b = group_of(job, place, 1, lane);
    if (cell->rule != HF_RULE_BY_PARTS && cell->a.batch_count > 1 && cell->b.batch_count > 1) {
        a = group_of_batches(&cell->a, a, place->y[0]);
        b = group_of_batches(&cell->b, b, place->y[1]);
    }
    hf_contrast_options options = {.level = job->cell->level};
    hf_contrast contrast;
    (void)hf_contrast_test(&a, &b, &options, &contrast);
    if (!contrast.available) return (outcome){.given = false};
    return (outcome){true,
                     contrast.p <= job->cell->level,
                     contrast.caution_small_group,
                     contrast.caution_scatter,
                     contrast.difference,
                     log(contrast.low),
                     log(contrast.high)};
}

static hf_sample sample_of(const comparison_job *job, const workplace *place, size_t side, size_t lane) {
    const hf_bench_lanes *lanes = &place->lanes[side];
    for (size_t i = 0; i < job->n[side]; i++)
        place->items[side][i] = hf_bench_observation(&job->bench[side], lanes->step[i * HF_LANES + lane],
                                                     lanes->y[i * HF_LANES + lane]);
    return (hf_sample){place->items[side], job->n[side]};
}

static outcome by_likelihood(const comparison_job *job, const workplace *place, size_t lane) {
    const hf_family *family = &hf_family_lognormal;
    hf_sample a = sample_of(job, place, 0, lane), b = sample_of(job, place, 1, lane);
    hf_comparison_rule rule = job->cell->rule;
    hf_open_compare_options options = {rule == HF_RULE_COMMON_SCATTER, job->cell->level};
    hf_open_compare open;
    if (rule == HF_RULE_OPEN_WELCH)
        (void)hf_open_compare_welch(family, a, b, &options, &open);
    else if (rule == HF_RULE_AS_COMPARED)
        (void)hf_open_compare_of(a, b, job->cell->level, &open);
    else
        (void)hf_open_compare_likelihood(family, a, b, &options, &open);
    if (!open.available) return (outcome){.given = false};
    return (outcome){true,          open.p <= job->cell->level, false, false, open.difference, log(open.low),
                     log(open.high)};
}

/* Rounding puts an end of the interval that is the truth itself on either side. */
static bool holds(const outcome *seen, double truth) {
    return seen->low <= truth + 1e-12 && seen->high >= truth - 1e-12;
}

static void count_sample(const comparison_job *job, const workplace *place, size_t lane, tally *sum) {
    bool open = is_open(job, place, 0, lane) || is_open(job, place, 1, lane);
    bool likelihood = open || job->cell->rule == HF_RULE_OWN_SCATTER ||
                      job->cell->rule == HF_RULE_OPEN_WELCH || job->cell->rule == HF_RULE_COMMON_SCATTER;
    outcome seen = likelihood ? by_likelihood(job, place, lane) : by_welch(job, place, lane);
    sum->open += open;
    sum->given += seen.given;
    sum->covered += !seen.given || holds(&seen, job->truth);
    if (!seen.given) return;
    sum->small += seen.small;
    sum->scatter += seen.scatter;
    sum->rejected += seen.told_apart;
    bool for_a = seen.difference > 0;
    sum->wrong_side += seen.told_apart && (job->truth == 0 ? for_a : for_a != (job->truth > 0));
    if (!isfinite(seen.high - seen.low)) return;
    sum->width += seen.high - seen.low;
    sum->widths++;
}

static void block_of_samples(size_t block, int worker, void *context) {
    const comparison_job *job = context;
    workplace *place = &job->places[worker];
    size_t start = block * GROUPS_A_BLOCK, end = start + GROUPS_A_BLOCK;
    tally sum = {0};
    hf_random random;
    hf_random_start(&random, job->cell->seed, block);
    for (size_t group = start; group < end && group < job->groups; group++) {
        for (size_t side = 0; side < 2; side++) {
            const hf_bench *bench = &job->bench[side];
            hf_coverage_batch_fill(&job->batches[side], bench, &random, &place->lanes[side]);
            hf_bench_pull(bench, &place->lanes[side], 0, job->n[side]);
        }
        for (size_t lane = 0; lane < HF_LANES; lane++) count_sample(job, place, lane, &sum);
    }
    job->tallies[block] = sum;
}

/* --- Laws and ladders --------------------------------------------------------------------------------- */

/* Law whose ln load has this mean and standard deviation. */
static hf_guess law_of(const hf_family *family, double mean, double spread) {
    double s = spread / family->deviation_z, m = mean - s * family->mean_z;
    return (hf_guess){.family = family, .mean = exp(mean), .deviation = NAN, .m = m, .s = s};
}

/* Loads of one ladder over both laws, cut to the wanted shares of A. */
static hf_status make_ladder(hf_arena *arena, const hf_comparison_cell *cell, const hf_comparison_side *side,
                             const hf_guess laws[2], hf_bench_ladder *out) {
    *out = (hf_bench_ladder){.stop = INFINITY};
    double low = fmin(hf_guess_quantile(&laws[0], nobody), hf_guess_quantile(&laws[1], nobody));
    double high = fmax(hf_guess_quantile(&laws[0], 1 - nobody), hf_guess_quantile(&laws[1], 1 - nobody));
    if (cell->first_share > 0) low = hf_guess_quantile(&laws[0], cell->first_share);
    if (cell->stop_share > 0) high = hf_guess_quantile(&laws[0], cell->stop_share);
    if (side->step == 0) {
        out->first = cell->first_share > 0 ? low : 0;
        if (cell->stop_share > 0) out->stop = high;
        return HF_OK;
    }
    bool in_load = cell->load_steps; /* the middle of the two means is 1, its ln 0 */
    double width = side->step * cell->a.spread, base = side->offset * cell->a.spread + (in_load ? 1 : 0);
    double from = in_load ? low : log(low), to = in_load ? high : log(high);
    double first = ceil((from - base) / width), last = floor((to - base) / width);
    if (cell->first_share == 0 && !in_load) first--;
    if (in_load && base + first * width <= 0) first = floor(-base / width) + 1;
    if (in_load && cell->first_share == 0 && base + (first - 1) * width > 0) first--;
    if (cell->stop_share == 0) last++;
    if (!(last - first >= 0 && last - first < HF_BENCH_MOST_LOADS)) return HF_RANGE;
    double *loads = HF_ARENA_NEW_ARRAY(arena, double, (size_t)(last - first) + 1);
    if (!loads) return HF_MEMORY;
    for (double j = first; j <= last; j++)
        loads[out->count++] = in_load ? base + j * width : exp(base + j * width);
    out->loads = loads;
    return HF_OK;
}

static bool side_fits(const hf_comparison_side *side) {
    size_t parts = 0;
    for (size_t i = 0; i < side->batch_count; i++) parts += side->batches[i];
    return (parts == side->n || !side->batch_count) && side->n >= 2 && side->n <= MOST_PARTS &&
           side->spread > 0 && side->spread <= 1 && side->step >= 0 && isfinite(side->step) &&
           isfinite(side->offset);
}

static bool is_open_share(double share) {
    return share >= 0 && share < 1;
}

static bool fits(const hf_comparison_cell *cell) {
    return cell->truth->log_scale && side_fits(&cell->a) && side_fits(&cell->b) && cell->ratio > 0 &&
           isfinite(cell->ratio) && is_open_share(cell->stop_share) && is_open_share(cell->first_share) &&
           cell->between_share >= 0 && cell->between_share <= 1 && cell->level > 0 && cell->level < 1 &&
           cell->replicates >= 1;
}

/* --- All of it ------------------------------------------------------------------------------------------ */

static hf_status start_benches(hf_arena *arena, comparison_job *job) {
    const hf_comparison_cell *cell = job->cell;
    const hf_comparison_side *sides[2] = {&cell->a, &cell->b};
    const hf_family *lognormal = &hf_family_lognormal;
    hf_bench_rule rule = {.family = lognormal, .method = hf_planning_method_find("formula")};
    hf_guess laws[2] = {law_of(cell->truth, 0.5 * job->truth, cell->a.spread),
                        law_of(cell->truth, -0.5 * job->truth, cell->b.spread)};
    for (size_t side = 0; side < 2; side++) {
        hf_bench_ladder ladder;
        job->n[side] = sides[side]->n;
        job->batches[side] = (hf_coverage_cell){.n = sides[side]->n,
                                                .batches = sides[side]->batches,
                                                .batch_count = sides[side]->batch_count,
                                                .between_share = cell->between_share};
        hf_status status = make_ladder(arena, cell, sides[side], laws, &ladder);
        if (status == HF_OK) status = hf_bench_start(arena, &laws[side], &ladder, &rule, &job->bench[side]);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}

static hf_status start_workplaces(hf_arena *arena, comparison_job *job) {
    size_t workers = (size_t)hf_parallel_threads();
    job->places = HF_ARENA_NEW_ARRAY(arena, workplace, workers);
    if (!job->places) return HF_MEMORY;
    for (size_t i = 0; i < workers; i++)
        for (size_t side = 0; side < 2; side++) {
            workplace *place = &job->places[i];
            place->y[side] = HF_ARENA_NEW_ARRAY(arena, double, job->n[side]);
            place->items[side] = HF_ARENA_NEW_ARRAY(arena, hf_observation, job->n[side]);
            if (!place->y[side] || !place->items[side] ||
                hf_bench_lanes_start(arena, job->n[side], 0, &place->lanes[side]) != HF_OK)
                return HF_MEMORY;
        }
    return HF_OK;
}

static double error_of(double share, double count) {
    return sqrt(fmax(share * (1 - share), 1 / count) / count);
}

static void summarize(const comparison_job *job, size_t blocks, hf_comparison_coverage *out) {
    tally sum = {0};
    double count = (double)(job->groups * HF_LANES);
    for (size_t i = 0; i < blocks; i++) {
        const tally *one = &job->tallies[i];
        sum.rejected += one->rejected;
        sum.wrong_side += one->wrong_side;
        sum.covered += one->covered;
        sum.given += one->given;
        sum.open += one->open;
        sum.small += one->small;
        sum.scatter += one->scatter;
        sum.width += one->width;
        sum.widths += one->widths;
    }
    *out = (hf_comparison_coverage){.rejected = sum.rejected / count,
                                    .wrong_side = sum.wrong_side / count,
                                    .coverage = sum.covered / count,
                                    .given = sum.given / count,
                                    .open_share = sum.open / count,
                                    .caution_small = sum.small / count,
                                    .caution_scatter = sum.scatter / count,
                                    .mean_width =
                                        sum.widths > 0 ? sum.width / sum.widths / job->cell->a.spread : NAN,
                                    .replicates = job->groups * HF_LANES};
    out->rejected_error = error_of(out->rejected, count);
    out->coverage_error = error_of(out->coverage, count);
}

static hf_status simulate(hf_arena *arena, const hf_comparison_cell *cell, hf_comparison_coverage *out) {
    comparison_job job = {.cell = cell, .truth = log(cell->ratio)};
    job.groups = (cell->replicates + HF_LANES - 1) / HF_LANES;
    size_t blocks = (job.groups + GROUPS_A_BLOCK - 1) / GROUPS_A_BLOCK;
    hf_status status = start_benches(arena, &job);
    if (status == HF_OK) status = start_workplaces(arena, &job);
    if (status != HF_OK) return status;
    job.tallies = HF_ARENA_NEW_ARRAY(arena, tally, blocks);
    if (!job.tallies) return HF_MEMORY;
    hf_parallel_blocks(blocks, block_of_samples, &job);
    summarize(&job, blocks, out);
    return HF_OK;
}

hf_status hf_comparison_coverage_of(const hf_comparison_cell *cell, hf_comparison_coverage *out) {
    hf_comparison_cell whole = *cell;
    if (!whole.truth) whole.truth = &hf_family_lognormal;
    if (whole.level == 0) whole.level = 0.05;
    if (!fits(&whole)) return HF_RANGE;
    hf_arena *arena = hf_arena_create();
    if (!arena) return HF_MEMORY;
    hf_status status = simulate(arena, &whole, out);
    hf_arena_free(arena);
    return status;
}
