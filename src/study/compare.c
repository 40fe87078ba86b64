#include "holdfast/study/compare.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/parallel.h"
#include "study/compare_parts.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/raise.h"

enum { MOST_GROUPS = 256 };

/* --- Which designs ----------------------------------------------------------------------------------- */

static hf_status check_designs(const hf_campaign *campaign, const hf_comparison_options *options,
                               hf_error *error) {
    size_t count = options->design_count ? options->design_count : campaign->design_count;
    for (size_t i = 0; i < options->design_count; i++) {
        if (!hf_campaign_find_design(campaign, options->designs[i], error)) return error->status;
        for (size_t j = 0; j < i; j++)
            if (strcmp(options->designs[i], options->designs[j]) == 0)
                return hf_error_set(error, HF_USAGE, "design \"%.60s\" is named twice, expected once",
                                    options->designs[i]);
    }
    if (options->design_count == 1)
        return hf_error_set(
            error, HF_USAGE,
            "design \"%.60s\" alone: expected two designs or more, or none for all of the file",
            options->designs[0]);
    if (count > HF_RANKING_LIMIT)
        return hf_error_set(error, HF_USAGE, "%zu designs, expected at most %d: name those to be compared",
                            count, HF_RANKING_LIMIT);
    return HF_OK;
}

static bool within(double value, double low, double high) {
    return value == 0 || (value > low && value < high);
}

static hf_status check_numbers(const hf_comparison_options *options, hf_error *error) {
    if (!within(options->level, 0, 0.5))
        return hf_error_set(error, HF_USAGE, "level %g: expected above 0 and below 0.5", options->level);
    if (!within(options->same_within, 0, 10))
        return hf_error_set(error, HF_USAGE, "same within %g: expected a share above 0 and below 10",
                            options->same_within);
    return HF_OK;
}

hf_status hf_comparison_check(const hf_campaign *campaign, const hf_comparison_options *options,
                              hf_error *error) {
    hf_status status = check_designs(campaign, options, error);
    return status == HF_OK ? check_numbers(options, error) : status;
}

static const hf_design_assessment *assessed(const hf_assessment *assessment, const char *id) {
    for (size_t i = 0; i < assessment->count; i++)
        if (strcmp(assessment->designs[i].design->id, id) == 0) return &assessment->designs[i];
    return NULL;
}

/* In the order they were named; a design that was not assessed cannot be compared. */
static hf_status choose_designs(hf_arena *arena, const hf_assessment *assessment, hf_comparison *out,
                                hf_comparison_design **designs_out) {
    const hf_comparison_options *options = &out->options;
    out->count = options->design_count ? options->design_count : assessment->count;
    hf_comparison_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_comparison_design, out->count);
    if (!designs) return HF_MEMORY;
    for (size_t i = 0; i < out->count; i++) {
        designs[i].assessment =
            options->design_count ? assessed(assessment, options->designs[i]) : &assessment->designs[i];
        if (!designs[i].assessment) return HF_USAGE;
    }
    out->designs = *designs_out = designs;
    return HF_OK;
}

/* Designs are independent: each is one block of work with an arena of its own, adopted at the end. */
typedef struct design_job {
    const hf_assessment *assessment;
    size_t picked_from;
    hf_comparison_design *designs;
    hf_arena **arenas;
    hf_status *status;
} design_job;

/* The bound of a design used for what it is, and if it is picked as the best. What was assessed is one of them. */
static hf_status fill_picked(hf_arena *arena, const design_job *job, hf_comparison_design *design) {
    const hf_design_assessment *assessed = design->assessment;
    const hf_promise *promise = &assessed->promise;
    double *missing = &design->if_picked, *used = &design->picked_confidence;
    design->own_bound = design->if_picked = design->bound;
    design->own_confidence = design->picked_confidence = promise->used;
    if (promise->picked_from) {
        missing = &design->own_bound;
        used = &design->own_confidence;
    }
    return hf_bound_if_picked(arena, job->assessment, assessed, promise->picked_from ? 0 : job->picked_from,
                              missing, used);
}

static void design_block(size_t block, int worker, void *context) {
    const design_job *job = context;
    (void)worker;
    hf_arena *arena = job->arenas[block] = hf_arena_create();
    hf_status status = arena ? hf_compare_design(arena, &job->designs[block]) : HF_MEMORY;
    job->status[block] = status == HF_OK ? fill_picked(arena, job, &job->designs[block]) : status;
}

