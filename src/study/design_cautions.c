/* Which cautions a design's result must carry. */
#include <math.h>
#include <string.h>
#include "study/event.h"

static const double high_scatter = 0.25, rig_share = 0.20, coarse_step = 1.0, families_apart = 0.10;
static const double no_support = 5;
static const double modes_apart = 0.75; /* a bound by modes below this share of the other is named */
enum { FEW_PARTS = 10, FEW_BATCHES = 3 };

void hf_caution_add(hf_arena *arena, hf_cautions *list, hf_caution caution) {
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 8;
        hf_caution *items = HF_ARENA_NEW_ARRAY(arena, hf_caution, capacity);
        if (!items) return;
        if (list->count) memcpy(items, list->items, list->count * sizeof *items);
        list->items = items;
        list->capacity = capacity;
    }
    list->items[list->count++] = caution;
}

typedef struct context {
    hf_arena *arena;
    hf_cautions *list;
    const hf_campaign *campaign;
    const hf_design_assessment *design;
    hf_sample sample;
} context;

static void add(const context *c, const char *code, double first, double second) {
    hf_caution_add(c->arena, c->list, (hf_caution){.code = code, .number = {first, second}});
}

static void add_named(const context *c, const char *code, const char *text, double first, double second) {
    hf_caution_add(c->arena, c->list, (hf_caution){.code = code, .text = {text}, .number = {first, second}});
}

static void about_open_pulls(const context *c, const hf_event_assessment *event, double used) {
    if (event->counts.used > 0 && event->counts.failed == 0)
        add(c, "all_run_out", used, event->min_load);
    else if (event->counts.run_out > 0)
        add(c, "run_outs", (double)event->counts.run_out, used);
    if ((double)event->counts.rig > rig_share * used)
        add(c, "rig_failures", (double)event->counts.rig, used);
    else if (event->counts.rig > 0)
        add(c, "rig_failure", (double)event->counts.rig, used);
}

static void about_ends(const context *c) {
    const hf_design_assessment *design = c->design;
    add(c, "two_ended", (double)design->ends.pulls, (double)design->ends.ends);
    if (design->ends_unknown > 0) add(c, "end_not_stated", (double)design->ends_unknown, NAN);
    if (design->set_watched) add(c, "two_ended_set", NAN, NAN);
}

static void about_outcomes(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    double used = (double)event->counts.used;
    double lowest = INFINITY;
    for (size_t i = 0; i < c->sample.count; i++)
        if (c->sample.items[i].kind == HF_OBSERVED_BELOW) lowest = fmin(lowest, c->sample.items[i].upper);
    if (c->design->two_ended)
        about_ends(c);
    else
        about_open_pulls(c, event, used);
    if (event->counts.below > 0) add(c, "first_rung", (double)event->counts.below, lowest);
    if (event->counts.reused > 0) add(c, "reused", (double)event->counts.reused, NAN);
    if (isfinite(event->with_reused)) add(c, "reused_changes", event->with_reused, NAN);
    if (event->counts.planned > 0) add(c, "planned_left", (double)event->counts.planned, NAN);
}

static void about_voids(const context *c) {
    const hf_design *design = c->design->design;
    hf_text ids = {0};
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        if (design->specimens[i].outcome != HF_OUTCOME_VOID) continue;
        hf_text_addf(&ids, "%s%s", count++ ? ", " : "", design->specimens[i].id);
    }
    if (count && ids.bytes)
        add_named(c, "void_pulls", hf_arena_text(c->arena, ids.bytes, ids.length), (double)count, NAN);
    hf_text_free(&ids);
    if (isfinite(c->design->break_event.with_void))
        add(c, "void_changes", c->design->break_event.with_void, NAN);
}

static void about_steps(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    double low = -INFINITY, high = INFINITY, dropped = 0;
    size_t failed = 0;
    for (size_t i = 0; i < c->sample.count; i++) {
        const hf_observation *item = &c->sample.items[i];
        dropped += item->dropped;
        if (item->kind != HF_OBSERVED_CLOSED && item->kind != HF_OBSERVED_EXACT) continue;
        low = fmax(low, item->lower);
        high = fmin(high, item->upper);
        failed++;
    }
    if (dropped > 0) add(c, "dropped_steps", dropped, NAN);
    if (failed >= 2 && low < high)
        add(c, "all_one_step", low, high);
    else if (event->step_rms > coarse_step * event->sd_mid)
        add(c, "coarse_step", event->step_rms / event->sd_mid, NAN);
}

/* Open or grouped pulls leave no test of a law, but laws can still be compared: each has two parameters, so a difference of ln
 * likelihood is half one of AIC, and 10 of AIC leave the worse one "essentially no support" (Burnham & Anderson 2002, from memory). */
static void about_likelihood(const context *c, const hf_event_assessment *event) {
    size_t own = HF_FAMILY_COUNT, best = HF_FAMILY_COUNT;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (event->tests[i].available) return;
        if (event->fits[i].stop != HF_FIT_CONVERGED) return;
        if (event->governing && event->governing->family == hf_family_at(i)) own = i;
        if (best == HF_FAMILY_COUNT || event->fits[i].log_likelihood > event->fits[best].log_likelihood)
            best = i;
    }
    if (own == HF_FAMILY_COUNT) return;
    double behind = event->fits[best].log_likelihood - event->fits[own].log_likelihood;
    if (behind > no_support)
        hf_caution_add(c->arena, c->list,
                       (hf_caution){.code = "law_unlikely",
                                    .text = {hf_family_at(own)->label, hf_family_at(best)->label},
                                    .number = {behind, event->bounds[best].value, event->governing->value}});
}

