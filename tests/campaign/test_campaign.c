/* The campaign as it is in memory: defaults, overrides, warnings, limits. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "campaign/campaign_text.h"
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/base/text.h"

#define HEAD "{ \"format\": \"holdfast-campaign/1\", "
#define DESIGN_ALONE "\"designs\": [ { \"id\": \"ring\" } ] }"

static const char as_written[] = "as written in the test's text";

START_TEST(defaults_are_those_of_the_schema) {
    read_campaign read = read_good(HEAD DESIGN_ALONE);
    const hf_campaign *c = read.campaign;
    ck_assert_str_eq(c->title, "");
    ck_assert_str_eq(c->unit->name, "N");
    hf_check_close(c->gravity, 9.80665, HF_TOLERANCE_EXACT, "standard gravity");
    ck_assert(!c->gravity_given && !c->rig.tare_given && !c->rig.rating.given && !c->plan.given);
    hf_check_close(c->goal.content, 0.90, HF_TOLERANCE_EXACT, "design default");
    hf_check_close(c->goal.confidence, 0.95, HF_TOLERANCE_EXACT, "design default");
    ck_assert(!c->goal.content_given && !c->goal.confidence_given && !c->goal.design_factor.given);
    hf_check_close(c->rig.force.advantage, 1, HF_TOLERANCE_EXACT, "design default");
    ck_assert_str_eq(c->designs[0].name, "ring");
    ck_assert_ptr_null(c->designs[0].family);
    ck_assert_uint_eq(c->designs[0].specimen_count, 0);
    ck_assert_uint_eq(read.findings.count, 0);
    hf_arena_free(read.arena);
}
END_TEST

START_TEST(goal_and_guess_merge_key_by_key) {
    read_campaign read = read_good(
        HEAD "\"goal\": { \"content\": 0.99, \"design_factor\": 3, \"service_load\": 150, \"use_factors\": [ "
             "{ \"reason\": \"sun\", \"factor\": 1.5 } ] },"
             "\"guess\": { \"mean\": \"90 kg\", \"cv\": 0.1 },"
             "\"designs\": [ { \"id\": \"ring\", \"goal\": { \"confidence\": 0.9, \"design_factor\": 4 }, "
             "\"guess\": { \"cv\": 0.2 } },"
             "{ \"id\": \"plate\", \"goal\": { \"use_factors\": [] } }, { \"id\": \"eyelet\" } ] }");
    const hf_design *ring = hf_campaign_design(read.campaign, "ring"),
                    *plate = hf_campaign_design(read.campaign, "plate");
    hf_check_close(ring->goal.content, 0.99, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(ring->goal.confidence, 0.9, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(ring->goal.design_factor.value, 4, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(ring->goal.service_load.value, 150, HF_TOLERANCE_EXACT, as_written);
    ck_assert(ring->goal.content_given && ring->goal.confidence_given && !plate->goal.confidence_given);
    ck_assert_uint_eq(ring->goal.use_factor_count, 1);
    ck_assert_str_eq(ring->goal.use_factors[0].reason, "sun");
    hf_check_close(ring->guess.mean.value, 90 * 9.80665, HF_TOLERANCE_ROUNDING, as_written);
    hf_check_close(ring->guess.cv.value, 0.2, HF_TOLERANCE_EXACT, as_written);
    ck_assert_uint_eq(plate->goal.use_factor_count, 0);
    hf_check_close(plate->guess.cv.value, 0.1, HF_TOLERANCE_EXACT, as_written);
    ck_assert_ptr_null(hf_campaign_design(read.campaign, "knot"));
    hf_arena_free(read.arena);
}
END_TEST

START_TEST(every_key_of_the_goal_arrives) {
    read_campaign read = read_good(
        HEAD "\"goal\": { \"content\": 0.99, \"confidence\": 0.75, \"design_factor\": 3, "
             "\"set_factor\": 1.5, \"service_load\": 150, \"required_bound\": \"0.45 kN\" }," DESIGN_ALONE);
    const hf_goal *goal = &read.campaign->designs[0].goal;
    hf_check_close(goal->content, 0.99, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(goal->confidence, 0.75, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(goal->design_factor.value, 3, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(goal->set_factor.value, 1.5, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(goal->service_load.value, 150, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(goal->required_bound.value, 450, HF_TOLERANCE_ROUNDING, as_written);
    hf_arena_free(read.arena);
}
END_TEST

/* 61 bytes of a, é, é, …: the message cuts the key at 60, in the middle of an é. */
START_TEST(a_cut_never_splits_a_character) {
    hf_text text = {0}, kept = {0}, wanted = {0};
    hf_text_add(&text, HEAD "\"a");
    for (int i = 0; i < 40; i++) hf_text_add(&text, "é");
    for (int i = 0; i < 29; i++) hf_text_add(&kept, "é");
    hf_text_add(&text, "\": 1, " DESIGN_ALONE);
    hf_text_addf(&wanted, "found unknown key \"a%s\", expected one of ", kept.bytes);
    read_campaign read = read_text(text.bytes);
    ck_assert_uint_eq(read.findings.count, 1);
    ck_assert_msg(strncmp(read.findings.items[0].message, wanted.bytes, wanted.length) == 0, "%s",
                  read.findings.items[0].message);
    hf_arena_free(read.arena);
    hf_text_free(&text);
    hf_text_free(&kept);
    hf_text_free(&wanted);
}
END_TEST

