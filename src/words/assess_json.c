#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/words.h"
#include "words/compare_report.h"
#include "words/json_report.h"

static void add_counts(hf_result_writer *w, const hf_assess_counts *c) {
    hf_result_open(w, "counts");
    hf_json_add_count(&w->json, "used", c->used);
    hf_json_add_count(&w->json, "failed", c->failed);
    hf_json_add_count(&w->json, "first_rung", c->below);
    hf_json_add_count(&w->json, "run_out", c->run_out);
    hf_json_add_count(&w->json, "rig", c->rig);
    hf_json_add_count(&w->json, "void", c->voided);
    hf_json_add_count(&w->json, "reused", c->reused);
    hf_json_add_count(&w->json, "planned", c->planned);
    hf_result_close(w);
}

static void add_fit(hf_result_writer *w, const hf_fit *fit, const hf_fit_test *test) {
    const char *why = hf_fit_stop_code(fit->stop);
    double newton = hf_unit_newtons(w->style->unit, w->style->gravity);
    hf_result_open(w, NULL);
    hf_json_add_text(&w->json, "family", fit->family->name);
    hf_result_location(w, fit->family, "m", fit->m, why);
    hf_result_spread(w, fit->family, "s", fit->s, why);
    if (fit->family->has_shape) {
        hf_result_value(w, "shape", 1 / fit->s, why);
        hf_result_value(w, "scale", exp(fit->m) / newton, why);
    }
    hf_result_spread(w, fit->family, "standard_error_m", fit->se_m, why);
    hf_result_spread(w, fit->family, "standard_error_s", fit->se_s, why);
    /* Densities are per unit of load: they scale with the unit shown, once for each exact reading. */
    hf_result_value(w, "log_likelihood", fit->log_likelihood + (double)fit->exact * log(newton), why);
    hf_json_add_bool(&w->json, "converged", fit->stop == HF_FIT_CONVERGED);
    hf_json_add_text(&w->json, "stop", why);
    if (fit->stop != HF_FIT_CONVERGED) hf_result_reason(w, why);
    hf_json_add_count(&w->json, "iterations", (size_t)fit->iterations);
    hf_json_add_bool(&w->json, "rejected", test->available && test->rejected);
    hf_result_open(w, "anderson_darling");
    hf_result_value(w, "statistic", test->a2, test->reason);
    hf_result_value(w, "significance", test->significance, test->reason);
    hf_result_value(w, "standard_error", test->standard_error, test->reason);
    hf_json_add_count(&w->json, "replicates", test->replicates);
    hf_result_value(w, "handbook_significance", test->handbook, "fewer_than_8");
    hf_result_close(w);
    hf_result_close(w);
}

/* What s is made of; scatter of ln load. */
static void add_scatter(hf_result_writer *w, const hf_bound_scatter *of) {
    hf_result_open(w, "scatter");
    hf_json_add_number(&w->json, "stated", of->stated);
    hf_json_add_number(&w->json, "stated_degrees", of->degrees);
    hf_json_add_number(&w->json, "own", of->own);
    hf_json_add_number(&w->json, "own_degrees", of->own_degrees);
    hf_json_add_number(&w->json, "confidence_used", of->confidence_used);
    hf_result_close(w);
}

static void add_confrontation(hf_result_writer *w, const hf_scatter_confrontation *test) {
    hf_result_open(w, "stated_scatter_test");
    hf_json_add_bool(&w->json, "available", test->available);
    hf_result_value(w, "statistic", test->statistic, "one_part_or_none_stated");
    hf_result_value(w, "critical", test->critical, "one_part_or_none_stated");
    hf_result_value(w, "significance", test->significance, "one_part_or_none_stated");
    hf_json_add_bool(&w->json, "contradicted", test->contradicted);
    hf_result_close(w);
}

