/* The outcome table and the force rule (docs/campaign-file.md), against sums done by hand. */
#include <math.h>
#include <stdio.h>
#include "campaign/campaign_text.h"
#include "check_close.h"

static const char by_hand[] = "by hand from the force rule";

typedef struct outcome_case {
    const char *specimen; /* members beside the id */
    hf_outcome outcome;
    hf_interval_kind kind;
    double lower, upper;
} outcome_case;

/* Added weights, tare 20 N, no lever, straight: a record of 760 N is 780 N on the part; the scale shows steps of 4 N. */
static const char plain_rig[] = "{ \"records\": \"added\", \"tare\": 20, \"resolution\": 4 }";

static const outcome_case rows[] = {
    /* every row of the table */
    {"\"held\": 760, \"failed\": 800", HF_OUTCOME_FAILED, HF_INTERVAL_CLOSED, 780, 820},
    {"\"held\": 760, \"failed\": 800, \"outcome\": \"failed\"", HF_OUTCOME_FAILED, HF_INTERVAL_CLOSED, 780,
     820},
    {"\"failed\": 400", HF_OUTCOME_FAILED, HF_INTERVAL_BELOW, 0, 420},
    {"\"failed\": 400, \"outcome\": \"failed\"", HF_OUTCOME_FAILED, HF_INTERVAL_BELOW, 0, 420},
    {"\"held\": 0, \"failed\": 400", HF_OUTCOME_FAILED, HF_INTERVAL_BELOW, 20, 420},
    {"\"held\": 900, \"outcome\": \"held\"", HF_OUTCOME_HELD, HF_INTERVAL_ABOVE, 920, INFINITY},
    {"\"held\": 0, \"outcome\": \"held\"", HF_OUTCOME_HELD, HF_INTERVAL_ABOVE, 20, INFINITY},
    {"\"held\": 900, \"outcome\": \"rig\"", HF_OUTCOME_RIG, HF_INTERVAL_ABOVE, 920, INFINITY},
    {"\"held\": 900, \"failed\": 940, \"outcome\": \"rig\"", HF_OUTCOME_RIG, HF_INTERVAL_ABOVE, 920,
     INFINITY},
    {"\"peak\": 812", HF_OUTCOME_FAILED, HF_INTERVAL_CLOSED, 810, 814},
    {"\"peak\": 812, \"outcome\": \"failed\"", HF_OUTCOME_FAILED, HF_INTERVAL_CLOSED, 810, 814},
    {"\"peak\": 812, \"outcome\": \"held\"", HF_OUTCOME_HELD, HF_INTERVAL_ABOVE, 810, INFINITY},
    {"\"peak\": 812, \"outcome\": \"rig\"", HF_OUTCOME_RIG, HF_INTERVAL_ABOVE, 810, INFINITY},
    {"\"outcome\": \"void\", \"note\": \"hook slipped\"", HF_OUTCOME_VOID, HF_INTERVAL_NONE, 0, 0},
    {"\"held\": 760, \"failed\": 800, \"outcome\": \"void\", \"note\": \"hook slipped\"", HF_OUTCOME_VOID,
     HF_INTERVAL_NONE, 0, 0},
    {"\"held\": 760, \"peak\": 800, \"outcome\": \"void\", \"note\": \"hook slipped\"", HF_OUTCOME_VOID,
     HF_INTERVAL_NONE, 0, 0},
    {"\"outcome\": \"planned\"", HF_OUTCOME_PLANNED, HF_INTERVAL_NONE, 0, 0},
    /* a reading within half a resolution of zero */
    {"\"peak\": 1", HF_OUTCOME_FAILED, HF_INTERVAL_BELOW, 0, 3},
    /* its own tare */
    {"\"held\": 760, \"failed\": 800, \"tare\": 30", HF_OUTCOME_FAILED, HF_INTERVAL_CLOSED, 790, 830},
};

static read_campaign read_specimen(const char *rig, const char *members) {
    char text[1000];
    (void)snprintf(text, sizeof text,
                   "{ \"format\": \"holdfast-campaign/1\", \"rig\": %s, \"designs\": [ { \"id\": \"ring\", "
                   "\"specimens\": [ { \"id\": \"a\", %s } ] } ] }",
                   rig, members);
    return read_good(text);
}

static void check_pull(const hf_pull *pull, hf_interval_kind kind, double lower, double upper,
                       const char *what) {
    ck_assert_msg(pull->kind == kind, "%s: kind %d, expected %d", what, (int)pull->kind, (int)kind);
    hf_check_close(pull->lower, lower, HF_TOLERANCE_ROUNDING, what);
    hf_check_close(pull->upper, upper, HF_TOLERANCE_ROUNDING, what);
}

