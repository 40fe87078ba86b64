/* What the JSON of an assessment holds; the tables are explained in json_fields.h. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/json_fields.h"
#include "words/words.h"

/* --- Fits -------------------------------------------------------------------------------------------- */

/* A fit and its test, as they stand beside each other in the event. */
static const hf_fit_test *test_of(const hf_place *p) {
    const hf_event_assessment *event = p->outer->item;
    return &event->tests[p->at];
}

static double newtons_per_unit(const hf_place *p) {
    return hf_unit_newtons(p->style->unit, p->style->gravity);
}

static const hf_family *fit_law(const hf_place *p) {
    return ((const hf_fit *)p->item)->family;
}

static const char *fit_why(const hf_place *p) {
    return hf_fit_stop_code(((const hf_fit *)p->item)->stop);
}

static hf_found fit_family(const hf_place *p) {
    return hf_found_text(fit_law(p)->name, NULL);
}

static bool fit_has_shape(const hf_place *p) {
    return fit_law(p)->has_shape;
}

static hf_found fit_shape(const hf_place *p) {
    return hf_found_number(1 / ((const hf_fit *)p->item)->s, NULL);
}

static hf_found fit_scale(const hf_place *p) {
    return hf_found_number(exp(((const hf_fit *)p->item)->m) / newtons_per_unit(p), NULL);
}

/* Densities are per unit of load: they scale with the unit shown, once for each exact reading. */
static hf_found fit_likelihood(const hf_place *p) {
    const hf_fit *fit = p->item;
    return hf_found_number(fit->log_likelihood + (double)fit->exact * log(newtons_per_unit(p)), NULL);
}

static hf_found fit_converged(const hf_place *p) {
    return hf_found_yes(((const hf_fit *)p->item)->stop == HF_FIT_CONVERGED);
}

static hf_found fit_stop(const hf_place *p) {
    return hf_found_text(fit_why(p), NULL);
}

static hf_found fit_reason(const hf_place *p) {
    return hf_found_text(fit_converged(p).yes ? NULL : fit_why(p), NULL);
}

static hf_found fit_iterations(const hf_place *p) {
    return hf_found_count((size_t)((const hf_fit *)p->item)->iterations);
}

static hf_found fit_rejected(const hf_place *p) {
    return hf_found_yes(test_of(p)->available && test_of(p)->rejected);
}

static hf_found fit_test(const hf_place *p) {
    return hf_found_item(test_of(p));
}

static const char *test_why(const hf_place *p) {
    return ((const hf_fit_test *)p->item)->reason;
}

#define OF hf_fit_test
static const hf_field test_fields[] = {HF_MAYBE(NUMBER, "statistic", a2, NULL),
                                       HF_MAYBE(NUMBER, "significance", significance, NULL),
                                       HF_MAYBE(NUMBER, "standard_error", standard_error, NULL),
                                       HF_MEMBER(COUNT, "replicates", replicates),
                                       HF_MAYBE(NUMBER, "handbook_significance", handbook, "fewer_than_8"),
                                       HF_FIELDS_END};
#undef OF
static const hf_record test_record = {.name = "fit_test", .fields = test_fields, .why = test_why};

#define OF hf_fit
static const hf_field fit_fields[] = {
    HF_FOUND(TEXT, "family", fit_family),
    HF_MAYBE(LOCATION, "m", m, NULL),
    HF_MAYBE(SPREAD, "s", s, NULL),
    {.key = "shape", .kind = HF_FIELD_NUMBER, .find = fit_shape, .nullable = true, .given = fit_has_shape},
    {.key = "scale", .kind = HF_FIELD_NUMBER, .find = fit_scale, .nullable = true, .given = fit_has_shape},
    HF_MAYBE(SPREAD, "standard_error_m", se_m, NULL),
    HF_MAYBE(SPREAD, "standard_error_s", se_s, NULL),
    HF_FOUND_OR(NUMBER, "log_likelihood", fit_likelihood, NULL),
    HF_FOUND(BOOL, "converged", fit_converged),
    HF_FOUND(TEXT, "stop", fit_stop),
    HF_FOUND(REASON, NULL, fit_reason),
    HF_FOUND(COUNT, "iterations", fit_iterations),
    HF_FOUND(BOOL, "rejected", fit_rejected),
    {.key = "anderson_darling", .kind = HF_FIELD_OBJECT, .find = fit_test, .record = &test_record},
    HF_FIELDS_END};
