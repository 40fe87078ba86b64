/* Which cautions a comparison must carry. */
#include <math.h>
#include <string.h>
#include "holdfast/strength/sample.h"
#include "study/compare_parts.h"
#include "study/event.h"
#include "study/limits.h"
#include "study/raise.h"

typedef struct context {
    hf_arena *arena;
    hf_cautions *list;
} context;

static void add(const context *c, hf_caution_code code, double first, double second) {
    hf_caution_raise(c->arena, c->list, (hf_caution){code, {first, second}, {NULL}});
}

static void add_named(const context *c, hf_caution_code code, const char *text, double first) {
    hf_caution_raise(c->arena, c->list, (hf_caution){code, {first}, {text}});
}

static const char *plain_name(const hf_comparison_design *design) {
    return design->design->name && design->design->name[0] ? design->design->name : design->design->id;
}

/* --- One design -------------------------------------------------------------------------------------- */

static void about_outcomes(const context *c, const hf_comparison_design *design,
                           const hf_caution_subject *subject) {
    const hf_assess_counts *counts = &design->event.counts;
    if (design->two_ended)
        add(c, HF_CAUTION_TWO_ENDED, (double)design->ends.pulls, (double)design->ends.ends);
    else
        hf_caution_open_pulls(subject);
    hf_caution_first_rung(subject);
    if (counts->reused > 0) add(c, HF_CAUTION_REUSED, (double)counts->reused, NAN);
    if (counts->planned > 0) add(c, HF_CAUTION_PLANNED_LEFT, (double)counts->planned, NAN);
}

/* From there on the measured coverage of the comparison falls below its promise (docs/coverage.md): steps of 3 standard deviations and more. With
 * fewer parts their own scatter hides the error. */
static void about_steps(const context *c, const hf_comparison_design *design) {
    double step = design->event.step_rms, scatter = design->event.sd_mid;
    if (design->event.counts.failed >= HF_WIDE_STEP_PARTS && step > HF_WIDE_STEP * scatter * (1 + HF_SAME))
        add_named(c, HF_CAUTION_WIDE_STEPS, plain_name(design), scatter > 0 ? step / scatter : NAN);
}

static void about_modes(const context *c, const hf_comparison_design *design) {
    const hf_modes *modes = &design->modes.result;
    hf_text rare = {0};
    double rare_failures = 0;
    hf_caution_many_modes(c->arena, c->list, &design->modes);
    for (size_t i = 0; i < modes->count; i++) {
        const char *name = design->modes.names[i];
        if (!name) add(c, HF_CAUTION_MODE_NOT_STATED, (double)modes->modes[i].failures, NAN);
        if (modes->modes[i].fitted) continue;
        rare_failures += (double)modes->modes[i].failures;
        hf_text_addf(&rare, "%s%s", rare.length ? ", " : "", name ? name : "not stated");
    }
    if (modes->count > 1 && rare.bytes)
        add_named(c, HF_CAUTION_MODE_NOT_FITTED, hf_arena_text(c->arena, rare.bytes, rare.length),
                  rare_failures);
    hf_text_free(&rare);
}

void hf_compare_design_cautions(hf_arena *arena, hf_comparison_design *design) {
    size_t unknown_ends = design->assessment->ends_unknown;
    const context c = {arena, &design->cautions};
    const hf_caution_subject subject = {arena,          &design->cautions, design->design,
                                        design->pulled, &design->event,    design->sample};
    about_outcomes(&c, design, &subject);
    if (unknown_ends > 0) add(&c, HF_CAUTION_END_NOT_STATED, (double)unknown_ends, NAN);
    hf_caution_batches(&subject);
    about_steps(&c, design);
    hf_caution_outlier(&subject);
    hf_caution_dwell(&subject);
    hf_caution_trend(&subject);
    about_modes(&c, design);
    hf_caution_looks(arena, &design->cautions, design->assessment);
    hf_caution_late(arena, &design->cautions, design->assessment->design);
    const hf_cautions *known = &design->assessment->cautions;
    for (size_t i = 0; i < known->count; i++) /* findings of the file itself */
        if (hf_caution_is_finding(known->items[i].code)) hf_caution_raise(arena, c.list, known->items[i]);
}