static hf_status fill_designs(hf_arena *arena, const hf_assessment *assessment,
                              const hf_comparison *comparison, hf_comparison_design *designs) {
    hf_arena **arenas = HF_ARENA_NEW_ARRAY(arena, hf_arena *, comparison->count);
    hf_status *statuses = HF_ARENA_NEW_ARRAY(arena, hf_status, comparison->count), status = HF_OK;
    if (!arenas || !statuses) return HF_MEMORY;
    design_job job = {assessment, comparison->picked_from, designs, arenas, statuses};
    hf_parallel_blocks(comparison->count, design_block, &job);
    for (size_t i = 0; i < comparison->count; i++) {
        hf_arena_adopt(arena, arenas[i]);
        if (statuses[i] != HF_OK) status = statuses[i];
    }
    return status;
}

/* --- Pairs ------------------------------------------------------------------------------------------- */

static hf_compare_pair_request request_of(const hf_comparison *comparison, const hf_comparison_pair *pair) {
    return (hf_compare_pair_request){comparison->campaign, &comparison->options,
                                     &comparison->designs[pair->a], &comparison->designs[pair->b],
                                     comparison->count};
}

/* The verdict and the cautions once all p are known. */
static hf_status judge_pair(hf_arena *arena, const hf_comparison *comparison, hf_comparison_pair *pair) {
    hf_compare_pair_request as_in_file = request_of(comparison, pair), request = as_in_file;
    hf_arena *scratch = hf_arena_create();
    bool turned = false;
    hf_status status = scratch ? hf_compare_in_order(scratch, &request, &turned) : HF_MEMORY;
    if (status == HF_OK) pair->verdict = hf_compare_verdict(&request, pair);
    if (status == HF_OK) status = hf_compare_decide(scratch, &request, comparison->compared, turned, pair);
    if (status == HF_OK) hf_compare_pair_cautions(arena, &as_in_file, pair);
    hf_arena_free(scratch);
    return status;
}

static hf_status adjust(hf_arena *arena, hf_comparison *comparison, hf_comparison_pair *pairs) {
    hf_status status = HF_OK;
    double *p = HF_ARENA_NEW_ARRAY(arena, double, comparison->pair_count);
    if (!p) return HF_MEMORY;
    for (size_t i = 0; i < comparison->pair_count; i++) {
        p[i] = pairs[i].p;
        if (!isnan(p[i])) comparison->compared++;
    }
    hf_holm_adjust(p, comparison->pair_count, p);
    for (size_t i = 0; status == HF_OK && i < comparison->pair_count; i++) {
        pairs[i].p_adjusted = p[i];
        status = judge_pair(arena, comparison, &pairs[i]);
    }
    return status;
}

/* What a pair is worked out from (draws, orders) is many times its result: it is given back before the next. */
static hf_status fill_pair(const hf_comparison *comparison, hf_comparison_pair *pair) {
    hf_compare_pair_request request = request_of(comparison, pair);
    hf_arena *scratch = hf_arena_create();
    bool turned = false;
    hf_status status = scratch ? hf_compare_in_order(scratch, &request, &turned) : HF_MEMORY;
    if (status == HF_OK) status = hf_compare_pair(scratch, &request, pair);
    if (turned) hf_compare_mirror(pair);
    hf_arena_free(scratch);
    return status;
}

static hf_status fill_pairs(hf_arena *arena, hf_comparison *comparison) {
    size_t count = comparison->count, at = 0;
    comparison->pair_count = count * (count - (count > 0)) / 2;
    hf_comparison_pair *pairs = HF_ARENA_NEW_ARRAY(arena, hf_comparison_pair, comparison->pair_count);
    if (!pairs) return HF_MEMORY;
    comparison->pairs = pairs;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            pairs[at].a = i;
            pairs[at].b = j;
            hf_status status = fill_pair(comparison, &pairs[at++]);
            if (status != HF_OK) return status;
        }
    return adjust(arena, comparison, pairs);
}

/* --- All together ------------------------------------------------------------------------------------ */

static hf_status rank(hf_arena *arena, hf_comparison *comparison, hf_comparison_design *designs) {
    size_t count = comparison->count;
    double *bounds = HF_ARENA_NEW_ARRAY(arena, double, count);
    size_t *league = HF_ARENA_NEW_ARRAY(arena, size_t, count);
    bool *differ = HF_ARENA_NEW_ARRAY(arena, bool, count *count);
    uint64_t *groups = HF_ARENA_NEW_ARRAY(arena, uint64_t, MOST_GROUPS);
    if (!bounds || !league || !differ || !groups) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) bounds[i] = designs[i].bound;
    hf_ranking_league(bounds, count, league);
    for (size_t i = 0; i < count; i++)
        if (!isnan(bounds[league[i]])) designs[league[i]].rank = i + 1;
    for (size_t i = 0; i < comparison->pair_count; i++) {
        const hf_comparison_pair *pair = &comparison->pairs[i];
        differ[pair->a * count + pair->b] = pair->p_adjusted <= comparison->options.level;
    }
    comparison->league = league;
    comparison->groups = groups;
    if (hf_ranking_groups(differ, count, groups, MOST_GROUPS, &comparison->group_count) != HF_OK)
        comparison->group_count = 0;
    return HF_OK;
}