#undef OF
static const hf_record fit_record = {.name = "fit", .fields = fit_fields, .why = fit_why, .law = fit_law};

/* --- Bounds ------------------------------------------------------------------------------------------ */

static const char *bound_why(const hf_place *p) {
    const hf_bound *bound = p->item;
    return bound->method == HF_BOUND_NONE ? hf_bound_reason_code(bound->reason) : "not_in_this_method";
}

static hf_found bound_reason(const hf_place *p) {
    bool none = ((const hf_bound *)p->item)->method == HF_BOUND_NONE;
    return hf_found_text(none ? bound_why(p) : NULL, NULL);
}

static const hf_family *bound_law(const hf_place *p) {
    return ((const hf_bound *)p->item)->family;
}

static bool has_law(const hf_place *p) {
    return bound_law(p) != NULL;
}

static bool has_no_law(const hf_place *p) {
    return !bound_law(p);
}

static hf_found bound_family(const hf_place *p) {
    return hf_found_text(has_law(p) ? bound_law(p)->name : NULL, NULL);
}

static hf_found bound_method(const hf_place *p) {
    return hf_found_text(hf_bound_method_code(((const hf_bound *)p->item)->method), NULL);
}

/* A parameter of the law; where there is no law, that is why. */
static hf_found of_law(const hf_place *p, double value) {
    return hf_found_number(has_law(p) ? value : NAN, has_law(p) ? NULL : "distribution_free");
}

static hf_found bound_m(const hf_place *p) {
    return of_law(p, ((const hf_bound *)p->item)->m);
}

static hf_found bound_s(const hf_place *p) {
    return of_law(p, ((const hf_bound *)p->item)->s);
}

static hf_found bound_h(const hf_place *p) {
    return of_law(p, ((const hf_bound *)p->item)->h);
}

static hf_found bound_allowance(const hf_place *p) {
    return of_law(p, ((const hf_bound *)p->item)->allowance);
}

/* What s is made of; scatter of ln load. */
#define OF hf_bound_scatter
static const hf_field scatter_fields[] = {HF_MEMBER(NUMBER, "stated", stated),
                                          HF_MEMBER(NUMBER, "stated_degrees", degrees),
                                          HF_MEMBER(NUMBER, "own", own),
                                          HF_MEMBER(NUMBER, "own_degrees", own_degrees),
                                          HF_MEMBER(NUMBER, "confidence_used", confidence_used),
                                          HF_FIELDS_END};
#undef OF
static const hf_record scatter_record = {.name = "bound_scatter", .fields = scatter_fields};

static bool has_scatter(const hf_place *p) {
    return has_law(p) && ((const hf_bound *)p->item)->scatter.degrees > 0;
}

#define OF hf_bound
static const hf_field bound_fields[] = {
    HF_FOUND(REASON, NULL, bound_reason),
    HF_FOUND_OR(TEXT, "family", bound_family, "distribution_free"),
    HF_MEMBER(NUMBER, "content", content),
    HF_MEMBER(NUMBER, "confidence", confidence),
    HF_MAYBE(NUMBER, "k", k, NULL),
    HF_FOUND_OR(LOCATION, "m", bound_m, NULL),
    HF_FOUND_OR(SPREAD, "s", bound_s, NULL),
    HF_FOUND_OR(SPREAD, "h", bound_h, NULL),
    HF_FOUND_OR(NUMBER, "allowance", bound_allowance, NULL),
    {.key = "k_standard_error", .kind = HF_FIELD_NUMBER, HF_AT(k_error), .given = has_law},
    {.key = "scatter",
     .kind = HF_FIELD_OBJECT,
     HF_AT(scatter),
     .record = &scatter_record,
     .given = has_scatter},
    {.key = "lower_end", .kind = HF_FIELD_LOAD, HF_AT(lower_end), .nullable = true, .given = has_no_law},
    {.key = "upper_end", .kind = HF_FIELD_LOAD, HF_AT(upper_end), .nullable = true, .given = has_no_law},
    {.key = "rank", .kind = HF_FIELD_COUNT, HF_AT(rank), .given = has_no_law},
    HF_MEMBER(COUNT, "n", n),
    HF_MAYBE(LOAD, "value", value, NULL),
    HF_FOUND(TEXT, "method", bound_method),
    HF_FIELDS_END};
