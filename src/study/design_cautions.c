/* Which cautions a design's result must carry. */
#include <math.h>
#include <string.h>
#include "holdfast/campaign/used.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/sample.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/raise.h"

typedef struct context {
    hf_arena *arena;
    hf_cautions *list;
    const hf_campaign *campaign;
    const hf_design_assessment *design;
    hf_sample sample;
} context;

static void add(const context *c, hf_caution_code code, double first, double second) {
    hf_caution_raise(c->arena, c->list, (hf_caution){code, {first, second}, {NULL}});
}

static void add_named(const context *c, hf_caution_code code, const char *text, double first, double second) {
    hf_caution_raise(c->arena, c->list, (hf_caution){code, {first, second}, {text}});
}

static void about_ends(const context *c) {
    const hf_design_assessment *design = c->design;
    add(c, HF_CAUTION_TWO_ENDED, (double)design->ends.pulls, (double)design->ends.ends);
    if (design->ends_unknown > 0) add(c, HF_CAUTION_END_NOT_STATED, (double)design->ends_unknown, NAN);
    if (design->set_watched) add(c, HF_CAUTION_TWO_ENDED_SET, NAN, NAN);
}

static void about_outcomes(const context *c, const hf_caution_subject *subject) {
    const hf_event_assessment *event = &c->design->break_event;
    if (c->design->two_ended)
        about_ends(c);
    else
        hf_caution_open_pulls(subject);
    hf_caution_first_rung(subject);
    if (event->counts.reused > 0) add(c, HF_CAUTION_REUSED, (double)event->counts.reused, NAN);
    if (isfinite(event->with_reused)) add(c, HF_CAUTION_REUSED_CHANGES, event->with_reused, NAN);
    if (event->counts.planned > 0) add(c, HF_CAUTION_PLANNED_LEFT, (double)event->counts.planned, NAN);
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
        add_named(c, HF_CAUTION_VOID_PULLS, hf_arena_text(c->arena, ids.bytes, ids.length), (double)count,
                  NAN);
    hf_text_free(&ids);
    if (isfinite(c->design->break_event.with_void))
        add(c, HF_CAUTION_VOID_CHANGES, c->design->break_event.with_void, NAN);
}

static void about_steps(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    double low = -INFINITY, high = INFINITY, dropped = 0;
    size_t failed = 0;
    for (size_t i = 0; i < c->sample.count; i++) {
        const hf_observation *item = &c->sample.items[i];
        dropped += item->dropped;
        if (item->kind != HF_INTERVAL_CLOSED && item->kind != HF_INTERVAL_EXACT) continue;
        low = fmax(low, item->lower);
        high = fmin(high, item->upper);
        failed++;
    }
    if (dropped > 0) add(c, HF_CAUTION_DROPPED_STEPS, dropped, NAN);
    if (failed >= 2 && low < high)
        add(c, HF_CAUTION_ALL_ONE_STEP, low, high);
    else if (event->step_rms > HF_COARSE_STEP * event->sd_mid * (1 + HF_SAME))
        add(c, HF_CAUTION_COARSE_STEP, event->sd_mid > 0 ? event->step_rms / event->sd_mid : NAN, NAN);
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
    if (behind > HF_NO_SUPPORT)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){HF_CAUTION_LAW_UNLIKELY,
                                      {behind, event->bounds[best].value, event->governing->value},
                                      {hf_family_at(own)->label, hf_family_at(best)->label}});
}

/* "normal", "normal and Weibull", "normal, lognormal and Weibull": the laws that the pulls reject, in one caution. It weighs most
 * where the bound leans on one of them. */
