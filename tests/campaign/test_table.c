/* Pulls in from a table and out again: values, layout, and the round trip. */
#include <math.h>
#include <stdio.h>
#include "campaign/campaign_text.h"
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/campaign/table.h"

#define FRONT                                                                                                \
    "{ \"format\": \"holdfast-campaign/1\", \"rig\": { \"records\": \"added\", \"tare\": \"2 kg\" },\n"
#define ONE FRONT "  \"designs\": [ { \"id\": \"ring\", \"specimens\": [ "
#define BACK " ] } ] }\n"

/* The new text for a table; the caller frees it. */
static hf_text import(const hf_campaign *campaign, hf_arena *arena, const char *table, const char *design,
                      const char *unit) {
    hf_table_source source = {.file = "t.csv", .text = table, .length = strlen(table), .design = design};
    hf_text out = {0}, printed = {0};
    hf_table_result result;
    hf_error error;
    if (unit) source.unit = hf_unit_find(unit, strlen(unit));
    hf_status status = hf_campaign_import(arena, campaign, &source, &out, &result, &error);
    for (size_t i = 0; i < result.table.count; i++)
        hf_finding_print(&result.table.items[i], "t.csv", &printed);
    ck_assert_msg(status == HF_OK, "%s\n%s%s", table, printed.bytes ? printed.bytes : "", error.message);
    ck_assert_uint_gt(result.count, 0);
    hf_text_free(&printed);
    return out;
}

typedef struct value_case {
    const char *table, *specimens; /* what is added inside the brackets */
} value_case;