#undef OF
static const hf_record bound_record = {
    .name = "bound", .fields = bound_fields, .why = bound_why, .law = bound_law};

#define OF hf_scatter_confrontation
static const hf_field confrontation_fields[] = {
    HF_MEMBER(BOOL, "available", available),
    HF_MAYBE(NUMBER, "statistic", statistic, "one_part_or_none_stated"),
    HF_MAYBE(NUMBER, "critical", critical, "one_part_or_none_stated"),
    HF_MAYBE(NUMBER, "significance", significance, "one_part_or_none_stated"),
    HF_MEMBER(BOOL, "contradicted", contradicted),
    HF_FIELDS_END};
#undef OF
static const hf_record confrontation_record = {.name = "stated_scatter_test", .fields = confrontation_fields};

static bool is_confronted(const hf_place *p) {
    return ((const hf_event_assessment *)p->item)->confrontation.parts > 0;
}

#define HF_CODE(name, code) code,
static const char *const step_kinds[] = {HF_LOAD_STEP_LIST(HF_CODE) NULL};
#undef HF_CODE
static const char *const limits[] = {HF_LIMITS, NULL};

static hf_found governing_reason(const hf_place *p) {
    const hf_event_assessment *e = p->item;
    return hf_found_text(hf_governs_code(e->governing_reason), NULL);
}

static hf_found governing_family(const hf_place *p) {
    const hf_bound *bound = ((const hf_event_assessment *)p->item)->governing;
    return hf_found_text(bound && bound->family ? bound->family->name : NULL, NULL);
}

static hf_found governing_value(const hf_place *p) {
    const hf_bound *bound = ((const hf_event_assessment *)p->item)->governing;
    return hf_found_number(bound ? bound->value : NAN, NULL);
}

static hf_found governing_method(const hf_place *p) {
    const hf_bound *bound = ((const hf_event_assessment *)p->item)->governing;
    return hf_found_text(bound ? hf_bound_method_code(bound->method) : "none", NULL);
}

static hf_found governing_allowance(const hf_place *p) {
    const hf_bound *bound = ((const hf_event_assessment *)p->item)->governing;
    return hf_found_number(bound && bound->family ? bound->allowance : NAN,
                           bound ? "distribution_free" : NULL);
}

static const hf_field governing_fields[] = {HF_FOUND(REASON, NULL, governing_reason),
                                            HF_FOUND_OR(TEXT, "family", governing_family, "no_bound"),
                                            HF_FOUND_OR(LOAD, "value", governing_value, "no_bound"),
                                            HF_FOUND(TEXT, "method", governing_method),
                                            HF_FOUND_OR(NUMBER, "allowance", governing_allowance, "no_bound"),
                                            HF_FIELDS_END};
static const hf_record governing_record = {.name = "governing", .fields = governing_fields};

/* --- One event --------------------------------------------------------------------------------------- */

#define OF hf_assess_counts
static const hf_field counts_fields[] = {HF_MEMBER(COUNT, "used", used),
                                         HF_MEMBER(COUNT, "failed", failed),
                                         HF_MEMBER(COUNT, "first_rung", below),
                                         HF_MEMBER(COUNT, "run_out", run_out),
                                         HF_MEMBER(COUNT, "rig", rig),
                                         HF_MEMBER(COUNT, "void", voided),
                                         HF_MEMBER(COUNT, "reused", reused),
                                         HF_MEMBER(COUNT, "planned", planned),
                                         HF_FIELDS_END};
#undef OF
const hf_record hf_json_counts = {.name = "counts", .fields = counts_fields};

static const hf_outlier_test *outlier_of(const hf_place *p) {
    return &((const hf_event_assessment *)p->item)->outlier;
}

static bool outlier_there(const hf_place *p) {
    return outlier_of(p)->available;
}

static hf_found outlier_specimen(const hf_place *p) {
    return hf_found_text(outlier_there(p) ? ((const hf_event_assessment *)p->item)->outlier_id : NULL, NULL);
}

static hf_found outlier_statistic(const hf_place *p) {
    return hf_found_number(outlier_of(p)->statistic, NULL);
}

static hf_found outlier_critical(const hf_place *p) {
    return hf_found_number(outlier_of(p)->critical, NULL);
}

