/* The plan as it goes into the file. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/planning/order.h"
#include "holdfast/study/sheet.h"
#include "study/plan_parts.h"

/* "4x10kg 1x5kg", the form the file uses. */
static const char *weights_text(hf_arena *arena, const hf_plan *plan, const hf_weight_load *load) {
    hf_text text = {0};
    char number[HF_NUMBER_SIZE];
    for (size_t i = 0; i < plan->setup.weight_count; i++)
        if (load->count[i] > 0)
            hf_text_addf(&text, "%s%dx%s%s", text.length ? " " : "", load->count[i],
                         hf_number_shortest(plan->setup.weights[i].value, number),
                         plan->setup.weights[i].unit->name);
    const char *out = hf_arena_text(arena, text.bytes ? text.bytes : "", text.length);
    hf_text_free(&text);
    return out;
}

/* What the rig records when this rung hangs: the sum of its weights, or, where any load can be made, what its force asks for. */
static double recorded(const hf_plan *plan, const hf_ladder_rung *rung) {
    const hf_rig_force *rig = &plan->setup.force;
    double hung = 0;
    for (size_t i = 0; i < plan->setup.weight_count; i++)
        hung += rung->weights.count[i] * plan->setup.weights[i].newtons;
    if (plan->setup.weight_count)
        return rig->records == HF_RIG_RECORDS_TOTAL ? hung * rig->advantage + rig->tare : hung;
    return rig->records == HF_RIG_RECORDS_TOTAL ? hf_rig_line_of_force(rig, rung->force)
                                                : hf_rig_added_of_force(rig, rung->force);
}

/* Number of the rung with this recorded load, 1 …; 0 when there is none. */
static size_t rung_of(const hf_plan_design *planned, hf_maybe load) {
    for (size_t i = 0; load.given && i < planned->rung_count; i++)
        if (fabs(planned->rungs[i].newtons - load.value) <= 1e-9 * load.value) return i + 1;
    return 0;
}

/* Whether the pull is one that this ladder could have given: from a rung to the next, below the first, or held on one. */
static bool pulled_on(const hf_plan_design *planned, const hf_specimen *part) {
    if (part->pull.kind == HF_INTERVAL_NONE || part->peak.given) return false;
    size_t held = rung_of(planned, part->held), failed = rung_of(planned, part->failed);
    if (part->held.given && !held) return false;
    return part->failed.given ? failed == held + 1 : held > 0;
}

/* Parts in the file that count towards the number planned: those still to be pulled, and those pulled on this very ladder. */
static size_t already_there(const hf_campaign *campaign, const hf_plan_design *planned) {
    const hf_design *design = hf_campaign_design(campaign, planned->id);
    size_t there = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *part = &design->specimens[i];
        there += part->outcome == HF_OUTCOME_PLANNED || pulled_on(planned, part);
    }
    return there;
}

/* Each new part goes to the batch that has the fewest, those in the file counted. */
static hf_status fill_batches(hf_arena *arena, const hf_campaign *campaign, hf_plan_design *out) {
    const hf_design *design = hf_campaign_design(campaign, out->id);
    size_t *batch = HF_ARENA_NEW_ARRAY(arena, size_t, out->parts),
           *have = HF_ARENA_NEW_ARRAY(arena, size_t, out->batches + 1);
    if (!batch || !have) return HF_MEMORY;
    for (size_t i = 0; i < design->specimen_count; i++) {
        size_t number = hf_planned_batch_number(design->specimens[i].batch);
        if (number <= out->batches) have[number]++;
    }
    for (size_t i = 0; i < out->parts; i++) {
        size_t least = 1;
        for (size_t j = 2; j <= out->batches; j++)
            if (have[j] < have[least]) least = j;
        have[least]++;
        batch[i] = least;
    }
    out->batch = batch;
    return HF_OK;
}

static hf_status fill_parts(hf_arena *arena, const hf_campaign *campaign, hf_plan_design *out) {
    out->there = already_there(campaign, out);
    out->parts = out->wanted > out->there ? out->wanted - out->there : 0;
    return out->batches ? fill_batches(arena, campaign, out) : HF_OK;
}

/* As asked, else as an earlier plan spread the parts that are there. */
static size_t batches_of(const hf_plan *plan) {
    const hf_design *design = hf_campaign_design(plan->campaign, plan->setup.design);
    size_t highest = 0;
    if (plan->setup.batches_asked) return plan->setup.batches;
    for (size_t i = 0; i < design->specimen_count; i++) {
        size_t number = hf_planned_batch_number(design->specimens[i].batch);
        if (number > highest && number <= design->specimen_count) highest = number;
    }
    return highest > 1 ? highest : 0;
}

