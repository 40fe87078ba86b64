#include <math.h>
#include "words/plan_report.h"

static void add_row(hf_result_writer *w, const hf_how_many *parts, const hf_how_many_row *r) {
    hf_result_open(w, NULL);
    hf_json_add_count(&w->json, "n", r->n);
    hf_result_value(w, "k", r->k, "no_bound");
    hf_result_value(w, "k_standard_error", r->k_error, "no_bound");
    if (parts->by_scatter) hf_json_add_bool(&w->json, "by_stated_scatter", r->n <= parts->by_scatter);
    hf_result_load(w, "expected_bound", r->expected, "no_bound");
    hf_result_load(w, "expected_standard_error", r->expected_error, "no_bound");
    hf_result_value(w, "share_of_mean", r->share, "no_bound");
    hf_result_load(w, "low", r->low, "no_bound");
    hf_result_load(w, "middle", r->middle, "no_bound");
    hf_result_load(w, "high", r->high, "no_bound");
    hf_result_value(w, "assurance", r->assurance, "no_requirement");
    hf_result_value(w, "assurance_standard_error", r->assurance_error, "no_requirement");
    hf_result_value(w, "without_bound", r->without_bound, "not_simulated");
    hf_result_value(w, "minutes", r->minutes, "not_stepped");
    hf_result_close(w);
}

static void add_samples(hf_result_writer *w, const char *key, const hf_how_many *parts) {
    hf_json_open_array(&w->json, key);
    if (parts->one) add_row(w, parts, parts->one);
    for (size_t i = 0; i < parts->count; i++) add_row(w, parts, &parts->rows[i]);
    hf_json_close(&w->json, true);
}

static void add_guess(hf_result_writer *w, const hf_plan *plan) {
    static const char *const sources[] = {"guessed", "stated", "assumed", "fitted"};
    const hf_plan_pilot *pilot = &plan->pilot;
    hf_result_open(w, "guess");
    hf_result_load(w, "mean", plan->setup.mean, "pilot");
    hf_result_value(w, "cv", plan->setup.cv, "pilot");
    hf_json_add_text(&w->json, "cv_source", sources[plan->cv_source]);
    hf_json_add_count(&w->json, "pulls", pilot->pulls);
    hf_result_load(w, "low", pilot->pulls ? pilot->belief.low : NAN, "no_pull");
    hf_result_load(w, "high", pilot->pulls ? pilot->belief.high : NAN, "no_pull");
    hf_result_load(w, "mean_before", pilot->pulls ? pilot->guessed : NAN, "not_stated");
    hf_result_close(w);
}

void hf_plan_calibration_json(hf_result_writer *w, double required, const hf_plan_calibration *calibration) {
    hf_result_load(w, "required", required, "not_stated");
    hf_result_open(w, "calibration");
    hf_result_load(w, "needed", calibration->needed, isinf(calibration->needed) ? "none_left" : "not_stated");
    hf_result_load(w, "at", calibration->at, "not_stated");
    hf_result_value(w, "u", calibration->u, "not_stated");
    hf_result_value(w, "multiplier", calibration->multiplier, "not_stated");
    hf_result_close(w);
}

static void add_scenario(hf_result_writer *w, const char *key, const hf_plan_scenario *scenario) {
    hf_result_open(w, key);
    hf_json_add_number(&w->json, "cv", scenario->cv);
    hf_json_add_count(&w->json, "recommended", scenario->parts.recommended);
    add_samples(w, "samples", &scenario->parts);
    hf_result_close(w);
}

static void add_ladder(hf_result_writer *w, const hf_plan *plan, hf_arena *arena) {
    const hf_ladder *ladder = &plan->ladder;
    hf_json_open_array(&w->json, "ladder");
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_ladder_rung *r = &ladder->rungs[i];
        hf_result_open(w, NULL);
        hf_result_load(w, "force", r->force, NULL);
        hf_result_load(w, "added", hf_plan_added(plan, r->force), NULL);
        hf_json_add_text(&w->json, "weights", hf_weights_text(arena, plan, &r->weights));
        hf_json_add_count(&w->json, "handling", (size_t)r->weights.handling);
        hf_json_add_bool(&w->json, "coarse", r->coarse);
        hf_result_value(w, "reached", r->reached, "pilot");
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    hf_result_open(w, "risk");
    hf_result_value(w, "run_out", ladder->count ? ladder->run_out : NAN,
                    ladder->count ? "pilot" : "no_ladder");
    hf_result_value(w, "over_rating", ladder->count && !isinf(plan->setup.rating) ? ladder->over_rating : NAN,
                    ladder->count ? "no_rating" : "no_ladder");
    hf_result_value(w, "below_first", ladder->count ? ladder->below_first : NAN,
                    ladder->count ? "pilot" : "no_ladder");
    hf_result_close(w);
    hf_result_open(w, "pull");
    hf_result_value(w, "rungs", ladder->count ? ladder->expected_rungs : NAN,
                    ladder->count ? "pilot" : "no_ladder");
    hf_result_value(w, "minutes", ladder->count ? ladder->minutes_per_pull : NAN,
                    ladder->count ? "pilot" : "no_ladder");
    hf_result_close(w);
}

void hf_plan_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_plan *plan = result;
    hf_result_writer writer, *w = &writer;
    hf_arena *arena = hf_arena_create();
    if (!arena) {
        out->failed = true;
        return;
    }
    hf_result_start(w, "plan", plan->campaign, style, out);
    if (!plan->campaign) hf_json_add_text(&w->json, "unit", style->unit->name);
    hf_json_add_count(&w->json, "seed", (size_t)plan->setup.seed);
    hf_result_text(w, "design", plan->setup.design, "no_file");
    hf_json_add_number(&w->json, "content", plan->setup.content);
    hf_json_add_number(&w->json, "confidence", plan->setup.confidence);
    hf_json_add_bool(&w->json, "stepped", plan->stepped);
    hf_json_add_bool(&w->json, "exact", plan->base.parts.exact);
    hf_json_add_count(&w->json, "replicates", plan->base.parts.replicates);
    hf_json_add_count(&w->json, "recommended", plan->base.parts.recommended);
    hf_json_add_text(&w->json, "recommended_because",
                     plan->setup.pilot ? "pilot" : hf_how_many_reason_code(plan->base.parts.reason));
    add_guess(w, plan);
    hf_json_add_bool(&w->json, "required_by_service_load", plan->setup.by_service);
    hf_plan_calibration_json(w, plan->setup.required, &plan->calibration);
    add_samples(w, "samples", &plan->base.parts);
    add_ladder(w, plan, arena);
    hf_result_open(w, "step_price");
    hf_result_value(w, "step_in_sd", plan->price_step, "not_stepped");
    hf_result_value(w, "margin_ratio", isnan(plan->price_step) ? NAN : plan->price.ratio, "not_stepped");
    hf_result_value(w, "parts_lost", isnan(plan->price_step) ? NAN : plan->price.parts_lost, "not_stepped");
    hf_json_add_count(&w->json, "parts", plan->price_parts);
    hf_result_close(w);
    if (plan->half.parts.count) add_scenario(w, "half_scatter", &plan->half);
    if (plan->twice.parts.count) add_scenario(w, "double_scatter", &plan->twice);
    hf_result_cautions(w, &plan->cautions);
    hf_result_close(w);
    hf_arena_free(arena);
}