static hf_found outlier_tested(const hf_place *p) {
    return hf_found_yes(outlier_there(p));
}

static hf_found outlier_flagged(const hf_place *p) {
    return hf_found_yes(outlier_there(p) && outlier_of(p)->flagged);
}

static const hf_field outlier_fields[] = {HF_FOUND(BOOL, "tested", outlier_tested),
                                          HF_FOUND_OR(TEXT, "specimen", outlier_specimen, "not_tested"),
                                          HF_FOUND_OR(NUMBER, "statistic", outlier_statistic, "not_tested"),
                                          HF_FOUND_OR(NUMBER, "critical", outlier_critical, "not_tested"),
                                          HF_FOUND(BOOL, "flagged", outlier_flagged),
                                          HF_FIELDS_END};
static const hf_record outlier_record = {.name = "outlier", .fields = outlier_fields, .there = outlier_there};

static const char *batch_why(const hf_place *p) {
    return ((const hf_batch_test *)p->item)->reason;
}

static hf_found batches_differ(const hf_place *p) {
    return hf_found_yes(hf_batches_differ(p->item));
}

static bool one_way_there(const hf_place *p) {
    return ((const hf_batch_f *)p->item)->available;
}

static const char *one_way_why(const hf_place *p) {
    const hf_batch_f *test = p->item;
    return test->available ? "within_is_0" : "too_few";
}

#define OF hf_batch_f
static const hf_field one_way_fields[] = {HF_MEMBER(BOOL, "available", available),
                                          HF_MEMBER(COUNT, "count", batches),
                                          HF_MEMBER(COUNT, "parts", parts),
                                          HF_MAYBE(NUMBER, "f", f, NULL),
                                          HF_MAYBE(NUMBER, "significance_by_law", by_law, NULL),
                                          HF_MAYBE(NUMBER, "significance", significance, NULL),
                                          HF_MAYBE(NUMBER, "least_significance", least, NULL),
                                          HF_MEMBER(BOOL, "exact", exact),
                                          HF_MEMBER(BOOL, "differ", differ),
                                          HF_FIELDS_END};
#undef OF
static const hf_record one_way_record = {
    .name = "one_way", .fields = one_way_fields, .there = one_way_there, .why = one_way_why};

#define OF hf_batch_test
static const hf_field batch_fields[] = {HF_MEMBER(COUNT, "count", batches),
                                        HF_MAYBE(NUMBER, "statistic", adk, NULL),
                                        HF_MAYBE(NUMBER, "critical", critical, NULL),
                                        HF_MAYBE(NUMBER, "between_share", between_share, NULL),
                                        HF_OBJECT("one_way", one_way, &one_way_record),
                                        HF_FOUND(BOOL, "differ", batches_differ),
                                        HF_FIELDS_END};
#undef OF
static const hf_record batch_record = {.name = "batches", .fields = batch_fields, .why = batch_why};

static const char *trend_why(const hf_place *p) {
    return ((const hf_trend_test *)p->item)->reason;
}

#define OF hf_trend_test
static const hf_field trend_test_fields[] = {HF_MEMBER(COUNT, "parts", parts),
                                             HF_MAYBE(NUMBER, "slope", slope, NULL),
                                             HF_MAYBE(NUMBER, "last_to_first", first_to_last, NULL),
                                             HF_MAYBE(NUMBER, "significance", significance, NULL),
                                             HF_MEMBER(BOOL, "exact", exact),
                                             HF_MEMBER(BOOL, "trend", trend),
                                             HF_FIELDS_END};
#undef OF
static const hf_record trend_test_record = {
    .name = "trend_test", .fields = trend_test_fields, .why = trend_why};

static const char *const orders[] = {HF_PULLING_ORDERS, NULL};

#define OF hf_event_assessment
static const hf_field trend_fields[] = {HF_WORD("order", order, orders), HF_INLINE(trend, &trend_test_record),
                                        HF_FIELDS_END};
#undef OF
static const hf_record trend_record = {.name = "trend", .fields = trend_fields};

/* First movement is not looked at in the order of pulling. */
static bool has_trend(const hf_place *p) {
    const hf_trend_test *test = &((const hf_event_assessment *)p->item)->trend;
    return test->available || test->reason;
}

static const void *next_fit(const hf_place *p, size_t at) {
    return at < HF_FAMILY_COUNT ? &((const hf_event_assessment *)p->item)->fits[at] : NULL;
}

