/* What the JSON of a comparison holds; the tables are explained in json_fields.h. */
#include <math.h>
#include "words/compare_report.h"
#include "words/json_fields.h"

/* Why something is null that only stands beside the verdicts. */
static const char not_asked[] = "verdicts_only";

/* --- Ways of failing --------------------------------------------------------------------------------- */

static const hf_design_modes *modes_around(const hf_place *p) {
    return &((const hf_comparison_design *)p->outer->outer->item)->modes;
}

static const hf_mode_result *mode_of(const hf_place *p) {
    return p->item;
}

static hf_found mode_name(const hf_place *p) {
    return hf_found_text(modes_around(p)->names[p->at], NULL);
}

static bool mode_fitted(const hf_place *p) {
    return mode_of(p)->fitted;
}

static const char *mode_why(const hf_place *p) {
    return mode_fitted(p) ? "no_other_mode" : "not_fitted";
}

static hf_found mode_bound(const hf_place *p) {
    const hf_bound *bound = &mode_of(p)->bound;
    return hf_found_number(mode_fitted(p) ? bound->value : NAN,
                           bound->method == HF_BOUND_NONE ? hf_bound_reason_code(bound->reason) : "too_few");
}

#define OF hf_mode_result
static const hf_field mode_fields[] = {HF_FOUND_OR(TEXT, "mode", mode_name, "not_stated"),
                                       HF_MEMBER(COUNT, "failures", failures),
                                       HF_MEMBER(NUMBER, "share", share),
                                       HF_MEMBER(BOOL, "fitted", fitted),
                                       HF_FOUND_OR(LOAD, "bound", mode_bound, NULL),
                                       HF_MAYBE(LOAD, "without", without, NULL),
                                       HF_MAYBE(LOAD, "without_standard_error", without_error, NULL),
                                       HF_FIELDS_END};
#undef OF
static const hf_record mode_record = {.name = "mode", .fields = mode_fields, .why = mode_why};

static const hf_design_modes *modes_of(const hf_place *p) {
    return p->item;
}

static const char *modes_why(const hf_place *p) {
    return modes_of(p)->reason ? modes_of(p)->reason : "not_fitted";
}

static hf_found modes_family(const hf_place *p) {
    const hf_family *law = modes_of(p)->result.family;
    return hf_found_text(law ? law->name : NULL, NULL);
}

static hf_found modes_bound(const hf_place *p) {
    return hf_found_number(modes_of(p)->available ? modes_of(p)->result.bound : NAN, NULL);
}

static hf_found modes_error(const hf_place *p) {
    return hf_found_number(modes_of(p)->available ? modes_of(p)->result.standard_error : NAN, NULL);
}

static const void *next_mode(const hf_place *p, size_t at) {
    return at < modes_of(p)->result.count ? &modes_of(p)->result.modes[at] : NULL;
}

#define OF hf_design_modes
static const hf_field modes_fields[] = {HF_MEMBER(REASON, NULL, reason),
                                        HF_FOUND_OR(TEXT, "family", modes_family, NULL),
                                        HF_FOUND_OR(LOAD, "bound", modes_bound, NULL),
                                        HF_FOUND_OR(LOAD, "standard_error", modes_error, NULL),
                                        HF_MAYBE(LOAD, "undivided_bound", undivided, NULL),
                                        HF_MEMBER(COUNT, "failures_not_fitted", result.unfitted_failures),
                                        HF_LIST("rows", next_mode, &mode_record),
                                        HF_FIELDS_END};
#undef OF
static const hf_record modes_record = {.name = "modes", .fields = modes_fields, .why = modes_why};

/* --- Parts with a fitting at each end ---------------------------------------------------------------- */

static const void *next_in_a_row(const hf_place *p, size_t at) {
    return at < HF_IN_A_ROW ? &((const hf_comparison_ends *)p->item)->rows[at] : NULL;
}

static hf_found row_fittings(const hf_place *p) {
    return hf_found_count(p->at + 1);
}

