/* The p, ratio and interval a verdict rests on, by whichever way these pulls allow. */
#include <math.h>
#include <string.h>
#include "holdfast/comparing/power.h"
#include "holdfast/numeric/special.h"
#include "study/compare_parts.h"
#include "study/limits.h"

const char *hf_comparison_method_code(hf_comparison_method method) {
    static const char *const codes[] = {"none",       "welch",          "likelihood",
                                        "welch_open", "stated_scatter", "batch_means"};
    return codes[method];
}

static size_t finished(hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    return counts.exact + counts.closed;
}

static hf_status refuse(hf_comparison_pair *out, const char *reason, const char *text) {
    out->method = HF_COMPARISON_NONE;
    out->reason = reason;
    out->reason_text = text;
    out->visible_reason = reason;
    return HF_OK;
}

static hf_contrast_options contrast_options(const hf_comparison_options *options) {
    return (hf_contrast_options){options->level, options->same_within, HF_USUAL_POWER};
}

static void take_contrast(const hf_contrast *contrast, hf_comparison_method method, hf_comparison_pair *out) {
    out->method = method;
    out->ratio = contrast->ratio;
    out->low = contrast->low;
    out->high = contrast->high;
    out->p = contrast->p;
    out->p_same = contrast->p_same;
    out->t = contrast->t;
    out->degrees_of_freedom = contrast->degrees_of_freedom;
    out->smallest_visible_ratio = contrast->smallest_visible_ratio;
    out->parts_to_settle = contrast->parts_to_settle;
    out->visible_reason = method == HF_COMPARISON_STATED ? "scatter_stated" : "not_visible";
}

/* --- Finished pulls ---------------------------------------------------------------------------------- */

/* Of the parts, or, where both have two, of the batches. *by_batches tells which. */
static hf_status groups_of(hf_arena *arena, const hf_compare_pair_request *request, hf_group parts[2],
                           hf_group batches[2], bool *by_batches) {
    hf_sample a = request->a->sample, b = request->b->sample;
    hf_status status = hf_group_of(arena, a, &parts[0]);
    if (status == HF_OK) status = hf_group_of(arena, b, &parts[1]);
    if (status != HF_OK) return status;
    status = hf_group_of_batches(arena, a, &batches[0]);
    if (status == HF_OK) status = hf_group_of_batches(arena, b, &batches[1]);
    *by_batches = status == HF_OK;
    return status == HF_MEMORY ? status : HF_OK;
}

static hf_status by_welch(hf_arena *arena, const hf_compare_pair_request *request, hf_comparison_pair *out) {
    hf_contrast_options options = contrast_options(request->options);
    hf_contrast contrast;
    hf_group parts[2], batches[2];
    bool by_batches;
    hf_status status = groups_of(arena, request, parts, batches, &by_batches);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK) return refuse(out, "range", "a load is not above 0");
    const hf_group *of = by_batches ? batches : parts;
    (void)hf_contrast_groups(&of[0], &of[1], &options, &contrast);
    if (!contrast.available)
        return refuse(out, hf_contrast_reason_code(contrast.reason),
                      hf_contrast_reason_text(contrast.reason));
    take_contrast(&contrast, by_batches ? HF_COMPARISON_BATCH_MEANS : HF_COMPARISON_WELCH, out);
    if (!by_batches) return HF_OK;
    out->batches_a = batches[0].n;
    out->batches_b = batches[1].n;
    out->batches_to_settle = out->parts_to_settle;
    out->parts_to_settle = NAN;
    (void)hf_contrast_test(&parts[0], &parts[1], &options, &contrast);
    out->p_by_parts = contrast.p;
    return HF_OK;
}

/* --- Stated scatter ---------------------------------------------------------------------------------- */

/* The scatter stated for the design; else, with two finished pulls or more and none open, the one its own pulls show. */
static bool scatter_of(hf_arena *arena, const hf_comparison_design *design, hf_stated_scatter *out) {
    const hf_scatter *stated = &design->design->scatter;
    hf_group group;
    *out = hf_scatter_stated(stated);
    if (stated->given) return true;
    if (design->sample.count < 2 || hf_group_of(arena, design->sample, &group) != HF_OK ||
        !(group.variance > 0))
        return false;
    *out =
        (hf_stated_scatter){.cv = sqrt(expm1(group.variance)), .degrees_of_freedom = (double)(group.n - 1)};
    return true;
}