static const void *next_bound(const hf_place *p, size_t at) {
    const hf_event_assessment *e = p->item;
    return at < e->bound_count ? &e->bounds[at] : NULL;
}

#define OF hf_batch_bound
static const hf_field batch_bound_fields[] = {HF_MEMBER(LOAD, "value", value),
                                              HF_MEMBER(NUMBER, "k", k),
                                              HF_MEMBER(NUMBER, "s", s),
                                              HF_MEMBER(NUMBER, "h", h),
                                              HF_MEMBER(NUMBER, "degrees_of_freedom", degrees_of_freedom),
                                              HF_MEMBER(NUMBER, "effective_n", effective_n),
                                              HF_MEMBER(NUMBER, "between_share", between_share),
                                              HF_MEMBER(COUNT, "batches", batches),
                                              HF_MEMBER(NUMBER, "mean_parts", mean_parts),
                                              HF_MEMBER(NUMBER, "between", between),
                                              HF_MEMBER(NUMBER, "within", within),
                                              HF_FIELDS_END};
#undef OF
static const hf_record batch_bound_record = {.name = "batch_bound", .fields = batch_bound_fields};

static bool has_one_batch(const hf_place *p) {
    const hf_event_assessment *event = p->item;
    return event->governing && event->governing->method == HF_BOUND_ONE_BATCH;
}

static const hf_event_assessment *event_of_one(const hf_place *p) {
    return p->item;
}

static hf_found one_value(const hf_place *p) {
    return hf_found_number(event_of_one(p)->governing->value, NULL);
}

static hf_found one_without(const hf_place *p) {
    return hf_found_number(event_of_one(p)->without_batches->value, NULL);
}

static hf_found one_mean(const hf_place *p) {
    return hf_found_number(exp(event_of_one(p)->mean_log_load), NULL);
}

#define OF hf_event_assessment
static const hf_field one_batch_fields[] = {
    HF_FOUND(LOAD, "value", one_value),          HF_FOUND(LOAD, "without", one_without),
    HF_FOUND(LOAD, "geometric_mean", one_mean),  HF_MEMBER(NUMBER, "between", between),
    HF_MEMBER(NUMBER, "factor", between_factor), HF_FIELDS_END};
#undef OF
static const hf_record one_batch_record = {.name = "one_batch", .fields = one_batch_fields};

static bool has_batch_bound(const hf_place *p) {
    const hf_batch_bound *bound = &((const hf_event_assessment *)p->item)->batch_bound;
    return bound->batches > 1 && isfinite(bound->value);
}

#define OF hf_event_assessment
static const hf_field step_fields[] = {HF_MAYBE(LOAD, "rms", step_rms, NULL), HF_FIELDS_END};
static const hf_record step_record = {.name = "step", .fields = step_fields};

static const hf_field middle_fields[] = {HF_MAYBE(LOAD, "mean", mean_mid, "too_few"),
                                         HF_MAYBE(LOAD, "standard_deviation", sd_mid, "too_few"),
                                         HF_MAYBE(NUMBER, "cv", cv, "too_few"),
                                         HF_MAYBE(LOAD, "least", min_load, "no_pulls"),
                                         HF_MAYBE(LOAD, "greatest", max_load, "no_pulls"),
                                         HF_FIELDS_END};
static const hf_record middle_record = {.name = "middles", .fields = middle_fields};

static const hf_field sensitivity_fields[] = {HF_MAYBE(LOAD, "with_void", with_void, "none"),
                                              HF_MAYBE(LOAD, "with_reused", with_reused, "none"),
                                              HF_FIELDS_END};
static const hf_record sensitivity_record = {.name = "sensitivity", .fields = sensitivity_fields};

static const hf_field calibration_fields[] = {
    HF_MAYBE(NUMBER, "relative_uncertainty", calibration_u, "no_bound"),
    HF_MAYBE(NUMBER, "z", calibration_z, "no_bound"),
    HF_MAYBE(NUMBER, "multiplier", calibration_multiplier, "no_bound"),
    HF_MAYBE(LOAD, "value", calibrated, "no_bound"), HF_FIELDS_END};
static const hf_record calibration_record = {.name = "calibration", .fields = calibration_fields};