static void about_rejected(const context *c, const hf_event_assessment *event) {
    hf_text names = {0};
    size_t count = 0, at = 0;
    double significance = 0;
    bool governing = false;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        count += event->tests[i].available && event->tests[i].rejected;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        const hf_fit_test *test = &event->tests[i];
        if (!test->available || !test->rejected) continue;
        hf_text_addf(&names, "%s%s", at == 0 ? "" : at + 1 == count ? " and " : ", ", hf_family_at(i)->label);
        at++;
        significance = fmax(significance, test->significance);
        governing |= event->rejected_law && event->rejected_law->family == hf_family_at(i);
    }
    const char *laws = count && names.bytes ? hf_arena_text(c->arena, names.bytes, names.length) : NULL;
    if (laws)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){governing ? HF_CAUTION_FIT_REJECTED : HF_CAUTION_OTHER_LAW_REJECTED,
                                      {(double)count, significance},
                                      {laws}});
    hf_text_free(&names);
}

static const hf_bound *bound_of(const hf_event_assessment *event, const hf_family *family) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (event->bounds[i].family == family && event->bounds[i].method != HF_BOUND_NONE)
            return &event->bounds[i];
    return NULL;
}

/* A law chosen after looking at the pulls lifts the bound for nothing; only a reason stated with it shows that it was not. */
static void about_chosen_law(const context *c, const hf_event_assessment *event) {
    const hf_bound *by_rule = bound_of(event, hf_family_governing(NULL));
    const hf_design_assessment *a = c->design;
    hf_caution caution = {HF_CAUTION_LAW_CHOSEN,
                          {event->governing->value, by_rule ? by_rule->value : NAN},
                          {event->governing->family->label}};
    if (!a->law_by_hand) {
        caution.code = HF_CAUTION_LAW_STATED;
        caution.text[1] = a->design->family_reason;
    }
    hf_caution_raise(c->arena, c->list, caution);
}

static void about_laws(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        if (event->bounds[i].method == HF_BOUND_NONE) continue;
        low = fmin(low, event->bounds[i].value);
        high = fmax(high, event->bounds[i].value);
    }
    about_rejected(c, event);
    about_likelihood(c, event);
    if (event->stated_rejected)
        hf_caution_raise(
            c->arena, c->list,
            (hf_caution){.code = HF_CAUTION_STATED_FAMILY_REJECTED,
                         .text = {event->stated_rejected->label, hf_family_governing(NULL)->label}});
    if (event->governing_reason == HF_GOVERNS_STATED) about_chosen_law(c, event);
    if (event->governing_reason == HF_GOVERNS_LAW_NOT_ASSURED)
        add_named(c, HF_CAUTION_NOT_ASSURED, event->rejected_law->family->label, event->rejected_law->value,
                  NAN);
    bool by_scatter = event->governing && event->governing->method == HF_BOUND_STATED_SCATTER;
    if (!by_scatter && high - low > HF_FAMILIES_APART * high * (1 + HF_SAME))
        add(c, HF_CAUTION_FAMILIES_DIFFER, low, high);
    static const hf_caution_code very_few[] = {HF_CAUTION_ONE_PART, HF_CAUTION_TWO_PARTS,
                                               HF_CAUTION_THREE_PARTS};
    size_t failed = event->counts.failed;
    if (failed > 0 && failed <= sizeof very_few / sizeof *very_few)
        add(c, very_few[failed - 1], NAN, NAN);
    else if (failed > 0 && failed < HF_FEW_FAILURES)
        add(c, HF_CAUTION_FEW_PARTS, (double)failed, NAN);
    if (event->cv > HF_HIGH_SCATTER) add(c, HF_CAUTION_HIGH_SCATTER, event->cv, NAN);
}

/* Why the governing rule's own law gives no bound. */
static hf_bound_reason rule_reason(const hf_event_assessment *event) {
    for (size_t i = 0; i < event->bound_count; i++)
        if (event->bounds[i].family == hf_family_governing(NULL)) return event->bounds[i].reason;
    return HF_REASON_TOO_FEW;
}