static void add_bound(hf_result_writer *w, const hf_bound *b) {
    const char *why = b->method == HF_BOUND_NONE ? hf_bound_reason_code(b->reason) : "not_in_this_method";
    hf_result_open(w, NULL);
    if (b->method == HF_BOUND_NONE) hf_result_reason(w, why);
    hf_result_text(w, "family", b->family ? b->family->name : NULL, "distribution_free");
    hf_json_add_number(&w->json, "content", b->content);
    hf_json_add_number(&w->json, "confidence", b->confidence);
    hf_result_value(w, "k", b->k, why);
    if (b->family) {
        hf_result_location(w, b->family, "m", b->m, why);
        hf_result_spread(w, b->family, "s", b->s, why);
        hf_result_spread(w, b->family, "h", b->h, why);
        hf_json_add_number(&w->json, "allowance", b->allowance);
        hf_json_add_number(&w->json, "k_standard_error", b->k_error);
        if (b->scatter.degrees > 0) add_scatter(w, &b->scatter);
    } else {
        hf_result_value(w, "m", NAN, "distribution_free");
        hf_result_value(w, "s", NAN, "distribution_free");
        hf_result_value(w, "h", NAN, "distribution_free");
        hf_result_load(w, "lower_end", b->lower_end, why);
        hf_result_load(w, "upper_end", b->upper_end, why);
        hf_json_add_count(&w->json, "rank", b->rank);
    }
    hf_json_add_count(&w->json, "n", b->n);
    hf_result_load(w, "value", b->value, why);
    hf_json_add_text(&w->json, "method", hf_bound_method_code(b->method));
    hf_result_close(w);
}

static void add_governing(hf_result_writer *w, const hf_event_assessment *e) {
    const hf_bound *g = e->governing;
    hf_result_open(w, "governing");
    hf_result_reason(w, e->governing_reason ? e->governing_reason : "none");
    hf_result_text(w, "family", g && g->family ? g->family->name : NULL, "no_bound");
    hf_result_load(w, "value", g ? g->value : NAN, "no_bound");
    hf_json_add_text(&w->json, "method", g ? hf_bound_method_code(g->method) : "none");
    hf_result_close(w);
    hf_result_open(w, "calibration");
    hf_result_value(w, "relative_uncertainty", e->calibration_u, "no_bound");
    hf_result_value(w, "z", e->calibration_z, "no_bound");
    hf_result_value(w, "multiplier", e->calibration_multiplier, "no_bound");
    hf_result_load(w, "value", e->calibrated, "no_bound");
    hf_result_close(w);
}

static void add_outlier(hf_result_writer *w, const hf_event_assessment *e) {
    const hf_outlier_test *test = &e->outlier;
    hf_result_open(w, "outlier");
    hf_json_add_bool(&w->json, "tested", test->available);
    hf_result_text(w, "specimen", test->available ? e->outlier_id : NULL, "not_tested");
    hf_result_value(w, "statistic", test->available ? test->statistic : NAN, "not_tested");
    hf_result_value(w, "critical", test->available ? test->critical : NAN, "not_tested");
    hf_json_add_bool(&w->json, "flagged", test->available && test->flagged);
    hf_result_close(w);
}

static void add_event(hf_result_writer *w, const hf_event_assessment *e) {
    add_counts(w, &e->counts);
    hf_result_open(w, "step");
    hf_result_load(w, "rms", e->step_rms, NULL);
    hf_result_close(w);
    hf_result_open(w, "middles");
    hf_result_load(w, "mean", e->mean_mid, "too_few");
    hf_result_load(w, "standard_deviation", e->sd_mid, "too_few");
    hf_result_value(w, "cv", e->cv, "too_few");
    hf_result_load(w, "least", e->min_load, "no_pulls");
    hf_result_load(w, "greatest", e->max_load, "no_pulls");
    hf_result_close(w);
    add_outlier(w, e);
    hf_result_open(w, "batches");
    hf_json_add_count(&w->json, "count", e->batch.batches);
    hf_result_value(w, "statistic", e->batch.adk, e->batch.reason);
    hf_result_value(w, "critical", e->batch.critical, e->batch.reason);
    hf_result_value(w, "between_share", e->batch.between_share, e->batch.reason);
    hf_json_add_bool(&w->json, "differ", e->batch.available && e->batch.differ);
    hf_result_close(w);
    hf_result_open(w, "sensitivity");
    hf_result_load(w, "with_void", e->with_void, "none");
    hf_result_load(w, "with_reused", e->with_reused, "none");
    hf_result_close(w);
    hf_json_open_array(&w->json, "fits");
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) add_fit(w, &e->fits[i], &e->tests[i]);
    hf_json_close(&w->json, true);
    hf_json_open_array(&w->json, "bounds");
    for (size_t i = 0; i < e->bound_count; i++) add_bound(w, &e->bounds[i]);
    hf_json_close(&w->json, true);
    if (e->confrontation.parts > 0) add_confrontation(w, &e->confrontation);
    add_governing(w, e);
}