START_TEST(every_row_of_the_table) {
    const outcome_case *row = &rows[_i];
    read_campaign read = read_specimen(plain_rig, row->specimen);
    const hf_specimen *specimen = read.campaign->designs[0].specimens;
    ck_assert_msg(specimen->outcome == row->outcome, "%s: outcome %d", row->specimen, (int)specimen->outcome);
    check_pull(&specimen->pull, row->kind, row->lower, row->upper, row->specimen);
    if (row->kind != HF_INTERVAL_NONE) ck_assert_int_eq(specimen->pull.stepped, !specimen->peak.given);
    hf_arena_free(read.arena);
}
END_TEST

/* held, failed, peak given or not × outcome absent or one of five: accepted exactly where the table has a row. */
START_TEST(every_other_combination_is_an_error) {
    static const char *const outcomes[] = {"", "failed", "held", "rig", "void", "planned"};
    /* Bit 1 held, bit 2 failed, bit 4 peak; a 1 at bit c: combination c stands in the table. */
    static const unsigned allowed[] = {1u << 3 | 1u << 2 | 1u << 4,
                                       1u << 3 | 1u << 2 | 1u << 4,
                                       1u << 1 | 1u << 4,
                                       1u << 1 | 1u << 3 | 1u << 4,
                                       0xFF,
                                       1u << 0};
    char text[1000];
    for (unsigned o = 0; o < 6; o++)
        for (unsigned c = 0; c < 8; c++) {
            (void)snprintf(
                text, sizeof text,
                "{ \"format\": \"holdfast-campaign/1\", \"rig\": %s, \"designs\": [ { \"id\": \"ring\", "
                "\"specimens\": [ { \"id\": \"a\"%s%s%s%s%s%s, \"note\": \"n\" } ] } ] }",
                plain_rig, c & 1 ? ", \"held\": 760" : "", c & 2 ? ", \"failed\": 800" : "",
                c & 4 ? ", \"peak\": 790" : "", o ? ", \"outcome\": \"" : "", outcomes[o], o ? "\"" : "");
            read_campaign read = read_text(text);
            bool wanted = allowed[o] >> c & 1;
            ck_assert_msg((read.status == HF_OK) == wanted, "%s", text);
            ck_assert_uint_eq(read.findings.errors, wanted ? 0 : 1);
            hf_arena_free(read.arena);
        }
}
END_TEST

typedef struct force_case {
    const char *rig, *specimen;
    double lower, upper;
} force_case;

/* cos 30° = √3/2 = 0.8660254037844387, cos 60° = 1/2; 1 kg = 9.80665 N; 1 lbf = 4.4482216152605 N. */
static const force_case forces[] = {
    /* (100·5 + 20)·√3/2 and (120·5 + 20)·√3/2 */
    {"{ \"records\": \"added\", \"tare\": 20, \"advantage\": 5, \"angle_deg\": 30 }",
     "\"held\": 100, \"failed\": 120", 450.33320996790813, 536.935750346352},
    /* (18 kg + 2.6 kg)·9.80665 and (20 kg + 2.6 kg)·9.80665 */
    {"{ \"records\": \"added\", \"tare\": \"2.6 kg\" }", "\"held\": \"18 kg\", \"failed\": \"20 kg\"",
     202.01699, 221.63029},
    /* a total takes no tare: 400/2 and 440/2 */
    {"{ \"records\": \"total\", \"tare\": 20, \"angle_deg\": 60 }", "\"held\": 400, \"failed\": 440", 200,
     220},
    {"{ \"records\": \"total\" }", "\"held\": 400, \"failed\": \"100 lbf\"", 400, 444.82216152605},
    /* a scale in line reads the force itself, whatever the weights say: (800 ∓ 5)/2 */
    {"{ \"records\": \"added\", \"tare\": 20, \"advantage\": 5, \"angle_deg\": 60, \"resolution\": 10 }",
     "\"peak\": 800", 397.5, 402.5},
    {"{ \"angle_deg\": 60 }", "\"peak\": 800", 400, 400},
    /* the hanger alone, off line: 20/2 and (100·5 + 20)/2 */
    {"{ \"records\": \"added\", \"tare\": 20, \"advantage\": 5, \"angle_deg\": 60 }",
     "\"held\": 0, \"failed\": 100", 10, 260},
};

START_TEST(the_force_rule_by_hand) {
    read_campaign read = read_specimen(forces[_i].rig, forces[_i].specimen);
    const hf_pull *pull = &read.campaign->designs[0].specimens[0].pull;
    hf_check_close(pull->lower, forces[_i].lower, HF_TOLERANCE_ROUNDING, by_hand);
    hf_check_close(pull->upper, forces[_i].upper, HF_TOLERANCE_ROUNDING, by_hand);
    if (pull->lower == pull->upper) ck_assert_int_eq(pull->kind, HF_INTERVAL_EXACT);
    hf_arena_free(read.arena);
}
END_TEST

typedef struct set_case {
    const char *specimen;
    hf_interval_kind kind;
    double lower, upper;
} set_case;

