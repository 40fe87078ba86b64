/* The pulls of a design as one sample that does not depend on how the file was written: not on the order of its parts, not on the
 * names of its batches, not on the last digits that a unit brings. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/strength/sample.h"
#include "study/event.h"

/* More figures than any rig reads, fewer than a conversion between units disturbs. */
enum { LOAD_FIGURES = 14 };

typedef struct counted {
    hf_observation seen;
    const hf_specimen *specimen;
} counted;

static const hf_pull *pull_of(const hf_event_request *request, const hf_specimen *specimen) {
    return request->set_event ? &specimen->set : &specimen->pull;
}

/* The pull of a specimen that is counted in, or NULL. */
static const hf_pull *counted_pull(const hf_event_request *request, const hf_specimen *specimen,
                                   hf_extra_pulls with) {
    const hf_pull *pull = pull_of(request, specimen);
    if (specimen->outcome == HF_OUTCOME_PLANNED) return NULL;
    if (specimen->outcome == HF_OUTCOME_VOID) {
        if (with != HF_EXTRA_VOID || request->set_event) return NULL;
        pull = &specimen->voided;
    }
    if (specimen->reused && with != HF_EXTRA_REUSED) return NULL;
    return pull->kind == HF_INTERVAL_NONE ? NULL : pull;
}

hf_observation hf_observation_of_pull(const hf_pull *pull) {
    hf_observation out = {pull->kind, hf_number_round(pull->lower, LOAD_FIGURES),
                          hf_number_round(pull->upper, LOAD_FIGURES), pull->dropped, -1};
    /* A reading finer than its resolution from 0 has no lower end above 0: only "at most" is known. */
    if (pull->kind == HF_INTERVAL_CLOSED && !(pull->lower > 0)) out.kind = HF_INTERVAL_BELOW;
    return out;
}

int hf_compare_names(const char *a, const char *b) {
    if (!a || !b) return (a == NULL) - (b == NULL);
    return strcmp(a, b);
}

static int by_batch_name(const void *a, const void *b) {
    return hf_compare_names((*(const counted *const *)a)->specimen->batch,
                            (*(const counted *const *)b)->specimen->batch);
}

/* Batches are numbered by their names. */
static hf_status number_batches(hf_arena *arena, counted *pulls, size_t count) {
    counted **order = HF_ARENA_NEW_ARRAY(arena, counted *, count);
    int number = -1;
    if (!order) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) order[i] = &pulls[i];
    qsort(order, count, sizeof *order, by_batch_name);
    for (size_t i = 0; i < count && order[i]->specimen->batch; i++) {
        if (i == 0 || strcmp(order[i]->specimen->batch, order[i - 1]->specimen->batch) != 0) number++;
        order[i]->seen.batch = number;
    }
    return HF_OK;
}

/* Pulls that say the same stand by how they failed and by name, so that the order is whole. */
static int by_numbers(const void *a, const void *b) {
    const counted *x = a, *y = b;
    int order = hf_observation_order(&x->seen, &y->seen);
    if (!order) order = hf_compare_names(x->specimen->mode, y->specimen->mode);
    return order ? order : hf_compare_names(x->specimen->id, y->specimen->id);
}

/* Joins neighbours, then puts into order. */
static hf_status settle(hf_arena *arena, counted *pulls, hf_pulled *out) {
    size_t count = out->sample.count;
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, count);
    const hf_specimen **specimens = HF_ARENA_NEW_ARRAY(arena, const hf_specimen *, count);
    if (!items || !specimens || number_batches(arena, pulls, count) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) items[i] = pulls[i].seen;
    if (hf_sample_join_neighbours(items, count) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) pulls[i].seen = items[i];
    qsort(pulls, count, sizeof *pulls, by_numbers);
    for (size_t i = 0; i < count; i++) {
        items[i] = pulls[i].seen;
        specimens[i] = pulls[i].specimen;
    }
    out->sample.items = items;
    out->specimens = specimens;
    return HF_OK;
}

hf_status hf_gather_pulls(hf_arena *arena, const hf_event_request *request, hf_extra_pulls with,
                          hf_pulled *out) {
    const hf_design *design = request->design;
    counted *pulls = HF_ARENA_NEW_ARRAY(arena, counted, design->specimen_count);
    *out = (hf_pulled){{NULL, 0}, NULL};
    if (!pulls) return HF_MEMORY;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_pull *pull = counted_pull(request, &design->specimens[i], with);
        if (!pull) continue;
        pulls[out->sample.count++] = (counted){hf_observation_of_pull(pull), &design->specimens[i]};
    }
    return settle(arena, pulls, out);
}

hf_status hf_pulled_sample(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                           hf_pulled *out) {
    hf_event_request request = {.campaign = campaign, .design = design};
    return hf_gather_pulls(arena, &request, HF_EXTRA_NONE, out);
}