static const char *row_why(const hf_place *p) {
    return hf_bound_reason_code(((const hf_bound *)p->item)->reason);
}

#define OF hf_bound
static const hf_field row_fields[] = {HF_FOUND(COUNT, "fittings", row_fittings),
                                      HF_MEMBER(NUMBER, "content_of_each", content),
                                      HF_MAYBE(LOAD, "bound", value, NULL), HF_FIELDS_END};
#undef OF
static const hf_record row_record = {.name = "in_a_row", .fields = row_fields, .why = row_why};

#define OF hf_comparison_ends
static const hf_field ends_fields[] = {HF_MEMBER(COUNT, "parts", pulls),
                                       HF_MEMBER(COUNT, "fittings", ends),
                                       HF_MEMBER(COUNT, "broke", broke),
                                       HF_MEMBER(COUNT, "whole", whole),
                                       HF_MAYBE(LOAD, "median", median, "no_fit"),
                                       HF_MAYBE(NUMBER, "scatter", spread, "no_fit"),
                                       HF_MAYBE(LOAD, "naive_median", naive_median, "no_fit"),
                                       HF_MAYBE(NUMBER, "naive_scatter", naive_spread, "no_fit"),
                                       HF_LIST("in_a_row", next_in_a_row, &row_record),
                                       HF_FIELDS_END};
#undef OF
const hf_record hf_json_ends = {.name = "two_ended", .fields = ends_fields};

/* --- Designs ----------------------------------------------------------------------------------------- */

static const hf_comparison_design *design_of(const hf_place *p) {
    return p->item;
}

static hf_found design_id(const hf_place *p) {
    return hf_found_text(design_of(p)->design->id, NULL);
}

static hf_found design_name(const hf_place *p) {
    return hf_found_text(design_of(p)->design->name, NULL);
}

static hf_found design_family(const hf_place *p) {
    const hf_bound *governing = design_of(p)->event.governing;
    return hf_found_text(governing && governing->family ? governing->family->name : NULL, NULL);
}

static hf_found design_method(const hf_place *p) {
    const hf_bound *governing = design_of(p)->event.governing;
    return hf_found_text(governing ? hf_bound_method_code(governing->method) : "none", NULL);
}

static hf_found design_rank(const hf_place *p) {
    return hf_found_number(design_of(p)->rank ? (double)design_of(p)->rank : NAN, NULL);
}

static bool is_two_ended(const hf_place *p) {
    return design_of(p)->two_ended;
}

#define OF hf_comparison_design
static const hf_field design_fields[] = {HF_FOUND(TEXT, "id", design_id),
                                         HF_FOUND_OR(TEXT, "name", design_name, "not_stated"),
                                         HF_OBJECT("counts", event.counts, &hf_json_counts),
                                         HF_MEMBER(NUMBER, "content", content),
                                         HF_MEMBER(NUMBER, "confidence", confidence),
                                         HF_MAYBE(LOAD, "geometric_mean", geometric_mean, "too_few"),
                                         HF_MAYBE(NUMBER, "scatter", scatter, "too_few"),
                                         HF_MAYBE(LOAD, "bound", bound, "no_bound"),
                                         HF_MAYBE(LOAD, "own_bound", own_bound, "no_bound"),
                                         HF_MAYBE(NUMBER, "own_confidence", own_confidence, "no_bound"),
                                         HF_MAYBE(LOAD, "if_picked", if_picked, "no_bound"),
                                         HF_MAYBE(NUMBER, "picked_confidence", picked_confidence, "no_bound"),
                                         HF_FOUND_OR(TEXT, "family", design_family, "no_law"),
                                         HF_FOUND(TEXT, "method", design_method),
                                         HF_FOUND_OR(NUMBER, "rank", design_rank, "no_bound"),
                                         HF_OBJECT("modes", modes, &modes_record),
                                         {.key = "two_ended",
                                          .kind = HF_FIELD_OBJECT,
                                          HF_AT(ends),
                                          .record = &hf_json_ends,
                                          .given = is_two_ended},
                                         HF_MEMBER(CAUTIONS, "cautions", cautions),
                                         HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "compared_design", .fields = design_fields};

