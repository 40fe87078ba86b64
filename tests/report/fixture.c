#include "report/fixture.h"
#include "study/event.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"

static void fill_campaign(fixture *f) {
    f->campaign.file = "sail.json";
    f->campaign.title = "Corner fittings for a shade sail (invented)";
    f->campaign.unit = hf_unit_find("N", 1);
    f->campaign.gravity = 9.81;
    memset(f->campaign.sha256, 'a', 64);
    f->design.id = "ring";
    f->design.name = "sewn ring";
    f->design.goal = (hf_goal){.content = 0.9,
                               .confidence = 0.95,
                               .design_factor = {true, 3},
                               .set_factor = {true, 1.5},
                               .service_load = {true, 120},
                               .required_bound = {true, 412.37}};
    f->specimens[0] = (hf_specimen){.id = "ring-01",
                                    .mode = "stitch",
                                    .batch = "roll 3",
                                    .pull = {HF_INTERVAL_CLOSED, 849.5, 888.8, false, true}};
    f->specimens[1] = (hf_specimen){.id = "ring-02",
                                    .outcome = HF_OUTCOME_HELD,
                                    .pull = {HF_INTERVAL_ABOVE, 1203, INFINITY, false, true}};
    f->specimens[2] = (hf_specimen){.id = "ring-03", .outcome = HF_OUTCOME_PLANNED};
    f->design.specimens = f->specimens;
    f->design.specimen_count = FIXTURE_SPECIMENS;
    f->campaign.designs = &f->design;
    f->campaign.design_count = 1;
}

/* No looks are stated, and nothing is said of them. */
static hf_promise no_looks(void) {
    hf_promise out = {.content = 0.9, .confidence = 0.95, .used = 0.95};
    out.looks = (hf_design_looks){.now = 10, .used = 0.95, .worth = NAN, .worth_every = NAN};
    out.looks.each = (hf_look_confidence){NAN, NAN, NAN, NAN};
    return out;
}

static void fill_event(fixture *f) {
    hf_event_assessment *e = &f->assessed.break_event;
    e->counts = (hf_assess_counts){.used = 10, .failed = 10, .planned = 1};
    e->step_rms = 39.2;
    e->mean_mid = 900.6;
    e->sd_mid = 51.7;
    e->min_load = 810.3;
    e->max_load = 1007;
    e->cv = 0.0574;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        bool logs = hf_family_at(i)->log_scale;
        e->fits[i] = (hf_fit){.family = hf_family_at(i),
                              .m = logs ? 6.81 : 900.6,
                              .s = logs ? 0.053 : 47.65,
                              .se_m = logs ? 0.017 : 16,
                              .se_s = logs ? 0.012 : 11,
                              .log_likelihood = -16.411,
                              .iterations = 6};
        e->tests[i] = (hf_fit_test){.available = true,
                                    .a2 = 0.29,
                                    .significance = i == 0 ? 0.031 : 0.94,
                                    .standard_error = 0.005,
                                    .handbook = 0.6,
                                    .rejected = i == 0};
        f->bounds[i] = (hf_bound){.family = hf_family_at(i),
                                  .method = HF_BOUND_FACTOR,
                                  .content = 0.9,
                                  .confidence = 0.95,
                                  .k = 2.3546,
                                  .m = logs ? 6.8013 : 900.6,
                                  .s = logs ? 0.0574 : 51.7,
                                  .h = logs ? 0.0438 : 39.2,
                                  .allowance = 0.125,
                                  .value = 774.6,
                                  .n = 10};
    }
    f->bounds[3] = (hf_bound){.reason = HF_REASON_TOO_FEW,
                              .content = 0.9,
                              .confidence = 0.95,
                              .k = NAN,
                              .m = NAN,
                              .s = NAN,
                              .h = NAN,
                              .value = NAN,
                              .lower_end = NAN,
                              .upper_end = NAN,
                              .n = 10};
    f->bounds[4] = (hf_bound){.method = HF_BOUND_HANSON_KOOPMANS,
                              .content = 0.9,
                              .confidence = 0.95,
                              .k = 2.137,
                              .m = NAN,
                              .s = NAN,
                              .h = NAN,
                              .value = 694.5,
                              .lower_end = 810.3,
                              .upper_end = 928,
                              .rank = 6,
                              .n = 10};
    e->bounds = f->bounds;
    e->bound_count = FIXTURE_BOUNDS;
    e->governing_reason = HF_GOVERNS_WEIBULL_RULE;
    e->batch = (hf_batch_test){.available = true,
                               .batches = 3,
                               .parts = 10,
                               .adk = 1.0412,
                               .critical = 1.6183,
                               .significance = 0.31,
                               .between_share = 0.12};
    e->outlier = (hf_outlier_test){true, 1.95, 2.29, 9, false};
    e->outlier_id = "ring-10";
    e->with_void = NAN;
    e->with_reused = 731.2;
}

