/* Which number of the printed sum is what. */
#include <math.h>
#include "report/document.h"

static const char *location_words(const hf_bound *bound) {
    bool logs = bound->family->log_scale, shape = bound->family->has_shape;
    if (bound->method == HF_BOUND_CONDITIONAL)
        return shape  ? "scale of the Weibull law fitted to failed and unfailed parts together"
               : logs ? "median of the lognormal law fitted to failed and unfailed parts together"
                      : "mean of the normal law fitted to failed and unfailed parts together";
    if (bound->method == HF_BOUND_STATED_SCATTER && shape)
        return "scale of the Weibull law of the stated scatter, from the loads held";
    if (bound->method == HF_BOUND_STATED_SCATTER && bound->h == 0)
        return logs ? "geometric mean of the loads held" : "mean of the loads held";
    if (bound->s == 0) return "the middle of the one step in which all failed";
    return shape  ? "scale of the fitted Weibull law"
           : logs ? "geometric mean of the middles"
                  : "mean of the middles";
}

static const char *spread_words(const hf_bound *bound) {
    if (bound->method == HF_BOUND_STATED_SCATTER) return "the stated scatter, not seen in these pulls";
    if (bound->s == 0) return "the pulls show no scatter";
    if (bound->family->has_shape) return "1 over its shape";
    if (bound->method == HF_BOUND_CONDITIONAL) return "its standard deviation, widened for the few failures";
    return bound->family->log_scale ? "standard deviation of their logarithms" : "their standard deviation";
}

static const char *factor_words(hf_document *d, const hf_bound *bound) {
    const char *parts = bound->n == 1 ? "part" : "parts";
    const char *words =
        bound->method == HF_BOUND_CONDITIONAL
            ? hf_arena_format(d->arena, "the factor for just these %zu %s, failed and unfailed", bound->n,
                              parts)
        : bound->method == HF_BOUND_STATED_SCATTER
            ? hf_arena_format(d->arena, "the factor for %zu %s with stated scatter", bound->n, parts)
            : hf_arena_format(d->arena, "the factor for %zu %s", bound->n, parts);
    return words ? words : "the factor";
}

void hf_sum_explain(hf_document *d, const hf_bound *bound, int figures) {
    bool logs = bound->family->log_scale;
    const char *m = hf_bare_load(d, logs ? exp(bound->m) : bound->m, figures);
    const char *s = logs ? hf_figures_text(d, bound->s, figures) : hf_bare_load(d, bound->s, figures);
    const char *h = logs ? hf_figures_text(d, bound->h, figures) : hf_bare_load(d, bound->h, figures);
    const char *step = "", *allowance = "";
    if (bound->h > 0)
        step = hf_arena_format(d->arena, " %s: the step size%s.", h,
                               logs ? ", as a difference of logarithms" : "");
    if (bound->h > 0 && bound->allowance != 0.125)
        allowance = hf_arena_format(d->arena, " %s: the step allowance below a content of 90 %%.",
                                    hf_figures_text(d, bound->allowance, figures));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%s: %s. %s: %s, at least %s of all parts stronger, %s confidence. %s: %s.%s%s", m,
                     location_words(bound), hf_figures_text(d, bound->k, figures), factor_words(d, bound),
                     hf_percent_text(d, bound->content, 5), hf_percent_text(d, bound->confidence, 5), s,
                     spread_words(bound), step ? step : "", allowance ? allowance : "");
}
