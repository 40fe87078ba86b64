#include "planning/governing.h"

#include <math.h>
#include "holdfast/base/memory.h"
#include "holdfast/strength/order_statistic.h"

static bool by_scatter(hf_sample sample, hf_governing_scatter scatter, double content, double confidence,
                       hf_bound *out) {
    const hf_scatter_factors *factors = scatter.factors ? &scatter.factors[sample.count] : NULL;
    return !hf_stated_scatter_confront(sample, *scatter.stated).contradicted &&
           hf_bound_stated_scatter(sample, *scatter.stated, factors, content, confidence, out) == HF_OK;
}

static bool handed_over(size_t parts, hf_governing_scatter scatter, double content, double confidence) {
    size_t from = scatter.factors ? scatter.hands_over
                                  : hf_scatter_hands_over(*scatter.stated, content, confidence, parts);
    return from > 0 && parts >= from;
}

hf_status hf_governing_bound(const hf_family *family, hf_sample sample, hf_governing_scatter scatter,
                             double content, double confidence, hf_bound *out) {
    bool own_leads = scatter.stated && handed_over(sample.count, scatter, content, confidence);
    if (scatter.stated && !own_leads && by_scatter(sample, scatter, content, confidence, out)) return HF_OK;
    hf_status status = hf_bound_family(family, sample, content, confidence, out);
    if (status == HF_OK || status == HF_MEMORY) return status;
    if (own_leads && by_scatter(sample, scatter, content, confidence, out)) return HF_OK;
    return hf_bound_order_statistic(sample, content, confidence, out);
}

hf_status hf_stated_factor(size_t n, hf_stated_scatter scatter, double content, double confidence,
                           double *k) {
    const hf_observation alike = {HF_INTERVAL_EXACT, 1, 1, false, -1};
    hf_bound bound;
    if (n < 1 || n > SIZE_MAX / sizeof alike) return HF_RANGE;
    hf_observation *items = hf_memory_take(n, sizeof *items);
    if (!items) return HF_MEMORY;
    for (size_t i = 0; i < n; i++) items[i] = alike;
    hf_status status =
        hf_bound_stated_scatter((hf_sample){items, n}, scatter, NULL, content, confidence, &bound);
    *k = status == HF_OK ? bound.k : NAN;
    hf_memory_free(items);
    return status;
}