static void fill_trade(fixture *f) {
    hf_trade_result *t = f->assessed.trade;
    for (size_t i = 0; i < HF_TRADE_COUNT; i++)
        t[i] = (hf_trade_result){.code = "90_95",
                                 .label = "90/95",
                                 .source = "B-basis level",
                                 .factor = 2.355,
                                 .value = 774.6,
                                 .next_below = NAN,
                                 .content = 0.9,
                                 .confidence = 0.95,
                                 .confidence_real = NAN,
                                 .promise = "tolerance"};
    t[0] = (hf_trade_result){.code = "mean_minus_3_sd",
                             .label = "mean − 3 SD",
                             .source = "rope and rigging custom",
                             .factor = 3,
                             .value = 745.5,
                             .next_below = 1.0 / 38,
                             .content = NAN,
                             .confidence = NAN,
                             .confidence_real = 0.924,
                             .promise = "three_sd"};
    t[1] = (hf_trade_result){.code = "lowest_of_n",
                             .label = "lowest of n",
                             .source = "workshop custom",
                             .factor = NAN,
                             .value = 810.3,
                             .next_below = 1.0 / 11,
                             .content = NAN,
                             .confidence = NAN,
                             .confidence_real = 0.651,
                             .promise = "lowest"};
    t[2] = (hf_trade_result){.code = "en1990_d1",
                             .label = "EN 1990 D1, 5 %",
                             .source = "EN 1990:2002 Annex D",
                             .factor = 1.92,
                             .value = 801,
                             .next_below = 0.05,
                             .content = NAN,
                             .confidence = NAN,
                             .confidence_real = 0.86,
                             .promise = "prediction"};
    t[3].value = NAN;
    t[3].reason = "numeric";
}

static void fill_cautions(fixture *f) {
    f->cautions[0] = (hf_caution){.code = HF_CAUTION_FEW_PARTS, .number = {8}};
    f->cautions[1] = (hf_caution){.code = HF_CAUTION_FAMILIES_DIFFER, .number = {660.4, 759.9}};
    f->cautions[2] = (hf_caution){.code = HF_CAUTION_HIGH_SCATTER, .number = {0.27}};
    f->cautions[3] = (hf_caution){.code = HF_CAUTION_TARE_ZERO, .text = {"found tare 0"}};
    f->assessed.cautions = (hf_cautions){f->cautions, FIXTURE_CAUTIONS, FIXTURE_CAUTIONS};
}

void fixture_set_terms(fixture *f, fixture_terms t) {
    hf_design_assessment *a = &f->assessed;
    hf_event_assessment *e = &a->break_event;
    hf_bound *b = &f->bounds[t.family];
    const double z = 1.645;
    *b = (hf_bound){.family = hf_family_at(t.family),
                    .method = HF_BOUND_FACTOR,
                    .content = 0.9,
                    .confidence = 0.95,
                    .k = t.k,
                    .m = t.m,
                    .s = t.s,
                    .h = t.h,
                    .allowance = t.allowance,
                    .n = 10};
    b->value = hf_bound_value(b->family, t.m, t.s, t.h, t.k, t.allowance);
    e->governing = b;
    e->calibration_u = t.u;
    e->calibration_z = z;
    e->calibration_multiplier = fmax(0, 1 - z * t.u);
    e->calibrated = b->value * e->calibration_multiplier;
    f->design.goal.design_factor.value = t.design_factor;
    f->use_factor = (struct hf_use_factor){"permanent load outdoors", t.use_factor};
    f->design.goal.use_factors = &f->use_factor;
    f->design.goal.use_factor_count = t.use_factor > 0;
    size_t count = 0;
    double load = e->calibrated / t.design_factor;
    f->steps[count++] = (hf_load_step){HF_STEP_BEST_PULL, NULL, NAN, e->max_load};
    f->steps[count++] = (hf_load_step){HF_STEP_BOUND, NULL, NAN, b->value};
    f->steps[count++] = (hf_load_step){HF_STEP_CALIBRATION, NULL, e->calibration_multiplier, e->calibrated};
    f->steps[count++] = (hf_load_step){HF_STEP_DESIGN_FACTOR, NULL, t.design_factor, load};
    if (t.use_factor > 0)
        f->steps[count++] =
            (hf_load_step){HF_STEP_USE_FACTOR, f->use_factor.reason, t.use_factor, load /= t.use_factor};
    f->steps[count++] = (hf_load_step){HF_STEP_ROUND, NULL, NAN, hf_number_round_down(load, 3)};
    a->steps = f->steps;
    a->step_count = count;
    a->working_load_unrounded = load;
    a->working_load = hf_number_round_down(load, 3);
    a->limited_by = HF_LIMIT_BREAK;
}