static hf_status fill_design(hf_arena *arena, const hf_plan_day *day, size_t at, hf_plan_design *out) {
    const hf_plan *plan = day->plans[at];
    hf_plan_rung *rungs = HF_ARENA_NEW_ARRAY(arena, hf_plan_rung, plan->ladder.count);
    if (!rungs) return HF_MEMORY;
    for (size_t i = 0; i < plan->ladder.count; i++) {
        rungs[i] = (hf_plan_rung){recorded(plan, &plan->ladder.rungs[i]),
                                  weights_text(arena, plan, &plan->ladder.rungs[i].weights)};
        if (!rungs[i].weights) return HF_MEMORY;
    }
    *out = (hf_plan_design){.id = plan->setup.design,
                            .rungs = rungs,
                            .rung_count = plan->ladder.count,
                            .pilot = plan->setup.pilot};
    out->wanted = hf_plan_parts(plan, day);
    if (plan->setup.looks_asked && !plan->setup.pilot) out->looks = &plan->setup.looks;
    if (!plan->setup.pilot) out->batches = batches_of(plan);
    return fill_parts(arena, plan->campaign, out);
}

/* Pull numbers 1 … over all parts, interleaved at random. */
static hf_status fill_orders(hf_arena *arena, hf_plan_design *designs, size_t count, uint64_t seed) {
    size_t total = 0, at = 0;
    for (size_t i = 0; i < count; i++) total += designs[i].parts;
    hf_order_part *parts = HF_ARENA_NEW_ARRAY(arena, hf_order_part, total);
    size_t *order = HF_ARENA_NEW_ARRAY(arena, size_t, total),
           *place = HF_ARENA_NEW_ARRAY(arena, size_t, total);
    if (!parts || !order || !place) return HF_MEMORY;
    if (!total) return HF_OK;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < designs[i].parts; j++)
            parts[at++] = (hf_order_part){i, designs[i].batch ? designs[i].batch[j] : 0};
    hf_status status = hf_order_random(parts, total, seed, order);
    for (size_t i = 0; i < total; i++) place[order[i]] = i + 1;
    at = 0;
    for (size_t i = 0; i < count; i++) {
        designs[i].order = place + at;
        at += designs[i].parts;
    }
    return status;
}

/* Why, and what to do. */
static const char *why_none(hf_how_many_reason reason) {
    switch (reason) {
    case HF_PARTS_NOT_ASSURED:
        return "none reaches the required bound with that assurance; require less, or allow more (--max-n)";
    case HF_PARTS_IMPOSSIBLE:
        return "the required bound is more than the guess can carry; require less, or make stronger parts";
    case HF_PARTS_ONLY_ONE:
        return "one part alone is never planned; give --max-n 2 or more";
    case HF_PARTS_NOT_BROKEN:
        return "most parts would outlast the ladder; borrow more weights or strengthen the rig";
    case HF_PARTS_BROKEN_AT_FIRST:
        return "most parts would break at the first rung; borrow lighter weights or take a smaller step";
    case HF_PARTS_NO_BOUND:
        return "too many such tests would end without a bound; take smaller steps or other weights";
    case HF_PARTS_ASSURED:
    case HF_PARTS_LEVELLED:
    case HF_PARTS_STILL_RISING:
        break;
    }
    return "the guess does not allow one";
}

hf_status hf_plan_writing_make(hf_arena *arena, const hf_plan *plan, const char *today, hf_plan_writing *out,
                               hf_error *error) {
    const hf_plan_day *day = &plan->day;
    hf_plan_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_plan_design, day->count);
    if (!designs) return hf_error_set(error, HF_MEMORY, "out of memory");
    if (day->left_out_count)
        return hf_error_set(
            error, HF_NO_RESULT,
            "design \"%s\" cannot be planned, so nothing is written: %s; --design ID plans one alone",
            day->left_out->design, day->left_out->why);
    for (size_t i = 0; i < day->count; i++) {
        if (!hf_plan_parts(day->plans[i], day))
            return hf_error_set(
                error, HF_NO_RESULT,
                "design \"%s\": no number of parts can be recommended, so nothing is written: %s",
                day->plans[i]->setup.design, why_none(day->plans[i]->base.parts.reason));
        if (fill_design(arena, day, i, &designs[i]) != HF_OK)
            return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    if (fill_orders(arena, designs, day->count, plan->setup.seed) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    *out = (hf_plan_writing){plan->setup.seed, today, designs, day->count};
    return HF_OK;
}

hf_status hf_plan_writing_again(hf_arena *arena, const hf_campaign *campaign, const hf_plan_writing *writing,
                                hf_plan_writing *out, hf_error *error) {
    hf_plan_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_plan_design, writing->count);
    if (!designs) return hf_error_set(error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < writing->count; i++) {
        designs[i] = writing->designs[i];
        if (fill_parts(arena, campaign, &designs[i]) != HF_OK)
            return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    if (fill_orders(arena, designs, writing->count, writing->seed) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    *out = *writing;
    out->designs = designs;
    return HF_OK;
}
