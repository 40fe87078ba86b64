/* What is odd but usable: one warning for each cause and design. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "campaign/makeable.h"
#include "campaign/parts.h"
#include "holdfast/base/memory.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/hanging.h"
#include "holdfast/campaign/sanity.h"

typedef struct warner {
    hf_reader *reader;
    const hf_campaign *campaign;
    const hf_design *design;
    hf_makeable made;
} warner;

static void warn_of(const warner *w, hf_finding finding, const hf_json *node, const char *message) {
    static const char *const codes[] = {
#define CODE_OF(name, code) [HF_WARNING_##name] = code,
        HF_WARNING_LIST(CODE_OF)};
    finding.severity = HF_SEVERITY_WARNING;
    finding.code = codes[finding.warning];
    finding.design = w->design ? w->design->id : NULL;
    finding.message = hf_arena_text(w->reader->arena, message, strlen(message));
    hf_reader_find(w->reader, finding, node);
}

static void warn(const warner *w, hf_warning warning, const hf_json *node, const char *message) {
    warn_of(w, (hf_finding){.warning = warning}, node, message);
}

/* A load in the file's unit for a message. */
static const char *shown(const warner *w, double newtons, char out[64]) {
    char number[HF_NUMBER_SIZE];
    double value = newtons / hf_unit_newtons(w->campaign->unit, w->campaign->gravity);
    (void)snprintf(out, 64, "%s %s", hf_number_figures(value, 4, number), w->campaign->unit->name);
    return out;
}

static void warn_rating(const warner *w) {
    size_t count = 0;
    const hf_specimen *worst = NULL;
    double highest = 0;
    char message[HF_MESSAGE_SIZE], high[64], rating[64];
    if (!w->campaign->rig.rating.given) return;
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        if (specimen->pull.kind == HF_INTERVAL_NONE) continue;
        double top = isinf(specimen->pull.upper) ? specimen->pull.lower : specimen->pull.upper;
        if (top <= w->campaign->rig.rating.value) continue;
        count++;
        if (top > highest) {
            highest = top;
            worst = specimen;
        }
    }
    if (!count) return;
    (void)snprintf(message, sizeof message, "%zu %s went above the rig's rating of %s, up to %s", count,
                   count == 1 ? "pull" : "pulls", shown(w, w->campaign->rig.rating.value, rating),
                   shown(w, highest, high));
    warn_of(w,
            (hf_finding){.warning = HF_WARNING_ABOVE_RATING,
                         .number = {(double)count, w->campaign->rig.rating.value, highest}},
            worst->node, message);
}

/* The highest load recorded on added weights; sums above it need not be known. */
static double highest_record(const hf_campaign *campaign) {
    double highest = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            highest = fmax(highest, fmax(campaign->designs[i].specimens[j].held.value,
                                         campaign->designs[i].specimens[j].failed.value));
    return highest;
}

/* Pulls that the listed weights cannot have made. */
typedef struct unmade {
    size_t count;
    const hf_specimen *first;
} unmade;

static void add_unmade(unmade *list, const hf_specimen *specimen) {
    if (!list->count++) list->first = specimen;
}

static void warn_above_weights(const warner *w, const unmade *above, double highest) {
    char message[HF_MESSAGE_SIZE], all[64], high[64];
    double sum = hf_all_weights(w->campaign);
    if (!above->count) return;
    (void)snprintf(message, sizeof message, "%zu %s more than all the listed weights together, %s: up to %s",
                   above->count, above->count == 1 ? "pull records" : "pulls record", shown(w, sum, all),
                   shown(w, highest, high));
    warn_of(w,
            (hf_finding){.warning = HF_WARNING_ABOVE_WEIGHTS, .number = {(double)above->count, sum, highest}},
            above->first->node, message);
}

static void warn_weights(const warner *w) {
    unmade above = {0}, between = {0};
    double highest = 0, most = hf_all_weights(w->campaign) * (1 + HF_MAKEABLE_TOLERANCE);
    char message[HF_MESSAGE_SIZE];
    if (!w->made.sums) return;
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        double held = specimen->held.given ? specimen->held.value : 0,
               top = specimen->failed.given ? fmax(held, specimen->failed.value) : held;
        highest = fmax(highest, top);
        if (top > most)
            add_unmade(&above, specimen);
        else if ((held > 0 && !hf_makeable_is(&w->made, held)) ||
                 (top > held && !hf_makeable_is(&w->made, top)))
            add_unmade(&between, specimen);
    }
    warn_above_weights(w, &above, highest);
    if (!between.count) return;
    (void)snprintf(message, sizeof message, "%zu %s a load that the listed weights cannot make",
                   between.count, between.count == 1 ? "pull has" : "pulls have");
    warn(w, HF_WARNING_NOT_MAKEABLE, between.first->node, message);
}