static bool any_stated(const hf_compare_pair_request *request) {
    return request->a->design->scatter.given || request->b->design->scatter.given;
}

static bool by_stated_scatter(hf_arena *arena, const hf_compare_pair_request *request,
                              hf_comparison_pair *out) {
    hf_contrast_options options = contrast_options(request->options);
    hf_stated_scatter a, b;
    hf_contrast contrast;
    if (!any_stated(request) || !scatter_of(arena, request->a, &a) || !scatter_of(arena, request->b, &b))
        return false;
    (void)hf_contrast_stated(request->a->sample, request->b->sample, a, b, &options, &contrast);
    if (!contrast.available) return false;
    take_contrast(&contrast, HF_COMPARISON_STATED, out);
    return true;
}

/* --- Unfinished pulls -------------------------------------------------------------------------------- */

/* From the interval back to a standard error, so that the power figures speak of the same test; n finished parts carry it. */
static void fill_power(const hf_compare_pair_request *request, double level, hf_comparison_pair *out) {
    double t = hf_t_quantile_upper(0.5 * level, out->degrees_of_freedom), difference = log(out->ratio), parts;
    double error = (log(out->high) - log(out->low)) / (2 * t), n_a = (double)request->a->sample.count,
           n_b = (double)request->b->sample.count;
    out->smallest_visible_ratio = out->parts_to_settle = NAN;
    out->visible_reason = isnan(out->ratio) ? "open" : "open_interval";
    if (!isfinite(error) || !(error > 0)) return;
    double each = 0.5 * out->degrees_of_freedom + 1;
    hf_power_setup setup = {each, each, 0.5 * each * error * error, 0.5 * each * error * error, level, false};
    if (hf_power_smallest_difference(&setup, HF_USUAL_POWER, &difference) == HF_OK)
        out->smallest_visible_ratio = exp(difference);
    double pulled = 2 / (1 / n_a + 1 / n_b);
    setup.variance_a = setup.variance_b = 0.5 * pulled * error * error;
    if (hf_power_parts(&setup, fabs(log(out->ratio)), HF_USUAL_POWER, &parts) == HF_OK)
        out->parts_to_settle = ceil(parts - 1e-9);
}

static void take_open(const hf_compare_pair_request *request, const hf_open_compare *open,
                      hf_comparison_method method, hf_comparison_pair *out) {
    out->method = method;
    out->ratio = open->ratio;
    out->low = open->low;
    out->high = open->high;
    out->p = open->p;
    out->t = method == HF_COMPARISON_OPEN_WELCH ? open->statistic : NAN;
    out->degrees_of_freedom = open->degrees_of_freedom;
    fill_power(request, request->options->level, out);
}

static const char *open_reason_text(const char *reason) {
    static const char *const words[][2] = {
        {"too_few", "too few pulls ended in a failure: three in both designs together are needed"},
        {"no_maximum", "all failures lie in one place, so that the scatter cannot be seen"},
        {"range", "a load is not above 0"},
        {"numeric", "the search for the interval did not settle; report this with the file"},
    };
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i][0], reason) == 0) return words[i][1];
    return reason;
}

/* P(A > B) of two lognormal laws. */
static double fitted_chance(const hf_open_compare *open) {
    if (!open->available || !isfinite(open->difference)) return NAN;
    return hf_normal_upper(-open->difference / hypot(open->s_a, open->s_b));
}

static hf_status by_likelihood(hf_arena *arena, const hf_compare_pair_request *request,
                               hf_comparison_pair *out) {
    const hf_family *family = &hf_family_lognormal;
    hf_open_compare_options own = {false, request->options->level};
    hf_sample a = request->a->sample, b = request->b->sample;
    hf_open_compare open;
    if (hf_open_compare_likelihood(family, a, b, &own, &out->separate) == HF_MEMORY) return HF_MEMORY;
    if (hf_open_compare_of(a, b, request->options->level, &open) == HF_MEMORY) return HF_MEMORY;
    out->fitted_chance = fitted_chance(out->separate.available ? &out->separate : &open);
    if (open.available) {
        take_open(request, &open, open.common_spread ? HF_COMPARISON_LIKELIHOOD : HF_COMPARISON_OPEN_WELCH,
                  out);
        return HF_OK;
    }
    if (by_stated_scatter(arena, request, out)) return HF_OK;
    return refuse(out, open.reason, open_reason_text(open.reason));
}

/* --- All of it --------------------------------------------------------------------------------------- */