START_TEST(every_key_arrives) {
    read_campaign read = read_good(
        HEAD "\"title\": \"sail\", \"unit\": \"kg\", \"gravity\": 9.81, \"info\": { \"place\": \"yard\" },"
             "\"rig\": { \"id\": \"beam\", \"tare\": \"2 kg\", \"records\": \"added\", \"advantage\": 2, "
             "\"angle_deg\": 10, \"rating\": \"2.5 kN\", \"resolution\": \"1 N\","
             " \"dwell_s\": 30, \"calibration\": \"weighed\", \"uncertainty\": [ { \"source\": \"weights\", "
             "\"relative\": 0.03, \"kind\": \"tolerance\" },"
             " { \"source\": \"tare\", \"load\": \"0.1 kg\", \"kind\": \"standard\" }, { \"source\": \"g\", "
             "\"relative\": 0.01, \"kind\": \"expanded\" } ], \"info\": { \"beam\": \"oak\" } },"
             "\"weights\": [ { \"load\": 10, \"count\": 6 }, { \"load\": \"30 lb\", \"count\": 2 } ],"
             "\"designs\": [ { \"id\": \"ring\", \"name\": \"sewn ring\", \"family\": \"weibull\", "
             "\"family_reason\": \"brittle\","
             " \"scatter\": { \"cv\": 0.12, \"degrees_of_freedom\": 14, \"source\": \"14 rings\" }, "
             "\"info\": { \"thread\": \"polyester\" }, \"specimens\": ["
             " { \"id\": \"ring-01\", \"batch\": \"roll 3\", \"order\": 4, \"date\": \"2026-05-02\", "
             "\"held\": 40, \"failed\": 44, \"mode\": \"stitch\", \"phase\": \"dwell\","
             " \"duration_s\": 240, \"reused\": true, \"ends\": [ \"ring\", \"eyelet\" ], \"broke\": 2, "
             "\"note\": \"n\", \"info\": { \"operator\": \"A\" } } ] },"
             "{ \"id\": \"eyelet\", \"family\": \"auto\", \"scatter\": { \"cv\": 0.1, "
             "\"degrees_of_freedom\": \"assumed\", \"source\": \"guess\" } } ],"
             "\"head_to_head\": [ { \"first\": \"ring\", \"second\": \"eyelet\", \"broke\": \"second\", "
             "\"mode\": \"cloth\", \"note\": \"winch\" } ],"
             "\"plan\": { \"seed\": 7, \"made\": \"2026-05-01\", \"ladders\": { \"ring\": [ { \"load\": 40, "
             "\"weights\": \"4x10kg\" }, { \"load\": 44 } ] } } }");
    const hf_campaign *c = read.campaign;
    const hf_design *design, *ring = c->designs;
    const hf_specimen *part = hf_campaign_specimen(c, "ring-01", &design);
    ck_assert_str_eq(c->rig.id, "beam");
    ck_assert_str_eq(c->rig.calibration, "weighed");
    hf_check_close(c->rig.force.tare, 2 * 9.81, HF_TOLERANCE_ROUNDING, as_written);
    hf_check_close(c->rig.rating.value, 2500, HF_TOLERANCE_ROUNDING, as_written);
    hf_check_close(c->rig.resolution.value, 1, HF_TOLERANCE_EXACT, as_written);
    hf_check_close(c->rig.dwell_s.value, 30, HF_TOLERANCE_EXACT, as_written);
    ck_assert_uint_eq(c->rig.uncertainty_count, 3);
    ck_assert_int_eq(c->rig.uncertainty[0].kind, HF_UNCERTAINTY_TOLERANCE);
    hf_check_close(c->rig.uncertainty[1].load, 0.981, HF_TOLERANCE_ROUNDING, as_written);
    ck_assert_int_eq(c->rig.uncertainty[2].kind, HF_UNCERTAINTY_EXPANDED);
    hf_check_close(c->weights[1].newtons, 30 * 0.45359237 * 9.81, HF_TOLERANCE_ROUNDING, as_written);
    ck_assert_str_eq(c->weights[1].unit->name, "lb");
    ck_assert_uint_eq(c->weights[0].count, 6);
    ck_assert_ptr_eq(ring->family, &hf_family_weibull);
    ck_assert_str_eq(ring->family_reason, "brittle");
    hf_check_close(ring->scatter.degrees_of_freedom, 14, HF_TOLERANCE_EXACT, as_written);
    ck_assert(isinf(c->designs[1].scatter.degrees_of_freedom));
    ck_assert_ptr_null(c->designs[1].family);
    ck_assert_ptr_eq(design, ring);
    ck_assert_str_eq(part->batch, "roll 3");
    ck_assert_int_eq(part->phase, HF_PHASE_DWELL);
    ck_assert(part->reused && !part->dropped);
    ck_assert_str_eq(part->ends[1], "eyelet");
    ck_assert_int_eq(part->broke, HF_BROKE_SECOND);
    ck_assert_str_eq(part->info.pairs[0].value, "A");
    ck_assert_int_eq(c->head_to_head[0].broke, HF_BROKE_SECOND);
    ck_assert_str_eq(c->head_to_head[0].mode, "cloth");
    hf_check_close(c->plan.ladders[0].rungs[1].newtons, 44 * 9.81, HF_TOLERANCE_ROUNDING, as_written);
    ck_assert_str_eq(c->plan.ladders[0].rungs[0].weights, "4x10kg");
    hf_arena_free(read.arena);
}
END_TEST