/* As `record` would ask, for pulls that are there: against the median of the design, or its guess. */
static void warn_likeness(const warner *w) {
    double known = hf_known_strength(w->reader->arena, w->design);
    size_t count = 0;
    const hf_specimen *first = NULL;
    char message[HF_MESSAGE_SIZE], about[64], like[64];
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        if (hf_pull_unlike(specimen, known) && !count++) first = specimen;
    }
    if (!count) return;
    bool high = hf_pull_unlike(first, known) > 0;
    (void)snprintf(message, sizeof message,
                   "%zu %s unlike what is known of the design: \"%.40s\" lies at about %s, %s %s", count,
                   count == 1 ? "pull is" : "pulls are", first->id, shown(w, hf_pull_middle(first), about),
                   high ? "more than three times" : "less than a third of", shown(w, known, like));
    warn(w, HF_WARNING_UNLIKE_DESIGN, first->node, message);
}

/* What was pulled before there was this ladder, a pilot above all, climbed another one. */
static bool climbed_the_plan(const hf_campaign *campaign, const hf_specimen *specimen) {
    const char *made = campaign->plan.made;
    return made && specimen->date && specimen->order.given && strncmp(specimen->date, made, 10) >= 0 &&
           !strstr(specimen->id, "-pilot");
}

static void warn_rungs(const warner *w) {
    size_t count = 0, rungs = 0;
    const hf_specimen *first = NULL;
    char message[HF_MESSAGE_SIZE];
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        double below, above;
        size_t between = specimen->pull.kind == HF_INTERVAL_CLOSED && climbed_the_plan(w->campaign, specimen)
                             ? hf_rungs_between(w->campaign, w->design, specimen, &below, &above)
                             : 0;
        if (!between) continue;
        if (!count++) first = specimen;
        if (first == specimen) rungs = between;
    }
    if (!count) return;
    (void)snprintf(
        message, sizeof message,
        "%zu %s the plan's ladder between what was held and what was failed at: of \"%.40s\" %zu %s there",
        count, count == 1 ? "pull leaves out rungs of" : "pulls leave out rungs of", first->id, rungs,
        rungs == 1 ? "lies" : "lie");
    warn(w, HF_WARNING_RUNGS_BETWEEN, first->node, message);
}

typedef struct dated {
    double order;
    const hf_specimen *specimen;
} dated;

static int compare_dated(const void *a, const void *b) {
    const dated *x = a, *y = b;
    return (x->order > y->order) - (x->order < y->order);
}

static void warn_order(const warner *w) {
    size_t count = 0;
    char message[HF_MESSAGE_SIZE];
    dated *pulls = hf_memory_take(w->design->specimen_count + 1, sizeof *pulls);
    if (!pulls) return;
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        if (specimen->order.given && specimen->outcome != HF_OUTCOME_PLANNED)
            pulls[count++] = (dated){specimen->order.value, specimen};
    }
    qsort(pulls, count, sizeof *pulls, compare_dated);
    for (size_t i = 1; i < count; i++) {
        const hf_specimen *before = pulls[i - 1].specimen, *after = pulls[i].specimen;
        bool same = pulls[i].order == pulls[i - 1].order;
        bool late = before->date && after->date && strncmp(before->date, after->date, 10) > 0;
        if (!same && !late) continue;
        (void)snprintf(message, sizeof message,
                       same ? "\"%.40s\" and \"%.40s\" have the same order"
                            : "\"%.40s\" comes before \"%.40s\" in order but has a later date",
                       before->id, after->id);
        warn(w, HF_WARNING_ORDER, after->node, message);
        break;
    }
    hf_memory_free(pulls);
}

static void warn_kinds(const warner *w) {
    size_t stepped = 0, read = 0, first_rung = 0;
    const hf_specimen *at = NULL;
    char message[HF_MESSAGE_SIZE];
    for (size_t i = 0; i < w->design->specimen_count; i++) {
        const hf_specimen *specimen = &w->design->specimens[i];
        if (specimen->pull.kind == HF_INTERVAL_NONE) continue;
        /* A part that stayed whole has one load in either kind of pull. */
        stepped += specimen->pull.stepped && specimen->failed.given;
        read += !specimen->pull.stepped;
        if (specimen->failed.given && !specimen->held.given) {
            if (!at) at = specimen;
            first_rung++;
        }
    }
    if (stepped && read) {
        (void)snprintf(
            message, sizeof message,
            "%zu stepped and %zu continuous pulls stand in one design; they differ in loading rate", stepped,
            read);
        warn(w, HF_WARNING_MIXED_PULL_KINDS, w->design->node, message);
    }
    if (!first_rung) return;
    (void)snprintf(
        message, sizeof message,
        "for %zu %s no load held before the failure is stated (\"held\": 0 when the hanger alone held)",
        first_rung, first_rung == 1 ? "pull" : "pulls");
    warn(w, HF_WARNING_FIRST_RUNG_HELD, at->node, message);
}

