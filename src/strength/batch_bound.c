#include "holdfast/strength/batch_bound.h"

#include <math.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"
#include "strength/content_search.h"
#include "strength/mids.h"

static hf_status refuse(hf_batch_bound *out, hf_bound_reason reason) {
    out->reason = reason;
    out->value = NAN;
    if (reason == HF_REASON_NUMERIC) return HF_NUMERIC;
    return reason == HF_REASON_RANGE || reason == HF_REASON_STEP_RANGE ? HF_RANGE : HF_NO_RESULT;
}

static void clear(hf_batch_bound *out) {
    *out = (hf_batch_bound){.mean_parts = NAN,
                            .mean = NAN,
                            .between = NAN,
                            .within = NAN,
                            .f_quantile = NAN,
                            .variance_ratio = NAN,
                            .between_share = NAN,
                            .degrees_of_freedom = NAN,
                            .effective_n = NAN,
                            .s = NAN,
                            .k = NAN,
                            .allowance = NAN,
                            .value = NAN};
}

double hf_batch_share_confidence(double confidence) {
    static const double at[] = {0.75, 0.90, 0.95, 0.99}, eta[] = {0.75, 0.80, 0.85, 0.90};
    if (confidence <= at[0]) return eta[0];
    for (size_t i = 1; i < 4; i++)
        if (confidence <= at[i])
            return eta[i] - (eta[i] - eta[i - 1]) * (at[i] - confidence) / (at[i] - at[i - 1]);
    return eta[3];
}

/* The largest share between batches that v/W does not contradict. */
static void share(double confidence, hf_batch_bound *out) {
    double e = out->degrees_within, m = out->mean_parts, others = (double)out->batches - 1;
    out->variance_ratio = INFINITY;
    out->between_share = 1;
    if (e == 0 || out->within == 0) return;
    out->f_quantile = hf_f_quantile_lower(hf_batch_share_confidence(confidence), e, others);
    out->variance_ratio = fmax(0, (out->f_quantile * m * out->between / out->within - 1) / m);
    if (isfinite(out->variance_ratio)) out->between_share = out->variance_ratio / (1 + out->variance_ratio);
}

/* The share between batches is known: it does not hang on the content. */
static hf_status solve_content(double content, double confidence, hf_batch_bound *out) {
    double b = (double)out->batches, e = out->degrees_within, inverse = 1 / out->mean_parts, t;
    out->content = content;
    out->allowance = hf_bound_allowance(NULL, content, INFINITY);
    double rest = (1 - inverse) * (1 - out->between_share);
    double a = out->between_share + (1 - out->between_share) * inverse;
    out->degrees_of_freedom = 1 / (a * a / (b - 1) + (e > 0 ? rest * rest / e : 0));
    out->effective_n = b / a;
    out->s = sqrt(out->between + (e > 0 ? (1 - inverse) * out->within : 0));
    if (!(out->s > 0 || out->h > 0)) return refuse(out, HF_REASON_ONE_VALUE);
    double root = sqrt(out->effective_n);
    if (hf_noncentral_t_quantile(confidence, fmax(1, out->degrees_of_freedom),
                                 hf_normal_quantile_lower(content) * root, &t) != HF_OK)
        return refuse(out, HF_REASON_NUMERIC);
    out->k = t / root;
    out->allowance = hf_bound_allowance(NULL, content, out->k);
    out->value = out->mean - out->k * sqrt(out->s * out->s + out->allowance * out->h * out->h);
    return HF_OK;
}

hf_status hf_batch_bound_solve(double content, double confidence, hf_batch_bound *out) {
    out->content = content;
    out->confidence = confidence;
    out->reason = HF_REASON_NONE;
    out->degrees_within = (double)(out->parts - out->batches);
    out->allowance = hf_bound_allowance(NULL, content, INFINITY);
    if (hf_bound_range(content, confidence, out->h > 0) != HF_OK) return refuse(out, HF_REASON_STEP_RANGE);
    if (out->batches < 2) return refuse(out, HF_REASON_TOO_FEW);
    share(confidence, out);
    return solve_content(content, confidence, out);
}

/* Sizes and means of the batches, then v and W about them. memory: 2·batches, zeroed. */
static hf_status describe(const double *y, const int *batch, size_t count, double *memory,
                          hf_batch_bound *out) {
    double *size = memory, *mean = memory + out->batches, inverse = 0, b = (double)out->batches, squares = 0;
    for (size_t i = 0; i < count; i++) size[batch[i]]++;
    for (size_t i = 0; i < count; i++) mean[batch[i]] += y[i] / size[batch[i]];
    out->mean = out->between = 0;
    for (size_t j = 0; j < out->batches; j++) {
        if (size[j] == 0) return HF_RANGE;
        inverse += 1 / size[j];
        out->mean += mean[j] / b;
    }
    out->mean_parts = b / inverse;
    for (size_t j = 0; j < out->batches; j++)
        out->between += (mean[j] - out->mean) * (mean[j] - out->mean) / (b - 1);
    for (size_t i = 0; i < count; i++) squares += (y[i] - mean[batch[i]]) * (y[i] - mean[batch[i]]);
    out->within = count > out->batches ? squares / ((double)count - b) : 0;
    return HF_OK;
}