/* --- One pair ---------------------------------------------------------------------------------------- */

/* Least and greatest number in the order of pulling; false when a pull does not state it. */
static bool order_range(const hf_design *design, double *least, double *most) {
    size_t pulls = 0;
    *least = INFINITY;
    *most = -INFINITY;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *specimen = &design->specimens[i];
        if (specimen->pull.kind == HF_INTERVAL_NONE) continue;
        if (!specimen->order.given) return false;
        *least = fmin(*least, specimen->order.value);
        *most = fmax(*most, specimen->order.value);
        pulls++;
    }
    return pulls > 1;
}

static void about_order(const context *c, const hf_compare_pair_request *request) {
    double least_a, most_a, least_b, most_b;
    if (!order_range(request->a->design, &least_a, &most_a) ||
        !order_range(request->b->design, &least_b, &most_b))
        return;
    if (most_a < least_b || most_b < least_a)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){HF_CAUTION_NOT_INTERLEAVED,
                                      {NAN},
                                      {plain_name(request->a), plain_name(request->b)}});
}

/* Failures by which a scatter is seen. */
static double failures_of(const hf_comparison_design *design) {
    hf_sample_counts counts = hf_sample_count(design->sample);
    return (double)(counts.exact + counts.closed + counts.below);
}

/* The verdict supposes equal scatter, and the fewer failures cannot show whether that is so. */
static void about_unseen_scatter(const context *c, const hf_compare_pair_request *request) {
    double d_a = failures_of(request->a), d_b = failures_of(request->b);
    const hf_comparison_design *few = d_a < d_b ? request->a : request->b;
    if (fmax(d_a, d_b) >= HF_COUNTS_APART * fmin(d_a, d_b))
        add_named(c, HF_CAUTION_SCATTER_UNSEEN, plain_name(few), fmin(d_a, d_b));
}

/* Scatter of both as far as it was seen. */
static void about_scatter(const context *c, const hf_compare_pair_request *request,
                          const hf_comparison_pair *pair) {
    bool welch = pair->method == HF_COMPARISON_WELCH, likelihood = pair->method == HF_COMPARISON_LIKELIHOOD;
    double s_a = welch ? request->a->scatter : pair->separate.available ? pair->separate.s_a : NAN;
    double s_b = welch ? request->b->scatter : pair->separate.available ? pair->separate.s_b : NAN;
    double n_a = (double)request->a->sample.count, n_b = (double)request->b->sample.count;
    double apart = fmax(s_a, s_b) / fmin(s_a, s_b);
    const hf_comparison_design *wide = s_a > s_b ? request->a : request->b,
                               *narrow = s_a > s_b ? request->b : request->a;
    bool small_is_wide = (n_a >= HF_COUNTS_APART * n_b && s_b > s_a * (1 + HF_SAME)) ||
                         (n_b >= HF_COUNTS_APART * n_a && s_a > s_b * (1 + HF_SAME));
    if (likelihood && isnan(apart)) about_unseen_scatter(c, request);
    if (small_is_wide)
        hf_caution_raise(
            c->arena, c->list,
            (hf_caution){welch ? HF_CAUTION_SMALL_GROUP_SCATTERS : HF_CAUTION_SMALL_GROUP_SCATTERS_OPEN,
                         {n_a, n_b},
                         {plain_name(wide)}});
    if (!(apart > HF_SCATTER_APART * (1 + HF_SAME))) return;
    if (welch)
        hf_caution_raise(c->arena, c->list,
                         (hf_caution){HF_CAUTION_SCATTER_APART,
                                      {isfinite(apart) ? apart : NAN},
                                      {plain_name(wide), isfinite(apart) ? NULL : plain_name(narrow)}});
    else
        hf_caution_raise(
            c->arena, c->list,
            (hf_caution){HF_CAUTION_SCATTER_APART_OPEN, {apart, pair->separate.p}, {plain_name(wide)}});
}

