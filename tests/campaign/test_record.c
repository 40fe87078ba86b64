/* Writing a pull into the file: the right members change and every other byte stays. */
#include <stdio.h>
#include <stdlib.h>
#include "campaign/campaign_text.h"
#include "check_close.h"
#include "holdfast/base/file.h"

#define FRONT                                                                                                \
    "{ \"format\": \"holdfast-campaign/1\", \"rig\": { \"records\": \"added\", \"tare\": \"2 kg\" }, "       \
    "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ "
#define BACK " ] } ] }\n"

typedef struct record_case {
    const char *before, *after; /* the specimen's text */
    hf_record_change change;
    bool again;
} record_case;

static const record_case cases[] = {
    /* planned is replaced, the new members follow */
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"held\": 760, \"failed\": 800 }",
     {.held = "760", .failed = "800"},
     false},
    {"{\"outcome\":\"planned\",\"id\":\"a\"}",
     "{\"outcome\":\"failed\",\"id\":\"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\"}",
     {.held = "760", .failed = "800", .mode = "stitch"},
     false},
    /* loads with a unit stay as typed, bare ones become numbers */
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"held\": \"76.50 kg\", \"failed\": \"80kg\" }",
     {.held = "76.50 kg", .failed = "80kg"},
     false},
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"held\": 1000, \"failed\": 1200.5 }",
     {.held = "1e3", .failed = "+1200.50"},
     false},
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"held\", \"peak\": 812, \"note\": \"say \\\"ah\\\"\" }",
     {.peak = "812", .outcome = "held", .note = "say \"ah\""},
     false},
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"void\", \"note\": \"hook slipped\" }",
     {.outcome = "void", .note = "hook slipped"},
     false},
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"held\": 760, \"failed\": 800, \"set_held\": 600, "
     "\"set_seen\": 640 }",
     {.held = "760", .failed = "800", .set_held = "600", .set_seen = "640"},
     false},
    /* empty answers count as none */
    {"{ \"id\": \"a\", \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"failed\": 800 }",
     {.held = "", .failed = "800", .mode = "", .note = ""},
     false},
    /* one member a line: indent and line ends as they are */
    {"{\n\t\"id\": \"a\",\n\t\"outcome\": \"planned\"\n}",
     "{\n\t\"id\": \"a\",\n\t\"outcome\": \"failed\",\n\t\"held\": 760,\n\t\"failed\": 800\n}",
     {.held = "760", .failed = "800"},
     false},
    {"{\r\n  \"id\": \"a\",\r\n  \"outcome\": \"planned\"\r\n}",
     "{\r\n  \"id\": \"a\",\r\n  \"outcome\": \"failed\",\r\n  \"held\": 760,\r\n  \"failed\": 800\r\n}",
     {.held = "760", .failed = "800"},
     false},
    {"{ \"id\": \"a\", \"info\": { \"operator\": \"A\" },\n  \"outcome\": \"planned\", \"batch\": \"b\" }",
     "{ \"id\": \"a\", \"info\": { \"operator\": \"A\" },\n  \"outcome\": \"failed\", \"batch\": \"b\", "
     "\"held\": 760, \"failed\": 800 }",
     {.held = "760", .failed = "800"},
     false},
    /* again: what is not said anew stays, but for what cannot stand beside it */
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\", \"dropped\": true, \"note\": "
     "\"n\" }",
     "{ \"id\": \"a\", \"mode\": \"stitch\", \"note\": \"n\", \"peak\": 812 }",
     {.peak = "812"},
     true},
    {"{ \"peak\": 812, \"id\": \"a\", \"duration_s\": 3 }",
     "{ \"id\": \"a\", \"duration_s\": 3, \"held\": 760, \"failed\": 800 }",
     {.held = "760", .failed = "800"},
     true},
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\" }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 840, \"mode\": \"stitch\" }",
     {.failed = "840"},
     true},
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\", \"phase\": \"dwell\" }",
     "{ \"id\": \"a\", \"held\": 800, \"outcome\": \"held\" }",
     {.held = "800", .outcome = "held"},
     true},
    {"{ \"id\": \"a\", \"held\": 760, \"outcome\": \"held\" }",
     "{ \"id\": \"a\", \"held\": 760, \"outcome\": \"failed\", \"failed\": 800 }",
     {.failed = "800"},
     true},
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"note\": \"n\", \"batch\": \"b\" }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"batch\": \"b\" }",
     {.without = "note"},
     true},
    /* every field; what is of no key of its own stands in info */
    {"{ \"id\": \"a\", \"outcome\": \"planned\", \"batch\": \"roll 3\" }",
     "{ \"id\": \"a\", \"outcome\": \"failed\", \"batch\": \"roll 4\", \"held\": 760, \"failed\": 800, "
     "\"phase\": \"dwell\", "
     "\"dropped\": true, \"duration_s\": 240, \"reused\": true, \"tare\": \"3 kg\", \"order\": 7, \"date\": "
     "\"2026-05-02\", "
     "\"info\": { \"operator\": \"A\", \"photo\": \"1.jpg\" } }",
     {.held = "760",
      .failed = "800",
      .phase = "dwell",
      .dropped = "true",
      .duration = "240",
      .reused = "true",
      .tare = "3 kg",
      .order = "7",
      .date = "2026-05-02",
      .batch = "roll 4",
      .by = "A",
      .photo = "1.jpg"},
     false},
    {"{ \"id\": \"a\", \"info\": { \"mould\": \"M\", \"operator\": \"B\" }, \"outcome\": \"planned\" }",
     "{ \"id\": \"a\", \"info\": { \"mould\": \"M\", \"operator\": \"A\", \"photo\": \"1.jpg\" }, "
     "\"outcome\": \"failed\", "
     "\"failed\": 800 }",
     {.failed = "800", .by = "A", .photo = "1.jpg"},
     false},
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }",
     "{ \"id\": \"a\", \"held\": 720, \"outcome\": \"rig\" }",
     {.held = "720", .outcome = "rig"},
     true},
    /* again, with nothing new about the break: the rest stays */
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800 }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\" }",
     {.mode = "stitch"},
     true},
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stich\" }",
     "{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\" }",
     {.mode = "stitch"},
     true},
};