static const hf_field event_fields[] = {
    HF_OBJECT("counts", counts, &hf_json_counts),
    HF_PART("step", &step_record),
    HF_PART("middles", &middle_record),
    HF_PART("outlier", &outlier_record),
    HF_OBJECT("batches", batch, &batch_record),
    {.key = "batch_bound",
     .kind = HF_FIELD_OBJECT,
     HF_AT(batch_bound),
     .record = &batch_bound_record,
     .given = has_batch_bound},
    {.key = "one_batch", .kind = HF_FIELD_OBJECT, .record = &one_batch_record, .given = has_one_batch},
    {.key = "trend", .kind = HF_FIELD_OBJECT, .record = &trend_record, .given = has_trend},
    HF_PART("sensitivity", &sensitivity_record),
    HF_LIST("fits", next_fit, &fit_record),
    HF_LIST("bounds", next_bound, &bound_record),
    {.key = "stated_scatter_test",
     .kind = HF_FIELD_OBJECT,
     HF_AT(confrontation),
     .record = &confrontation_record,
     .given = is_confronted},
    HF_PART("governing", &governing_record),
    HF_PART("calibration", &calibration_record),
    HF_FIELDS_END};
#undef OF
static const hf_record event_record = {.name = "event", .fields = event_fields};

/* --- The working load -------------------------------------------------------------------------------- */

/* Rounded down in the unit shown, so that three figures stay three figures. */
static double rounded(const hf_place *p, const hf_design_assessment *a) {
    return hf_number_round_down(hf_in_unit(p->style, a->working_load_unrounded), 3);
}

static bool is_labelled(const hf_place *p) {
    return ((const hf_load_step *)p->item)->label != NULL;
}

static hf_found step_value(const hf_place *p) {
    const hf_load_step *step = p->item;
    bool last = step->kind == HF_STEP_ROUND;
    return hf_found_number(last ? rounded(p, p->outer->item) : hf_in_unit(p->style, step->value), NULL);
}

#define OF hf_load_step
static const hf_field load_step_fields[] = {
    HF_WORD("code", kind, step_kinds),
    {.key = "reason_stated", .kind = HF_FIELD_TEXT, HF_AT(label), .given = is_labelled},
    HF_MAYBE(NUMBER, "factor", factor, "not_a_factor"),
    HF_FOUND_OR(NUMBER, "value", step_value, "no_bound"),
    HF_FIELDS_END};
#undef OF
static const hf_record load_step_record = {.name = "load_step", .fields = load_step_fields};

static const void *next_step(const hf_place *p, size_t at) {
    const hf_design_assessment *a = p->item;
    return at < a->step_count ? &a->steps[at] : NULL;
}

static const char *load_why(const hf_place *p) {
    hf_no_load reason = ((const hf_design_assessment *)p->item)->working_load_reason;
    return reason == HF_NO_LOAD_NONE ? NULL : hf_no_load_code(reason);
}

static hf_found load_value(const hf_place *p) {
    const hf_design_assessment *a = p->item;
    return hf_found_number(isfinite(a->working_load) ? rounded(p, a) : NAN, NULL);
}

static hf_found limited_by(const hf_place *p) {
    hf_limit limit = ((const hf_design_assessment *)p->item)->limited_by;
    return hf_found_text(limit == HF_LIMIT_NONE ? NULL : limits[limit], NULL);
}

static hf_found unit_shown(const hf_place *p) {
    return hf_found_text(p->style->unit->name, NULL);
}

#define OF hf_design_assessment
static const hf_field working_load_fields[] = {HF_FOUND_OR(NUMBER, "value", load_value, NULL),
                                               HF_MAYBE(LOAD, "unrounded", working_load_unrounded, NULL),
                                               HF_FOUND(TEXT, "unit", unit_shown),
                                               HF_FOUND_OR(TEXT, "limited_by", limited_by, NULL),
                                               HF_LIST("steps", next_step, &load_step_record),
                                               HF_FIELDS_END};
#undef OF
static const hf_record working_load_record = {
    .name = "working_load", .fields = working_load_fields, .why = load_why};

/* --- Goal and rules of the trade --------------------------------------------------------------------- */

static hf_found stated(hf_maybe load) {
    return hf_found_number(load.given ? load.value : NAN, NULL);
}

static hf_found required_bound(const hf_place *p) {
    return stated(((const hf_design_assessment *)p->item)->design->goal.required_bound);
}