/* --- Pairs ------------------------------------------------------------------------------------------- */

/* A pair, whether the row stands in its own object or in one of its parts. */
static const hf_comparison_pair *pair_of(const hf_place *p) {
    return p->item;
}

static const hf_comparison *around(const hf_place *p) {
    while (p->outer) p = p->outer;
    return p->item;
}

static bool left_out(const hf_place *p) {
    return around(p)->options.verdicts_only;
}

static bool relabel_there(const hf_place *p) {
    return pair_of(p)->relabel.available;
}

static const char *relabel_why(const hf_place *p) {
    return pair_of(p)->relabel.reason;
}

static hf_found relabel_statistic(const hf_place *p) {
    return hf_found_number(pair_of(p)->relabel.statistic, relabel_why(p) ? relabel_why(p) : "no_scatter");
}

static hf_found relabel_all(const hf_place *p) {
    return hf_found_yes(relabel_there(p) && pair_of(p)->relabel.full);
}

#define OF hf_comparison_pair
static const hf_field relabel_fields[] = {HF_MAYBE(NUMBER, "p", relabel.p, NULL),
                                          HF_MAYBE(NUMBER, "standard_error", relabel.standard_error, NULL),
                                          HF_MAYBE(NUMBER, "p_floor", relabel.p_floor, NULL),
                                          HF_FOUND_OR(NUMBER, "statistic", relabel_statistic, NULL),
                                          HF_MAYBE(NUMBER, "relabelings", relabel.relabelings, NULL),
                                          HF_FOUND(BOOL, "all", relabel_all),
                                          HF_MEMBER(BOOL, "coarsened", relabel.coarsened),
                                          HF_MEMBER(COUNT, "common_rungs", relabel.common_rungs),
                                          HF_MEMBER(BOOL, "planned_rungs", planned_rungs),
                                          HF_FIELDS_END};
#undef OF
static const hf_record relabel_record = {
    .name = "relabeling", .fields = relabel_fields, .there = relabel_there, .why = relabel_why};

/* What takes each part for itself has no interval where batch means decide. */
static bool by_batches(const hf_comparison_pair *pair) {
    return pair->method == HF_COMPARISON_BATCH_MEANS;
}

/* The pair whose part the row stands in. */
static const hf_comparison_pair *pair_around(const hf_place *p) {
    return p->outer->item;
}

static bool quantile_there(const hf_place *p) {
    return pair_around(p)->quantile_available;
}

static const char *quantile_why(const hf_place *p) {
    if (!quantile_there(p)) return pair_around(p)->quantile_reason;
    return by_batches(pair_around(p)) && !isnan(pair_around(p)->quantile.ratio) ? "batches" : "not_positive";
}

/* The law is named also where no difference was found. */
static hf_found quantile_family(const hf_place *p) {
    const hf_family *law = ((const hf_quantile_difference *)p->item)->family;
    return hf_found_text(law ? law->name : NULL, NULL);
}

#define OF hf_quantile_difference
static const hf_field quantile_fields[] = {HF_FOUND_OR(TEXT, "family", quantile_family, NULL),
                                           HF_MEMBER(NUMBER, "content", content),
                                           HF_MAYBE(LOAD, "a", quantile_a, NULL),
                                           HF_MAYBE(LOAD, "b", quantile_b, NULL),
                                           HF_MAYBE(LOAD, "difference", difference, NULL),
                                           HF_MAYBE(LOAD, "difference_low", difference_low, NULL),
                                           HF_MAYBE(LOAD, "difference_high", difference_high, NULL),
                                           HF_MAYBE(NUMBER, "ratio", ratio, NULL),
                                           HF_MAYBE(NUMBER, "ratio_low", ratio_low, NULL),
                                           HF_MAYBE(NUMBER, "ratio_high", ratio_high, NULL),
                                           HF_MAYBE(NUMBER, "p", p, NULL),
                                           HF_FIELDS_END};
