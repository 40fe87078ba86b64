#include "strength/content_search.h"

#include <math.h>

static const double highest_content = 0.99999;

hf_status hf_content_search(hf_function excess, void *context, double lowest, double *content) {
    double low = log(-log(highest_content)), high = log(-log(lowest)), q;
    *content = lowest;
    double at_high = excess(high, context);
    if (isnan(at_high)) return HF_NO_RESULT;
    if (at_high < 0) return HF_RANGE;
    *content = highest_content;
    if (excess(low, context) >= 0) return HF_OK;
    hf_status status = hf_solve_root(excess, context, low, high, 1e-7, 1e-7, &q);
    if (status == HF_OK) *content = exp(-exp(q));
    return status;
}
