#include "holdfast/strength/bound.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/special.h"
#include "strength/content_search.h"
#include "strength/mids.h"
#include "strength/open_bound.h"

static const double eighth = 0.125;

static const char *const method_codes[] = {
    [HF_BOUND_NONE] = "none",
    [HF_BOUND_FACTOR] = "factor",
    [HF_BOUND_CONDITIONAL] = "conditional",
    [HF_BOUND_STATED_SCATTER] = "stated_scatter",
    [HF_BOUND_ORDER_STATISTIC] = "order_statistic",
    [HF_BOUND_HANSON_KOOPMANS] = "hanson_koopmans",
    [HF_BOUND_SURVIVORS] = "survivors",
    [HF_BOUND_BATCH] = "batch",
    [HF_BOUND_ONE_BATCH] = "one_batch",
};

typedef struct reason_row {
    const char *code, *text;
} reason_row;

static const reason_row reasons[] = {
    [HF_REASON_NONE] = {"", ""},
    [HF_REASON_OPEN_OBSERVATIONS] = {"open_observations", "not every part failed at a known load"},
    [HF_REASON_TOO_FEW] = {"too_few", "fewer than two parts failed at a known load"},
    [HF_REASON_STEP_RANGE] = {"step_allowance_range",
                              "the step allowance is not proven for this content and confidence"},
    [HF_REASON_ONE_STEP_AND_BELOW] =
        {"one_step_and_below",
         "the failures lie in one step and other parts failed at the first load stated"},
    [HF_REASON_RANGE] = {"range", "content must lie in (0.5, 1) and confidence in [0.5, 1)"},
    [HF_REASON_ONE_VALUE] = {"one_value", "all readings are equal, so they show no scatter"},
    [HF_REASON_MORE_PARTS] = {"more_parts", "it takes more parts to do without a law"},
    [HF_REASON_TABLE_ENDS] = {"table_ends", "not available: tabled only for 2 to 28 parts"},
    [HF_REASON_FACTOR_UNKNOWN] = {"factor_unknown",
                                  "no factor is known for so strict a promise: content up to 0.999999, "
                                  "confidence up to 0.9999"},
    [HF_REASON_LAW_NOT_PROVEN] = {"law_not_proven", "no factor is proven for this law, so it gives no bound"},
    [HF_REASON_NUMERIC] = {"numeric", "a numerical method did not reach its tolerance"},
};

const char *hf_bound_method_code(hf_bound_method method) {
    return method_codes[method];
}
const char *hf_bound_reason_code(hf_bound_reason reason) {
    return reasons[reason].code;
}
const char *hf_bound_reason_text(hf_bound_reason reason) {
    return reasons[reason].text;
}

void hf_bound_clear(hf_bound *out, const hf_family *family, double content, double confidence) {
    memset(out, 0, sizeof *out);
    out->family = family;
    out->content = content;
    out->confidence = confidence;
    out->k = out->m = out->s = out->h = out->value = out->lower_end = out->upper_end = NAN;
    out->k_error = 0;
    out->allowance = family ? family->step_allowance : eighth;
}

hf_status hf_bound_refuse(hf_bound *out, hf_bound_reason reason) {
    out->method = HF_BOUND_NONE;
    out->reason = reason;
    out->value = NAN;
    return reason == HF_REASON_RANGE || reason == HF_REASON_STEP_RANGE ? HF_RANGE : HF_NO_RESULT;
}

hf_status hf_bound_range(double content, double confidence, bool stepped) {
    if (!(content > 0.5 && content < 1 && confidence >= 0.5 && confidence < 1)) return HF_RANGE;
    if (!stepped) return HF_OK;
    if (content >= 0.90 && confidence >= 0.75) return HF_OK;
    return content >= 0.75 && confidence >= 0.90 ? HF_OK : HF_RANGE;
}

double hf_bound_allowance(const hf_family *family, double content, double k) {
    double least = family ? family->step_allowance : eighth;
    return content >= 0.90 ? least : fmax(least, 0.25 / (k * k));
}

double hf_bound_value(const hf_family *family, double m, double s, double h, double k, double allowance) {
    return hf_family_load(family, m - k * sqrt(s * s + allowance * h * h));
}

hf_bound_reason hf_bound_factor_reason(hf_status status) {
    return status == HF_NO_RESULT ? HF_REASON_FACTOR_UNKNOWN : HF_REASON_NUMERIC;
}

static hf_status bound_from_mids(const hf_family *family, const hf_mids *mids, hf_bound *out) {
    bool stepped = mids->h > 0;
    out->n = mids->count;
    if (hf_bound_range(out->content, out->confidence, stepped) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_STEP_RANGE);
    if (mids->count < 2) return hf_bound_refuse(out, HF_REASON_TOO_FEW);
    if (family->estimate(mids->y, mids->count, &out->m, &out->s) != HF_OK)
        return hf_bound_refuse(out, HF_REASON_NUMERIC);
    out->h = mids->h;
    if (out->s == 0 && !stepped) return hf_bound_refuse(out, HF_REASON_ONE_VALUE);
    hf_status status = family->factor(mids->count, out->content, out->confidence, &out->k, &out->k_error);
    if (status != HF_OK) return hf_bound_refuse(out, hf_bound_factor_reason(status));
    out->allowance = hf_bound_allowance(family, out->content, out->k);
    out->method = HF_BOUND_FACTOR;
    out->value = hf_bound_value(family, out->m, out->s, out->h, out->k, out->allowance);
    return HF_OK;
}

hf_status hf_bound_family(const hf_family *family, hf_sample sample, double content, double confidence,
                          hf_bound *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_bound_clear(out, family, content, confidence);
    out->n = sample.count;
    if (hf_bound_range(content, confidence, false) != HF_OK) return hf_bound_refuse(out, HF_REASON_RANGE);
    if (!hf_family_may_govern(family)) return hf_bound_refuse(out, HF_REASON_LAW_NOT_PROVEN);
    if (counts.above + counts.below > 0) return hf_bound_open(family, sample, out);
    hf_mids mids;
    if (hf_mids_of(family, sample, &mids) != HF_OK) return HF_MEMORY;
    hf_status status = bound_from_mids(family, &mids, out);
    hf_mids_free(&mids);
    return status;
}

typedef struct content_search {
    const hf_family *family;
    hf_sample sample;
    double load, confidence;
} content_search;

/* Positive while the bound at this content still lies above the load. The unknown is ln(−ln P). */
static double content_excess(double q, void *context) {
    const content_search *search = context;
    hf_bound bound;
    hf_bound_family(search->family, search->sample, exp(-exp(q)), search->confidence, &bound);
    return bound.value - search->load;
}

hf_status hf_bound_content_at(const hf_family *family, hf_sample sample, double load, double confidence,
                              double *content) {
    content_search search = {family, sample, load, confidence};
    bool stepped = hf_sample_step(sample) > 0;
    double lowest = !stepped ? 0.5 + 1e-9 : confidence >= 0.90 ? 0.75 : 0.90;
    *content = lowest;
    if (hf_bound_range(lowest, confidence, stepped) != HF_OK) return HF_RANGE;
    return hf_content_search(content_excess, &search, lowest, content);
}

bool hf_bound_counts_batches(const hf_bound *bound) {
    return bound->method == HF_BOUND_BATCH || bound->method == HF_BOUND_ONE_BATCH;
}
