#include <math.h>
#include <string.h>
#include "report/document.h"
#include "report/json_report.h"

typedef struct writing {
    hf_json_writer writer;
    const hf_report_style *style;
} writing;

static void add_counts(writing *w, const hf_assess_counts *c) {
    hf_json_open_object(&w->writer, "counts");
    hf_json_add_count(&w->writer, "used", c->used);
    hf_json_add_count(&w->writer, "failed", c->failed);
    hf_json_add_count(&w->writer, "first_rung", c->below);
    hf_json_add_count(&w->writer, "run_out", c->run_out);
    hf_json_add_count(&w->writer, "rig", c->rig);
    hf_json_add_count(&w->writer, "void", c->voided);
    hf_json_add_count(&w->writer, "reused", c->reused);
    hf_json_add_count(&w->writer, "planned", c->planned);
    hf_json_close(&w->writer, false);
}

static void add_fit(writing *w, const hf_fit *fit, const hf_fit_test *test) {
    const char *why = hf_fit_stop_code(fit->stop);
    double newton = hf_unit_newtons(w->style->unit, w->style->gravity);
    /* Densities are per unit of load: they scale with the unit shown, once for each exact reading; see log_likelihood below. */
    hf_json_open_object(&w->writer, NULL);
    hf_json_add_text(&w->writer, "family", fit->family->name);
    hf_json_location(&w->writer, w->style, fit->family, "m", fit->m, why);
    hf_json_spread(&w->writer, w->style, fit->family, "s", fit->s, why);
    if (fit->family->has_shape) {
        hf_json_value(&w->writer, "shape", 1 / fit->s, why);
        hf_json_value(&w->writer, "scale", exp(fit->m) / newton, why);
    }
    hf_json_spread(&w->writer, w->style, fit->family, "standard_error_m", fit->se_m, why);
    hf_json_spread(&w->writer, w->style, fit->family, "standard_error_s", fit->se_s, why);
    hf_json_value(&w->writer, "log_likelihood", fit->log_likelihood + (double)fit->exact * log(newton), why);
    hf_json_add_bool(&w->writer, "converged", fit->stop == HF_FIT_CONVERGED);
    hf_json_add_text(&w->writer, "stop", why);
    if (fit->stop != HF_FIT_CONVERGED) hf_json_add_text(&w->writer, "reason", why);
    hf_json_add_count(&w->writer, "iterations", (size_t)fit->iterations);
    hf_json_add_bool(&w->writer, "rejected", test->available && test->rejected);
    hf_json_open_object(&w->writer, "anderson_darling");
    hf_json_value(&w->writer, "statistic", test->a2, test->reason);
    hf_json_value(&w->writer, "significance", test->significance, test->reason);
    hf_json_value(&w->writer, "standard_error", test->standard_error, test->reason);
    hf_json_add_count(&w->writer, "replicates", test->replicates);
    hf_json_value(&w->writer, "handbook_significance", test->handbook, "fewer_than_8");
    hf_json_close(&w->writer, false);
    hf_json_close(&w->writer, false);
}

static void add_bound(writing *w, const hf_bound *b) {
    const char *why = b->method == HF_BOUND_NONE ? hf_bound_reason_code(b->reason) : "not_in_this_method";
    hf_json_open_object(&w->writer, NULL);
    hf_json_add_text(&w->writer, "family", b->family ? b->family->name : NULL);
    hf_json_add_number(&w->writer, "content", b->content);
    hf_json_add_number(&w->writer, "confidence", b->confidence);
    hf_json_value(&w->writer, "k", b->k, why);
    if (b->family) {
        hf_json_location(&w->writer, w->style, b->family, "m", b->m, why);
        hf_json_spread(&w->writer, w->style, b->family, "s", b->s, why);
        hf_json_spread(&w->writer, w->style, b->family, "h", b->h, why);
        hf_json_add_number(&w->writer, "allowance", b->allowance);
        hf_json_add_number(&w->writer, "k_standard_error", b->k_error);
    } else {
        hf_json_value(&w->writer, "m", NAN, "distribution_free");
        hf_json_value(&w->writer, "s", NAN, "distribution_free");
        hf_json_value(&w->writer, "h", NAN, "distribution_free");
        hf_json_load(&w->writer, w->style, "lower_end", b->lower_end, why);
        hf_json_load(&w->writer, w->style, "upper_end", b->upper_end, why);
        hf_json_add_count(&w->writer, "rank", b->rank);
    }
    hf_json_add_count(&w->writer, "n", b->n);
    if (isfinite(b->value)) hf_json_load(&w->writer, w->style, "value", b->value, NULL);
    else hf_json_add_null(&w->writer, "value", why);
    hf_json_add_text(&w->writer, "method", hf_bound_method_code(b->method));
    hf_json_close(&w->writer, false);
}