START_TEST(only_the_named_members_change) {
    const record_case *c = &cases[_i];
    hf_text before = {0}, expected = {0}, out = {0};
    hf_findings findings;
    hf_error error;
    hf_text_addf(&before, FRONT "%s" BACK, c->before);
    hf_text_addf(&expected, "kept" FRONT "%s" BACK, c->after);
    hf_text_add(&out, "kept"); /* the result is appended */
    read_campaign read = read_good(before.bytes);
    ck_assert_msg(hf_campaign_record(read.arena, read.campaign, "a", &c->change, c->again, &out, &findings,
                                     &error) == HF_OK,
                  "%s: %s", error.message, findings.count ? findings.items[0].message : "");
    ck_assert_str_eq(out.bytes, expected.bytes);
    hf_text_free(&before);
    hf_text_free(&expected);
    hf_text_free(&out);
    hf_arena_free(read.arena);
}
END_TEST

typedef struct refusal {
    const char *id;
    hf_record_change change;
    const char *message, *finding; /* finding NULL: none */
} refusal;

static const refusal refusals[] = {
    {"ring-01",
     {.failed = "800"},
     "specimen \"ring-01\" has a result already; recording it again must be asked for",
     NULL},
    {"ring-3", {.failed = "800"}, "found no specimen \"ring-3\"; nearest is \"ring-03\"", NULL},
    {"completely-other", {.failed = "800"}, "found no specimen \"completely-other\" in the file", NULL},
    {"ring-02", {.held = ""}, "found nothing to record for \"ring-02\", expected a load or an outcome", NULL},
    {"ring-02",
     {.held = "seventy"},
     "found \"seventy\", expected a load such as \"18 kg\" or \"1.2 kN\"",
     NULL},
    {"ring-02",
     {.held = "800", .failed = "760"},
     "the pull of \"ring-02\" cannot be so; the file is unchanged",
     "found 760, expected a load above \"held\", which is 800"},
    {"ring-02",
     {.held = "800"},
     "the pull of \"ring-02\" cannot be so; the file is unchanged",
     "found only the load that was held, expected \"failed\" too, or outcome \"held\" or \"rig\" written"},
    {"ring-02",
     {.outcome = "void"},
     "the pull of \"ring-02\" cannot be so; the file is unchanged",
     "found outcome \"void\" without a \"note\", expected the physical reason"},
    {"ring-02",
     {.outcome = "torn", .failed = "3"},
     "the pull of \"ring-02\" cannot be so; the file is unchanged",
     "found \"torn\", expected \"failed\", \"held\", \"rig\", \"void\" or \"planned\""},
};

