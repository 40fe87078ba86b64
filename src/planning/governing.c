#include "planning/governing.h"

#include <math.h>
#include "holdfast/strength/order_statistic.h"

hf_status hf_bound_by_scatter(const hf_family *family, hf_sample sample, const hf_stated_scatter *scatter,
                              double content, double confidence, hf_bound *out) {
    hf_status status = hf_bound_stated_scatter(family, sample, *scatter, content, confidence, out);
    const hf_family *instead = hf_family_find("lognormal");
    return status == HF_OK || status == HF_MEMORY
               ? status
               : hf_bound_stated_scatter(instead, sample, *scatter, content, confidence, out);
}

hf_status hf_governing_bound(const hf_family *family, hf_sample sample, const hf_stated_scatter *scatter,
                             double content, double confidence, hf_bound *out) {
    if (scatter && sample.count <= HF_SCATTER_PARTS &&
        hf_bound_by_scatter(family, sample, scatter, content, confidence, out) == HF_OK)
        return HF_OK;
    hf_status status = hf_bound_family(family, sample, content, confidence, out);
    if (status == HF_OK || status == HF_MEMORY) return status;
    if (scatter && hf_bound_by_scatter(family, sample, scatter, content, confidence, out) == HF_OK)
        return HF_OK;
    return hf_bound_order_statistic(sample, content, confidence, out);
}

hf_status hf_scatter_factor(const hf_family *family, size_t n, const hf_stated_scatter *scatter,
                            double content, double confidence, double *k) {
    hf_observation one[HF_SCATTER_PARTS];
    hf_bound bound;
    if (n < 1 || n > HF_SCATTER_PARTS) return HF_RANGE;
    for (size_t i = 0; i < n; i++) one[i] = (hf_observation){HF_OBSERVED_EXACT, 1, 1, false, -1};
    hf_status status = hf_bound_by_scatter(family, (hf_sample){one, n}, scatter, content, confidence, &bound);
    *k = status == HF_OK ? bound.k : NAN;
    return status;
}
