/* Cautions about the pulls of one design, whatever is made of them. */
#include <math.h>
#include <string.h>
#include "holdfast/campaign/used.h"
#include "study/limits.h"
#include "study/raise.h"

static void add(const hf_caution_subject *s, hf_caution_code code, double first, double second) {
    hf_caution_raise(s->arena, s->list, (hf_caution){code, {first, second}, {NULL}});
}

void hf_caution_open_pulls(const hf_caution_subject *s) {
    const hf_assess_counts *counts = &s->event->counts;
    double used = (double)counts->used, rig = (double)counts->rig;
    if (counts->used > 0 && counts->failed == 0)
        add(s, HF_CAUTION_ALL_RUN_OUT, used, s->event->min_load);
    else if (counts->run_out > 0)
        add(s, HF_CAUTION_RUN_OUTS, (double)counts->run_out, used);
    if (rig > HF_RIG_SHARE * used)
        add(s, HF_CAUTION_RIG_FAILURES, rig, used);
    else if (rig > 0)
        add(s, HF_CAUTION_RIG_FAILURE, rig, used);
}

void hf_caution_first_rung(const hf_caution_subject *s) {
    double below = (double)s->event->counts.below, lowest = INFINITY;
    for (size_t i = 0; i < s->sample.count; i++)
        if (s->sample.items[i].kind == HF_INTERVAL_BELOW) lowest = fmin(lowest, s->sample.items[i].upper);
    if (!(below > 0)) return;
    hf_caution_raise(s->arena, s->list,
                     (hf_caution){HF_CAUTION_FIRST_RUNG,
                                  {below, lowest, (double)hf_held_not_stated(s->design, false)},
                                  {NULL}});
}

/* How often a 95 % bound from one batch is right in the next, when .1, .3, .5 of the variance lies between batches: normal law, content 0.90,
 * simulated with 200 000 samples a cell (docs/methods.md). */
static const struct {
    size_t parts;
    double right[3];
} one_batch_rows[] = {
    {3, {.943, .925, .892}}, {5, {.933, .885, .805}}, {10, {.909, .797, .657}}, {20, {.861, .687, .532}}};

static void one_batch(const hf_caution_subject *s, size_t stated, size_t without) {
    size_t row = 0;
    while (row + 1 < sizeof one_batch_rows / sizeof *one_batch_rows &&
           one_batch_rows[row + 1].parts <= s->sample.count)
        row++;
    const double *right = one_batch_rows[row].right;
    hf_caution_raise(s->arena, s->list,
                     (hf_caution){HF_CAUTION_ONE_BATCH,
                                  {(double)stated, (double)without, (double)one_batch_rows[row].parts,
                                   right[0], right[1], right[2]},
                                  {NULL}});
}

/* The same of a bound that takes each part of several batches for itself, by the parts in a batch: three batches, 200 000 samples a cell. */
static const struct {
    size_t parts;
    double right[3];
} by_part_rows[] = {
    {2, {.946, .934, .915}}, {3, {.941, .915, .876}}, {5, {.932, .880, .808}}, {10, {.906, .808, .707}}};

static void open_batches(const hf_caution_subject *s, size_t batches) {
    const hf_sample_counts counts = hf_sample_count(s->sample);
    const size_t open = counts.above + counts.below, each = s->sample.count / batches;
    size_t row = 0;
    if (!open) return;
    while (row + 1 < sizeof by_part_rows / sizeof *by_part_rows && by_part_rows[row + 1].parts <= each) row++;
    const double *right = by_part_rows[row].right;
    hf_caution_raise(s->arena, s->list,
                     (hf_caution){HF_CAUTION_BATCHES_OPEN,
                                  {(double)batches, (double)open, (double)by_part_rows[row].parts, right[0],
                                   right[1], right[2]},
                                  {NULL}});
}