hf_status hf_batch_bound_values(const double *y, const int *batch, size_t count, double h, double content,
                                double confidence, hf_batch_bound *out) {
    clear(out);
    out->parts = count;
    out->h = h;
    for (size_t i = 0; i < count; i++) {
        if (batch[i] < 0 || !isfinite(y[i])) return refuse(out, HF_REASON_RANGE);
        if ((size_t)batch[i] >= out->batches) out->batches = (size_t)batch[i] + 1;
    }
    if (out->batches > count) return refuse(out, HF_REASON_RANGE);
    if (out->batches < 2) return refuse(out, HF_REASON_TOO_FEW);
    double *memory = hf_memory_take_zeroed(2 * out->batches, sizeof *memory);
    if (!memory) return HF_MEMORY;
    hf_status status = describe(y, batch, count, memory, out);
    hf_memory_free(memory);
    if (status != HF_OK) return refuse(out, HF_REASON_RANGE);
    return hf_batch_bound_solve(content, confidence, out);
}

/* Numbers the stated batches from 0 in order of appearance, so that a batch whose parts were all left out leaves no gap. */
static hf_status number_batches(hf_sample sample, int *batch, size_t *count) {
    int highest = -1, next = 0;
    *count = 0;
    for (size_t i = 0; i < sample.count; i++)
        if (sample.items[i].batch > highest) highest = sample.items[i].batch;
    int *number = hf_memory_take_zeroed((size_t)highest + 2, sizeof *number);
    if (!number) return HF_MEMORY;
    for (size_t i = 0; i < sample.count; i++) {
        int stated = sample.items[i].batch;
        if (stated < 0) continue;
        if (number[stated] == 0) number[stated] = ++next;
        batch[(*count)++] = number[stated] - 1;
    }
    hf_memory_free(number);
    return HF_OK;
}

hf_status hf_batch_bound_of(hf_sample sample, double content, double confidence, hf_batch_bound *out) {
    const hf_family *scale = &hf_family_lognormal;
    hf_sample_counts counts = hf_sample_count(sample);
    hf_mids mids;
    size_t count;
    clear(out);
    if (counts.above + counts.below > 0) return refuse(out, HF_REASON_OPEN_OBSERVATIONS);
    hf_observation *items = hf_memory_take(sample.count + 1, sizeof *items);
    int *batch = hf_memory_take(sample.count + 1, sizeof *batch);
    hf_status status = items && batch ? number_batches(sample, batch, &count) : HF_MEMORY;
    if (status == HF_OK) {
        size_t kept = 0;
        for (size_t i = 0; i < sample.count; i++)
            if (sample.items[i].batch >= 0) items[kept++] = sample.items[i];
        status = hf_mids_of(scale, (hf_sample){items, kept}, &mids);
    }
    if (status == HF_OK) {
        status = hf_batch_bound_values(mids.y, batch, count, mids.h, content, confidence, out);
        if (status == HF_OK) out->value = exp(out->value);
        hf_mids_free(&mids);
    }
    hf_memory_free(batch);
    hf_memory_free(items);
    return status;
}

typedef struct content_search {
    hf_batch_bound at;
    double confidence, log_load;
} content_search;

/* A content without a bound is not reached. */
static double content_excess(double q, void *context) {
    content_search *search = context;
    hf_status status = solve_content(exp(-exp(q)), search->confidence, &search->at);
    return status == HF_OK ? search->at.value - search->log_load : -1;
}

hf_status hf_batch_bound_content_at(const hf_batch_bound *batch, double load, double confidence,
                                    double *content) {
    const double lowest = batch->h > 0 ? 0.90 : 0.501;
    content_search search = {*batch, confidence, log(load)};
    *content = lowest;
    if (hf_batch_bound_solve(lowest, confidence, &search.at) != HF_OK) return HF_RANGE;
    return hf_content_search(content_excess, &search, lowest, content);
}

double hf_between_factor(double content, double confidence) {
    return hf_normal_quantile_lower(content) + hf_normal_quantile_lower(confidence);
}

hf_status hf_one_batch_bound(double mean, double without, double tau, double content, double confidence,
                             double *reach, double *value) {
    const double own = mean - log(without), between = hf_between_factor(content, confidence) * tau;
    *reach = *value = NAN;
    if (!(tau >= 0 && isfinite(tau) && own >= 0 && isfinite(own))) return HF_RANGE;
    *reach = sqrt(own * own + between * between);
    *value = exp(mean - *reach);
    return HF_OK;
}

hf_status hf_mean_log_load(hf_sample sample, double *mean) {
    hf_sample_counts counts = hf_sample_count(sample);
    hf_mids mids;
    *mean = NAN;
    if (counts.above + counts.below > 0 || sample.count == 0) return HF_NO_RESULT;
    hf_status status = hf_mids_of(&hf_family_lognormal, sample, &mids);
    if (status != HF_OK) return status;
    double sum = 0;
    for (size_t i = 0; i < sample.count; i++) sum += mids.y[i] - mids.y[0];
    *mean = mids.y[0] + sum / (double)sample.count;
    hf_mids_free(&mids);
    return HF_OK;
}
