/* The answer after each pull. */
#include "holdfast/study/so_far.h"
#include <math.h>
#include <stdlib.h>
#include "holdfast/campaign/used.h"
#include "holdfast/study/plan.h"
#include "study/event.h"

typedef struct placed {
    const hf_specimen *specimen;
    double place;
} placed;

static int by_place(const void *left, const void *right) {
    const placed *a = left, *b = right;
    if (a->place != b->place) return a->place < b->place ? -1 : 1;
    return (a->specimen > b->specimen) - (a->specimen < b->specimen);
}

/* Parts that were pulled, in the order of pulling where all state it, else as the file lists them. */
static hf_specimen *pulled_parts(hf_arena *arena, const hf_design *design, size_t *count, bool *stated) {
    hf_specimen *parts = HF_ARENA_NEW_ARRAY(arena, hf_specimen, design->specimen_count + 1);
    const hf_specimen **listed = HF_ARENA_NEW_ARRAY(arena, const hf_specimen *, design->specimen_count + 1);
    placed *order = HF_ARENA_NEW_ARRAY(arena, placed, design->specimen_count + 1);
    *count = 0;
    if (!parts || !listed || !order) return NULL;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (design->specimens[i].outcome != HF_OUTCOME_PLANNED) listed[(*count)++] = &design->specimens[i];
    hf_pulling_order by = hf_pulling_order_of(listed, *count);
    *stated = by != HF_ORDER_NOT_STATED;
    for (size_t i = 0; i < *count; i++)
        order[i] = (placed){listed[i], *stated ? hf_pulling_place(listed[i], by) : 0};
    if (*count) qsort(order, *count, sizeof *order, by_place);
    for (size_t i = 0; i < *count; i++) parts[i] = *order[i].specimen;
    return parts;
}

static double answer_load(const hf_answer *answer, bool working_load) {
    if (working_load) return answer->verdict == HF_ANSWER_WORKING_LOAD ? answer->unrounded : NAN;
    return answer->bound && answer->bound->value > 0 && answer->verdict != HF_ANSWER_NOT_ASSURED
               ? answer->bound->value
               : NAN;
}

/* The answer of the first `count` parts; its arena is given back. */
static hf_status look(const hf_campaign *campaign, const hf_design *design, size_t count, uint64_t seed,
                      hf_so_far *out, hf_so_far_row *row, hf_error *error) {
    hf_design first = *design;
    hf_campaign alone = *campaign;
    const hf_assess_options options = {.seed = seed};
    const hf_assessment *assessment;
    hf_findings none = {0};
    hf_arena *arena = hf_arena_create();
    first.specimen_count = count;
    alone.designs = &first;
    alone.design_count = 1;
    if (!arena) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    hf_status status = hf_assess(arena, &alone, &none, &options, &assessment, error);
    if (status == HF_OK) {
        const hf_design_assessment *a = &assessment->designs[0];
        *row = (hf_so_far_row){a->break_event.counts.used, answer_load(&a->answer, out->working_load)};
        if (isfinite(row->load) && a->answer.bound) out->share = row->load / a->answer.bound->value;
    }
    hf_arena_free(arena);
    return status;
}

/* What more parts would bring; that nothing can be foretold is no failure. */
static hf_status foretell(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                          uint64_t seed, hf_so_far *out) {
    hf_plan_setup setup;
    const hf_plan_next *plan;
    hf_error error;
    hf_error_clear(&error);
    hf_status status = hf_plan_setup_of(campaign, design->id, &setup, &error);
    setup.seed = seed;
    if (status == HF_OK) status = hf_plan_next_make(arena, campaign, &setup, 0, &plan, &error);
    if (status == HF_OK) out->next = &plan->next;
    return status == HF_MEMORY ? status : HF_OK;
}

hf_status hf_so_far_of(hf_arena *arena, const hf_campaign *campaign, const hf_design *design, uint64_t seed,
                       hf_so_far *out, hf_error *error) {
    const hf_goal *goal = &design->goal;
    size_t pulled, step;
    bool any = false;
    *out = (hf_so_far){.design = design, .working_load = goal->design_factor.given, .share = NAN};
    out->asked = out->working_load            ? goal->service_load.given ? goal->service_load.value : NAN
                 : goal->required_bound.given ? goal->required_bound.value
                                              : NAN;
    hf_specimen *parts = pulled_parts(arena, design, &pulled, &out->order_stated);
    hf_so_far_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_so_far_row, HF_SO_FAR_MOST + 2);
    if (!parts || !rows) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    hf_design ordered = *design;
    ordered.specimens = parts;
    step = (pulled + HF_SO_FAR_MOST - 1) / HF_SO_FAR_MOST;
    /* Counted back from the last, so that the answer of all parts is among them. */
    for (size_t n = pulled ? (pulled - 1) % (step ? step : 1) + 1 : 1; n <= pulled; n += step) {
        hf_so_far_row *row = &rows[out->count];
        hf_status status = look(campaign, &ordered, n, seed, out, row, error);
        if (status != HF_OK) return status;
        bool again = out->count && rows[out->count - 1].parts == row->parts; /* a void part changes nothing */
        if (again) rows[out->count - 1] = *row;
        out->count += !again && row->parts > 0;
        any = any || isfinite(row->load);
    }
    out->rows = rows;
    if (!any)
        return hf_error_set(error, HF_NO_RESULT, "design \"%s\": no number of its pulls gives a load yet",
                            design->id);
    return foretell(arena, campaign, design, seed, out) == HF_OK
               ? HF_OK
               : hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
}