#undef OF
static const hf_record quantile_record = {
    .name = "quantile", .fields = quantile_fields, .there = quantile_there, .why = quantile_why};

static const char *outlasts_why(const hf_place *p) {
    const hf_comparison_pair *pair = pair_of(p);
    if (!pair->outlasts_available) return left_out(p) ? not_asked : "open_or_too_few";
    return by_batches(pair) && !pair->outlasts.separated ? "batches" : "separated";
}

static hf_found outlasts_chance(const hf_place *p) {
    return hf_found_number(pair_of(p)->outlasts_available ? pair_of(p)->outlasts.chance : NAN, NULL);
}

/* Of a pair that is apart altogether there is no interval. */
static double interval(const hf_place *p, double number) {
    return pair_of(p)->outlasts_available && !pair_of(p)->outlasts.separated ? number : NAN;
}

static hf_found outlasts_low(const hf_place *p) {
    return hf_found_number(interval(p, pair_of(p)->outlasts.low), NULL);
}

static hf_found outlasts_high(const hf_place *p) {
    return hf_found_number(interval(p, pair_of(p)->outlasts.high), NULL);
}

static hf_found outlasts_p(const hf_place *p) {
    return hf_found_number(interval(p, pair_of(p)->outlasts.p), NULL);
}

static hf_found beside(const hf_place *p, double number, const char *why) {
    return hf_found_number(left_out(p) ? NAN : number, left_out(p) ? not_asked : why);
}

static hf_found outlasts_fitted(const hf_place *p) {
    return beside(p, pair_of(p)->fitted_chance, pair_of(p)->outlasts_available ? "all_finished" : "no_fit");
}

static hf_found outlasts_least(const hf_place *p) {
    return beside(p, pair_of(p)->least, "no_pulls");
}

static hf_found outlasts_most(const hf_place *p) {
    return beside(p, pair_of(p)->most, "no_pulls");
}

static const hf_field outlasts_fields[] = {
    HF_FOUND_OR(NUMBER, "chance", outlasts_chance, NULL), HF_FOUND_OR(NUMBER, "low", outlasts_low, NULL),
    HF_FOUND_OR(NUMBER, "high", outlasts_high, NULL),     HF_FOUND_OR(NUMBER, "p", outlasts_p, NULL),
    HF_FOUND_OR(NUMBER, "fitted", outlasts_fitted, NULL), HF_FOUND_OR(NUMBER, "least", outlasts_least, NULL),
    HF_FOUND_OR(NUMBER, "most", outlasts_most, NULL),     HF_FIELDS_END};
static const hf_record outlasts_record = {.name = "outlasts", .fields = outlasts_fields, .why = outlasts_why};

static bool games_howell_there(const hf_place *p) {
    return pair_around(p)->games_howell_available;
}

static const char *games_howell_why(const hf_place *p) {
    if (left_out(p)) return not_asked;
    return around(p)->count > 2 ? "open_or_too_few" : "two_designs";
}

static hf_found games_howell_low(const hf_place *p) {
    return hf_found_number(exp(((const hf_games_howell *)p->item)->low), NULL);
}

static hf_found games_howell_high(const hf_place *p) {
    return hf_found_number(exp(((const hf_games_howell *)p->item)->high), NULL);
}

#define OF hf_games_howell
static const hf_field games_howell_fields[] = {HF_FOUND_OR(NUMBER, "low", games_howell_low, NULL),
                                               HF_FOUND_OR(NUMBER, "high", games_howell_high, NULL),
                                               HF_MAYBE(NUMBER, "p", p, NULL), HF_FIELDS_END};
#undef OF
static const hf_record games_howell_record = {.name = "games_howell",
                                              .fields = games_howell_fields,
                                              .there = games_howell_there,
                                              .why = games_howell_why};

static bool separate_there(const hf_place *p) {
    return ((const hf_open_compare *)p->item)->available;
}