static void about_relabeling(const context *c, const hf_compare_pair_request *request,
                             const hf_comparison_pair *pair) {
    const hf_relabel *relabel = &pair->relabel;
    double level = request->options->level;
    if (!relabel->available) return;
    if (relabel->coarsened)
        add_named(c, HF_CAUTION_LADDERS_COARSENED, pair->planned_rungs ? "the plan" : "the pulls",
                  (double)relabel->common_rungs);
    if (relabel->p_floor > level)
        add(c, HF_CAUTION_P_FLOOR, relabel->p_floor, level);
    else if (pair->method == HF_COMPARISON_WELCH && (relabel->p <= level) != (pair->p <= level))
        add(c, HF_CAUTION_TESTS_DISAGREE, pair->p, relabel->p);
}

static double open_of(hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    return (double)(counts.above + counts.below);
}

/* How often two equal designs of one batch each are told apart at a level of 5 % where a quarter of the variance lies between batches
 * (docs/coverage.md). */
static const struct {
    size_t parts;
    double told_apart;
} one_batch_rows[] = {{2, .038}, {3, .090}, {5, .182}, {10, .323}, {20, .469}};

/* Where each part counts for itself although parts of a batch are alike. */
static void about_batches(const context *c, const hf_compare_pair_request *request,
                          const hf_comparison_pair *pair) {
    double n_a = (double)request->a->sample.count, n_b = (double)request->b->sample.count,
           parts = 2 / (1 / n_a + 1 / n_b);
    size_t row = 0, rows = sizeof one_batch_rows / sizeof *one_batch_rows;
    if (pair->method == HF_COMPARISON_BATCH_MEANS) {
        double a = (double)pair->batches_a, b = (double)pair->batches_b;
        if (fmax(a, b) >= HF_COUNTS_APART * fmin(a, b)) add(c, HF_CAUTION_BATCH_COUNTS_APART, a, b);
        return;
    }
    if (pair->method == HF_COMPARISON_NONE || parts < (double)one_batch_rows[0].parts) return;
    while (row + 1 < rows && (double)one_batch_rows[row + 1].parts <= parts) row++;
    bool a, b;
    (void)hf_sample_in_batches(request->a->sample, &a);
    (void)hf_sample_in_batches(request->b->sample, &b);
    double open = a && b ? open_of(request->a->sample) + open_of(request->b->sample) : 0;
    hf_caution_raise(c->arena, c->list,
                     (hf_caution){HF_CAUTION_PAIR_OF_PARTS,
                                  {(double)one_batch_rows[row].parts, one_batch_rows[row].told_apart, open},
                                  {a == b ? NULL : plain_name(a ? request->b : request->a)}});
}

void hf_compare_pair_cautions(hf_arena *arena, const hf_compare_pair_request *request,
                              hf_comparison_pair *pair) {
    const context c = {arena, &pair->cautions};
    double level = request->options->level;
    if (pair->method == HF_COMPARISON_STATED) add(&c, HF_CAUTION_STATED_SCATTER_PAIR, NAN, NAN);
    if (pair->method == HF_COMPARISON_LIKELIHOOD || pair->method == HF_COMPARISON_OPEN_WELCH) {
        double open = open_of(request->a->sample) + open_of(request->b->sample),
               all = (double)(request->a->sample.count + request->b->sample.count);
        add(&c,
            pair->method == HF_COMPARISON_LIKELIHOOD ? HF_CAUTION_OPEN_COMMON_SCATTER
                                                     : HF_CAUTION_OPEN_BY_MIDDLES,
            open, all);
    }
    about_batches(&c, request, pair);
    about_scatter(&c, request, pair);
    about_relabeling(&c, request, pair);
    if (pair->p <= level && pair->p_adjusted > level)
        add(&c, HF_CAUTION_ADJUSTED_AWAY, pair->p, pair->p_adjusted);
    about_order(&c, request);
}