static hf_found service_load(const hf_place *p) {
    return stated(((const hf_design_assessment *)p->item)->design->goal.service_load);
}

static hf_found margin(const hf_place *p) {
    const hf_design_assessment *a = p->item;
    return hf_found_number(a->margin, a->service_stated ? "no_working_load" : NULL);
}

static hf_found supported_content(const hf_place *p) {
    const hf_design_assessment *a = p->item;
    return hf_found_number(a->supported_content, a->service_stated ? "below_range" : NULL);
}

#define OF hf_design_assessment
static const hf_field goal_fields[] = {
    HF_MEMBER(NUMBER, "content", content),
    HF_MEMBER(NUMBER, "confidence", confidence),
    HF_FOUND_OR(LOAD, "required_bound", required_bound, "not_stated"),
    HF_FOUND_OR(LOAD, "service_load", service_load, "not_stated"),
    HF_FOUND_OR(NUMBER, "margin", margin, "not_stated"),
    HF_FOUND_OR(NUMBER, "supported_content", supported_content, "not_stated"),
    HF_MAYBE(LOAD, "supported_at", supported_load, "not_stated"),
    HF_FIELDS_END};
#undef OF
static const hf_record goal_record = {.name = "goal", .fields = goal_fields};

static const char *trade_why(const hf_place *p) {
    return ((const hf_trade_result *)p->item)->reason;
}

static hf_found trade_factor(const hf_place *p) {
    return hf_found_number(((const hf_trade_result *)p->item)->factor, trade_why(p) ? trade_why(p) : "none");
}

#define OF hf_trade_result
static const hf_field trade_fields[] = {
    HF_MEMBER(TEXT, "code", code),
    HF_MEMBER(TEXT, "label", label),
    HF_MEMBER(TEXT, "source", source),
    HF_FOUND_OR(NUMBER, "k", trade_factor, NULL),
    HF_MAYBE(LOAD, "value", value, NULL),
    HF_MEMBER(TEXT, "promise", promise),
    HF_MAYBE(NUMBER, "content", content, "none_stated"),
    HF_MAYBE(NUMBER, "confidence", confidence, "none_stated"),
    HF_MAYBE(NUMBER, "chance_next_below", next_below, "not_defined"),
    HF_MAYBE(NUMBER, "confidence_90_stronger", confidence_real, "not_defined"),
    HF_FIELDS_END};
#undef OF
static const hf_record trade_record = {.name = "trade_rule", .fields = trade_fields, .why = trade_why};

static const void *next_rule(const hf_place *p, size_t at) {
    return at < HF_TRADE_COUNT ? &((const hf_design_assessment *)p->item)->trade[at] : NULL;
}

#define OF hf_other_promise
static const hf_field other_fields[] = {
    HF_MEMBER(NUMBER, "content", content), HF_MEMBER(NUMBER, "confidence", confidence),
    HF_MAYBE(LOAD, "bound", bound, "no_bound"),
    HF_MAYBE(LOAD, "working_load", working_load, "no_working_load"), HF_FIELDS_END};
#undef OF
static const hf_record other_record = {.name = "other_promise", .fields = other_fields};

static const void *next_promise(const hf_place *p, size_t at) {
    return at < HF_OTHER_PROMISES ? &((const hf_design_assessment *)p->item)->other[at] : NULL;
}

/* --- Designs, and all of it -------------------------------------------------------------------------- */

static hf_found design_id(const hf_place *p) {
    return hf_found_text(((const hf_design_assessment *)p->item)->design->id, NULL);
}

static hf_found design_name(const hf_place *p) {
    return hf_found_text(((const hf_design_assessment *)p->item)->design->name, NULL);
}

static hf_found picked_from(const hf_place *p) {
    size_t count = ((const hf_design_assessment *)p->item)->promise.picked_from;
    return hf_found_number(count ? (double)count : NAN, NULL);
}

/* Scatter known from elsewhere, as the rule takes it. */
#define OF hf_past_design
static const hf_field past_fields[] = {HF_MEMBER(TEXT, "source", source),
                                       HF_MEMBER(NUMBER, "cv", cv),
                                       HF_MEMBER(NUMBER, "degrees_of_freedom", degrees_of_freedom),
                                       HF_MEMBER(NUMBER, "step", step),
                                       HF_MEMBER(NUMBER, "s", s),
                                       HF_FIELDS_END};