static bool all_finished(const hf_compare_pair_request *request) {
    return finished(request->a->sample) == request->a->sample.count &&
           finished(request->b->sample) == request->b->sample.count;
}

hf_status hf_compare_verdict_evidence(hf_arena *arena, const hf_compare_pair_request *request,
                                      hf_comparison_pair *out) {
    size_t n_a = request->a->sample.count, n_b = request->b->sample.count;
    out->ratio = out->low = out->high = out->p = out->p_same = out->t = out->degrees_of_freedom = NAN;
    out->smallest_visible_ratio = out->parts_to_settle = out->batches_to_settle = out->p_by_parts = NAN;
    out->power = HF_USUAL_POWER;
    out->fitted_chance = NAN;
    if (n_a < 1 || n_b < 1) return refuse(out, "no_pulls", "one of the two has no pulls yet");
    if (!all_finished(request)) return by_likelihood(arena, request, out);
    if (n_a > 1 && n_b > 1) return by_welch(arena, request, out);
    if (by_stated_scatter(arena, request, out)) return HF_OK;
    return refuse(out, "one_part", "one part shows no scatter, and none is stated");
}

/* Open pulls give no pair of one-sided tests; there the same is asked of the interval at twice the level. */
static bool surely_same(const hf_compare_pair_request *request, const hf_comparison_pair *pair) {
    double within = request->options->same_within;
    hf_open_compare_options wider = {pair->method == HF_COMPARISON_LIKELIHOOD, 2 * request->options->level};
    hf_open_compare open;
    if (!(within > 0) || !(wider.level < 1)) return false;
    if (!isnan(pair->p_same)) return pair->p_same <= request->options->level;
    if (pair->method == HF_COMPARISON_LIKELIHOOD)
        (void)hf_open_compare_likelihood(&hf_family_lognormal, request->a->sample, request->b->sample, &wider,
                                         &open);
    else if (pair->method == HF_COMPARISON_OPEN_WELCH)
        (void)hf_open_compare_welch(&hf_family_lognormal, request->a->sample, request->b->sample, &wider,
                                    &open);
    else
        return false;
    return open.available && open.low >= 1 / (1 + within) && open.high <= 1 + within;
}

bool hf_comparison_first_leads(const hf_comparison_pair *pair) {
    return isnan(pair->ratio) ? pair->low >= 1 : pair->ratio > 1;
}

hf_verdict hf_compare_verdict(const hf_compare_pair_request *request, const hf_comparison_pair *pair) {
    if (pair->method == HF_COMPARISON_NONE) return HF_VERDICT_CANNOT_TELL;
    if (surely_same(request, pair)) return HF_VERDICT_SAME_WITHIN;
    if (!(pair->p_adjusted <= request->options->level)) return HF_VERDICT_CANNOT_TELL;
    return hf_comparison_first_leads(pair) ? HF_VERDICT_A_STRONGER : HF_VERDICT_B_STRONGER;
}

/* How many times stricter than the level Holm's rule asks of this pair among `compared`; where p adjusted stops at 1, as strictly as of the first. */
static double holm_share(const hf_comparison_pair *pair, size_t compared) {
    return pair->p > 0 && pair->p_adjusted < 1 ? pair->p_adjusted / pair->p : (double)compared;
}

hf_status hf_compare_decide(hf_arena *arena, const hf_compare_pair_request *request, size_t compared,
                            bool turned, hf_comparison_pair *pair) {
    bool same = pair->verdict == HF_VERDICT_SAME_WITHIN;
    double level = request->options->level * (same ? 2 : 1 / holm_share(pair, compared));
    pair->decides_confidence = pair->decides_low = pair->decides_high = NAN;
    if (pair->method == HF_COMPARISON_NONE || !(level > 0 && level < 1)) return HF_OK;
    pair->decides_confidence = 1 - level;
    pair->decides_low = pair->low;
    pair->decides_high = pair->high;
    if (level == request->options->level) return HF_OK;
    hf_comparison_pair *again = HF_ARENA_NEW(arena, hf_comparison_pair);
    hf_comparison_options options = *request->options;
    hf_compare_pair_request stricter = *request;
    options.level = level;
    stricter.options = &options;
    hf_status status = again ? hf_compare_verdict_evidence(arena, &stricter, again) : HF_MEMORY;
    if (status != HF_OK) return status;
    pair->decides_low = turned ? 1 / again->high : again->low;
    pair->decides_high = turned ? 1 / again->low : again->high;
    return HF_OK;
}