typedef struct clearing {
    const char *before, *to, *after;
} clearing;

static const clearing clearings[] = {
    {"{ \"id\": \"a\", \"held\": 760, \"failed\": 800, \"mode\": \"stitch\", \"batch\": \"b\", \"note\": "
     "\"n\" }",
     NULL, "{ \"id\": \"a\", \"batch\": \"b\", \"outcome\": \"planned\" }"},
    {"{ \"id\": \"a\", \"outcome\": \"void\", \"note\": \"n\", \"info\": { \"operator\": \"A\" } }", NULL,
     "{ \"id\": \"a\", \"outcome\": \"planned\" }"},
    {"{ \"id\": \"a\", \"order\": 1, \"held\": 760, \"failed\": 800, \"batch\": \"b\" }, { \"id\": \"c\", "
     "\"order\": 2, "
     "\"outcome\": \"planned\" }",
     "c",
     "{ \"id\": \"a\", \"order\": 2, \"batch\": \"b\", \"outcome\": \"planned\" }, { \"id\": \"c\", "
     "\"order\": 1, "
     "\"held\": 760, \"failed\": 800 }"},
};

START_TEST(a_result_is_taken_away_or_given_to_another_part) {
    const clearing *c = &clearings[_i];
    hf_text before = {0}, expected = {0}, out = {0};
    hf_findings findings;
    hf_error error;
    hf_text_addf(&before, FRONT "%s" BACK, c->before);
    hf_text_addf(&expected, FRONT "%s" BACK, c->after);
    read_campaign read = read_good(before.bytes);
    ck_assert_msg(hf_campaign_record_clear(read.arena, read.campaign, "a", c->to, &out, &findings, &error) ==
                      HF_OK,
                  "%s", error.message);
    ck_assert_str_eq(out.bytes, expected.bytes);
    hf_text_free(&before);
    hf_text_free(&expected);
    hf_text_free(&out);
    hf_arena_free(read.arena);
}
END_TEST

START_TEST(what_cannot_be_is_refused) {
    const refusal *r = &refusals[_i];
    read_campaign read =
        read_good(FRONT "{ \"id\": \"ring-01\", \"held\": 760, \"failed\": 800 }, { \"id\": \"ring-02\", "
                        "\"outcome\": \"planned\" }, { \"id\": \"ring-03\", \"outcome\": \"planned\" }" BACK);
    hf_text out = {0};
    hf_findings findings;
    hf_error error;
    ck_assert_int_eq(
        hf_campaign_record(read.arena, read.campaign, r->id, &r->change, false, &out, &findings, &error),
        HF_BAD_DATA);
    ck_assert_str_eq(error.message, r->message);
    ck_assert_uint_eq(findings.count, r->finding ? 1 : 0);
    if (r->finding) ck_assert_str_eq(findings.items[0].message, r->finding);
    ck_assert_uint_eq(out.length, 0);
    hf_arena_free(read.arena);
}
END_TEST

/* Bytes that two texts share at the front and at the back. */
static void shared(const char *a, size_t a_length, const char *b, size_t b_length, size_t *front,
                   size_t *back) {
    size_t shorter = a_length < b_length ? a_length : b_length;
    *front = *back = 0;
    while (*front < shorter && a[*front] == b[*front]) ++*front;
    while (*back < shorter - *front && a[a_length - 1 - *back] == b[b_length - 1 - *back]) ++*back;
}