START_TEST(dates_are_those_of_the_calendar) {
    static const char *const good[] = {"2026-05-02", "2024-02-29", "2000-02-29", "2026-12-31T23:59",
                                       "2026-05-02T08:30:59"};
    static const char *const bad[] = {
        "2023-02-29", "1900-02-29",  "2026-13-01",       "2026-00-10",       "2026-04-31",      "2026-05-00",
        "2026-5-2",   "2026/05/02",  "2026-05-02 08:30", "2026-05-02T08:60", "2026-05-02T8:30", "26-05-02",
        "",           "2026-05-02T", "2024-04-31",       "2024-01-32"};
    char text[300];
    for (size_t i = 0; i < sizeof good / sizeof *good + sizeof bad / sizeof *bad; i++) {
        bool wanted = i < sizeof good / sizeof *good;
        const char *date = wanted ? good[i] : bad[i - sizeof good / sizeof *good];
        (void)snprintf(text, sizeof text,
                       HEAD "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ { \"id\": \"a\", "
                            "\"outcome\": \"planned\", \"date\": \"%s\" } ] } ] }",
                       date);
        read_campaign read = read_text(text);
        ck_assert_msg((read.status == HF_OK) == wanted, "%s", date);
        hf_arena_free(read.arena);
    }
}
END_TEST

/* --- Warnings ------------------------------------------------------------------------------------ */

typedef struct warning_case {
    const char *before, *specimens, *codes; /* codes in file order */
} warning_case;

#define SURE "\"uncertainty\": [ { \"source\": \"scale\", \"relative\": 0.01, \"kind\": \"standard\" } ]"
#define RIG "\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\", " SURE " }"
#define OWNED "\"weights\": [ { \"load\": \"10 kg\", \"count\": 3 }, { \"load\": \"2.5 kg\", \"count\": 1 } ]"

#define LADDER(load, weights)                                                                                \
    "\"plan\": { \"ladders\": { \"ring\": [ { \"load\": \"" load "\", \"weights\": \"" weights "\" } ] } }"