static const char *separate_why(const hf_place *p) {
    const hf_open_compare *open = p->item;
    return open->reason ? open->reason : "no_open_pulls";
}

static hf_found separate_high(const hf_place *p) {
    return hf_found_number(((const hf_open_compare *)p->item)->high, separate_there(p) ? "open" : NULL);
}

#define OF hf_open_compare
static const hf_field separate_fields[] = {HF_MAYBE(NUMBER, "ratio", ratio, NULL),
                                           HF_MAYBE(NUMBER, "low", low, NULL),
                                           HF_FOUND_OR(NUMBER, "high", separate_high, NULL),
                                           HF_MAYBE(NUMBER, "p", p, NULL),
                                           HF_MAYBE(NUMBER, "scatter_a", s_a, NULL),
                                           HF_MAYBE(NUMBER, "scatter_b", s_b, NULL),
                                           HF_FIELDS_END};
#undef OF
static const hf_record separate_record = {
    .name = "separate_scatter", .fields = separate_fields, .there = separate_there, .why = separate_why};

static const char *id_of(const hf_place *p, size_t design) {
    return around(p)->designs[design].design->id;
}

static hf_found pair_a(const hf_place *p) {
    return hf_found_text(id_of(p, pair_of(p)->a), NULL);
}

static hf_found pair_b(const hf_place *p) {
    return hf_found_text(id_of(p, pair_of(p)->b), NULL);
}

static hf_found pair_verdict(const hf_place *p) {
    return hf_found_text(hf_verdict_code(pair_of(p)->verdict), NULL);
}

static hf_found pair_method(const hf_place *p) {
    return hf_found_text(hf_comparison_method_code(pair_of(p)->method), NULL);
}

static const char *pair_why(const hf_place *p) {
    return pair_of(p)->reason ? pair_of(p)->reason : "open";
}

static hf_found pair_ratio(const hf_place *p) {
    return hf_found_number(pair_of(p)->ratio > 0 ? pair_of(p)->ratio : NAN, NULL);
}

/* By relabeling, whose own reason it then is: it says "not_available" where there is none. */
static hf_found by_relabeling(const hf_place *p, double number) {
    const char *why = relabel_why(p);
    return hf_found_number(relabel_there(p) ? number : NAN, why ? why : "not_available");
}

static hf_found pair_permutation(const hf_place *p) {
    return by_relabeling(p, pair_of(p)->relabel.p);
}

static hf_found pair_floor(const hf_place *p) {
    return by_relabeling(p, pair_of(p)->relabel.p_floor);
}

static hf_found pair_same(const hf_place *p) {
    bool stated = around(p)->options.same_within > 0;
    return hf_found_number(pair_of(p)->p_same, stated ? "judged_by_the_interval" : "not_stated");
}

static const char *visible_why(const hf_place *p) {
    const char *why = pair_of(p)->visible_reason;
    return why ? why : "not_available";
}

static hf_found pair_visible(const hf_place *p) {
    return hf_found_number(pair_of(p)->smallest_visible_ratio, visible_why(p));
}

static hf_found pair_parts(const hf_place *p) {
    double parts = pair_of(p)->parts_to_settle;
    if (by_batches(pair_of(p))) return hf_found_number(NAN, "counted_in_batches");
    return hf_found_number(parts, isinf(parts) ? "more_than_a_million" : visible_why(p));
}

static bool batches_decide(const hf_place *p) {
    return by_batches(pair_of(p));
}

static hf_found batches_to_settle(const hf_place *p) {
    double batches = pair_of(p)->batches_to_settle;
    return hf_found_number(batches, isinf(batches) ? "more_than_a_million" : visible_why(p));
}

#define OF hf_comparison_pair
static const hf_field pair_batch_fields[] = {
    HF_MEMBER(COUNT, "a", batches_a), HF_MEMBER(COUNT, "b", batches_b),
    HF_FOUND_OR(NUMBER, "to_settle", batches_to_settle, NULL),
    HF_MAYBE(NUMBER, "p_by_parts", p_by_parts, "one_value"), HF_FIELDS_END};
