/* The trade's rules on the normal law of the middles. What a rule without stated confidence really promises is
 * computed: the chance for the next part by Student's t, the confidence that 90 % are stronger by the noncentral t. */
#include "holdfast/strength/trade.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/special.h"
#include "holdfast/strength/family.h"
#include "strength/mids.h"
#include "strength/normal.h"

typedef struct trade_data {
    double mean, deviation, h, lowest;
    size_t n;
} trade_data;

typedef struct trade_rule {
    const char *code, *label, *source, *promise;
    double content, confidence; /* NaN when the rule states none */
    double (*factor)(size_t n); /* NULL: noncentral t, or the lowest value where content is NaN too */
} trade_rule;

static double three(size_t n) {
    return n >= 2 ? 3 : NAN;
}
static double en1990(size_t n) {
    return hf_trade_en1990_factor(n, false);
}

double hf_trade_en1990_factor(size_t n, bool scatter_known) {
    if (n < (scatter_known ? 1u : 2u)) return NAN;
    double size = (double)n;
    double quantile = scatter_known ? hf_normal_quantile_lower(0.95) : hf_t_quantile_upper(0.05, size - 1);
    return quantile * sqrt(1 + 1 / size);
}

static const trade_rule rules[HF_TRADE_COUNT] = {
    {"mean_minus_3_sd", "mean − 3 SD", "rope and rigging; common practice, no published source named",
     "three_sd", NAN, NAN, three},
    {"lowest_of_n", "lowest of n", "workshops; common practice, no published source named", "lowest", NAN,
     NAN, NULL},
    {"en1990_d1", "EN 1990 D1, 5 %", "building, EN 1990:2002 Annex D, table D1, scatter unknown",
     "prediction", NAN, NAN, en1990},
    {"95_75", "95/75",
     "timber, the level of EN 14358 (there for the lognormal law; not compared with its text)", "tolerance",
     0.95, 0.75, NULL},
    {"95_90", "95/90", "anchors, the level of EAD 330232 (not compared with its text)", "tolerance", 0.95,
     0.90, NULL},
    {"90_95", "90/95", "aircraft materials, the B-basis of MIL-HDBK-17-1F and 14 CFR 23.613", "tolerance",
     0.90, 0.95, NULL},
    {"99_95", "99/95", "aircraft materials, the A-basis of MIL-HDBK-17-1F and 14 CFR 23.613", "tolerance",
     0.99, 0.95, NULL},
};

static void refuse(hf_trade_result *out, const char *reason) {
    out->value = NAN;
    out->reason = reason;
}

static void tolerance_rule(const trade_data *data, const trade_rule *rule, hf_trade_result *out) {
    double error;
    if (hf_normal_factor(data->n, rule->content, rule->confidence, &out->factor, &error) != HF_OK) {
        refuse(out, "numeric");
        return;
    }
    double spread = sqrt(data->deviation * data->deviation + data->h * data->h / 8);
    out->value = data->mean - out->factor * spread;
}

static void factor_rule(const trade_data *data, hf_trade_result *out) {
    double n = (double)data->n, root = sqrt(n), k = out->factor;
    out->value = data->mean - k * data->deviation;
    out->next_below = hf_t_lower(-k / sqrt(1 + 1 / n), n - 1);
    out->confidence_real = hf_noncentral_t_lower(k * root, n - 1, hf_normal_quantile_lower(0.90) * root);
}

static void one_rule(const trade_data *data, const trade_rule *rule, const char *reason,
                     hf_trade_result *out) {
    memset(out, 0, sizeof *out);
    out->code = rule->code;
    out->label = rule->label;
    out->source = rule->source;
    out->promise = rule->promise;
    out->content = rule->content;
    out->confidence = rule->confidence;
    out->factor = out->value = out->next_below = out->confidence_real = NAN;
    bool lowest = !rule->factor && isnan(rule->content);
    if (reason) {
        refuse(out, reason);
    } else if (lowest) {
        out->value = data->lowest;
        out->next_below = 1 / (double)(data->n + 1);
        out->confidence_real = -expm1((double)data->n * log(0.90));
    } else if (rule->factor) {
        out->factor = rule->factor(data->n);
        factor_rule(data, out);
    } else {
        tolerance_rule(data, rule, out);
    }
}

void hf_trade_all(hf_sample sample, hf_trade_result *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    trade_data data = {.mean = NAN, .deviation = NAN, .lowest = INFINITY};
    const char *reason = counts.above + counts.below > 0 ? "open_observations" : NULL;
    hf_mids mids;
    if (hf_mids_of(&hf_family_normal, sample, &mids) != HF_OK) {
        for (size_t i = 0; i < HF_TRADE_COUNT; i++) one_rule(&data, &rules[i], "memory", &out[i]);
        return;
    }
    data.n = mids.count;
    data.h = mids.h;
    for (size_t i = 0; i < sample.count; i++) data.lowest = fmin(data.lowest, sample.items[i].lower);
    if (!reason && mids.count < 2) reason = "too_few";
    if (!reason) (void)hf_mean_deviation_estimate(mids.y, mids.count, &data.mean, &data.deviation);
    if (!reason && data.deviation == 0 && data.h == 0) reason = "one_value";
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) one_rule(&data, &rules[i], reason, &out[i]);
    hf_mids_free(&mids);
}