static const warning_case warnings[] = {
    {RIG, "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }", ""},
    {"\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\" }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }", "no_uncertainty "},
    {"\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\" }", "{ \"id\": \"a\", \"outcome\": \"planned\" }",
     ""},
    {"\"rig\": { \"records\": \"added\", \"tare\": 0, " SURE " }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }", "tare_zero "},
    {"\"rig\": { \"records\": \"total\", \"tare\": 0, " SURE " }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }", ""},
    /* 800 + 19.6 above 810; 780 + 19.6 not */
    {"\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\", \"rating\": 810, " SURE " }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }", "above_rating "},
    {"\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\", \"rating\": 810, " SURE " }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 780 }", ""},
    {"\"rig\": { \"records\": \"added\", \"tare\": \"2 kg\", \"rating\": 810, " SURE " }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }, { \"id\": \"b\", \"held\": 800, \"outcome\": "
     "\"held\" }",
     "above_rating "},
    /* 10, 20, 30 and each + 2.5 kg can be made; 25 cannot */
    {RIG ", " OWNED,
     "{ \"id\": \"a\", \"held\": \"22.5 kg\", \"failed\": \"30 kg\" }, { \"id\": \"b\", \"held\": 0, "
     "\"failed\": \"2.5 kg\" }",
     ""},
    {RIG ", " OWNED,
     "{ \"id\": \"a\", \"held\": \"22.5 kg\", \"failed\": \"25 kg\" }, { \"id\": \"b\", \"held\": \"30 kg\", "
     "\"failed\": \"32.5 kg\" }",
     "not_makeable "},
    /* 32.5 kg hang at most */
    {RIG ", " OWNED,
     "{ \"id\": \"a\", \"held\": \"22.5 kg\", \"failed\": \"25 kg\" }, { \"id\": \"b\", \"held\": \"30 kg\", "
     "\"failed\": \"40 kg\" }",
     "not_makeable above_weights "},
    {RIG ", " OWNED, "{ \"id\": \"a\", \"peak\": \"25 kg\" }", ""},
    /* rungs: what hangs makes the load; hangs more than is owned; makes another load; cannot be read */
    {RIG ", " OWNED ", " LADDER("20 kg", "2x10kg"), "{ \"id\": \"a\", \"peak\": \"25 kg\" }", ""},
    {RIG ", " OWNED ", " LADDER("40 kg", "4x10kg"), "{ \"id\": \"a\", \"peak\": \"25 kg\" }",
     "ladder_weights "},
    {RIG ", " OWNED ", " LADDER("30 kg", "2x10kg"), "{ \"id\": \"a\", \"peak\": \"25 kg\" }",
     "ladder_weights "},
    {RIG ", " OWNED ", " LADDER("20 kg", "two"), "{ \"id\": \"a\", \"peak\": \"25 kg\" }", "ladder_weights "},
    {"\"rig\": { \"records\": \"total\", " SURE " }, " OWNED,
     "{ \"id\": \"a\", \"held\": \"22.5 kg\", \"failed\": \"25 kg\" }", ""},
    {RIG,
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"order\": 2 }, { \"id\": \"b\", \"held\": 760, "
     "\"failed\": 800, \"order\": 2 }",
     "order "},
    {RIG,
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"order\": 2, \"date\": \"2026-05-02\" },"
     " { \"id\": \"b\", \"held\": 760, \"failed\": 800, \"order\": 1, \"date\": \"2026-05-03\" }",
     "order "},
    {RIG,
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"order\": 2, \"date\": \"2026-05-03\" },"
     " { \"id\": \"b\", \"held\": 760, \"failed\": 800, \"order\": 1, \"date\": \"2026-05-02\" }",
     ""},
    {RIG, "{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }, { \"id\": \"b\", \"peak\": 790 }",
     "mixed_pull_kinds "},
    {RIG, "{ \"id\": \"a\", \"failed\": 400 }", "first_rung_held "},
    {RIG, "{ \"id\": \"a\", \"held\": 0, \"failed\": 400 }", ""},
    {RIG, "{ \"id\": \"a\", \"held\": \"76 kg\", \"failed\": 800 }", "mixed_units "},
};