#undef OF
static const hf_record pair_batch_record = {.name = "batch_means", .fields = pair_batch_fields};

static hf_found scatter_alike(const hf_place *p) {
    return hf_found_number(pair_of(p)->p_spread, by_batches(pair_of(p)) ? "batches" : "open_or_too_few");
}

static hf_found pair_freedom(const hf_place *p) {
    const hf_comparison_pair *pair = pair_of(p);
    return hf_found_number(pair->degrees_of_freedom, pair->reason ? pair->reason : "scatter_assumed");
}

#define OF hf_comparison_pair
static const hf_field decides_fields[] = {HF_MAYBE(NUMBER, "confidence", decides_confidence, NULL),
                                          HF_MAYBE(NUMBER, "low", decides_low, NULL),
                                          HF_MAYBE(NUMBER, "high", decides_high, NULL), HF_FIELDS_END};
#undef OF
static const hf_record decides_record = {.name = "decides", .fields = decides_fields, .why = pair_why};

#define OF hf_comparison_pair
static const hf_field pair_fields[] = {
    HF_MEMBER(REASON, NULL, reason),
    HF_FOUND(TEXT, "a", pair_a),
    HF_FOUND(TEXT, "b", pair_b),
    HF_FOUND(TEXT, "verdict", pair_verdict),
    HF_FOUND(TEXT, "method", pair_method),
    HF_FOUND_OR(NUMBER, "ratio", pair_ratio, NULL),
    HF_MAYBE(NUMBER, "low", low, NULL),
    HF_MAYBE(NUMBER, "high", high, NULL),
    HF_MAYBE(NUMBER, "p", p, NULL),
    HF_MAYBE(NUMBER, "p_adjusted", p_adjusted, NULL),
    HF_PART("decides", &decides_record),
    HF_FOUND_OR(NUMBER, "p_permutation", pair_permutation, NULL),
    HF_FOUND_OR(NUMBER, "p_floor", pair_floor, NULL),
    HF_FOUND_OR(NUMBER, "p_same", pair_same, NULL),
    HF_FOUND_OR(NUMBER, "smallest_visible_ratio", pair_visible, NULL),
    HF_FOUND_OR(NUMBER, "parts_to_settle", pair_parts, NULL),
    HF_MEMBER(NUMBER, "power", power),
    HF_MAYBE(NUMBER, "t", t, "likelihood"),
    HF_FOUND_OR(NUMBER, "degrees_of_freedom", pair_freedom, NULL),
    {.key = "batches", .kind = HF_FIELD_OBJECT, .record = &pair_batch_record, .given = batches_decide},
    HF_PART("relabeling", &relabel_record),
    HF_OBJECT("quantile", quantile, &quantile_record),
    HF_PART("outlasts", &outlasts_record),
    HF_FOUND_OR(NUMBER, "p_scatter", scatter_alike, NULL),
    HF_OBJECT("games_howell", games_howell, &games_howell_record),
    HF_OBJECT("separate_scatter", separate, &separate_record),
    HF_MEMBER(CAUTIONS, "cautions", cautions),
    HF_FIELDS_END};
#undef OF
static const hf_record pair_record = {.name = "pair", .fields = pair_fields, .why = pair_why};

/* --- Pulled against each other ----------------------------------------------------------------------- */

static const hf_comparison_match *match_of(const hf_place *p) {
    return p->item;
}

static hf_found match_a(const hf_place *p) {
    return hf_found_text(id_of(p, match_of(p)->a), NULL);
}

static hf_found match_b(const hf_place *p) {
    return hf_found_text(id_of(p, match_of(p)->b), NULL);
}

static hf_found match_parts(const hf_place *p) {
    size_t parts = match_of(p)->parts_nine_in_ten;
    return hf_found_number(parts ? (double)parts : NAN, NULL);
}