/* The unit of a written load, or NULL. Nothing is nothing in any unit. */
static const hf_unit *unit_of(const hf_campaign *campaign, const hf_json *node) {
    hf_load load;
    if (!node) return NULL;
    if (node->kind != HF_JSON_TEXT) return node->number > 0 ? campaign->unit : NULL;
    bool read = hf_load_read(node->text, strlen(node->text), campaign->unit, &load, NULL) == HF_OK;
    return read && load.value > 0 ? load.unit : NULL;
}

/* Pulls recorded in more than one unit: each is read in its own, but a slip of the pen would hide here. */
static void warn_units(const warner *w) {
    static const char *const keys[] = {"held", "failed", "peak"};
    const hf_unit *first = NULL;
    char message[HF_MESSAGE_SIZE];
    for (size_t i = 0; i < w->campaign->design_count; i++)
        for (size_t j = 0; j < w->campaign->designs[i].specimen_count; j++)
            for (size_t k = 0; k < HF_COUNT_OF(keys); k++) {
                const hf_json *node = hf_json_get(w->campaign->designs[i].specimens[j].node, keys[k]);
                const hf_unit *unit = unit_of(w->campaign, node);
                if (!first) first = unit;
                if (!unit || unit == first) continue;
                (void)snprintf(message, sizeof message,
                               "pulls are recorded in %s and in %s; each is read in its own unit",
                               first->name, unit->name);
                warn(w, HF_WARNING_MIXED_UNITS, node, message);
                return;
            }
}

/* A rung whose weights do not make its load; the worksheet would refuse it. */
static void warn_ladders(warner *w) {
    const hf_json *plan = hf_json_get(w->campaign->root, "plan");
    const hf_json *lists = plan ? hf_json_get(plan, "ladders") : NULL;
    hf_hanging hanging;
    hf_error why = {0};
    for (size_t i = 0; lists && i < w->campaign->plan.count; i++) {
        const hf_written_ladder *ladder = &w->campaign->plan.ladders[i];
        const hf_json *list = hf_json_get(lists, ladder->design), *node = list ? list->first : NULL;
        w->design = hf_campaign_design(w->campaign, ladder->design);
        for (size_t j = 0; w->design && node && j < ladder->count; j++, node = node->next) {
            if (hf_hanging_read(w->campaign, &ladder->rungs[j], &hanging, &why) == HF_OK) continue;
            warn(w, HF_WARNING_LADDER_WEIGHTS, node, why.message);
            break;
        }
    }
}

/* The tare enters loads that were added, not those that a scale showed; what is void says nothing. */
static bool any_added(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            if (!specimen->peak.given && specimen->outcome != HF_OUTCOME_VOID) return true;
        }
    return false;
}

static bool any_pull(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            if (campaign->designs[i].specimens[j].pull.kind != HF_INTERVAL_NONE) return true;
    return false;
}

void hf_warn(hf_reader *reader, const hf_campaign *campaign) {
    warner w = {.reader = reader, .campaign = campaign};
    const hf_json *rig = hf_json_get(campaign->root, "rig");
    if (campaign->rig.force.records == HF_RIG_RECORDS_ADDED && campaign->rig.tare_given &&
        campaign->rig.force.tare == 0 && any_added(campaign))
        warn(&w, HF_WARNING_TARE_ZERO, hf_json_get(rig, "tare"),
             "found tare 0, though hanger, hook and rope below the part pull too");
    if (!campaign->rig.uncertainty_count && any_pull(campaign))
        warn(&w, HF_WARNING_NO_UNCERTAINTY, rig ? rig : campaign->root,
             "no uncertainty of the rig's loads is stated, so none is taken off the bound");
    warn_units(&w);
    warn_ladders(&w);
    w.made = hf_makeable_up_to(campaign, highest_record(campaign));
    for (size_t i = 0; i < campaign->design_count; i++) {
        w.design = &campaign->designs[i];
        warn_rating(&w);
        warn_weights(&w);
        warn_likeness(&w);
        warn_rungs(&w);
        warn_order(&w);
        warn_kinds(&w);
    }
    hf_makeable_free(&w.made);
}
