#include "holdfast/comparing/relabel.h"

#include <math.h>
#include <string.h>
#include "comparing/common_rungs.h"
#include "comparing/relabel_core.h"
#include "holdfast/comparing/group.h"

/* Steps finer than this share of the pooled scatter count as readings. */
static const double fine_share = 0.1;

double hf_relabel_ways(size_t n_a, size_t n_b) {
    double ways = 1;
    for (size_t i = 1; i <= n_b; i++) ways = ways * (double)(n_a + i) / (double)i;
    return ways < 9e15 ? round(ways) : ways;
}

static hf_status refuse(hf_relabel *out, const char *reason) {
    out->reason = reason;
    return HF_NO_RESULT;
}

static hf_observation *both_groups(hf_arena *arena, hf_sample a, hf_sample b) {
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, a.count + b.count);
    if (!items) return NULL;
    memcpy(items, a.items, a.count * sizeof *items);
    memcpy(items + a.count, b.items, b.count * sizeof *items);
    return items;
}

static bool steps_are_fine(const hf_group *a, const hf_group *b) {
    double freedom = (double)(a->n + b->n - 2);
    double variance = ((double)(a->n - 1) * a->s * a->s + (double)(b->n - 1) * b->s * b->s) / freedom;
    double h = fmax(a->h, b->h);
    return h * h < fine_share * fine_share * variance;
}

static hf_status put_on_common_rungs(hf_arena *arena, const hf_relabel_options *options,
                                     hf_observation *items, size_t count, hf_relabel *out) {
    hf_rungs rungs = {options->rungs, options->rung_count};
    if (!rungs.loads || rungs.count == 0) {
        hf_status status = hf_common_rungs(arena, items, count, &rungs);
        if (status != HF_OK || rungs.count == 0) return status;
    }
    out->coarsened = true;
    out->common_rungs = rungs.count;
    hf_widen_to_rungs(rungs, items, count);
    return HF_OK;
}

static void conclude(const hf_relabel_count *count, hf_relabel *out) {
    double total = (double)count->total;
    if (out->full) {
        out->p = (double)count->extreme / total;
        out->p_floor = (double)count->at_largest / total;
    } else {
        out->p = ((double)count->extreme + 1) / (total + 1);
        out->p_floor = 1 / (total + 1);
        out->standard_error = sqrt(out->p * (1 - out->p) / total);
        total += 1;
    }
    out->relabelings = total;
    out->available = true;
}

static hf_status run(hf_arena *arena, const hf_observation *items, size_t n_a, size_t n_b,
                     const hf_relabel_options *options, hf_relabel *out) {
    hf_group all;
    hf_relabel_item *work = HF_ARENA_NEW_ARRAY(arena, hf_relabel_item, n_a + n_b);
    hf_status status = work ? hf_group_of(arena, (hf_sample){items, n_a + n_b}, &all) : HF_MEMORY;
    if (status != HF_OK) return status;
    hf_relabel_problem problem;
    hf_relabel_count count;
    hf_relabel_prepare(all.y, all.width, n_a, n_b, false, work, &problem);
    out->statistic = copysign(sqrt(fabs(problem.observed)), problem.observed);
    size_t limit = options->full_limit ? options->full_limit : HF_RELABEL_FULL_LIMIT;
    out->full = hf_relabel_ways(n_a, n_b) <= (double)limit;
    if (out->full)
        status = hf_relabel_count_all(&problem, &count);
    else
        status = hf_relabel_count_random(&problem, options->random ? options->random : HF_RELABEL_RANDOM,
                                         options->seed, &count);
    if (status == HF_OK) conclude(&count, out);
    return status;
}

hf_status hf_relabel_test(hf_arena *arena, hf_sample a, hf_sample b, const hf_relabel_options *options,
                          hf_relabel *out) {
    const hf_relabel_options usual = {0};
    hf_sample_counts counts_a = hf_sample_count(a), counts_b = hf_sample_count(b);
    hf_group group_a, group_b;
    if (!options) options = &usual;
    memset(out, 0, sizeof *out);
    out->p = out->p_floor = out->statistic = NAN;
    if (counts_a.above + counts_a.below + counts_b.above + counts_b.below > 0)
        return refuse(out, "open_observations");
    if (a.count < 2 || b.count < 2) return refuse(out, "one_part");
    hf_status status = hf_group_of(arena, a, &group_a);
    if (status == HF_OK) status = hf_group_of(arena, b, &group_b);
    if (status == HF_RANGE) return refuse(out, "range");
    if (status != HF_OK) return status;
    hf_observation *items = both_groups(arena, a, b);
    if (!items) return HF_MEMORY;
    if (!steps_are_fine(&group_a, &group_b))
        status = put_on_common_rungs(arena, options, items, a.count + b.count, out);
    if (status == HF_OK) status = run(arena, items, a.count, b.count, options, out);
    return status;
}