void fixture_fill(fixture *f) {
    memset(f, 0, sizeof *f);
    fill_campaign(f);
    fill_event(f);
    fill_trade(f);
    fill_cautions(f);
    f->assessed.design = &f->design;
    f->assessed.content = 0.9;
    f->assessed.confidence = 0.95;
    f->assessed.promise = no_looks();
    f->assessed.break_event.batch_bound.value = NAN;
    f->assessed.required_stated = f->assessed.service_stated = true;
    f->assessed.modes_share = NAN;
    fixture_set_terms(f, (fixture_terms){2, 6.8284, 0.050241, 0.043774, 4.3672, 0.125, 0.011635, 3, 0});
    f->assessed.margin = f->assessed.working_load / 120 - 1;
    f->assessed.supported_content = 0.99993;
    f->assessed.supported_load = 360;
    f->assessment = (hf_assessment){.campaign = &f->campaign,
                                    .options = {.seed = 7},
                                    .designs = &f->assessed,
                                    .count = 1,
                                    .any_result = true,
                                    .picked_worth = NAN};
    f->finding = (hf_finding){HF_SEVERITY_WARNING,  "tare_zero", "found tare 0", "rig.tare", 5, 12, NULL,
                              HF_WARNING_TARE_ZERO, {0}};
    f->findings = (hf_findings){&f->finding, 1, 0, 1};
    f->style = (hf_report_style){f->campaign.unit, 9.81, 80, false, HF_STRIP_NONE};
}

void fixture_set_nothing(fixture *f) {
    hf_design_assessment *a = &f->assessed;
    hf_event_assessment *e = &a->break_event;
    memset(e, 0, sizeof *e);
    e->step_rms = 0;
    e->mean_mid = e->sd_mid = e->cv = e->calibration_u = e->calibration_z = e->calibrated = NAN;
    e->with_void = e->with_reused = NAN;
    e->batch.reason = "too_few";
    e->min_load = INFINITY;
    e->max_load = -INFINITY;
    e->calibration_multiplier = 1;
    e->governing_reason = HF_GOVERNS_NONE;
    for (size_t i = 0; i < FIXTURE_BOUNDS; i++)
        f->bounds[i] = (hf_bound){.family = hf_family_at(i),
                                  .reason = HF_REASON_TOO_FEW,
                                  .content = 0.9,
                                  .confidence = 0.95,
                                  .k = NAN,
                                  .m = NAN,
                                  .s = NAN,
                                  .h = NAN,
                                  .value = NAN,
                                  .lower_end = NAN,
                                  .upper_end = NAN,
                                  .allowance = 0.125};
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        e->fits[i] = (hf_fit){.family = hf_family_at(i),
                              .m = NAN,
                              .s = NAN,
                              .se_m = NAN,
                              .se_s = NAN,
                              .log_likelihood = NAN,
                              .stop = HF_FIT_TOO_FEW};
        e->tests[i] = (hf_fit_test){
            .reason = "too_few", .a2 = NAN, .significance = NAN, .standard_error = NAN, .handbook = NAN};
    }
    for (size_t i = 0; i < HF_TRADE_COUNT; i++) {
        a->trade[i].value = a->trade[i].factor = a->trade[i].next_below = a->trade[i].confidence_real = NAN;
        a->trade[i].reason = "too_few";
    }
    e->bounds = f->bounds;
    e->bound_count = FIXTURE_BOUNDS;
    a->working_load = a->working_load_unrounded = a->margin = a->supported_content = NAN;
    a->working_load_reason = HF_NO_LOAD_NO_BOUND;
    a->limited_by = HF_LIMIT_NONE;
    a->step_count = 0;
}

hf_text fixture_report(const fixture *f, const char *format) {
    hf_text out = {0};
    hf_design_assessment told = *f->assessment.designs;
    hf_assessment shown = f->assessment;
    hf_answer_of(&f->campaign, &told, &told.answer);
    shown.designs = &told;
    shown.met = told.answer.required > told.answer.service ? told.answer.required : told.answer.service;
    hf_report_print(&hf_report_assess, &shown, hf_report_format_find(format), &f->style, &out);
    return out;
}

hf_bound fixture_by_order(double value) {
    return (hf_bound){.method = HF_BOUND_ORDER_STATISTIC,
                      .content = 0.9,
                      .confidence = 0.95,
                      .k = NAN,
                      .m = NAN,
                      .s = NAN,
                      .h = NAN,
                      .value = value,
                      .rank = 1,
                      .n = 30};
}
