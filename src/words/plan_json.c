/* What the JSON of a plan holds; the tables are explained in json_fields.h. */
#include <math.h>
#include "words/json_fields.h"
#include "words/plan_report.h"

static const hf_plan *plan_of(const hf_place *p) {
    return p->item;
}

/* --- What a number of parts brings ------------------------------------------------------------------- */

static const hf_how_many *parts_around(const hf_place *p) {
    return p->outer->item;
}

static bool has_scatter(const hf_place *p) {
    return parts_around(p)->by_scatter > 0;
}

static hf_found by_stated_scatter(const hf_place *p) {
    return hf_found_yes(((const hf_how_many_row *)p->item)->n <= parts_around(p)->by_scatter);
}

#define OF hf_how_many_row
static const hf_field row_fields[] = {
    HF_MEMBER(COUNT, "n", n),
    HF_MAYBE(NUMBER, "k", k, "no_bound"),
    HF_MAYBE(NUMBER, "k_standard_error", k_error, "no_bound"),
    {.key = "by_stated_scatter", .kind = HF_FIELD_BOOL, .find = by_stated_scatter, .given = has_scatter},
    HF_MAYBE(LOAD, "expected_bound", expected, "no_bound"),
    HF_MAYBE(LOAD, "expected_standard_error", expected_error, "no_bound"),
    HF_MAYBE(NUMBER, "share_of_mean", share, "no_bound"),
    HF_MAYBE(LOAD, "low", low, "no_bound"),
    HF_MAYBE(LOAD, "middle", middle, "no_bound"),
    HF_MAYBE(LOAD, "high", high, "no_bound"),
    HF_MAYBE(NUMBER, "assurance", assurance, "no_requirement"),
    HF_MAYBE(NUMBER, "assurance_standard_error", assurance_error, "no_requirement"),
    HF_MAYBE(NUMBER, "without_bound", without_bound, "not_simulated"),
    HF_MAYBE(NUMBER, "minutes", minutes, "not_stepped"),
    HF_FIELDS_END};
#undef OF
static const hf_record row_record = {.name = "planned_sample", .fields = row_fields};

static const void *next_row(const hf_place *p, size_t at) {
    const hf_how_many *parts = p->item;
    if (parts->one && at-- == 0) return parts->one;
    return at < parts->count ? &parts->rows[at] : NULL;
}

static const hf_field samples_fields[] = {HF_LIST("samples", next_row, &row_record), HF_FIELDS_END};
static const hf_record samples_record = {.name = "samples", .fields = samples_fields};

#define OF hf_plan_scenario
static const hf_field scenario_fields[] = {HF_MEMBER(NUMBER, "cv", cv),
                                           HF_MEMBER(COUNT, "recommended", parts.recommended),
                                           HF_INLINE(parts, &samples_record), HF_FIELDS_END};
#undef OF
static const hf_record scenario_record = {.name = "scenario", .fields = scenario_fields};

/* --- The guess and what is required ------------------------------------------------------------------ */

static bool pulls_made(const hf_place *p) {
    return plan_of(p)->pilot.pulls > 0;
}

static hf_found guess_low(const hf_place *p) {
    return hf_found_number(pulls_made(p) ? plan_of(p)->pilot.belief.low : NAN, NULL);
}

static hf_found guess_high(const hf_place *p) {
    return hf_found_number(pulls_made(p) ? plan_of(p)->pilot.belief.high : NAN, NULL);
}

static hf_found guess_before(const hf_place *p) {
    return hf_found_number(pulls_made(p) ? plan_of(p)->pilot.guessed : NAN, NULL);
}

static const char *const cv_sources[] = {"guessed", "stated", "assumed", "fitted", NULL};

#define OF hf_plan
static const hf_field guess_fields[] = {HF_MAYBE(LOAD, "mean", setup.mean, "pilot"),
                                        HF_MAYBE(NUMBER, "cv", setup.cv, "pilot"),
                                        HF_WORD("cv_source", cv_source, cv_sources),
                                        HF_MEMBER(COUNT, "pulls", pilot.pulls),
                                        HF_FOUND_OR(LOAD, "low", guess_low, "no_pull"),
                                        HF_FOUND_OR(LOAD, "high", guess_high, "no_pull"),
                                        HF_FOUND_OR(LOAD, "mean_before", guess_before, "not_stated"),
                                        HF_FIELDS_END};
