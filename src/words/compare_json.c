#include <math.h>
#include <string.h>
#include "words/compare_report.h"

/* --- Designs ----------------------------------------------------------------------------------------- */

static void add_modes(hf_result_writer *w, const hf_design_modes *modes) {
    const char *why = modes->reason ? modes->reason : "not_fitted";
    hf_result_open(w, "modes");
    if (modes->reason) hf_result_reason(w, modes->reason);
    hf_result_text(w, "family", modes->result.family ? modes->result.family->name : NULL, why);
    hf_result_load(w, "bound", modes->available ? modes->result.bound : NAN, why);
    hf_result_load(w, "standard_error", modes->available ? modes->result.standard_error : NAN, why);
    hf_result_load(w, "undivided_bound", modes->undivided, why);
    hf_json_add_count(&w->json, "failures_not_fitted", modes->result.unfitted_failures);
    hf_json_open_array(&w->json, "rows");
    for (size_t i = 0; i < modes->result.count; i++) {
        const hf_mode_result *mode = &modes->result.modes[i];
        const char *no_bound =
            mode->bound.method == HF_BOUND_NONE ? hf_bound_reason_code(mode->bound.reason) : "too_few";
        hf_result_open(w, NULL);
        hf_result_text(w, "mode", modes->names[i], "not_stated");
        hf_json_add_count(&w->json, "failures", mode->failures);
        hf_json_add_number(&w->json, "share", mode->share);
        hf_json_add_bool(&w->json, "fitted", mode->fitted);
        hf_result_load(w, "bound", mode->fitted ? mode->bound.value : NAN, no_bound);
        hf_result_load(w, "without", mode->without, mode->fitted ? "no_other_mode" : "not_fitted");
        hf_result_load(w, "without_standard_error", mode->without_error,
                       mode->fitted ? "no_other_mode" : "not_fitted");
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    hf_result_close(w);
}

void hf_json_ends(hf_result_writer *w, const hf_comparison_ends *ends) {
    hf_result_open(w, "two_ended");
    hf_json_add_count(&w->json, "parts", ends->pulls);
    hf_json_add_count(&w->json, "fittings", ends->ends);
    hf_json_add_count(&w->json, "broke", ends->broke);
    hf_json_add_count(&w->json, "whole", ends->whole);
    hf_result_load(w, "median", ends->median, "no_fit");
    hf_result_value(w, "scatter", ends->spread, "no_fit");
    hf_result_load(w, "naive_median", ends->naive_median, "no_fit");
    hf_result_value(w, "naive_scatter", ends->naive_spread, "no_fit");
    hf_json_open_array(&w->json, "in_a_row");
    for (size_t k = 1; k <= HF_IN_A_ROW; k++) {
        const hf_bound *bound = &ends->rows[k - 1];
        hf_result_open(w, NULL);
        hf_json_add_count(&w->json, "fittings", k);
        hf_json_add_number(&w->json, "content_of_each", bound->content);
        hf_result_load(w, "bound", bound->value, hf_bound_reason_code(bound->reason));
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    hf_result_close(w);
}

static void add_design(hf_result_writer *w, const hf_comparison_design *design) {
    const hf_assess_counts *counts = &design->event.counts;
    const hf_bound *governing = design->event.governing;
    hf_result_open(w, NULL);
    hf_json_add_text(&w->json, "id", design->design->id);
    hf_result_text(w, "name", design->design->name, "not_stated");
    hf_result_open(w, "counts");
    hf_json_add_count(&w->json, "used", counts->used);
    hf_json_add_count(&w->json, "failed", counts->failed);
    hf_json_add_count(&w->json, "first_rung", counts->below);
    hf_json_add_count(&w->json, "run_out", counts->run_out);
    hf_json_add_count(&w->json, "rig", counts->rig);
    hf_json_add_count(&w->json, "void", counts->voided);
    hf_json_add_count(&w->json, "reused", counts->reused);
    hf_json_add_count(&w->json, "planned", counts->planned);
    hf_result_close(w);
    hf_json_add_number(&w->json, "content", design->content);
    hf_json_add_number(&w->json, "confidence", design->confidence);
    hf_result_load(w, "geometric_mean", design->geometric_mean, "too_few");
    hf_result_value(w, "scatter", design->scatter, "too_few");
    hf_result_load(w, "bound", design->bound, "no_bound");
    hf_result_text(w, "family", governing && governing->family ? governing->family->name : NULL, "no_law");
    hf_json_add_text(&w->json, "method", governing ? hf_bound_method_code(governing->method) : "none");
    hf_result_value(w, "rank", design->rank ? (double)design->rank : NAN, "no_bound");
    add_modes(w, &design->modes);
    if (design->two_ended) hf_json_ends(w, &design->ends);
    hf_result_cautions(w, &design->cautions);
    hf_result_close(w);
}

/* --- Pairs ------------------------------------------------------------------------------------------- */

static void add_relabeling(hf_result_writer *w, const hf_comparison_pair *pair) {
    const hf_relabel *relabel = &pair->relabel;
    const char *why = relabel->reason;
    hf_result_open(w, "relabeling");
    hf_result_value(w, "p", relabel->available ? relabel->p : NAN, why);
    hf_result_value(w, "standard_error", relabel->available ? relabel->standard_error : NAN, why);
    hf_result_value(w, "p_floor", relabel->available ? relabel->p_floor : NAN, why);
    hf_result_value(w, "statistic", relabel->available ? relabel->statistic : NAN, why ? why : "no_scatter");
    hf_result_value(w, "relabelings", relabel->available ? relabel->relabelings : NAN, why);
    hf_json_add_bool(&w->json, "all", relabel->available && relabel->full);
    hf_json_add_bool(&w->json, "coarsened", relabel->coarsened);
    hf_json_add_count(&w->json, "common_rungs", relabel->common_rungs);
    hf_json_add_bool(&w->json, "planned_rungs", pair->planned_rungs);
    hf_result_close(w);
}

/* Why something is null that only stands beside the verdicts. */
static const char not_asked[] = "verdicts_only";

static void add_quantile(hf_result_writer *w, const hf_comparison_pair *pair) {
    const hf_quantile_difference *q = &pair->quantile;
    bool there = pair->quantile_available;
    const char *why = there ? "not_positive" : pair->quantile_reason;
    hf_result_open(w, "quantile");
    hf_result_text(w, "family", q->family ? q->family->name : NULL, why);
    hf_json_add_number(&w->json, "content", q->content);
    hf_result_load(w, "a", there ? q->quantile_a : NAN, why);
    hf_result_load(w, "b", there ? q->quantile_b : NAN, why);
    hf_result_load(w, "difference", there ? q->difference : NAN, why);
    hf_result_load(w, "difference_low", there ? q->difference_low : NAN, why);
    hf_result_load(w, "difference_high", there ? q->difference_high : NAN, why);
    hf_result_value(w, "ratio", there ? q->ratio : NAN, why);
    hf_result_value(w, "ratio_low", there ? q->ratio_low : NAN, why);
    hf_result_value(w, "ratio_high", there ? q->ratio_high : NAN, why);
    hf_result_value(w, "p", there ? q->p : NAN, why);
    hf_result_close(w);
}

static void add_outlasts(hf_result_writer *w, const hf_comparison_pair *pair, bool left_out) {
    bool there = pair->outlasts_available, interval = there && !pair->outlasts.separated;
    const char *why = there ? "separated" : left_out ? not_asked : "open_or_too_few";
    hf_result_open(w, "outlasts");
    hf_result_value(w, "chance", there ? pair->outlasts.chance : NAN, why);
    hf_result_value(w, "low", interval ? pair->outlasts.low : NAN, why);
    hf_result_value(w, "high", interval ? pair->outlasts.high : NAN, why);
    hf_result_value(w, "p", interval ? pair->outlasts.p : NAN, why);
    hf_result_value(w, "fitted", left_out ? NAN : pair->fitted_chance,
                    left_out ? not_asked
                    : there  ? "all_finished"
                             : "no_fit");
    hf_result_value(w, "least", pair->least, left_out ? not_asked : "no_pulls");
    hf_result_value(w, "most", pair->most, left_out ? not_asked : "no_pulls");
    hf_result_close(w);
}

static void add_games_howell(hf_result_writer *w, const hf_comparison_pair *pair,
                             const hf_comparison *result) {
    const hf_games_howell *g = &pair->games_howell;
    bool there = pair->games_howell_available;
    const char *why = result->options.verdicts_only ? not_asked
                      : result->count > 2           ? "open_or_too_few"
                                                    : "two_designs";
    hf_result_open(w, "games_howell");
    hf_result_value(w, "low", there ? exp(g->low) : NAN, why);
    hf_result_value(w, "high", there ? exp(g->high) : NAN, why);
    hf_result_value(w, "p", there ? g->p : NAN, why);
    hf_result_close(w);
}

static void add_separate(hf_result_writer *w, const hf_comparison_pair *pair) {
    const hf_open_compare *open = &pair->separate;
    const char *why = open->reason ? open->reason : "no_open_pulls";
    hf_result_open(w, "separate_scatter");
    hf_result_value(w, "ratio", open->available ? open->ratio : NAN, why);
    hf_result_value(w, "low", open->available ? open->low : NAN, why);
    hf_result_value(w, "high", open->available ? open->high : NAN, open->available ? "open" : why);
    hf_result_value(w, "p", open->available ? open->p : NAN, why);
    hf_result_value(w, "scatter_a", open->available ? open->s_a : NAN, why);
    hf_result_value(w, "scatter_b", open->available ? open->s_b : NAN, why);
    hf_result_close(w);
}

static void add_pair(hf_result_writer *w, const hf_comparison *result, const hf_comparison_pair *pair) {
    const char *open = pair->reason ? pair->reason : "open";
    hf_result_open(w, NULL);
    if (pair->reason) hf_result_reason(w, pair->reason);
    hf_json_add_text(&w->json, "a", result->designs[pair->a].design->id);
    hf_json_add_text(&w->json, "b", result->designs[pair->b].design->id);
    hf_json_add_text(&w->json, "verdict", hf_verdict_code(pair->verdict));
    hf_json_add_text(&w->json, "method", hf_comparison_method_code(pair->method));
    hf_result_value(w, "ratio", pair->ratio > 0 ? pair->ratio : NAN, open);
    hf_result_value(w, "low", pair->low, open);
    hf_result_value(w, "high", pair->high, open);
    hf_result_value(w, "p", pair->p, open);
    hf_result_value(w, "p_adjusted", pair->p_adjusted, open);
    hf_result_value(w, "p_permutation", pair->relabel.available ? pair->relabel.p : NAN,
                    pair->relabel.reason);
    hf_result_value(w, "p_floor", pair->relabel.available ? pair->relabel.p_floor : NAN,
                    pair->relabel.reason);
    hf_result_value(w, "p_same", pair->p_same,
                    result->options.same_within > 0 ? "judged_by_the_interval" : "not_stated");
    hf_result_value(w, "smallest_visible_ratio", pair->smallest_visible_ratio, pair->visible_reason);
    hf_result_value(w, "parts_to_settle", pair->parts_to_settle,
                    isinf(pair->parts_to_settle) ? "more_than_a_million" : pair->visible_reason);
    hf_json_add_number(&w->json, "power", pair->power);
    hf_result_value(w, "t", pair->t, "likelihood");
    hf_result_value(w, "degrees_of_freedom", pair->degrees_of_freedom,
                    pair->reason ? pair->reason : "scatter_assumed");
    add_relabeling(w, pair);
    add_quantile(w, pair);
    add_outlasts(w, pair, result->options.verdicts_only);
    hf_result_value(w, "p_scatter", pair->p_spread, "open_or_too_few");
    add_games_howell(w, pair, result);
    add_separate(w, pair);
    hf_result_cautions(w, &pair->cautions);
    hf_result_close(w);
}

/* --- All of them ------------------------------------------------------------------------------------- */

static void add_match(hf_result_writer *w, const hf_comparison *result, const hf_comparison_match *match) {
    const hf_sign_test *test = &match->test;
    hf_result_open(w, NULL);
    hf_json_add_text(&w->json, "a", result->designs[match->a].design->id);
    hf_json_add_text(&w->json, "b", result->designs[match->b].design->id);
    hf_json_add_count(&w->json, "a_won", test->first_won);
    hf_json_add_count(&w->json, "b_won", test->second_won);
    hf_json_add_count(&w->json, "ties", test->ties);
    hf_json_add_number(&w->json, "p", test->p);
    hf_result_value(w, "share", test->share, "none_decided");
    hf_result_value(w, "low", test->low, "none_decided");
    hf_result_value(w, "high", test->high, "none_decided");
    hf_json_add_count(&w->json, "more", test->more);
    hf_json_add_count(&w->json, "least", match->least);
    hf_result_value(w, "parts_nine_in_ten", match->parts_nine_in_ten ? (double)match->parts_nine_in_ten : NAN,
                    "not_reached");
    hf_result_close(w);
}

static void add_ranking(hf_result_writer *w, const hf_comparison *result) {
    hf_json_open_array(&w->json, "league");
    for (size_t i = 0; i < result->count; i++)
        hf_json_add_text(&w->json, NULL, result->designs[result->league[i]].design->id);
    hf_json_close(&w->json, true);
    hf_json_open_array(&w->json, "groups");
    for (size_t i = 0; i < result->group_count; i++) {
        hf_json_open_array(&w->json, NULL);
        for (size_t j = 0; j < result->count; j++)
            if (result->groups[i] >> j & 1U) hf_json_add_text(&w->json, NULL, result->designs[j].design->id);
        hf_json_close(&w->json, true);
    }
    hf_json_close(&w->json, true);
}

void hf_compare_json(const void *shown, const hf_report_style *style, hf_text *out) {
    const hf_comparison *result = shown;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "compare", result->campaign, style, out);
    hf_json_add_count(&w->json, "seed", (size_t)result->options.seed);
    hf_json_add_number(&w->json, "level", result->options.level);
    hf_result_value(w, "same_within", result->options.same_within > 0 ? result->options.same_within : NAN,
                    "not_stated");
    hf_json_open_array(&w->json, "pairs");
    for (size_t i = 0; i < result->pair_count; i++) add_pair(w, result, &result->pairs[i]);
    hf_json_close(&w->json, true);
    add_ranking(w, result);
    hf_json_open_array(&w->json, "head_to_head");
    for (size_t i = 0; i < result->match_count; i++) add_match(w, result, &result->matches[i]);
    hf_json_close(&w->json, true);
    hf_json_open_array(&w->json, "designs");
    for (size_t i = 0; i < result->count; i++) add_design(w, &result->designs[i]);
    hf_json_close(&w->json, true);
    hf_result_cautions(w, &result->cautions);
    hf_result_close(w);
}