/* Property: whichever part of the demo is recorded again, all that changes lies within that part's object, and it reads back. */
START_TEST(every_part_of_the_demo_keeps_the_rest) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *demo, *changed;
    const hf_record_change change = {.held = "52 kg", .failed = "56 kg", .mode = "other"};
    hf_findings findings;
    hf_error error;
    size_t tried = 0;
    ck_assert_int_eq(hf_campaign_read(arena, HF_DATASETS_DIR "/shade-sail.json", &demo, &findings, &error),
                     HF_OK);
    for (size_t i = 0; i < demo->design_count; i++)
        for (size_t j = 0; j < demo->designs[i].specimen_count; j++, tried++) {
            const hf_specimen *part = &demo->designs[i].specimens[j];
            hf_text out = {0};
            size_t front, back;
            ck_assert_int_eq(
                hf_campaign_record(arena, demo, part->id, &change, true, &out, &findings, &error), HF_OK);
            shared(demo->text, demo->text_length, out.bytes, out.length, &front, &back);
            ck_assert_msg(front > part->node->start && demo->text_length - back < part->node->end,
                          "%s: changed outside its object", part->id);
            ck_assert_int_eq(hf_campaign_parse(arena, "changed", out.bytes, out.length, &changed, &findings),
                             HF_OK);
            const hf_specimen *after = hf_campaign_specimen(changed, part->id, NULL);
            ck_assert_str_eq(after->mode, "other");
            ck_assert_int_eq(after->outcome, HF_OUTCOME_FAILED);
            hf_check_close(after->held.value, 52 * 9.81, HF_TOLERANCE_ROUNDING, "the demo's gravity");
            ck_assert_str_eq(after->batch, part->batch);
            hf_text_free(&out);
        }
    ck_assert_uint_eq(tried, 26);
    hf_arena_free(arena);
}
END_TEST

/* Round trip: a pull written in any shape reads back to the same bits. */
START_TEST(numbers_read_back_to_the_same_bits) {
    static const double loads[] = {0.1, 1.0 / 3, 760.05, 1e-5, 123456789.125, 2.385e7, 4.9e11};
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++) {
        char typed[40];
        hf_text out = {0};
        hf_findings findings;
        hf_error error;
        const hf_campaign *after;
        (void)snprintf(typed, sizeof typed, "%.17g", loads[i]);
        read_campaign read = read_good(FRONT "{ \"id\": \"a\", \"outcome\": \"planned\" }" BACK);
        ck_assert_int_eq(hf_campaign_record(read.arena, read.campaign, "a",
                                            &(hf_record_change){.failed = typed}, false, &out, &findings,
                                            &error),
                         HF_OK);
        ck_assert_int_eq(hf_campaign_parse(read.arena, "after", out.bytes, out.length, &after, &findings),
                         HF_OK);
        hf_check_close(after->designs[0].specimens[0].failed.value, loads[i], HF_TOLERANCE_EXACT, "as typed");
        hf_text_free(&out);
        hf_arena_free(read.arena);
    }
}
END_TEST

/* --- Starting a file ----------------------------------------------------------------------------- */