#undef OF
static const hf_record guess_record = {.name = "guess", .fields = guess_fields};

static hf_found needed(const hf_place *p) {
    double load = ((const hf_plan_calibration *)p->item)->needed;
    return hf_found_number(load, isinf(load) ? "none_left" : NULL);
}

#define OF hf_plan_calibration
static const hf_field calibration_fields[] = {
    HF_FOUND_OR(LOAD, "needed", needed, "not_stated"), HF_MAYBE(LOAD, "at", at, "not_stated"),
    HF_MAYBE(NUMBER, "u", u, "not_stated"), HF_MAYBE(NUMBER, "multiplier", multiplier, "not_stated"),
    HF_FIELDS_END};
#undef OF
const hf_record hf_json_calibration = {.name = "planned_calibration", .fields = calibration_fields};

/* --- The ladder -------------------------------------------------------------------------------------- */

static const hf_ladder_rung *rung_of(const hf_place *p) {
    return p->item;
}

static hf_found rung_added(const hf_place *p) {
    return hf_found_number(hf_plan_added(p->outer->item, rung_of(p)->force), NULL);
}

static hf_found rung_weights(const hf_place *p) {
    const char *text = hf_weights_text(p->arena, p->outer->item, &rung_of(p)->weights);
    return hf_found_text(text ? text : "", NULL);
}

static hf_found rung_handling(const hf_place *p) {
    return hf_found_count((size_t)rung_of(p)->weights.handling);
}

#define OF hf_ladder_rung
static const hf_field rung_fields[] = {HF_MAYBE(LOAD, "force", force, NULL),
                                       HF_FOUND_OR(LOAD, "added", rung_added, NULL),
                                       HF_FOUND(TEXT, "weights", rung_weights),
                                       HF_FOUND(COUNT, "handling", rung_handling),
                                       HF_MEMBER(BOOL, "coarse", coarse),
                                       HF_MAYBE(NUMBER, "reached", reached, "no_guess"),
                                       HF_FIELDS_END};
#undef OF
static const hf_record rung_record = {.name = "rung", .fields = rung_fields};

static hf_found reach(const hf_place *p) {
    return hf_found_number(isinf(plan_of(p)->reach) ? NAN : plan_of(p)->reach, NULL);
}

static bool borrows(const hf_place *p) {
    return plan_of(p)->borrow.kind != NULL;
}

static hf_found borrowed_weight(const hf_place *p) {
    return hf_found_number(((const hf_plan_borrow *)p->item)->kind->newtons, NULL);
}

#define OF hf_plan_borrow
static const hf_field borrow_fields[] = {
    HF_MEMBER(COUNT, "pieces", pieces), HF_FOUND_OR(LOAD, "weight", borrowed_weight, NULL),
    HF_MEMBER(COUNT, "recommended", parts), HF_MAYBE(LOAD, "expected_bound", expected, "no_bound"),
    HF_FIELDS_END};
#undef OF
static const hf_record borrow_record = {.name = "borrow", .fields = borrow_fields};

static const void *next_rung(const hf_place *p, size_t at) {
    return at < plan_of(p)->ladder.count ? &plan_of(p)->ladder.rungs[at] : NULL;
}

static bool has_ladder(const hf_place *p) {
    return plan_of(p)->ladder.count > 0;
}

static const char *ladder_why(const hf_place *p) {
    return has_ladder(p) ? "pilot" : "no_ladder";
}

static hf_found over_rating(const hf_place *p) {
    bool rated = !isinf(plan_of(p)->setup.rating);
    return hf_found_number(rated ? plan_of(p)->ladder.over_rating : NAN, has_ladder(p) ? "no_rating" : NULL);
}