static const value_case values[] = {
    /* unit: in the header, in the cell, the file's own; numbers of the file's unit stay bare */
    {"held [kg],failed [kg]\n76,80.50\n",
     "{ \"id\": \"ring-01\", \"held\": \"76 kg\", \"failed\": \"80.5 kg\" }"},
    {"held [N],failed [N]\n760,8e2\n", "{ \"id\": \"ring-01\", \"held\": 760, \"failed\": 800 }"},
    {"held [kg],failed\n76,1.2kN\n", "{ \"id\": \"ring-01\", \"held\": \"76 kg\", \"failed\": \"1.2 kN\" }"},
    {"held [kg],failed [kg]\n170 lb,80\n",
     "{ \"id\": \"ring-01\", \"held\": \"170 lb\", \"failed\": \"80 kg\" }"},
    {"held [ kg ] , failed [kg]\n 76\t, 80 \n",
     "{ \"id\": \"ring-01\", \"held\": \"76 kg\", \"failed\": \"80 kg\" }"},
    /* separators and their decimal mark */
    {"held [kg];failed [kg]\n76,5;1234,25\n",
     "{ \"id\": \"ring-01\", \"held\": \"76.5 kg\", \"failed\": \"1234.25 kg\" }"},
    {"held [kg]\tfailed [kg]\tmode\n76.5\t80\t\n",
     "{ \"id\": \"ring-01\", \"held\": \"76.5 kg\", \"failed\": \"80 kg\" }"},
    /* byte order mark, comments, blank lines, CRLF, lone CR, no line end at the end, padding */
    {"\xEF\xBB\xBF# made on test day\r\n\r\npeak [N],mode\r\n812,stitch\r\n# later\r\n790,cloth",
     "{ \"id\": \"ring-01\", \"peak\": 812, \"mode\": \"stitch\" }, { \"id\": \"ring-02\", \"peak\": 790, "
     "\"mode\": \"cloth\" }"},
    {"peak [N]\r812\r", "{ \"id\": \"ring-01\", \"peak\": 812 }"},
    {"peak [N],mode,,\n812,stitch,,\n,,,\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"mode\": \"stitch\" }"},
    /* quotes: separators, line breaks and quotes inside; blanks are kept; an empty cell is no key */
    {"peak [N],note\n812,\"a, b;\nsaid \"\"ah\"\"\"\n",
     "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"a, b;\\nsaid \\\"ah\\\"\" }"},
    {"peak [N],note,mode\n812,\" a \",\"\"\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \" a \" }"},
    {"peak [N],note\n812,\"# no comment\"\n",
     "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"# no comment\" }"},
    /* the apostrophe before a formula is taken away, others stay */
    {"peak [N],note\n812,'=1+1\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"=1+1\" }"},
    {"peak [N],note\n812,''@x\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"'@x\" }"},
    {"peak [N],note\n812,'tis\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"'tis\" }"},
    {"peak [N],note\n812,=1+1\n", "{ \"id\": \"ring-01\", \"peak\": 812, \"note\": \"=1+1\" }"},
    /* every other key */
    {"id,batch,order,date,held [N],failed [N],set_held [N],set_seen [N],phase,duration_s,dropped,reused,tare "
     "[kg]\n"
     "a,roll 3,4,2026-05-02,760,800,600,640,dwell,240.5,yes,FALSE,2.6\n",
     "{ \"id\": \"a\", \"batch\": \"roll 3\", \"order\": 4, \"date\": \"2026-05-02\", \"held\": 760, "
     "\"failed\": 800, "
     "\"set_held\": 600, \"set_seen\": 640, \"phase\": \"dwell\", \"duration_s\": 240.5, \"dropped\": true, "
     "\"reused\": false, "
     "\"tare\": \"2.6 kg\" }"},
    {"peak [N],ends,broke,info.operator,info.\xC3\x96l\n812,ring |ring,1,A,x\n813,ring | ring,both,,\n",
     "{ \"id\": \"ring-01\", \"peak\": 812, \"ends\": [\"ring\", \"ring\"], \"broke\": 1, \"info\": { "
     "\"operator\": \"A\", "
     "\"\xC3\x96l\": \"x\" } }, { \"id\": \"ring-02\", \"peak\": 813, \"ends\": [\"ring\", \"ring\"], "
     "\"broke\": \"both\" }"},
    {"outcome,held [N],note\nheld,760,\nvoid,,hook slipped\nplanned,,\n",
     "{ \"id\": \"ring-01\", \"outcome\": \"held\", \"held\": 760 }, { \"id\": \"ring-02\", \"outcome\": "
     "\"void\", \"note\": "
     "\"hook slipped\" }, { \"id\": \"ring-03\", \"outcome\": \"planned\" }"},
    /* ids: made ones go round those that are taken */
    {"id,peak [N]\n,812\nring-02,790\n,845\n",
     "{ \"id\": \"ring-01\", \"peak\": 812 }, { \"id\": \"ring-02\", \"peak\": 790 }, { \"id\": \"ring-03\", "
     "\"peak\": 845 }"},
};

START_TEST(values_are_as_meant) {
    const value_case *one = &values[_i];
    read_campaign before = read_good(ONE " " BACK);
    hf_text expected = {0}, out = import(before.campaign, before.arena, one->table, "ring", NULL);
    hf_text_addf(&expected, ONE "%s  " BACK, one->specimens);
    ck_assert_str_eq(out.bytes, expected.bytes);
    hf_text_free(&out);
    hf_text_free(&expected);
    hf_arena_free(before.arena);
}
END_TEST

/* Plain numbers; each is a peak in the unit that was named. */
static const value_case lists[] = {
    {"812 790.5\t845\n\n 1e3\n",
     "{ \"id\": \"ring-01\", \"peak\": 812 }, { \"id\": \"ring-02\", \"peak\": 790.5 }, { \"id\": "
     "\"ring-03\", \"peak\": 845 }, { \"id\": \"ring-04\", \"peak\": 1000 }"},
    {"# by hand\n812, 790; 845,\n",
     "{ \"id\": \"ring-01\", \"peak\": 812 }, { \"id\": \"ring-02\", \"peak\": 790 }, { \"id\": "
     "\"ring-03\", \"peak\": 845 }"},
};

START_TEST(plain_numbers_are_peaks) {
    const value_case *one = &lists[_i];
    read_campaign before = read_good(ONE BACK);
    hf_text out = import(before.campaign, before.arena, one->table, "ring", "N");
    ck_assert_msg(strstr(out.bytes, one->specimens) != NULL, "%s", out.bytes);
    hf_text_free(&out);
    hf_arena_free(before.arena);
}
END_TEST

typedef struct layout_case {
    const char *before, *after;
} layout_case;

#define ROW_1 "{ \"id\": \"x\", \"peak\": 812 }"
#define ROW_2 "{ \"id\": \"y\", \"peak\": 790 }"

/* Every other byte stays; the new rows stand as the rows that are there. */
static const layout_case layouts[] = {
    {FRONT "\"designs\": [\n  { \"id\": \"ring\",\n    \"specimens\": [\n      { \"id\": \"a\", \"peak\": 1 "
           "}\n    ] } ] }",
     FRONT "\"designs\": [\n  { \"id\": \"ring\",\n    \"specimens\": [\n      { \"id\": \"a\", \"peak\": 1 "
           "},\n      " ROW_1 ",\n      " ROW_2 "\n    ] } ] }"},
    {FRONT "\"designs\": [\r\n\t{\r\n\t\t\"id\": \"ring\",\r\n\t\t\"specimens\": "
           "[\r\n\t\t\t{\r\n\t\t\t\t\"id\": \"a\",\r\n\t\t\t\t\"peak\": "
           "1\r\n\t\t\t}\r\n\t\t]\r\n\t}\r\n] }",
     FRONT "\"designs\": [\r\n\t{\r\n\t\t\"id\": \"ring\",\r\n\t\t\"specimens\": "
           "[\r\n\t\t\t{\r\n\t\t\t\t\"id\": \"a\",\r\n\t\t\t\t\"peak\": "
           "1\r\n\t\t\t},\r\n\t\t\t" ROW_1 ",\r\n\t\t\t" ROW_2 "\r\n\t\t]\r\n\t}\r\n] }"},
    {FRONT "\"designs\":[{\"id\":\"ring\",\"specimens\":[{\"id\":\"a\",\"peak\":1}]}]}", FRONT
     "\"designs\":[{\"id\":\"ring\",\"specimens\":[{\"id\":\"a\",\"peak\":1}, " ROW_1 ", " ROW_2 "]}]}"},
    {FRONT "\"designs\": [\n  {\n    \"id\": \"ring\",\n    \"specimens\": []\n  }\n] }",
     FRONT "\"designs\": [\n  {\n    \"id\": \"ring\",\n    \"specimens\": [\n      " ROW_1 ",\n      " ROW_2
           "\n    ]\n  }\n] }"},
    {FRONT "\"designs\": [\n  {\n    \"id\": \"ring\",\n    \"specimens\": [\n    ]\n  }\n] }",
     FRONT "\"designs\": [\n  {\n    \"id\": \"ring\",\n    \"specimens\": [\n      " ROW_1 ",\n      " ROW_2
           "\n    ]\n  }\n] }"},
    {FRONT "\"designs\": [\n  {\n    \"id\": \"ring\"\n  }\n] }",
     FRONT "\"designs\": [\n  {\n    \"id\": \"ring\",\n    \"specimens\": [\n      " ROW_1 ",\n      " ROW_2
           "\n    ]\n  }\n] }"},
    {FRONT "\"designs\": [ { \"id\": \"ring\" } ] }",
     FRONT "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ " ROW_1 ", " ROW_2 " ] } ] }"},
};

START_TEST(every_other_byte_stays) {
    const layout_case *one = &layouts[_i];
    read_campaign before = read_good(one->before);
    hf_text out = import(before.campaign, before.arena, "id,peak [N]\nx,812\ny,790\n", "ring", NULL);
    ck_assert_str_eq(out.bytes, one->after);
    hf_text_free(&out);
    hf_arena_free(before.arena);
}
END_TEST

START_TEST(rows_go_to_their_designs) {
    read_campaign before = read_good(
        FRONT
        "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ { \"id\": \"ring-07\", \"peak\": 1 } ] },\n"
        "  { \"id\": \"plate\" } ] }");
    hf_text out = import(before.campaign, before.arena, "design,peak [N]\nplate,5\nring,6\nplate,7\n,8\n",
                         "ring", NULL);
    ck_assert_str_eq(
        out.bytes, FRONT
        "\"designs\": [ { \"id\": \"ring\", \"specimens\": [ { \"id\": \"ring-07\", \"peak\": 1 }, { \"id\": "
        "\"ring-02\", \"peak\": 6 }, { \"id\": \"ring-03\", \"peak\": 8 } ] },\n  { \"id\": \"plate\", "
        "\"specimens\": [ "
        "{ \"id\": \"plate-01\", \"peak\": 5 }, { \"id\": \"plate-02\", \"peak\": 7 } ] } ] }");
    hf_text_free(&out);
    hf_arena_free(before.arena);
}
END_TEST

/* A rig that the new pulls ask for is missing in the campaign: said there, with its place. */
START_TEST(what_the_campaign_lacks) {
    read_campaign before =
        read_good("{ \"format\": \"holdfast-campaign/1\",\n  \"designs\": [ { \"id\": \"ring\" } ],\n"
                  "  \"rig\": { \"records\": \"added\" } }");
    const char *table = "held [N],failed [N]\n760,800\n";
    hf_table_source source = {.file = "t.csv", .text = table, .length = strlen(table), .design = "ring"};
    hf_text out = {0};
    hf_table_result result;
    hf_error error;
    ck_assert_int_eq(hf_campaign_import(before.arena, before.campaign, &source, &out, &result, &error),
                     HF_BAD_DATA);
    ck_assert_uint_eq(result.table.count, 0);
    ck_assert_uint_eq(result.campaign.count, 1);
    ck_assert_str_eq(result.campaign.items[0].path, "rig");
    ck_assert_uint_eq(result.campaign.items[0].line, 3);
    ck_assert_uint_eq(result.campaign.items[0].column, 10);
    ck_assert_uint_eq(out.length, 0);
    hf_arena_free(before.arena);
}
END_TEST

/* A table that is wrong in every row is not listed without end, and says so. */
START_TEST(endless_mistakes_are_cut) {
    enum { ROWS = 5000, LISTED = 1000 };
    read_campaign before = read_good(ONE BACK);
    hf_text table = {0}, out = {0};
    hf_table_result result;
    hf_error error;
    hf_text_add(&table, "peak [N]\n");
    for (int i = 0; i < ROWS; i++) hf_text_add(&table, "much\n");
    hf_table_source source = {.file = "t.csv", .text = table.bytes, .length = table.length, .design = "ring"};
    ck_assert_int_eq(hf_campaign_import(before.arena, before.campaign, &source, &out, &result, &error),
                     HF_BAD_DATA);
    ck_assert_uint_eq(result.table.count, LISTED + 1);
    ck_assert_ptr_nonnull(strstr(result.table.items[LISTED].message, "there may be more"));
    ck_assert_uint_eq(out.length, 0);
    hf_text_free(&table);
    hf_arena_free(before.arena);
}
END_TEST

/* The examples of docs/campaign-file.md are tables that can be read in. */
START_TEST(every_table_of_the_page_is_read) {
    static const char open[] = "```csv\n", close[] = "\n```";
    static const size_t pulls[] = {3, 1, 3};
    hf_text page = {0};
    hf_error error;
    size_t examples = 0;
    ck_assert_int_eq(hf_file_read(HF_TEST_DIR "/../docs/campaign-file.md", 1000000, &page, &error), HF_OK);
    for (const char *at = page.bytes; (at = strstr(at, open)) != NULL; examples++) {
        read_campaign before = read_good(ONE BACK);
        at += strlen(open);
        const char *table = hf_arena_text(before.arena, at, (size_t)(strstr(at, close) - at));
        hf_text out = import(before.campaign, before.arena, table, "ring", "N");
        read_campaign after = read_good(out.bytes);
        ck_assert_uint_lt(examples, sizeof pulls / sizeof *pulls);
        ck_assert_uint_eq(after.campaign->designs[0].specimen_count, pulls[examples]);
        hf_text_free(&out);
        hf_arena_free(before.arena);
        hf_arena_free(after.arena);
    }
    ck_assert_uint_eq(examples, sizeof pulls / sizeof *pulls);
    hf_text_free(&page);
}
END_TEST

/* --- Round trip ------------------------------------------------------------------------------------- */

#define SPECIMENS                                                                                            \
    "{ \"id\": \"a\", \"batch\": \"roll 3\", \"order\": 4, \"date\": \"2026-05-02T10:30\", \"held\": 760, "  \
    "\"failed\": 800, "                                                                                      \
    "\"set_held\": 600, \"set_seen\": 640, \"mode\": \"stitch\", \"phase\": \"dwell\", \"duration_s\": "     \
    "240.25, \"dropped\": true, "                                                                            \
    "\"reused\": true, \"tare\": \"2.6 kg\", \"note\": \"a, b; \\\"c\\\"\\nd\", \"info\": { \"operator\": "  \
    "\"A\", \"=x\": \"1,5\" } },\n"                                                                          \
    "{ \"id\": \"=b\", \"held\": \"76.55 kg\", \"failed\": \"178 lb\" }, { \"id\": \"'=c\", \"failed\": "    \
    "400 },\n"                                                                                               \
    "{ \"id\": \"#d\", \"held\": 0, \"failed\": 400, \"mode\": \"-1+1|x\" }, { \"id\": \" e \", \"held\": "  \
    "900, \"outcome\": \"held\" },\n"                                                                        \
    "{ \"id\": \"f\", \"held\": 900, \"failed\": 940, \"outcome\": \"rig\", \"mode\": \"+x\" }, { \"id\": "  \
    "\"g\", \"peak\": 812.125 },\n"                                                                          \
    "{ \"id\": \"h\", \"peak\": 0.1, \"outcome\": \"held\", \"note\": \"\\u0007\\r\\n@x\" }, { \"id\": "     \
    "\"i\", \"outcome\": \"planned\" },\n"                                                                   \
    "{ \"id\": \"j\", \"held\": 1, \"failed\": 2, \"outcome\": \"void\", \"note\": \"'hook\" },\n"           \
    "{ \"id\": \"k\", \"peak\": 5, \"ends\": [\"ring\", \"-p\"], \"broke\": 2, \"info\": { \"operator\": "   \
    "\"@B\" } },\n"                                                                                          \
    "{ \"id\": \"l\", \"peak\": 1e-7, \"ends\": [\"-p\", \"ring\"], \"broke\": \"both\", \"mode\": "         \
    "\"\\t=x\", \"note\": \"\" }"

#define FULL_FRONT                                                                                           \
    "{ \"format\": \"holdfast-campaign/1\", \"gravity\": 9.81, \"title\": \"t\\n=x\", \"rig\": { "           \
    "\"records\": \"added\", \"tare\": \"2 kg\", "                                                           \
    "\"advantage\": 3, \"angle_deg\": 10, \"resolution\": 0.5 }, \"designs\": [ { \"id\": \"ring\", "        \
    "\"specimens\": [ "
#define FULL_BACK " ] }, { \"id\": \"-p\" } ] }"

static void same_text(const char *a, const char *b) {
    ck_assert_str_eq(a ? a : "", b ? b : "");
}

static void same_maybe(hf_maybe a, hf_maybe b, double tolerance) {
    ck_assert_int_eq(a.given, b.given);
    if (a.given) hf_check_close(b.value, a.value, tolerance, "the campaign that was exported");
}

static void same_pull(const hf_pull *a, const hf_pull *b, double tolerance) {
    ck_assert_int_eq(a->kind, b->kind);
    ck_assert_int_eq(a->dropped, b->dropped);
    ck_assert_int_eq(a->stepped, b->stepped);
    hf_check_close(b->lower, a->lower, tolerance, "the campaign that was exported");
    hf_check_close(b->upper, a->upper, tolerance, "the campaign that was exported");
}

static void same_specimen(const hf_specimen *a, const hf_specimen *b, double tolerance) {
    ck_assert_str_eq(a->id, b->id);
    same_text(a->batch, b->batch);
    same_text(a->mode, b->mode);
    same_text(a->date, b->date);
    same_text(a->note, b->note);
    same_text(a->ends[0], b->ends[0]);
    same_text(a->ends[1], b->ends[1]);
    same_maybe(a->order, b->order, HF_TOLERANCE_EXACT);
    same_maybe(a->duration_s, b->duration_s, HF_TOLERANCE_EXACT);
    same_maybe(a->tare, b->tare, tolerance);
    ck_assert_int_eq(a->outcome, b->outcome);
    ck_assert_int_eq(a->phase, b->phase);
    ck_assert_int_eq(a->broke, b->broke);
    ck_assert_int_eq(a->reused, b->reused);
    ck_assert_uint_eq(a->info.count, b->info.count);
    for (size_t i = 0; i < a->info.count; i++) {
        ck_assert_str_eq(a->info.pairs[i].key, b->info.pairs[i].key);
        ck_assert_str_eq(a->info.pairs[i].value, b->info.pairs[i].value);
    }
    same_pull(&a->pull, &b->pull, tolerance);
    same_pull(&a->set, &b->set, tolerance);
    same_pull(&a->voided, &b->voided, tolerance);
}

static hf_text export(const read_campaign *from, const hf_table_style *style) {
    hf_text out = {0};
    hf_error error;
    ck_assert_msg(hf_campaign_export(from->arena, from->campaign, style, &out, &error) == HF_OK, "%s",
                  error.message);
    return out;
}

typedef struct trip_case {
    const char *unit;
    bool semicolon;
    double tolerance; /* of loads: exact as recorded, 12 figures converted */
} trip_case;

static const trip_case trips[] = {{NULL, false, HF_TOLERANCE_EXACT},
                                  {NULL, true, HF_TOLERANCE_EXACT},
                                  {"kg", false, 1e-11},
                                  {"lbf", true, 1e-11}};

START_TEST(round_trip) {
    const trip_case *one = &trips[_i];
    read_campaign full = read_good(FULL_FRONT SPECIMENS FULL_BACK), empty = read_good(FULL_FRONT FULL_BACK);
    hf_table_style style = {.semicolon = one->semicolon};
    if (one->unit) style.unit = hf_unit_find(one->unit, strlen(one->unit));
    hf_text table = export(&full, &style),
            text = import(empty.campaign, empty.arena, table.bytes, NULL, NULL);
    read_campaign again = read_good(text.bytes);
    const hf_design *a = &full.campaign->designs[0], *b = &again.campaign->designs[0];
    ck_assert_uint_eq(a->specimen_count, b->specimen_count);
    for (size_t i = 0; i < a->specimen_count; i++)
        same_specimen(&a->specimens[i], &b->specimens[i], one->tolerance);
    hf_text_free(&table);
    hf_text_free(&text);
    hf_arena_free(full.arena);
    hf_arena_free(empty.arena);
    hf_arena_free(again.arena);
}
END_TEST

/* Nothing a spreadsheet could run: no cell begins with = + - @ or a tab, with or without quotes. */
START_TEST(no_cell_is_a_formula) {
    read_campaign full = read_good(FULL_FRONT SPECIMENS FULL_BACK);
    const hf_table_style style = {.semicolon = false};
    hf_text table = export(&full, &style);
    ck_assert_msg(strstr(table.bytes, "\"'=b\"") && strstr(table.bytes, "\"''=c\"") &&
                      strstr(table.bytes, "\"'-1+1|x\"") && strstr(table.bytes, "\"'+x\"") &&
                      strstr(table.bytes, "\"'@B\"") && strstr(table.bytes, "\"'\t=x\""),
                  "%s", table.bytes);
    bool quoted = false;
    for (size_t i = 1; i < table.length; i++) {
        char before = table.bytes[i - 1];
        bool starts = !quoted && (before == ',' || before == '\n');
        if (starts)
            ck_assert_msg(!strchr("=+-@\t", table.bytes[i]), "a formula at byte %zu of\n%s", i, table.bytes);
        if (before == '"') quoted = !quoted;
        if (starts && table.bytes[i] == '"')
            ck_assert_msg(!strchr("=+-@\t", table.bytes[i + 1]), "a formula at byte %zu of\n%s", i,
                          table.bytes);
    }
    hf_text_free(&table);
    hf_arena_free(full.arena);
}
END_TEST

START_TEST(export_of_one_design) {
    read_campaign from = read_good(FRONT "\"unit\": \"kg\", \"designs\": [ { \"id\": \"ring\", "
                                         "\"specimens\": [ { \"id\": \"a\", \"held\": 76.5, "
                                         "\"failed\": \"80 kg\" } ] }, { \"id\": \"plate\", \"specimens\": [ "
                                         "{ \"id\": \"b\", \"peak\": \"800 N\", \"mode\": \"x\" } ] } ] }");
    const hf_table_style ring = {.design = "ring", .semicolon = true}, none = {.design = "hook"};
    hf_text table = export(&from, &ring), nothing = {0};
    hf_error error;
    const char *header = strstr(table.bytes, "design");
    ck_assert_str_eq(header, "design;id;held [kg];failed [kg];outcome\r\nring;a;76,5;80;failed\r\n");
    ck_assert_int_eq(hf_campaign_export(from.arena, from.campaign, &none, &nothing, &error), HF_USAGE);
    ck_assert_uint_eq(nothing.length, 0);
    hf_text_free(&table);
    hf_arena_free(from.arena);
}
END_TEST

START_TEST(ends_that_no_table_can_carry) {
    read_campaign from = read_good(FRONT "\"designs\": [ { \"id\": \"r|x\", \"specimens\": [ { \"id\": "
                                         "\"a\", \"peak\": 1, \"ends\": [\"r|x\", \"r|x\"] } ] } ] }");
    const hf_table_style style = {.semicolon = false};
    hf_text nothing = {0};
    hf_error error;
    ck_assert_int_eq(hf_campaign_export(from.arena, from.campaign, &style, &nothing, &error), HF_BAD_DATA);
    ck_assert_uint_eq(nothing.length, 0);
    hf_arena_free(from.arena);
}
END_TEST

#define COUNT(array) ((int)(sizeof(array) / sizeof *(array)))

static Suite *table_suite(void) {
    Suite *suite = suite_create("campaign_table");
    TCase *in = tcase_create("in"), *out = tcase_create("out");
    tcase_add_loop_test(in, values_are_as_meant, 0, COUNT(values));
    tcase_add_loop_test(in, plain_numbers_are_peaks, 0, COUNT(lists));
    tcase_add_loop_test(in, every_other_byte_stays, 0, COUNT(layouts));
    tcase_add_test(in, rows_go_to_their_designs);
    tcase_add_test(in, what_the_campaign_lacks);
    tcase_add_test(in, endless_mistakes_are_cut);
    tcase_add_test(in, every_table_of_the_page_is_read);
    tcase_add_loop_test(out, round_trip, 0, COUNT(trips));
    tcase_add_test(out, no_cell_is_a_formula);
    tcase_add_test(out, export_of_one_design);
    tcase_add_test(out, ends_that_no_table_can_carry);
    suite_add_tcase(suite, in);
    suite_add_tcase(suite, out);
    return suite;
}

HF_TEST_MAIN(table_suite)