/* The bound leans on what these pulls do not show, or on what they speak against. */
static void about_scatter(const context *c) {
    const hf_scatter *scatter = &c->design->design->scatter;
    const hf_event_assessment *event = &c->design->break_event;
    const char *source = scatter->source ? scatter->source : "not stated";
    const hf_scatter_library *library = &scatter->library;
    bool leans =
        event->governing && event->governing->method == HF_BOUND_STATED_SCATTER && !event->not_assured;
    if (leans && library->designs > 1)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){HF_CAUTION_EARLIER_SCATTER,
                                      {(double)library->designs, scatter->cv, library->degrees,
                                       library->differ ? (double)library->designs : 0},
                                      {NULL}});
    else if (leans)
        add_named(c,
                  isinf(scatter->degrees_of_freedom) ? HF_CAUTION_ASSUMED_SCATTER : HF_CAUTION_STATED_SCATTER,
                  source, scatter->cv, scatter->degrees_of_freedom);
    if (event->governing && event->own_from_parts > 0 && event->governing->method != HF_BOUND_STATED_SCATTER)
        add_named(c, HF_CAUTION_SCATTER_HANDED_OVER, source, (double)event->counts.used,
                  (double)event->own_from_parts);
    if (event->confrontation.contradicted)
        hf_caution_raise(
            c->arena, c->list,
            (hf_caution){HF_CAUTION_SCATTER_CONTRADICTED,
                         {scatter->cv, event->confrontation.statistic, event->confrontation.critical},
                         {source}});
    if (event->governing_reason == HF_GOVERNS_SCATTER_NOT_ASSURED)
        add(c, HF_CAUTION_SCATTER_NOT_ASSURED, event->governing->value, NAN);
}

static void about_goal(const context *c) {
    const hf_goal *goal = &c->design->design->goal;
    const hf_design_assessment *design = c->design;
    const hf_bound *governing = design->break_event.governing;
    about_scatter(c);
    if (!governing && design->break_event.counts.used > 0)
        add_named(c, HF_CAUTION_NO_BOUND, hf_bound_reason_text(rule_reason(&design->break_event)), NAN, NAN);
    if (governing && !(governing->value > 0)) add(c, HF_CAUTION_BOUND_NOT_POSITIVE, NAN, NAN);
    if (governing && governing->value > 0 && !goal->design_factor.given)
        add(c, HF_CAUTION_NO_DESIGN_FACTOR, NAN, NAN);
    if (design->set_watched && !goal->set_factor.given) add(c, HF_CAUTION_NO_SET_FACTOR, NAN, NAN);
    if (design->set_watched && goal->set_factor.given && !design->set_event.governing)
        add(c, HF_CAUTION_SET_WITHOUT_BOUND, NAN, NAN);
    if (design->content == 0.95 && design->confidence == 0.75) add(c, HF_CAUTION_LOWEST_95_75, 0.743, NAN);
    const hf_event_assessment *event = &design->break_event;
    double calibrated = event->not_assured ? NAN : event->calibrated;
    if (goal->required_bound.given && !(calibrated >= goal->required_bound.value))
        add(c, HF_CAUTION_REQUIRED_NOT_MET, calibrated, goal->required_bound.value);
    if (goal->service_load.given && !(design->working_load >= goal->service_load.value))
        add(c, HF_CAUTION_SERVICE_NOT_MET, design->working_load, goal->service_load.value);
}

/* Where a bound is true, the share of parts below it is at most what its content leaves. */
static void about_broken(const context *c) {
    const hf_bound *bound = c->design->break_event.governing;
    double broken = 0, lowest = INFINITY, parts = (double)c->sample.count;
    if (!bound) return;
    for (size_t i = 0; i < c->sample.count; i++) {
        const hf_observation *item = &c->sample.items[i];
        if (item->kind == HF_INTERVAL_ABOVE || !(item->upper <= bound->value * (1 + HF_SAME))) continue;
        lowest = fmin(lowest, item->upper);
        broken++;
    }
    if (broken == 0) return;
    double chance = hf_binomial_at_least(broken, parts, 1 - bound->content);
    hf_caution_raise(
        c->arena, c->list,
        (hf_caution){chance < HF_UNLIKELY ? HF_CAUTION_ABOVE_BROKEN_UNLIKELY : HF_CAUTION_ABOVE_BROKEN,
                     {bound->value, broken, parts, lowest, chance},
                     {NULL}});
}