#undef OF
static const hf_record past_record = {.name = "past_design", .fields = past_fields};

static const hf_scatter *scatter_of(const hf_place *p) {
    return &((const hf_design_assessment *)p->item)->design->scatter;
}

static const void *next_past(const hf_place *p, size_t at) {
    return at < scatter_of(p)->past_count ? &scatter_of(p)->past[at] : NULL;
}

static hf_found rule_degrees(const hf_place *p) {
    return hf_found_number(hf_past_scatter_of(hf_scatter_stated(scatter_of(p))).degrees, NULL);
}

static hf_found rule_s(const hf_place *p) {
    return hf_found_number(hf_past_scatter_of(hf_scatter_stated(scatter_of(p))).s0, NULL);
}

static hf_found rule_estimated(const hf_place *p) {
    return hf_found_number(scatter_of(p)->library.degrees_estimated, NULL);
}

static bool has_several(const hf_place *p) {
    return scatter_of(p)->library.designs > 1;
}

static bool has_scatter_rule(const hf_place *p) {
    return scatter_of(p)->given && isfinite(scatter_of(p)->degrees_of_freedom);
}

static const hf_field rule_fields[] = {HF_FOUND(NUMBER, "degrees_of_freedom", rule_degrees),
                                       {.key = "degrees_estimated",
                                        .kind = HF_FIELD_NUMBER,
                                        .nullable = true,
                                        .reason = "unlimited",
                                        .find = rule_estimated,
                                        .given = has_several},
                                       HF_FOUND(NUMBER, "s", rule_s),
                                       HF_LIST("past", next_past, &past_record),
                                       HF_FIELDS_END};
static const hf_record rule_record = {.name = "scatter_rule", .fields = rule_fields};

static bool is_two_ended(const hf_place *p) {
    return ((const hf_design_assessment *)p->item)->two_ended;
}

static bool is_set_watched(const hf_place *p) {
    return ((const hf_design_assessment *)p->item)->set_watched;
}

#define OF hf_design_assessment
static const hf_field design_fields[] = {
    HF_FOUND(TEXT, "id", design_id),
    HF_FOUND_OR(TEXT, "name", design_name, "not_stated"),
    HF_OBJECT("answer", answer, &hf_json_answer),
    HF_PART("looks", &hf_json_looks),
    HF_FOUND_OR(NUMBER, "picked_from", picked_from, "not_stated"),
    {.key = "scatter_rule", .kind = HF_FIELD_OBJECT, .record = &rule_record, .given = has_scatter_rule},
    {.key = "two_ended",
     .kind = HF_FIELD_OBJECT,
     HF_AT(ends),
     .record = &hf_json_ends,
     .given = is_two_ended},
    HF_INLINE(break_event, &event_record),
    {.key = "set",
     .kind = HF_FIELD_OBJECT,
     HF_AT(set_event),
     .record = &event_record,
     .given = is_set_watched},
    HF_PART("working_load", &working_load_record),
    HF_PART("goal", &goal_record),
    HF_LIST("other_promises", next_promise, &other_record),
    HF_LIST("trade", next_rule, &trade_record),
    HF_MEMBER(CAUTIONS, "cautions", cautions),
    HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "assessed_design", .fields = design_fields};

static hf_found file_of(const hf_place *p) {
    return hf_found_item(((const hf_assessment *)p->item)->campaign);
}

static hf_found seed_of(const hf_place *p) {
    return hf_found_count((size_t)((const hf_assessment *)p->item)->options.seed);
}

static const void *next_design(const hf_place *p, size_t at) {
    const hf_assessment *result = p->item;
    return at < result->count ? &result->designs[at] : NULL;
}

#define OF hf_assessment
static const hf_field assess_fields[] = {HF_FILE(file_of),
                                         HF_FOUND(COUNT, "seed", seed_of),
                                         HF_WORD("met", met, hf_json_mets),
                                         HF_MAYBE(NUMBER, "picked_worth", picked_worth, "not_to_be_told"),
                                         HF_LIST("designs", next_design, &design_record),
                                         HF_MEMBER(CAUTIONS, "cautions", cautions),
                                         HF_FIELDS_END};
#undef OF
const hf_record hf_json_assess = {.name = "assess", .fields = assess_fields};