#define OF hf_comparison_match
static const hf_field match_fields[] = {HF_FOUND(TEXT, "a", match_a),
                                        HF_FOUND(TEXT, "b", match_b),
                                        HF_MEMBER(COUNT, "a_won", test.first_won),
                                        HF_MEMBER(COUNT, "b_won", test.second_won),
                                        HF_MEMBER(COUNT, "ties", test.ties),
                                        HF_MEMBER(NUMBER, "p", test.p),
                                        HF_MAYBE(NUMBER, "share", test.share, "none_decided"),
                                        HF_MAYBE(NUMBER, "low", test.low, "none_decided"),
                                        HF_MAYBE(NUMBER, "high", test.high, "none_decided"),
                                        HF_MEMBER(COUNT, "more", test.more),
                                        HF_MEMBER(COUNT, "least", least),
                                        HF_FOUND_OR(NUMBER, "parts_nine_in_ten", match_parts, "not_reached"),
                                        HF_FIELDS_END};
#undef OF
static const hf_record match_record = {.name = "match", .fields = match_fields};

/* --- All of them ------------------------------------------------------------------------------------- */

static const hf_comparison *result_of(const hf_place *p) {
    return p->item;
}

static hf_found file_of(const hf_place *p) {
    return hf_found_item(result_of(p)->campaign);
}

static hf_found seed_of(const hf_place *p) {
    return hf_found_count((size_t)result_of(p)->options.seed);
}

static hf_found same_within(const hf_place *p) {
    double share = result_of(p)->options.same_within;
    return hf_found_number(share > 0 ? share : NAN, NULL);
}

static const void *next_pair(const hf_place *p, size_t at) {
    return at < result_of(p)->pair_count ? &result_of(p)->pairs[at] : NULL;
}

static const void *next_match(const hf_place *p, size_t at) {
    return at < result_of(p)->match_count ? &result_of(p)->matches[at] : NULL;
}

static const void *next_design(const hf_place *p, size_t at) {
    return at < result_of(p)->count ? &result_of(p)->designs[at] : NULL;
}

static const void *next_in_league(const hf_place *p, size_t at) {
    const hf_comparison *result = result_of(p);
    return at < result->count ? &result->designs[result->league[at]] : NULL;
}

static const void *next_group(const hf_place *p, size_t at) {
    return at < result_of(p)->group_count ? &result_of(p)->groups[at] : NULL;
}

/* Member `at` of a group, which is a row of bits. */
static const void *next_in_group(const hf_place *p, size_t at) {
    const hf_comparison *result = around(p);
    const uint64_t *group = p->item;
    for (size_t i = 0; i < result->count; i++)
        if (*group >> i & 1U && at-- == 0) return &result->designs[i];
    return NULL;
}

static const hf_field id_row = HF_FOUND(TEXT, NULL, design_id);
static const hf_field group_row = {.kind = HF_FIELD_ARRAY, .next = next_in_group, .each = &id_row};

#define OF hf_comparison
static const hf_field compare_fields[] = {
    HF_FILE(file_of),
    HF_FOUND(COUNT, "seed", seed_of),
    HF_MEMBER(NUMBER, "level", options.level),
    HF_FOUND_OR(NUMBER, "same_within", same_within, "not_stated"),
    HF_LIST("pairs", next_pair, &pair_record),
    HF_MEMBER(COUNT, "picked_from", picked_from),
    HF_MAYBE(NUMBER, "picked_worth", picked_worth, "promises_differ"),
    {.key = "league", .kind = HF_FIELD_ARRAY, .next = next_in_league, .each = &id_row},
    {.key = "groups", .kind = HF_FIELD_ARRAY, .next = next_group, .each = &group_row},
    HF_LIST("head_to_head", next_match, &match_record),
    HF_LIST("designs", next_design, &design_record),
    HF_MEMBER(CAUTIONS, "cautions", cautions),
    HF_FIELDS_END};
#undef OF
const hf_record hf_json_compare = {.name = "compare", .fields = compare_fields};