/* Tally of one pair over the pulls against each other. */
static bool tally(const hf_comparison *comparison, size_t a, size_t b, size_t count[3]) {
    const hf_campaign *campaign = comparison->campaign;
    const char *id_a = comparison->designs[a].design->id, *id_b = comparison->designs[b].design->id;
    count[0] = count[1] = count[2] = 0;
    for (size_t i = 0; i < campaign->head_to_head_count; i++) {
        const hf_head_to_head *pull = &campaign->head_to_head[i];
        bool straight = strcmp(pull->first, id_a) == 0 && strcmp(pull->second, id_b) == 0;
        bool turned = strcmp(pull->first, id_b) == 0 && strcmp(pull->second, id_a) == 0;
        if (!straight && !turned) continue;
        if (pull->broke == HF_BROKE_BOTH)
            count[2]++;
        else
            count[(pull->broke == HF_BROKE_SECOND) == straight ? 0 : 1]++;
    }
    return count[0] + count[1] + count[2] > 0;
}

hf_status hf_compare_matches(hf_arena *arena, hf_comparison *comparison) {
    hf_comparison_match *matches = HF_ARENA_NEW_ARRAY(arena, hf_comparison_match, comparison->pair_count);
    double level = comparison->options.level;
    size_t count[3];
    if (!matches) return HF_MEMORY;
    comparison->matches = matches;
    for (size_t i = 0; i < comparison->pair_count; i++) {
        hf_comparison_match *match = &matches[comparison->match_count];
        match->a = comparison->pairs[i].a;
        match->b = comparison->pairs[i].b;
        if (!tally(comparison, match->a, match->b, count)) continue;
        hf_status status = hf_sign_test_of(count[0], count[1], count[2], level, &match->test);
        if (status != HF_OK) return status;
        match->least = hf_sign_test_least(level);
        if (hf_sign_test_parts(HF_MATCH_SHARE, HF_USUAL_POWER, level, &match->parts_nine_in_ten) != HF_OK)
            match->parts_nine_in_ten = 0;
        comparison->match_count++;
        comparison->any_result |= count[0] + count[1] > 0;
    }
    return HF_OK;
}

/* Of how many the best would be picked: as the assessment says, else of all that are compared. */
static void count_picked(hf_comparison *comparison) {
    const hf_design_assessment *first = comparison->count ? comparison->designs[0].assessment : NULL;
    comparison->picked_from = comparison->count;
    comparison->picked_worth = NAN;
    for (size_t i = 0; i < comparison->count; i++) {
        const hf_promise *promise = &comparison->designs[i].assessment->promise;
        if (promise->picked_from) comparison->picked_from = promise->picked_from;
        if (promise->confidence != first->confidence || promise->content != first->content) return;
    }
    if (first) comparison->picked_worth = hf_best_of_worth(first->confidence, comparison->picked_from);
}

hf_status hf_compare(hf_arena *arena, const hf_assessment *assessment, const hf_comparison_options *options,
                     const hf_comparison **out, hf_error *error) {
    hf_status status = hf_comparison_check(assessment->campaign, options, error);
    if (status != HF_OK) return status;
    hf_comparison *result = HF_ARENA_NEW(arena, hf_comparison);
    if (!result) return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_comparison_design *designs;
    result->campaign = assessment->campaign;
    result->options = *options;
    if (!(options->level > 0)) result->options.level = HF_USUAL_LEVEL;
    status = choose_designs(arena, assessment, result, &designs);
    if (status == HF_OK) count_picked(result);
    if (status == HF_OK) status = fill_designs(arena, assessment, result, designs);
    if (status == HF_OK) status = fill_pairs(arena, result);
    if (status == HF_OK) status = rank(arena, result, designs);
    if (status == HF_OK) status = hf_compare_matches(arena, result);
    if (status != HF_OK) return hf_error_set(error, status, "%s", hf_status_text(status));
    result->any_result |= result->compared > 0;
    result->cautions = assessment->cautions;
    *out = result;
    return status;
}
