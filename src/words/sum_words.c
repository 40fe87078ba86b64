/* Which number of the printed sum is what, and from which pulls it was estimated. */
#include <math.h>
#include "words/assess_words.h"

static const char *or_lost(const char *text) {
    return text ? text : "?";
}

/* How pulls without a failing load between two known ones enter the estimates. */
static const char *unfinished_words(const hf_event_assessment *e) {
    bool held = e->counts.failed<e->counts.used, below = e->counts.below> 0;
    if (held && below)
        return ", counting parts that held as at least that strong and failures at the first load stated as "
               "at "
               "most that strong";
    if (held) return ", counting parts that held as at least that strong";
    return below ? ", counting failures at the first load stated as at most that strong" : "";
}

static const char *location_words(hf_document *d, const hf_event_assessment *e) {
    const hf_bound *bound = e->governing;
    bool logs = bound->family->log_scale, shape = bound->family->has_shape;
    bool middles = bound->h > 0 || (bound->scatter.at_middles && e->step_rms > 0);
    const char *from = middles ? "middles of the steps" : "readings";
    if (bound->method == HF_BOUND_CONDITIONAL)
        return or_lost(hf_arena_format(d->arena, "%s of the %s law fitted to the %s%s",
                                       shape  ? "scale"
                                       : logs ? "median"
                                              : "mean",
                                       bound->family->label, from, unfinished_words(e)));
    if (bound->method == HF_BOUND_STATED_SCATTER) {
        const char *what = shape
                               ? hf_arena_format(d->arena, "scale of the %s law of the stated scatter, from",
                                                 bound->family->label)
                           : logs ? "geometric mean of"
                                  : "mean of";
        bool held = bound->scatter.degrees == 0 && !bound->scatter.at_middles;
        return or_lost(
            hf_arena_format(d->arena, "%s the %s%s", or_lost(what), held ? "loads held" : from,
                            bound->n > e->counts.failed ? ", parts that held with what they held" : ""));
    }
    if (bound->s == 0) return "the middle of the one step in which all failed";
    if (shape)
        return or_lost(
            hf_arena_format(d->arena, "scale of the %s law fitted to the %s", bound->family->label, from));
    return or_lost(hf_arena_format(d->arena, "%s of the %s", logs ? "geometric mean" : "mean", from));
}

/* s of a stated scatter, so that it can be redone: the root of the weighted mean of two squares. */
static const char *stated_words(hf_document *d, const hf_bound *bound, int figures) {
    const hf_bound_scatter *of = &bound->scatter;
    if (of->degrees == 0) return "the stated scatter, not seen in these pulls";
    const char *stated = hf_figures_text(d, of->stated, figures), *own = hf_figures_text(d, of->own, figures);
    const char *worth = hf_figures_text(d, of->degrees, figures);
    if (of->own_degrees == 0)
        return or_lost(
            hf_arena_format(d->arena, "the stated scatter of ln load, worth %s degrees of freedom", worth));
    return or_lost(hf_arena_format(
        d->arena,
        "√((%s × %s² + %s × %s²) ÷ %s), the stated scatter of ln load (%s) and that of these pulls, "
        "weighted by the degrees of freedom they are worth",
        worth, stated, hf_figures_text(d, of->own_degrees, figures), own,
        hf_figures_text(d, of->degrees + of->own_degrees, figures), stated));
}

static const char *spread_words(hf_document *d, const hf_bound *bound, int figures) {
    if (bound->method == HF_BOUND_STATED_SCATTER) return stated_words(d, bound, figures);
    if (bound->s == 0) return "the pulls show no scatter";
    if (bound->family->has_shape) return "1 over its shape";
    if (bound->method == HF_BOUND_CONDITIONAL) return "its standard deviation, widened for the few failures";
    return bound->family->log_scale ? "standard deviation of their logarithms" : "their standard deviation";
}

static const char *factor_words(hf_document *d, const hf_event_assessment *e) {
    const hf_bound *bound = e->governing;
    const char *parts = e->of_fittings ? "fittings" : bound->n == 1 ? "part" : "parts";
    if (bound->method == HF_BOUND_CONDITIONAL)
        return or_lost(
            hf_arena_format(d->arena, "the factor worked out for just these %zu %s", bound->n, parts));
    const char *how = bound->method == HF_BOUND_STATED_SCATTER ? " with stated scatter" : "";
    if (bound->scatter.confidence_used > bound->confidence)
        how = hf_arena_format(d->arena, "%s, taken at %s so that it keeps what is promised", how,
                              hf_show_text(d, HF_AS_CONFIDENCE, bound->scatter.confidence_used));
    return or_lost(hf_arena_format(d->arena, "the factor for %zu %s%s", bound->n, parts, how ? how : ""));
}