START_TEST(warnings_one_per_cause) {
    const warning_case *row = &warnings[_i];
    hf_text text = {0}, codes = {0};
    hf_text_addf(&text, HEAD "%s, \"designs\": [ { \"id\": \"ring\", \"specimens\": [ %s ] } ] }",
                 row->before, row->specimens);
    read_campaign read = read_good(text.bytes);
    for (size_t i = 0; i < read.findings.count; i++) hf_text_addf(&codes, "%s ", read.findings.items[i].code);
    ck_assert_msg(strcmp(codes.bytes ? codes.bytes : "", row->codes) == 0, "%s: got \"%s\", expected \"%s\"",
                  text.bytes, codes.bytes ? codes.bytes : "", row->codes);
    ck_assert_uint_eq(read.findings.errors, 0);
    hf_arena_free(read.arena);
    hf_text_free(&text);
    hf_text_free(&codes);
}
END_TEST

START_TEST(warnings_say_how_many_and_where) {
    read_campaign read = read_good(
        HEAD "\"rig\": { \"records\": \"added\", \"tare\": 10, \"rating\": 700, " SURE " },\n\"designs\": [\n"
             "{ \"id\": \"ring\", \"specimens\": [\n{ \"id\": \"a\", \"held\": 760, \"failed\": 800 },\n{ "
             "\"id\": \"b\", \"held\": 800, \"failed\": 840 } ] },\n"
             "{ \"id\": \"plate\", \"specimens\": [ { \"id\": \"c\", \"held\": 700, \"outcome\": \"rig\" } ] "
             "} ] }");
    hf_text printed = {0};
    ck_assert_uint_eq(read.findings.count, 2);
    for (size_t i = 0; i < 2; i++) hf_finding_print(&read.findings.items[i], "sail.json", &printed);
    ck_assert_str_eq(printed.bytes, "sail.json:5:1: warning: designs[0].specimens[1]: 2 pulls went above the "
                                    "rig's rating of 700.0 N, up to 850.0 N\n"
                                    "sail.json:6:33: warning: designs[1].specimens[0]: 1 pull went above the "
                                    "rig's rating of 700.0 N, up to 710.0 N\n");
    ck_assert_str_eq(read.findings.items[0].design, "ring");
    ck_assert_str_eq(read.findings.items[1].design, "plate");
    hf_text_free(&printed);
    hf_arena_free(read.arena);
}
END_TEST

/* Ten thousand small weights are searched, too; a set with more sums than can be listed makes no claim. */
START_TEST(many_weights) {
    read_campaign read = read_good(
        HEAD RIG ", \"weights\": [ { \"load\": 1, \"count\": 10000 } ], \"designs\": [ { \"id\": \"ring\", "
                 "\"specimens\": [ { \"id\": \"a\", \"held\": 760, \"failed\": 800.5 } ] } ] }");
    ck_assert_uint_eq(read.findings.count, 1);
    ck_assert_str_eq(read.findings.items[0].code, "not_makeable");
    hf_arena_free(read.arena);
    hf_text text = {0};
    hf_text_add(&text, HEAD RIG ", \"weights\": [ ");
    for (int i = 0; i < 40; i++)
        hf_text_addf(&text, "%s{ \"load\": %.9f, \"count\": 10 }", i ? ", " : "", 1 + sqrt(i + 2.0) / 7);
    hf_text_add(&text, " ], \"designs\": [ { \"id\": \"ring\", \"specimens\": [ { \"id\": \"a\", \"held\": "
                       "60, \"failed\": 80 } ] } ] }");
    read = read_good(text.bytes);
    ck_assert_uint_eq(read.findings.count, 0);
    hf_arena_free(read.arena);
    hf_text_free(&text);
}
END_TEST

/* --- Limits and speed ---------------------------------------------------------------------------- */

static void many_pulls(hf_text *text, size_t count) {
    hf_text_add(text, HEAD RIG ",\n\"designs\": [ { \"id\": \"ring\", \"specimens\": [\n");
    for (size_t i = 0; i < count; i++)
        hf_text_addf(text, "{\"id\":\"r%zu\",\"held\":%zu,\"failed\":%zu}%s", i, 700 + i % 97, 800 + i % 97,
                     i + 1 < count ? ",\n" : "\n");
    hf_text_add(text, "] } ] }\n");
}

