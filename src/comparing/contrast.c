/* Welch (1947) with the step allowance; two one-sided tests (Schuirmann 1987). */
#include "holdfast/comparing/contrast.h"

#include <math.h>
#include <string.h>
#include "comparing/welch.h"
#include "holdfast/comparing/welch_power.h"
#include "holdfast/numeric/special.h"

static const char *const verdict_codes[] = {
    [HF_VERDICT_CANNOT_TELL] = "cannot_tell",
    [HF_VERDICT_A_STRONGER] = "a_stronger",
    [HF_VERDICT_B_STRONGER] = "b_stronger",
    [HF_VERDICT_SAME_WITHIN] = "same_within",
};

typedef struct reason_row {
    const char *code, *text;
} reason_row;

static const reason_row reasons[] = {
    [HF_CONTRAST_NO_REASON] = {"", ""},
    [HF_CONTRAST_ONE_PART] = {"one_part", "a design with fewer than two pulls shows no scatter"},
    [HF_CONTRAST_ONE_VALUE] = {"one_value", "all readings of each design are equal, so they show no scatter"},
    [HF_CONTRAST_OPEN_OBSERVATIONS] = {"open_observations",
                                       "some pulls ended without a failure or at the first rung"},
    [HF_CONTRAST_NOT_STATED] = {"scatter_not_stated", "no scatter is stated for one of the designs"},
    [HF_CONTRAST_RANGE] =
        {"range", "the level must lie in (0, 1), the power between level and 1, X must not be negative"},
    [HF_CONTRAST_NUMERIC] = {"numeric", "a numerical method did not reach its tolerance"},
};

const char *hf_verdict_code(hf_verdict verdict) {
    return verdict_codes[verdict];
}
const char *hf_contrast_reason_code(hf_contrast_reason reason) {
    return reasons[reason].code;
}
const char *hf_contrast_reason_text(hf_contrast_reason reason) {
    return reasons[reason].text;
}

bool hf_contrast_options_fill(hf_contrast_options *options) {
    if (options->level == 0) options->level = 0.05;
    if (options->power == 0) options->power = 0.80;
    return options->level > 0 && options->level < 1 && options->same_within >= 0 &&
           isfinite(options->same_within) && options->power > options->level && options->power < 1;
}

void hf_contrast_clear(hf_contrast *out) {
    memset(out, 0, sizeof *out);
    out->difference = out->standard_error = out->t = out->degrees_of_freedom = out->p = NAN;
    out->ratio = out->low = out->high = NAN;
    out->p_not_lower = out->p_not_higher = out->p_same = NAN;
    out->smallest_visible_ratio = out->parts_to_settle = NAN;
}

hf_status hf_contrast_refuse(hf_contrast *out, hf_contrast_reason reason) {
    out->available = false;
    out->reason = reason;
    return reason == HF_CONTRAST_RANGE ? HF_RANGE : HF_NO_RESULT;
}

/* Both signs through one tail keeps a swap of A and B exact. */
static double two_sided(double t, double nu) {
    return fmin(1, 2 * hf_t_upper(fabs(t), nu));
}

static void same_within(hf_contrast *out) {
    double margin = log1p(out->same_within);
    out->p_not_lower = hf_t_upper((margin + out->difference) / out->standard_error, out->degrees_of_freedom);
    out->p_not_higher = hf_t_upper((margin - out->difference) / out->standard_error, out->degrees_of_freedom);
    out->p_same = fmax(out->p_not_lower, out->p_not_higher);
}

static void unequal_cautions(const hf_group *a, const hf_group *b, hf_contrast *out) {
    const hf_group *small = a->n < b->n ? a : b, *large = a->n < b->n ? b : a;
    double top = fmax(a->variance, b->variance), bottom = fmin(a->variance, b->variance);
    out->caution_small_group = large->n >= 2 * small->n && small->variance > large->variance;
    out->caution_scatter = top > 4 * bottom;
}

static hf_power_setup setup_of(const hf_group *a, const hf_group *b, double level) {
    return (hf_power_setup){(double)a->n, (double)b->n, a->variance, b->variance, level, false};
}

hf_status hf_contrast_test(const hf_group *a, const hf_group *b, const hf_contrast_options *options,
                           hf_contrast *out) {
    hf_contrast_options filled = options ? *options : (hf_contrast_options){0};
    hf_contrast_clear(out);
    if (!hf_contrast_options_fill(&filled)) return hf_contrast_refuse(out, HF_CONTRAST_RANGE);
    out->level = filled.level;
    out->same_within = filled.same_within;
    out->power = filled.power;
    if (a->n < 2 || b->n < 2) return hf_contrast_refuse(out, HF_CONTRAST_ONE_PART);
    if (!(a->variance + b->variance > 0)) return hf_contrast_refuse(out, HF_CONTRAST_ONE_VALUE);
    hf_power_setup setup = setup_of(a, b, filled.level);
    out->difference = a->mean - b->mean;
    out->standard_error = sqrt(a->variance / setup.n_a + b->variance / setup.n_b);
    out->degrees_of_freedom = hf_power_degrees_of_freedom(&setup);
    out->t = out->difference / out->standard_error;
    out->p = two_sided(out->t, out->degrees_of_freedom);
    double half = hf_t_quantile_upper(0.5 * filled.level, out->degrees_of_freedom) * out->standard_error;
    out->ratio = exp(out->difference);
    out->low = exp(out->difference - half);
    out->high = exp(out->difference + half);
    if (filled.same_within > 0) same_within(out);
    unequal_cautions(a, b, out);
    out->available = true;
    return HF_OK;
}

hf_status hf_contrast_groups(const hf_group *a, const hf_group *b, const hf_contrast_options *options,
                             hf_contrast *out) {
    hf_status status = hf_contrast_test(a, b, options, out);
    if (status != HF_OK) return status;
    hf_power_setup setup = setup_of(a, b, out->level);
    double visible, parts;
    if (hf_welch_power_smallest_difference(&setup, out->power, &visible) == HF_OK)
        out->smallest_visible_ratio = exp(visible);
    if (hf_welch_power_parts(&setup, out->difference, out->power, &parts) == HF_OK)
        out->parts_to_settle = parts;
    return HF_OK;
}