void hf_caution_batches(const hf_caution_subject *s) {
    const hf_batch_test *test = &s->event->batch;
    int most = -1;
    size_t without, stated = hf_batches_stated(s->design, &without);
    for (size_t i = 0; i < s->sample.count; i++)
        most = s->sample.items[i].batch > most ? s->sample.items[i].batch : most;
    if (s->sample.count < 2) return;
    if (s->event->governing && s->event->governing->method == HF_BOUND_ONE_BATCH)
        hf_caution_raise(s->arena, s->list,
                         (hf_caution){HF_CAUTION_BETWEEN_STATED,
                                      {s->design->between_batches.cv},
                                      {s->design->between_batches.source}});
    else if (most <= 0)
        one_batch(s, stated, without);
    else if (most + 1 < HF_FEW_BATCHES)
        add(s, HF_CAUTION_FEW_BATCHES, most + 1, 0);
    if (most > 0 && stated > 1) open_batches(s, stated);
    if (test->available && test->differ)
        hf_caution_raise(s->arena, s->list,
                         (hf_caution){HF_CAUTION_BATCHES_DIFFER,
                                      {test->adk, test->critical, test->between_share},
                                      {NULL}});
    else if (test->one_way.available && test->one_way.differ)
        hf_caution_raise(s->arena, s->list,
                         (hf_caution){HF_CAUTION_BATCHES_DIFFER_F,
                                      {isfinite(test->one_way.f) ? test->one_way.f : NAN,
                                       test->one_way.by_law, test->one_way.significance, test->one_way.least},
                                      {NULL}});
}

static const hf_specimen *specimen_of(const hf_design *design, const char *id) {
    for (size_t i = 0; i < design->specimen_count; i++)
        if (strcmp(design->specimens[i].id, id) == 0) return &design->specimens[i];
    return NULL;
}

static double middle(const hf_pull *pull) {
    return isfinite(pull->upper) ? 0.5 * (pull->lower + pull->upper) : pull->lower;
}

void hf_caution_outlier(const hf_caution_subject *s) {
    const hf_outlier_test *test = &s->event->outlier;
    if (!test->flagged) return;
    const char *id = s->event->outlier_id ? s->event->outlier_id : "?", *side = NULL;
    const hf_specimen *part = specimen_of(s->pulled, id);
    double load = NAN;
    if (part && part->pull.kind != HF_INTERVAL_NONE) {
        load = hf_pull_reached(&part->pull);
        side = middle(&part->pull) < s->event->mean_mid ? "weak" : "strong";
    }
    hf_caution_raise(s->arena, s->list,
                     (hf_caution){HF_CAUTION_OUTLIER, {test->statistic, test->critical, load}, {id, side}});
}

void hf_caution_many_modes(hf_arena *arena, hf_cautions *list, const hf_design_modes *modes) {
    if (modes->named > HF_MODE_LIMIT)
        hf_caution_raise(
            arena, list,
            (hf_caution){HF_CAUTION_MODES_TOO_MANY, {(double)modes->named, HF_MODE_LIMIT}, {NULL}});
}

void hf_caution_dwell(const hf_caution_subject *s) {
    double dwell = 0, stated = 0;
    for (size_t i = 0; i < s->pulled->specimen_count; i++) {
        const hf_specimen *part = &s->pulled->specimens[i];
        if (!hf_part_used(part) || part->outcome != HF_OUTCOME_FAILED) continue;
        stated += part->phase != HF_PHASE_NOT_STATED;
        dwell += part->phase == HF_PHASE_DWELL;
    }
    if (dwell > HF_DWELL_SHARE * stated)
        add(s, HF_CAUTION_DWELL_FAILURES, dwell, stated);
    else if (dwell > 0)
        add(s, HF_CAUTION_DWELL_FAILURE, dwell, stated);
}

void hf_caution_trend(const hf_caution_subject *s) {
    const hf_trend_test *test = &s->event->trend;
    if (s->event->order == HF_ORDER_NOT_STATED && test->parts >= HF_TREND_LEAST_PARTS)
        add(s, HF_CAUTION_ORDER_NOT_STATED, NAN, NAN);
    if (test->available && test->trend)
        hf_caution_raise(s->arena, s->list,
                         (hf_caution){HF_CAUTION_TREND,
                                      {(double)test->parts, test->first_to_last, test->significance},
                                      {test->slope < 0 ? "weaker" : "stronger"}});
}