#define OF hf_plan
static const hf_field risk_fields[] = {
    HF_MAYBE(NUMBER, "run_out", ladder.run_out, NULL), HF_FOUND_OR(NUMBER, "over_rating", over_rating, NULL),
    HF_MAYBE(NUMBER, "below_first", ladder.below_first, NULL), HF_FIELDS_END};
static const hf_record risk_record = {
    .name = "risk", .fields = risk_fields, .there = has_ladder, .why = ladder_why};

static const hf_field pull_fields[] = {HF_MAYBE(NUMBER, "rungs", ladder.expected_rungs, NULL),
                                       HF_MAYBE(NUMBER, "minutes", ladder.minutes_per_pull, NULL),
                                       HF_FIELDS_END};
static const hf_record pull_record = {
    .name = "planned_pull", .fields = pull_fields, .there = has_ladder, .why = ladder_why};

static hf_found hung_at_last(const hf_place *p) {
    const hf_ladder *ladder = &plan_of(p)->ladder;
    return hf_found_number(ladder->loads[ladder->count - 1], NULL);
}

static hf_found file_of(const hf_place *p) {
    return hf_found_item(plan_of(p)->campaign);
}

/* A proof in a file: what is required, and what must hang for it. */
static const hf_field proof_fields[] = {{.kind = HF_FIELD_INLINE, .find = file_of, .record = &hf_json_file},
                                        HF_MEMBER(TEXT, "design", setup.design),
                                        HF_MEMBER(COUNT, "parts", setup.parts),
                                        HF_MEMBER(BOOL, "required_by_service_load", setup.by_service),
                                        HF_MAYBE(LOAD, "required", setup.required, "not_stated"),
                                        HF_OBJECT("calibration", calibration, &hf_json_calibration),
                                        HF_FOUND_OR(LOAD, "hung", hung_at_last, NULL),
                                        HF_LIST("ladder", next_rung, &rung_record),
                                        HF_MEMBER(NUMBER, "minutes", day.minutes),
                                        HF_FIELDS_END};
const hf_record hf_json_proof_plan = {.name = "proof_of_design", .fields = proof_fields};

/* --- The price of steps, and all of it --------------------------------------------------------------- */

static hf_found price_ratio(const hf_place *p) {
    return hf_found_number(isnan(plan_of(p)->price_step) ? NAN : plan_of(p)->price.ratio, NULL);
}

static hf_found price_lost(const hf_place *p) {
    return hf_found_number(isnan(plan_of(p)->price_step) ? NAN : plan_of(p)->price.parts_lost, NULL);
}

static const hf_field price_fields[] = {HF_MAYBE(NUMBER, "step_in_sd", price_step, "not_stepped"),
                                        HF_FOUND_OR(NUMBER, "margin_ratio", price_ratio, "not_stepped"),
                                        HF_FOUND_OR(NUMBER, "parts_lost", price_lost, "not_stepped"),
                                        HF_MEMBER(COUNT, "parts", price_parts), HF_FIELDS_END};
#undef OF
static const hf_record price_record = {.name = "step_price", .fields = price_fields};

static bool from_file(const hf_place *p) {
    return plan_of(p)->campaign != NULL;
}

static bool without_file(const hf_place *p) {
    return !from_file(p);
}

static hf_found unit_shown(const hf_place *p) {
    return hf_found_text(p->style->unit->name, NULL);
}

static hf_found seed_of(const hf_place *p) {
    return hf_found_count((size_t)plan_of(p)->setup.seed);
}

static hf_found why_recommended(const hf_place *p) {
    const hf_plan *plan = plan_of(p);
    return hf_found_text(plan->setup.pilot ? "pilot" : hf_how_many_reason_code(plan->base.parts.reason),
                         NULL);
}

static bool has_half(const hf_place *p) {
    return plan_of(p)->half.parts.count > 0;
}

static bool has_looks(const hf_place *p) {
    return plan_of(p)->looks.rows != NULL;
}

static bool has_batches(const hf_place *p) {
    return plan_of(p)->batches.rows != NULL;
}