START_TEST(a_hundred_thousand_pulls) {
    enum { PULLS = 100000 };
    hf_text text = {0};
    many_pulls(&text, PULLS);
    clock_t start = clock();
    read_campaign read = read_good(text.bytes);
    (void)printf("campaign: %d pulls (%zu bytes) read in %.2f s\n", PULLS, text.length,
                 (double)(clock() - start) / CLOCKS_PER_SEC);
    ck_assert_uint_eq(read.campaign->designs[0].specimen_count, PULLS);
    ck_assert_str_eq(read.campaign->designs[0].specimens[PULLS - 1].id, "r99999");
    hf_arena_free(read.arena);
    hf_text_free(&text);
}
END_TEST

START_TEST(more_than_a_million_pulls_are_refused) {
    hf_text text = {0};
    hf_text_add(&text, HEAD "\"designs\": [ { \"id\": \"ring\", \"specimens\": [");
    for (size_t i = 0; i <= HF_CAMPAIGN_LIMIT_PULLS; i++) hf_text_add(&text, i ? ",{}" : "{}");
    hf_text_add(&text, "] } ] }");
    read_campaign read = read_text(text.bytes);
    ck_assert_int_eq(read.status, HF_BAD_DATA);
    ck_assert_uint_eq(read.findings.errors, 1);
    ck_assert_str_eq(read.findings.items[0].message, "found 1000001 pulls, expected at most 1000000");
    hf_arena_free(read.arena);
    hf_text_free(&text);
}
END_TEST

START_TEST(a_file_of_more_than_64_mebibytes_is_refused) {
    size_t length = HF_CAMPAIGN_LIMIT_BYTES + (size_t)1;
    char *text = malloc(length);
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign;
    hf_findings findings;
    ck_assert(text && arena);
    memset(text, ' ', length);
    ck_assert_int_eq(hf_campaign_parse(arena, "long.json", text, length, &campaign, &findings), HF_BAD_DATA);
    ck_assert_uint_eq(findings.errors, 1);
    ck_assert_str_eq(findings.items[0].message, "found a file of 67108865 bytes, expected at most 67108864");
    ck_assert_ptr_null(campaign);
    free(text);
    hf_arena_free(arena);
}
END_TEST

START_TEST(a_missing_file_is_a_file_error) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign;
    hf_findings findings;
    hf_error error;
    ck_assert_int_eq(hf_campaign_read(arena, "campaign/no-such-file.json", &campaign, &findings, &error),
                     HF_FILE);
    ck_assert_ptr_nonnull(strstr(error.message, "no-such-file.json"));
    ck_assert_uint_eq(findings.count, 0);
    hf_arena_free(arena);
}
END_TEST

START_TEST(the_demo_reads_without_a_finding) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *campaign;
    hf_findings findings;
    hf_error error;
    ck_assert_int_eq(
        hf_campaign_read(arena, HF_DATASETS_DIR "/shade-sail.json", &campaign, &findings, &error), HF_OK);
    ck_assert_msg(findings.count == 0, "%s", findings.count ? findings.items[0].message : "");
    ck_assert_ptr_nonnull(strstr(campaign->title, "invented"));
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_pull *pull = &campaign->designs[i].specimens[j].pull;
            double top = isinf(pull->upper) ? pull->lower : pull->upper;
            /* practice.md 4: the rig stands twice the highest step */
            ck_assert(campaign->rig.rating.value >= 2 * top);
        }
    hf_arena_free(arena);
}
END_TEST

static Suite *campaign_suite(void) {
    Suite *suite = suite_create("campaign");
    TCase *tests = tcase_create("campaign");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, defaults_are_those_of_the_schema);
    tcase_add_test(tests, goal_and_guess_merge_key_by_key);
    tcase_add_test(tests, every_key_of_the_goal_arrives);
    tcase_add_test(tests, a_cut_never_splits_a_character);
    tcase_add_test(tests, every_key_arrives);
    tcase_add_test(tests, dates_are_those_of_the_calendar);
    tcase_add_loop_test(tests, warnings_one_per_cause, 0, sizeof warnings / sizeof *warnings);
    tcase_add_test(tests, warnings_say_how_many_and_where);
    tcase_add_test(tests, many_weights);
    tcase_add_test(tests, a_hundred_thousand_pulls);
    tcase_add_test(tests, more_than_a_million_pulls_are_refused);
    tcase_add_test(tests, a_file_of_more_than_64_mebibytes_is_refused);
    tcase_add_test(tests, a_missing_file_is_a_file_error);
    tcase_add_test(tests, the_demo_reads_without_a_finding);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(campaign_suite)