static const set_case sets[] = {
    {"\"held\": 760, \"failed\": 800", HF_INTERVAL_NONE, 0, 0},
    {"\"held\": 760, \"failed\": 800, \"set_held\": 600, \"set_seen\": 640", HF_INTERVAL_CLOSED, 620, 660},
    {"\"held\": 760, \"failed\": 800, \"set_held\": 600", HF_INTERVAL_ABOVE, 620, INFINITY},
    {"\"held\": 760, \"failed\": 800, \"set_seen\": 640", HF_INTERVAL_BELOW, 0, 660},
    {"\"held\": 760, \"failed\": 800, \"set_held\": 0, \"set_seen\": 640", HF_INTERVAL_BELOW, 20, 660},
    {"\"held\": 760, \"failed\": 800, \"set_held\": 760, \"set_seen\": 800", HF_INTERVAL_CLOSED, 780, 820},
    {"\"held\": 760, \"outcome\": \"held\", \"set_held\": 760", HF_INTERVAL_ABOVE, 780, INFINITY},
    /* read on the scale that gave the peak */
    {"\"peak\": 800, \"set_held\": 600, \"set_seen\": 640", HF_INTERVAL_CLOSED, 600, 640},
};

START_TEST(set_has_its_own_interval) {
    read_campaign read = read_specimen(plain_rig, sets[_i].specimen);
    check_pull(&read.campaign->designs[0].specimens[0].set, sets[_i].kind, sets[_i].lower, sets[_i].upper,
               sets[_i].specimen);
    hf_arena_free(read.arena);
}
END_TEST

START_TEST(dropped_marks_the_failing_step_only) {
    static const char *const members[] = {
        "\"held\": 760, \"failed\": 800, \"dropped\": true",
        "\"held\": 760, \"failed\": 800, \"dropped\": false", "\"failed\": 400, \"dropped\": true",
        "\"held\": 760, \"failed\": 800, \"outcome\": \"rig\", \"dropped\": true"};
    static const bool dropped[] = {true, false, false, false};
    for (size_t i = 0; i < 4; i++) {
        read_campaign read = read_specimen(plain_rig, members[i]);
        ck_assert_msg(read.campaign->designs[0].specimens[0].pull.dropped == dropped[i], "%s", members[i]);
        hf_arena_free(read.arena);
    }
}
END_TEST

START_TEST(a_void_part_keeps_what_it_would_have_said) {
    read_campaign read = read_specimen(
        plain_rig, "\"held\": 760, \"failed\": 800, \"outcome\": \"void\", \"note\": \"wrong thread\"");
    check_pull(&read.campaign->designs[0].specimens[0].voided, HF_INTERVAL_CLOSED, 780, 820, by_hand);
    hf_arena_free(read.arena);
    read = read_specimen(plain_rig, "\"held\": 760, \"outcome\": \"void\", \"note\": \"hook slipped\"");
    check_pull(&read.campaign->designs[0].specimens[0].voided, HF_INTERVAL_ABOVE, 780, INFINITY, by_hand);
    hf_arena_free(read.arena);
}
END_TEST

/* One load in every unit of the table: as a bare number of that unit and as a text with it. */
START_TEST(bare_and_written_units_agree) {
    size_t count;
    char text[600];
    const hf_unit *units = hf_unit_table(&count);
    for (size_t i = 0; i < count; i++) {
        (void)snprintf(text, sizeof text,
                       "{ \"format\": \"holdfast-campaign/1\", \"unit\": \"%s\", \"gravity\": 9.81, \"rig\": "
                       "{ \"records\": \"total\" }, \"designs\": "
                       "[ { \"id\": \"ring\", \"specimens\": [ { \"id\": \"a\", \"held\": 12.5, \"outcome\": "
                       "\"held\" }, { \"id\": \"b\", \"held\": \"12.5 %s\", \"outcome\": \"held\" } ] } ] }",
                       units[i].name, units[i].name);
        read_campaign read = read_good(text);
        const hf_specimen *parts = read.campaign->designs[0].specimens;
        hf_check_close(parts[0].pull.lower, 12.5 * units[i].factor * (units[i].is_mass ? 9.81 : 1),
                       HF_TOLERANCE_ROUNDING, by_hand);
        hf_check_close(parts[1].pull.lower, parts[0].pull.lower, HF_TOLERANCE_EXACT, units[i].name);
        hf_arena_free(read.arena);
    }
}
END_TEST

static Suite *outcome_suite(void) {
    Suite *suite = suite_create("outcome table and force rule");
    TCase *tests = tcase_create("outcome");
    tcase_add_loop_test(tests, every_row_of_the_table, 0, sizeof rows / sizeof *rows);
    tcase_add_test(tests, every_other_combination_is_an_error);
    tcase_add_loop_test(tests, the_force_rule_by_hand, 0, sizeof forces / sizeof *forces);
    tcase_add_loop_test(tests, set_has_its_own_interval, 0, sizeof sets / sizeof *sets);
    tcase_add_test(tests, dropped_marks_the_failing_step_only);
    tcase_add_test(tests, a_void_part_keeps_what_it_would_have_said);
    tcase_add_test(tests, bare_and_written_units_agree);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(outcome_suite)