static void about_laws(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit_test *test = &event->tests[i];
        if (test->available && test->rejected)
            add_named(c, "fit_rejected", hf_family_at(i)->label, test->significance, test->a2);
        if (event->bounds[i].method == HF_BOUND_NONE) continue;
        low = fmin(low, event->bounds[i].value);
        high = fmax(high, event->bounds[i].value);
    }
    about_likelihood(c, event);
    if (event->governing_reason && strcmp(event->governing_reason, "stated_rejected") == 0)
        add_named(c, "stated_family_rejected", c->design->design->family, NAN, NAN);
    if (high - low > families_apart * high) add(c, "families_differ", low, high);
    static const char *const very_few[] = {NULL, "one_part", "two_parts", "three_parts"};
    size_t used = event->counts.used;
    if (used > 0 && used <= 3)
        add(c, very_few[used], (double)used, NAN);
    else if (used > 0 && used < FEW_PARTS)
        add(c, "few_parts", (double)used, NAN);
    if (event->cv > high_scatter) add(c, "high_scatter", event->cv, NAN);
    if (event->outlier.flagged)
        add_named(c, "outlier", event->outlier_id, event->outlier.statistic, event->outlier.critical);
}

static void about_batches(const context *c) {
    int most = -1;
    for (size_t i = 0; i < c->sample.count; i++)
        most = c->sample.items[i].batch > most ? c->sample.items[i].batch : most;
    if (c->sample.count < 2) return;
    if (most <= 0)
        add(c, "one_batch", NAN, NAN);
    else if (most + 1 < FEW_BATCHES)
        add(c, "few_batches", most + 1, NAN);
    const hf_batch_test *test = &c->design->break_event.batch;
    if (test->available && test->differ)
        hf_caution_add(c->arena, c->list,
                       (hf_caution){.code = "batches_differ",
                                    .number = {test->adk, test->critical, test->between_share}});
}

/* Why the governing rule's own law gives no bound. */
static hf_bound_reason rule_reason(const hf_event_assessment *event) {
    for (size_t i = 0; i < event->bound_count; i++)
        if (event->bounds[i].family == hf_family_find("weibull")) return event->bounds[i].reason;
    return HF_REASON_TOO_FEW;
}

static void about_goal(const context *c) {
    const hf_goal *goal = &c->design->design->goal;
    const hf_design_assessment *design = c->design;
    const hf_bound *governing = design->break_event.governing;
    const hf_scatter *scatter = &design->design->scatter;
    if (governing && governing->method == HF_BOUND_STATED_SCATTER)
        add_named(c, "stated_scatter", scatter->source, scatter->cv, scatter->degrees_of_freedom);
    if (!governing && design->break_event.counts.used > 0)
        add_named(c, "no_bound", hf_bound_reason_text(rule_reason(&design->break_event)), NAN, NAN);
    if (governing && !(governing->value > 0)) add(c, "bound_not_positive", governing->value, NAN);
    if (governing && governing->value > 0 && !goal->design_factor.given) add(c, "no_design_factor", NAN, NAN);
    if (design->set_watched && !goal->set_factor.given) add(c, "no_set_factor", NAN, NAN);
    if (design->set_watched && goal->set_factor.given && !design->set_event.governing)
        add(c, "set_without_bound", NAN, NAN);
    if (design->content == 0.95 && design->confidence == 0.75) add(c, "lowest_95_75", 0.743, NAN);
    if (!design->required_met)
        add(c, "required_not_met", design->break_event.calibrated, goal->required_bound.value);
    if (!design->margin_met) add(c, "service_not_met", design->working_load, goal->service_load.value);
}

/* Where the ways of failing in the parts to be used come in other shares, only the bound by modes holds. */
static void about_modes(const context *c) {
    const hf_design_assessment *a = c->design;
    const hf_design_modes *modes = &a->modes;
    if (!modes->available || !(modes->result.bound < modes_apart * modes->undivided)) return;
    double share = fmax(modes->result.bound, 0) / modes->undivided;
    bool limits = a->limited_by && strcmp(a->limited_by, "break") == 0;
    double load = limits ? share * a->working_load_unrounded : NAN;
    const hf_maybe *service = &a->design->goal.service_load;
    double wanted = service->given && load < service->value ? service->value : NAN;
    hf_caution_add(
        c->arena, c->list,
        (hf_caution){.code = "modes_lower", .number = {modes->result.bound, modes->undivided, load, wanted}});
}

void hf_design_cautions(hf_arena *arena, const hf_campaign *campaign, hf_sample sample,
                        hf_design_assessment *design) {
    context c = {arena, &design->cautions, campaign, design, sample};
    about_goal(&c);
    about_outcomes(&c);
    about_voids(&c);
    about_steps(&c);
    about_laws(&c);
    about_batches(&c);
    about_modes(&c);
}