static void add_governing(writing *w, const hf_event_assessment *e) {
    const hf_bound *g = e->governing;
    hf_json_open_object(&w->writer, "governing");
    hf_json_add_text(&w->writer, "family", g && g->family ? g->family->name : NULL);
    hf_json_load(&w->writer, w->style, "value", g ? g->value : NAN, "no_bound");
    hf_json_add_text(&w->writer, "reason", e->governing_reason);
    hf_json_add_text(&w->writer, "method", g ? hf_bound_method_code(g->method) : "none");
    hf_json_close(&w->writer, false);
    hf_json_open_object(&w->writer, "calibration");
    hf_json_value(&w->writer, "relative_uncertainty", e->calibration_u, "no_bound");
    hf_json_value(&w->writer, "z", e->calibration_z, "no_bound");
    hf_json_value(&w->writer, "multiplier", e->calibration_multiplier, "no_bound");
    hf_json_load(&w->writer, w->style, "value", e->calibrated, "no_bound");
    hf_json_close(&w->writer, false);
}

static void add_event(writing *w, const hf_event_assessment *e) {
    add_counts(w, &e->counts);
    hf_json_open_object(&w->writer, "step");
    hf_json_load(&w->writer, w->style, "rms", e->step_rms, NULL);
    hf_json_close(&w->writer, false);
    hf_json_open_object(&w->writer, "middles");
    hf_json_load(&w->writer, w->style, "mean", e->mean_mid, "too_few");
    hf_json_load(&w->writer, w->style, "standard_deviation", e->sd_mid, "too_few");
    hf_json_value(&w->writer, "cv", e->cv, "too_few");
    hf_json_close(&w->writer, false);
    hf_json_open_array(&w->writer, "fits");
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) add_fit(w, &e->fits[i], &e->tests[i]);
    hf_json_close(&w->writer, true);
    hf_json_open_array(&w->writer, "bounds");
    for (size_t i = 0; i < e->bound_count; i++) add_bound(w, &e->bounds[i]);
    hf_json_close(&w->writer, true);
    add_governing(w, e);
}

static void add_working_load(writing *w, const hf_design_assessment *a) {
    hf_json_open_object(&w->writer, "working_load");
    if (isfinite(a->working_load)) hf_json_load(&w->writer, w->style, "value", a->working_load, NULL);
    else hf_json_add_null(&w->writer, "value", a->working_load_reason);
    hf_json_load(&w->writer, w->style, "unrounded", a->working_load_unrounded, a->working_load_reason);
    hf_json_add_text(&w->writer, "unit", w->style->unit->name);
    hf_json_add_text(&w->writer, "limited_by", a->limited_by);
    hf_json_open_array(&w->writer, "steps");
    for (size_t i = 0; i < a->step_count; i++) {
        hf_json_open_object(&w->writer, NULL);
        hf_json_add_text(&w->writer, "code", a->steps[i].code);
        if (a->steps[i].label) hf_json_add_text(&w->writer, "reason_stated", a->steps[i].label);
        hf_json_value(&w->writer, "factor", a->steps[i].factor, "none");
        hf_json_load(&w->writer, w->style, "value", a->steps[i].value, "no_bound");
        hf_json_close(&w->writer, false);
    }
    hf_json_close(&w->writer, true);
    hf_json_close(&w->writer, false);
}