static bool has_day(const hf_place *p) {
    const hf_plan_day *day = &plan_of(p)->day;
    return day->count + day->left_out_count > 1 && !plan_of(p)->setup.pilot;
}

static bool has_asked(const hf_place *p) {
    return plan_of(p)->setup.parts > 0;
}

static bool has_twice(const hf_place *p) {
    return plan_of(p)->twice.parts.count > 0;
}

static bool has_earlier(const hf_place *p) {
    return plan_of(p)->earlier.designs > 0;
}

static hf_found parts_alone(const hf_place *p) {
    size_t alone = ((const hf_plan_earlier *)p->item)->alone;
    return hf_found_number(alone ? (double)alone : NAN, NULL);
}

#define OF hf_plan_earlier
static const hf_field earlier_fields[] = {HF_MEMBER(COUNT, "designs", designs),
                                          HF_MEMBER(COUNT, "parts", parts),
                                          HF_FOUND_OR(NUMBER, "parts_alone", parts_alone, "more_than_most"),
                                          HF_MEMBER(COUNT, "most", most), HF_FIELDS_END};
#undef OF
static const hf_record earlier_record = {.name = "plan_earlier", .fields = earlier_fields};

#define OF hf_plan
static const hf_field plan_fields[] = {
    {.kind = HF_FIELD_INLINE, .find = file_of, .record = &hf_json_file, .given = from_file},
    {.key = "unit", .kind = HF_FIELD_TEXT, .find = unit_shown, .given = without_file},
    HF_FOUND(COUNT, "seed", seed_of),
    HF_MAYBE(TEXT, "design", setup.design, "no_file"),
    HF_MEMBER(NUMBER, "content", setup.content),
    HF_MEMBER(NUMBER, "confidence", setup.confidence),
    HF_MEMBER(BOOL, "stepped", stepped),
    HF_MEMBER(BOOL, "exact", base.parts.exact),
    HF_MEMBER(COUNT, "replicates", base.parts.replicates),
    HF_MEMBER(COUNT, "recommended", base.parts.recommended),
    HF_FOUND(TEXT, "recommended_because", why_recommended),
    {.key = "parts_asked", .kind = HF_FIELD_COUNT, HF_AT(setup.parts), .given = has_asked},
    {.key = "day", .kind = HF_FIELD_OBJECT, HF_AT(day), .record = &hf_json_plan_day, .given = has_day},
    HF_PART("guess", &guess_record),
    HF_MEMBER(BOOL, "required_by_service_load", setup.by_service),
    HF_MAYBE(LOAD, "required", setup.required, "not_stated"),
    HF_OBJECT("calibration", calibration, &hf_json_calibration),
    HF_INLINE(base.parts, &samples_record),
    {.key = "looks", .kind = HF_FIELD_OBJECT, .record = &hf_json_plan_looks, .given = has_looks},
    {.key = "batches",
     .kind = HF_FIELD_OBJECT,
     HF_AT(batches),
     .record = &hf_json_plan_batches,
     .given = has_batches},
    HF_FOUND_OR(LOAD, "most_force", reach, "not_limited"),
    {.key = "borrow", .kind = HF_FIELD_OBJECT, HF_AT(borrow), .record = &borrow_record, .given = borrows},
    {.key = "earlier",
     .kind = HF_FIELD_OBJECT,
     HF_AT(earlier),
     .record = &earlier_record,
     .given = has_earlier},
    HF_LIST("ladder", next_rung, &rung_record),
    HF_PART("risk", &risk_record),
    HF_PART("pull", &pull_record),
    HF_PART("step_price", &price_record),
    {.key = "half_scatter",
     .kind = HF_FIELD_OBJECT,
     HF_AT(half),
     .record = &scenario_record,
     .given = has_half},
    {.key = "double_scatter",
     .kind = HF_FIELD_OBJECT,
     HF_AT(twice),
     .record = &scenario_record,
     .given = has_twice},
    HF_MEMBER(CAUTIONS, "cautions", cautions),
    HF_FIELDS_END};
#undef OF
const hf_record hf_json_plan = {.name = "plan", .fields = plan_fields};