static void about_one_record(const context *c) {
    const hf_event_assessment *event = &c->design->break_event;
    if (!event->one_record) return;
    const hf_pull *pull = &event->one_record->pull;
    bool step = pull->kind == HF_INTERVAL_CLOSED && pull->stepped;
    hf_caution_raise(c->arena, c->list,
                     (hf_caution){HF_CAUTION_ONE_RECORD,
                                  {event->governing->value, event->without_one, hf_pull_reached(pull),
                                   step ? pull->lower : NAN},
                                  {event->one_record->id}});
}

/* What the pulls cannot show: a kind that none of them is of, and the tail of the law. */
static void about_unseen(const context *c) {
    const hf_bound *bound = c->design->break_event.governing;
    double parts = (double)c->sample.count, chance = pow(1 - HF_WEAK_KIND_SHARE, parts);
    if (parts > 0 && chance >= HF_WEAK_KIND_CHANCE)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){HF_CAUTION_WEAK_KIND, {parts, HF_WEAK_KIND_SHARE, chance}, {NULL}});
    if (bound && bound->family && bound->content >= HF_TAIL_CONTENT &&
        c->design->break_event.governing_reason != HF_GOVERNS_STATED)
        add(c, HF_CAUTION_LEANS_ON_TAIL, bound->content, NAN);
}

/* Where the ways of failing in the parts to be used come in other shares, only the bound by modes holds: told where it is far lower, and always
 * where what is asked hangs on it. */
static void about_modes(const context *c) {
    const hf_design_assessment *a = c->design;
    const hf_design_modes *modes = &a->modes;
    hf_caution_many_modes(c->arena, c->list, modes);
    if (isnan(a->modes_share)) return;
    const hf_goal *goal = &a->design->goal;
    double share = a->modes_share;
    bool limits = a->limited_by == HF_LIMIT_BREAK;
    double load = limits ? share * a->working_load_unrounded : NAN;
    bool served = !goal->service_load.given || !(load < goal->service_load.value);
    bool enough =
        !goal->required_bound.given || share * a->break_event.calibrated >= goal->required_bound.value;
    bool hangs = (!served && a->working_load >= goal->service_load.value) ||
                 (!enough && a->break_event.calibrated >= goal->required_bound.value);
    if (!hangs && share >= HF_MODES_APART) return;
    hf_caution_raise(
        c->arena, c->list,
        (hf_caution){served && enough ? HF_CAUTION_MODES_LOWER : HF_CAUTION_MODES_NOT_COVERING,
                     {modes->result.bound, modes->undivided, load, served ? NAN : goal->service_load.value,
                      enough ? NAN : goal->required_bound.value},
                     {NULL}});
}

void hf_design_cautions(hf_arena *arena, const hf_campaign *campaign, hf_sample sample,
                        hf_design_assessment *design) {
    context c = {arena, &design->cautions, campaign, design, sample};
    const hf_caution_subject subject = {arena,          &design->cautions,    design->design,
                                        design->pulled, &design->break_event, sample};
    about_goal(&c);
    about_outcomes(&c, &subject);
    about_voids(&c);
    about_steps(&c);
    about_laws(&c);
    hf_caution_outlier(&subject);
    hf_caution_batches(&subject);
    hf_caution_dwell(&subject);
    hf_caution_trend(&subject);
    about_one_record(&c);
    about_unseen(&c);
    about_modes(&c);
    about_broken(&c);
    hf_caution_looks(arena, &design->cautions, design);
    hf_caution_late(arena, &design->cautions, design->design);
}