void hf_sum_explain_pair(hf_document *d, const hf_design_assessment *a, const hf_bound *bound) {
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "The loads are the lowest that was held and no. %zu from below of %zu at its upper end; %s: the "
        "factor for so many parts, at least %s of "
        "all parts stronger, %s confidence%s, for a wide class of strength laws. Results are rounded down.",
        bound->rank, bound->n, hf_show_text(d, HF_AS_TO_REDO, bound->k),
        hf_show_text(d, HF_AS_SHARE_STATED, bound->content),
        hf_show_text(d, HF_AS_SHARE_STATED, bound->confidence), hf_confidence_words(d, a));
}

void hf_sum_explain_batches(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e,
                            int figures) {
    const hf_bound *bound = e->governing;
    const hf_batch_bound *b = &e->batch_bound;
    const char *within = b->within > 0 ? hf_figures_text(d, b->within, figures) : "0";
    const char *step = "";
    if (bound->h > 0)
        step = or_lost(hf_arena_format(d->arena, " %s: the step size, as a difference of logarithms.",
                                       hf_figures_text(d, bound->h, figures)));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%s: geometric mean of the means of %zu batches. %s: √(v + (1 − 1/m) × W) of ln load, v "
                     "= %s the variance "
                     "of the batch means, W = %s that within batches, m = %s parts in a batch. %s: the "
                     "factor for %s effective "
                     "parts with %s degrees of freedom, at least %s of all parts stronger, %s confidence%s; "
                     "up to %s of the "
                     "variance between batches is counted.%s Results are rounded down.",
                     hf_bare_load(d, exp(bound->m), figures), b->batches,
                     hf_figures_text(d, bound->s, figures), hf_figures_text(d, b->between, figures), within,
                     hf_show_text(d, HF_AS_FACTOR, b->mean_parts), hf_figures_text(d, bound->k, figures),
                     hf_show_text(d, HF_AS_FACTOR, b->effective_n),
                     hf_show_text(d, HF_AS_FACTOR, b->degrees_of_freedom),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->confidence), hf_confidence_words(d, a),
                     b->between_share == 1 ? "all" : hf_show_text(d, HF_AS_SHARE, b->between_share), step);
}

void hf_sum_explain_between(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e,
                            int figures) {
    const hf_bound *bound = e->governing, *without = e->without_batches;
    const double factor = e->between_factor;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%s: geometric mean of the pulls. %s: √(ln(%s ÷ %s)² + (%s × %s)²), %s the bound that "
                     "ignores batches "
                     "(%s), %s the stated scatter of ln load between batches, %s the sum of the normal "
                     "quantiles of %s and %s%s. "
                     "Results are rounded down.",
                     hf_bare_load(d, exp(bound->m), figures), hf_figures_text(d, bound->s, figures),
                     hf_bare_load(d, exp(bound->m), figures), hf_bare_load(d, without->value, figures),
                     hf_figures_text(d, factor, figures), hf_figures_text(d, e->between, figures),
                     hf_bare_load(d, without->value, figures),
                     without->family ? without->family->label : "no law",
                     hf_figures_text(d, e->between, figures), hf_figures_text(d, factor, figures),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->confidence), hf_confidence_words(d, a));
}

void hf_sum_explain(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e, int figures,
                    bool down) {
    const hf_bound *bound = e->governing;
    bool logs = bound->family->log_scale;
    const char *m = hf_bare_load(d, logs ? exp(bound->m) : bound->m, figures);
    const char *s = logs ? hf_figures_text(d, bound->s, figures) : hf_bare_load(d, bound->s, figures);
    const char *h = logs ? hf_figures_text(d, bound->h, figures) : hf_bare_load(d, bound->h, figures);
    const char *step = "", *allowance = "";
    if (bound->h > 0)
        step = hf_arena_format(d->arena, " %s: the step size%s.", h,
                               logs ? ", as a difference of logarithms" : "");
    if (bound->h > 0 && hf_sum_divisor(bound->allowance) == 0)
        allowance = hf_arena_format(d->arena, " %s: the step allowance below a content of 90 %%.",
                                    hf_figures_text(d, bound->allowance, figures));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%s: %s. %s: %s, at least %s of all parts stronger, %s confidence%s%s. %s: %s.%s%s %s",
                     m, location_words(d, e), hf_figures_text(d, bound->k, figures), factor_words(d, e),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, bound->confidence), hf_confidence_words(d, a),
                     hf_governing_rejected(e) ? " (law rejected)" : "", s, spread_words(d, bound, figures),
                     step ? step : "", allowance ? allowance : "",
                     !(bound->value > 0) ? "There is no bound above 0: these pulls promise no load."
                     : down              ? "Results are rounded down."
                                         : "Results are rounded so far that their line confirms them.");
}