static void add_judgement(writing *w, const hf_design_assessment *a) {
    const hf_goal *goal = &a->design->goal;
    hf_json_open_object(&w->writer, "goal");
    hf_json_add_number(&w->writer, "content", a->content);
    hf_json_add_number(&w->writer, "confidence", a->confidence);
    hf_json_load(&w->writer, w->style, "required_bound", goal->required_bound.given ? goal->required_bound.value : NAN, "not_stated");
    hf_json_add_bool(&w->writer, "required_bound_met", a->required_met);
    hf_json_load(&w->writer, w->style, "service_load", goal->service_load.given ? goal->service_load.value : NAN, "not_stated");
    hf_json_value(&w->writer, "margin", a->margin, a->service_stated ? "no_working_load" : "not_stated");
    hf_json_add_bool(&w->writer, "margin_met", a->margin_met);
    hf_json_value(&w->writer, "supported_content", a->supported_content, a->service_stated ? "below_range" : "not_stated");
    hf_json_load(&w->writer, w->style, "supported_at", a->supported_load, "not_stated");
    hf_json_close(&w->writer, false);
}

static void add_trade(writing *w, const hf_design_assessment *a) {
    hf_json_open_array(&w->writer, "trade");
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        const hf_trade_result *rule = &a->trade[i];
        hf_json_open_object(&w->writer, NULL);
        hf_json_add_text(&w->writer, "code", rule->code);
        hf_json_add_text(&w->writer, "label", rule->label);
        hf_json_add_text(&w->writer, "source", rule->source);
        hf_json_value(&w->writer, "k", rule->factor, rule->reason ? rule->reason : "none");
        if (isfinite(rule->value)) hf_json_load(&w->writer, w->style, "value", rule->value, NULL);
        else hf_json_add_null(&w->writer, "value", rule->reason);
        hf_json_add_text(&w->writer, "promise", rule->promise);
        hf_json_value(&w->writer, "content", rule->content, "none_stated");
        hf_json_value(&w->writer, "confidence", rule->confidence, "none_stated");
        hf_json_value(&w->writer, "chance_next_below", rule->next_below, "not_defined");
        hf_json_value(&w->writer, "confidence_90_stronger", rule->confidence_real, "not_defined");
        hf_json_close(&w->writer, false);
    }
    hf_json_close(&w->writer, true);
}

static void add_cautions(writing *w, const hf_cautions *list) {
    hf_json_open_array(&w->writer, "cautions");
    for (size_t i = 0; i < list->count; i++) {
        hf_text words = {0};
        hf_report_caution(&list->items[i], w->style, &words);
        hf_json_open_object(&w->writer, NULL);
        hf_json_add_text(&w->writer, "code", list->items[i].code);
        hf_json_add_text(&w->writer, "text", words.bytes ? words.bytes : "");
        hf_json_close(&w->writer, false);
        hf_text_free(&words);
    }
    hf_json_close(&w->writer, true);
}

static void add_design(writing *w, const hf_design_assessment *a) {
    hf_json_open_object(&w->writer, NULL);
    hf_json_add_text(&w->writer, "id", a->design->id);
    hf_json_add_text(&w->writer, "name", a->design->name);
    add_event(w, &a->break_event);
    if (a->set_watched) {
        hf_json_open_object(&w->writer, "set");
        add_event(w, &a->set_event);
        hf_json_close(&w->writer, false);
    }
    add_working_load(w, a);
    add_judgement(w, a);
    add_trade(w, a);
    add_cautions(w, &a->cautions);
    hf_json_close(&w->writer, false);
}

void hf_json_assess(const hf_assessment *result, const hf_report_style *style, hf_text *out) {
    writing w = {.style = style};
    hf_json_writer_start(&w.writer, out);
    hf_json_open_object(&w.writer, NULL);
    hf_json_head(&w.writer, "assess", result->campaign, style);
    hf_json_add_count(&w.writer, "seed", (size_t)result->options.seed);
    hf_json_add_bool(&w.writer, "met", result->all_met);
    hf_json_open_array(&w.writer, "designs");
    for (size_t i = 0; i < result->count; i++) add_design(&w, &result->designs[i]);
    hf_json_close(&w.writer, true);
    add_cautions(&w, &result->cautions);
    hf_json_close(&w.writer, false);
}
