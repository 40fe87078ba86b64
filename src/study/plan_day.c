/* The designs of a file planned together: one ladder for all, so that rung can be compared with rung, and one day. */
#include <math.h>
#include <string.h>
#include "holdfast/comparing/welch_power.h"
#include "study/limits.h"
#include "study/plan_parts.h"

static bool same(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

/* The same question about another design: its own guess, goal and family, except where flags had their say, so that the question is
 * not what the file says of `first`. */
static hf_plan_setup setup_for(const hf_campaign *campaign, const hf_plan_setup *asked,
                               const hf_plan_setup *first, const char *design) {
    hf_plan_setup own = *asked, its;
    if (hf_plan_setup_of(campaign, design, &its, NULL) != HF_OK) return own;
    own.design = its.design;
    own.mean = its.mean;
    own.cv = its.cv;
    own.mean_stated = false;
    own.scatter = its.scatter;
    if (same(asked->required, first->required)) {
        own.required = its.required;
        own.by_service = its.by_service;
        own.factor = its.factor;
    }
    own.number_only = true;
    if (own.most == 1 && !its.scatter.given) own.most = 2;
    if (!asked->looks_asked) own.looks = its.looks;
    if (!asked->batches_asked) own.batches = its.batches;
    if (asked->content == first->content) own.content = its.content;
    if (asked->confidence == first->confidence) own.confidence = its.confidence;
    if (asked->family == first->family) own.family = its.family;
    return own;
}

static bool is_planned(const hf_design *design) {
    return (design->guess.mean.given && design->guess.cv.given) || hf_plan_has_pilot(design);
}

/* Another design that cannot be planned does not keep the rest from it. */
static hf_status leave_out(hf_arena *arena, hf_plan_day *day, const char *design, const hf_error *why) {
    hf_plan_left_out *list = HF_ARENA_NEW_ARRAY(arena, hf_plan_left_out, day->left_out_count + 1);
    const char *words = hf_arena_format(arena, "%s", why->message);
    if (!list || !words) return HF_MEMORY;
    if (day->left_out_count) memcpy(list, day->left_out, day->left_out_count * sizeof *list);
    list[day->left_out_count++] = (hf_plan_left_out){design, words};
    day->left_out = list;
    return HF_OK;
}

static hf_status start_all(hf_arena *arena, hf_plan *plan, hf_plan **plans, size_t *count, hf_error *error) {
    const hf_campaign *campaign = plan->campaign;
    bool alone = !campaign || plan->setup.design_stated;
    hf_plan_setup first;
    *count = 0;
    if (!alone && hf_plan_setup_of(campaign, plan->setup.design, &first, error) != HF_OK)
        return error->status;
    for (size_t i = 0; !alone && i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        if (strcmp(design->id, plan->setup.design) == 0) {
            plans[(*count)++] = plan;
            continue;
        }
        if (!is_planned(design)) continue;
        const hf_plan_setup its = setup_for(campaign, &plan->setup, &first, design->id);
        hf_error why = {0};
        hf_status status = hf_plan_start(arena, campaign, &its, &plans[*count], &why);
        if (status == HF_OK)
            (*count)++;
        else if (status == HF_MEMORY || leave_out(arena, &plan->day, design->id, &why) != HF_OK)
            return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    if (alone) plans[(*count)++] = plan;
    return HF_OK;
}

static double step_of(const hf_plan *plan, const hf_guess *guess, size_t parts) {
    return isnan(plan->setup.step) ? hf_ladder_default_step(guess, parts) : plan->setup.step;
}

static bool has_few(const hf_plan *plan) {
    size_t parts = plan->base.parts.recommended;
    return parts > 0 && parts <= HF_FEW_PARTS;
}

/* Every plan sees all that climb with it, itself first. */
static hf_status share_ladder(hf_arena *arena, hf_plan **plans, size_t count, const size_t *parts,
                              hf_error *error) {
    for (size_t i = 0; i < count; i++) {
        hf_ladder_design *climbers = HF_ARENA_NEW_ARRAY(arena, hf_ladder_design, count);
        if (!climbers) return hf_error_set(error, HF_MEMORY, "out of memory");
        for (size_t j = 0; j < count; j++) {
            const hf_plan *other = plans[(i + j) % count];
            const hf_plan_setup *s = &other->setup;
            hf_status status = hf_plan_guess(s, &climbers[j].guess, error);
            if (status != HF_OK) return status;
            climbers[j].step = step_of(other, &climbers[j].guess, parts[(i + j) % count]);
        }
        plans[i]->climbers = climbers;
        plans[i]->climber_count = count;
    }
    return HF_OK;
}

/* The table up to `most` parts, where a number of it is enough; else nothing is found. */
static hf_status find_among(hf_arena *arena, hf_plan *plan, size_t most, bool *found, hf_error *error) {
    const hf_plan_setup *s = &plan->setup;
    bool any = isnan(s->required) || s->parts || s->looks.given || s->tell_apart > 0;
    if (any || (s->most && s->most <= most)) return HF_OK;
    hf_status status = hf_plan_table(arena, plan, s->cv, s->confidence, most, &plan->base, error);
    *found = status == HF_OK && plan->base.parts.recommended > 0;
    return status;
}

/* Whether few parts do shows in the first rows, and of the other designs of a day nobody sees the rows behind the recommended one. */
static hf_status fill_table(hf_arena *arena, hf_plan *plan, bool few_matter, hf_error *error) {
    bool found = false;
    hf_status status = few_matter ? find_among(arena, plan, HF_FEW_PARTS, &found, error) : HF_OK;
    if (status == HF_OK && !found && plan->setup.number_only)
        status = find_among(arena, plan, HF_SOME_PARTS, &found, error);
    if (status != HF_OK || found) return status;
    return hf_plan_table(arena, plan, plan->setup.cv, plan->setup.confidence, 0, &plan->base, error);
}

/* The default step depends on the number of parts and the number of parts on the step: the wide step first, and again with the fine
 * one where four or fewer parts turn out to do. */
static hf_status number_all(hf_arena *arena, hf_plan **plans, size_t count, bool together, hf_error *error) {
    size_t *parts = HF_ARENA_NEW_ARRAY(arena, size_t, count);
    if (!parts) return hf_error_set(error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++) parts[i] = HF_FEW_PARTS + 1;
    for (bool again = false, more = true; more; again = true) {
        hf_status status = together ? share_ladder(arena, plans, count, parts, error) : HF_OK;
        for (size_t i = 0; status == HF_OK && i < count; i++) {
            hf_plan *plan = plans[i];
            if (again && !together && parts[i] != HF_FEW_PARTS) continue;
            bool few_matter = !again && plan->stepped && isnan(plan->setup.step);
            if (plan->stepped) status = hf_plan_make_ladder(arena, plan, parts[i], error);
            if (status == HF_OK && !plan->setup.pilot) status = fill_table(arena, plan, few_matter, error);
        }
        if (status != HF_OK) return status;
        more = false;
        for (size_t i = 0; i < count && !again; i++) {
            if (!plans[i]->stepped || !has_few(plans[i]) || !isnan(plans[i]->setup.step)) continue;
            parts[i] = HF_FEW_PARTS;
            more = true;
        }
    }
    return HF_OK;
}

/* --- Telling them apart ------------------------------------------------------------------------------ */

size_t hf_plan_parts(const hf_plan *plan, const hf_plan_day *day) {
    const hf_stated_looks *looks = &plan->setup.looks;
    size_t recommended = plan->base.parts.recommended, apart = day->apart.n;
    if (plan->setup.pilot) return 1;
    if (plan->setup.parts) return plan->setup.parts;
    if (looks->given) return looks->last;
    return recommended && apart > recommended ? apart : recommended;
}

const hf_how_many_row *hf_plan_row(const hf_plan *plan, size_t parts) {
    const hf_how_many *table = &plan->base.parts;
    if (parts == 1) return table->one;
    return parts >= 2 && parts - 2 < table->count ? &table->rows[parts - 2] : NULL;
}

/* The widest steps and the largest scatter: what is noticed there is noticed of any pair. */
static hf_plan_apart widest_of(const hf_plan_day *day) {
    hf_plan_apart out = {.power = HF_USUAL_POWER, .visible = NAN, .pairs = day->count * (day->count - 1) / 2};
    out.level = HF_USUAL_LEVEL / (double)(out.pairs ? out.pairs : 1);
    for (size_t i = 0; i < day->count; i++) {
        const hf_plan *plan = day->plans[i];
        const hf_plan_setup *s = &plan->setup;
        out.cv = fmax(out.cv, s->cv);
        if (plan->stepped) out.step_sd = fmax(out.step_sd, plan->ladder.step_widest / (s->cv * s->mean));
    }
    return out;
}

static size_t fewest_of(const hf_plan_day *day) {
    size_t fewest = SIZE_MAX;
    for (size_t i = 0; i < day->count; i++) {
        size_t parts = hf_plan_parts(day->plans[i], day);
        fewest = parts < fewest ? parts : fewest;
    }
    return fewest;
}

static void tell_apart(double share, hf_plan_day *day) {
    hf_plan_apart *apart = &day->apart;
    *apart = widest_of(day);
    if (!apart->pairs) return;
    hf_power_setup setup = {2, 2, 1, 1, apart->level, false};
    double n, seen, blur = hf_plan_seen(1, apart->step_sd);
    double effect = blur * hf_power_effect_of_ratio(1 + share, apart->cv);
    if (share > 0 && hf_welch_power_parts(&setup, effect, apart->power, &n) == HF_OK && isfinite(n))
        apart->n = (size_t)n;
    setup.n_a = setup.n_b = (double)fewest_of(day);
    if (setup.n_a > 1 && hf_welch_power_smallest_difference(&setup, apart->power, &seen) == HF_OK)
        apart->visible = hf_power_ratio_of_effect(seen / blur, apart->cv);
}

static void sum_up(hf_plan_day *day) {
    bool all = true;
    for (size_t i = 0; i < day->count; i++) {
        const hf_plan *plan = day->plans[i];
        size_t parts = hf_plan_parts(plan, day);
        all = all && parts > 0;
        day->parts += parts;
        day->minutes += plan->stepped ? (double)parts * plan->ladder.minutes_per_pull : NAN;
    }
    if (!all) day->parts = 0;
}

static hf_status check_apart(const hf_plan *plan, size_t count, hf_error *error) {
    double share = plan->setup.tell_apart;
    if (share == 0) return HF_OK;
    if (count < 2)
        return hf_error_set(error, HF_USAGE,
                            "--tell-apart: expected a file with a guess for two designs or more, and no "
                            "--design; holdfast plan contrast plans for two that stand in no file");
    return share > 0 ? HF_OK : hf_error_set(error, HF_USAGE, "--tell-apart: expected a share above 0");
}

hf_status hf_plan_make_day(hf_arena *arena, hf_plan *plan, hf_error *error) {
    size_t most = plan->campaign ? plan->campaign->design_count : 1, count;
    hf_plan **plans = HF_ARENA_NEW_ARRAY(arena, hf_plan *, most);
    if (!plans) return hf_error_set(error, HF_MEMORY, "out of memory");
    hf_status status = start_all(arena, plan, plans, &count, error);
    bool together = count > 1 && plan->stepped && !plan->setup.own_ladders && !plan->setup.pilot;
    if (status == HF_OK) status = check_apart(plan, count, error);
    if (status == HF_OK) status = number_all(arena, plans, count, together, error);
    if (status != HF_OK) return status;
    plan->day.plans = (const hf_plan *const *)plans;
    plan->day.count = count;
    plan->day.one_ladder = together;
    if (!plan->setup.pilot) tell_apart(plan->setup.tell_apart, &plan->day);
    sum_up(&plan->day);
    return HF_OK;
}