START_TEST(a_starter_is_valid_and_says_what_was_answered) {
    const hf_campaign_start start = {.title = "Sail \"A\"",
                                     .unit = "kg",
                                     .tare = "2.6 kg",
                                     .rating = "2.5 kN",
                                     .weights = "6x10kg; 2x 5 kg",
                                     .design = "ring",
                                     .name = "sewn ring",
                                     .mean = "90",
                                     .cv = "0.12",
                                     .content = "0.99",
                                     .confidence = "0.9",
                                     .design_factor = "3",
                                     .service_load = "15 kg",
                                     .parts = 12};
    hf_arena *arena = hf_arena_create();
    const hf_campaign *c;
    hf_findings findings;
    hf_error error;
    hf_text out = {0};
    ck_assert_msg(hf_campaign_start_text(arena, &start, &out, &error) == HF_OK, "%s", error.message);
    ck_assert_int_eq(hf_campaign_parse(arena, "new", out.bytes, out.length, &c, &findings), HF_OK);
    ck_assert_uint_eq(findings.count, 0);
    ck_assert_str_eq(c->title, "Sail \"A\"");
    ck_assert_uint_eq(c->weight_count, 2);
    ck_assert_uint_eq(c->weights[0].count, 6);
    hf_check_close(c->weights[1].newtons, 5 * 9.80665, HF_TOLERANCE_ROUNDING, "as answered");
    hf_check_close(c->designs[0].guess.mean.value, 90 * 9.80665, HF_TOLERANCE_ROUNDING, "as answered");
    hf_check_close(c->goal.content, 0.99, HF_TOLERANCE_EXACT, "as answered");
    hf_check_close(c->rig.force.tare, 2.6 * 9.80665, HF_TOLERANCE_ROUNDING, "as answered");
    ck_assert_uint_eq(c->designs[0].specimen_count, 12);
    ck_assert_str_eq(c->designs[0].specimens[11].id, "ring-12");
    ck_assert_int_eq(c->designs[0].specimens[0].outcome, HF_OUTCOME_PLANNED);
    hf_text_free(&out);
    hf_arena_free(arena);
}
END_TEST

START_TEST(a_starter_without_answers_is_valid) {
    hf_arena *arena = hf_arena_create();
    const hf_campaign *c;
    hf_findings findings;
    hf_error error;
    hf_text out = {0};
    ck_assert_int_eq(hf_campaign_start_text(arena, &(hf_campaign_start){0}, &out, &error), HF_OK);
    ck_assert_int_eq(hf_campaign_parse(arena, "new", out.bytes, out.length, &c, &findings), HF_OK);
    hf_check_close(c->goal.confidence, 0.95, HF_TOLERANCE_EXACT, "design default");
    hf_text_free(&out);
    hf_arena_free(arena);
}
END_TEST

START_TEST(impossible_answers_are_refused) {
    static const hf_campaign_start starts[] = {
        {.unit = "stones"}, {.tare = "heavy"}, {.weights = "ten of 5 kg"}, {.weights = "6x10"},
        {.cv = "12"},       {.content = "90"}, {.records = "net"},         {.mean = "-3"}};
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++) {
        hf_arena *arena = hf_arena_create();
        hf_error error;
        hf_text out = {0};
        hf_status status = hf_campaign_start_text(arena, &starts[i], &out, &error);
        /* 6x10 without a unit is in the file's unit */
        bool bare = starts[i].weights && strcmp(starts[i].weights, "6x10") == 0;
        ck_assert_msg(status == (bare ? HF_OK : HF_USAGE), "%zu: %s", i, hf_status_text(status));
        ck_assert_uint_eq(out.length > 0, bare);
        hf_text_free(&out);
        hf_arena_free(arena);
    }
}
END_TEST

static Suite *record_suite(void) {
    Suite *suite = suite_create("record and start");
    TCase *tests = tcase_create("record");
    tcase_add_loop_test(tests, only_the_named_members_change, 0, sizeof cases / sizeof *cases);
    tcase_add_loop_test(tests, a_result_is_taken_away_or_given_to_another_part, 0,
                        (int)(sizeof clearings / sizeof *clearings));
    tcase_add_loop_test(tests, what_cannot_be_is_refused, 0, sizeof refusals / sizeof *refusals);
    tcase_add_test(tests, every_part_of_the_demo_keeps_the_rest);
    tcase_add_test(tests, numbers_read_back_to_the_same_bits);
    tcase_add_test(tests, a_starter_is_valid_and_says_what_was_answered);
    tcase_add_test(tests, a_starter_without_answers_is_valid);
    tcase_add_test(tests, impossible_answers_are_refused);
    suite_add_tcase(suite, tests);
    return suite;
}

HF_TEST_MAIN(record_suite)