static void add_working_load(hf_result_writer *w, const hf_design_assessment *a) {
    hf_result_open(w, "working_load");
    /* Rounded down in the unit shown, so that three figures stay three figures. */
    double rounded = hf_number_round_down(hf_in_unit(w->style, a->working_load_unrounded), 3);
    hf_result_value(w, "value", isfinite(a->working_load) ? rounded : NAN, a->working_load_reason);
    hf_result_load(w, "unrounded", a->working_load_unrounded, a->working_load_reason);
    hf_json_add_text(&w->json, "unit", w->style->unit->name);
    hf_result_text(w, "limited_by", a->limited_by, a->working_load_reason);
    hf_json_open_array(&w->json, "steps");
    for (size_t i = 0; i < a->step_count; i++) {
        hf_result_open(w, NULL);
        hf_json_add_text(&w->json, "code", a->steps[i].code);
        if (a->steps[i].label) hf_json_add_text(&w->json, "reason_stated", a->steps[i].label);
        bool last = strcmp(a->steps[i].code, "round") == 0;
        hf_result_value(w, "factor", a->steps[i].factor, "not_a_factor");
        hf_result_value(w, "value", last ? rounded : hf_in_unit(w->style, a->steps[i].value), "no_bound");
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    hf_result_close(w);
}

static void add_judgement(hf_result_writer *w, const hf_design_assessment *a) {
    const hf_goal *goal = &a->design->goal;
    hf_result_open(w, "goal");
    hf_json_add_number(&w->json, "content", a->content);
    hf_json_add_number(&w->json, "confidence", a->confidence);
    hf_result_load(w, "required_bound", goal->required_bound.given ? goal->required_bound.value : NAN,
                   "not_stated");
    hf_json_add_bool(&w->json, "required_bound_met", a->required_met);
    hf_result_load(w, "service_load", goal->service_load.given ? goal->service_load.value : NAN,
                   "not_stated");
    hf_result_value(w, "margin", a->margin, a->service_stated ? "no_working_load" : "not_stated");
    hf_json_add_bool(&w->json, "margin_met", a->margin_met);
    hf_result_value(w, "supported_content", a->supported_content,
                    a->service_stated ? "below_range" : "not_stated");
    hf_result_load(w, "supported_at", a->supported_load, "not_stated");
    hf_result_close(w);
}

static void add_trade(hf_result_writer *w, const hf_design_assessment *a) {
    hf_json_open_array(&w->json, "trade");
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        const hf_trade_result *rule = &a->trade[i];
        hf_result_open(w, NULL);
        hf_json_add_text(&w->json, "code", rule->code);
        hf_json_add_text(&w->json, "label", rule->label);
        hf_json_add_text(&w->json, "source", rule->source);
        hf_result_value(w, "k", rule->factor, rule->reason ? rule->reason : "none");
        hf_result_load(w, "value", rule->value, rule->reason);
        hf_json_add_text(&w->json, "promise", rule->promise);
        hf_result_value(w, "content", rule->content, "none_stated");
        hf_result_value(w, "confidence", rule->confidence, "none_stated");
        hf_result_value(w, "chance_next_below", rule->next_below, "not_defined");
        hf_result_value(w, "confidence_90_stronger", rule->confidence_real, "not_defined");
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
}

static void add_design(hf_result_writer *w, const hf_design_assessment *a) {
    hf_result_open(w, NULL);
    hf_json_add_text(&w->json, "id", a->design->id);
    hf_result_text(w, "name", a->design->name, "not_stated");
    if (a->two_ended) hf_json_ends(w, &a->ends);
    add_event(w, &a->break_event);
    if (a->set_watched) {
        hf_result_open(w, "set");
        add_event(w, &a->set_event);
        hf_result_close(w);
    }
    add_working_load(w, a);
    add_judgement(w, a);
    add_trade(w, a);
    hf_result_cautions(w, &a->cautions);
    hf_result_close(w);
}

void hf_json_assess(const void *shown, const hf_report_style *style, hf_text *out) {
    const hf_assessment *result = shown;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "assess", result->campaign, style, out);
    hf_json_add_count(&w->json, "seed", (size_t)result->options.seed);
    hf_json_add_bool(&w->json, "met", result->all_met);
    hf_json_open_array(&w->json, "designs");
    for (size_t i = 0; i < result->count; i++) add_design(w, &result->designs[i]);
    hf_json_close(&w->json, true);
    hf_result_cautions(w, &result->cautions);
    hf_result_close(w);
}
