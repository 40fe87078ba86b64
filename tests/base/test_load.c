/* Units, loads as written, rig force and the uncertainty budget. */
#include <string.h>
#include "check_close.h"
#include "holdfast/base/text.h"
#include "holdfast/load/rig.h"
#include "holdfast/load/unit.h"

typedef struct unit_row {
    const char *name;
    double newtons; /* per unit at 9.80665 m/s² */
    bool is_mass;
} unit_row;

/* NIST Special Publication 811 (2008), appendix B.8: pound-force 4.448 221 615 2605 N, kilogram-force 9.806 65 N; the avoirdupois
 * pound is 0.453 592 37 kg, the ounce a sixteenth, the stone fourteen of it; products by decimal arithmetic on paper. */
static const unit_row rows[] = {
    {"N", 1, false},
    {"daN", 10, false},
    {"kN", 1000, false},
    {"MN", 1e6, false},
    {"kgf", 9.80665, false},
    {"lbf", 4.4482216152605, false},
    {"kg", 9.80665, true},
    {"g", 0.00980665, true},
    {"t", 9806.65, true},
    {"lb", 4.4482216152605, true},
    {"oz", 0.27801385095378125, true},
    {"st", 62.275102613647, true},
};
enum { ROWS = sizeof rows / sizeof *rows };

START_TEST(units_are_exact) {
    size_t count;
    const hf_unit *table = hf_unit_table(&count), *unit = hf_unit_find(rows[_i].name, strlen(rows[_i].name));
    ck_assert_uint_eq(count, ROWS);
    ck_assert_ptr_eq(unit, &table[_i]);
    ck_assert_int_eq(unit->is_mass, rows[_i].is_mass);
    ck_assert_ptr_nonnull(strstr(unit->label, unit->is_mass ? "mass" : "force"));
    hf_check_close(hf_unit_newtons(unit, HF_GRAVITY_STANDARD), rows[_i].newtons, HF_TOLERANCE_ROUNDING,
                   "NIST SP 811, B.8");
    double elsewhere =
        hf_unit_newtons(unit, 2 * HF_GRAVITY_STANDARD); /* only what hangs on a hook knows gravity */
    hf_check_close(elsewhere, rows[_i].newtons * (unit->is_mass ? 2 : 1), HF_TOLERANCE_ROUNDING,
                   "weight is mass times gravity");
}
END_TEST

START_TEST(unit_names_are_exact) {
    ck_assert_ptr_null(hf_unit_find("KG", 2));
    ck_assert_ptr_null(hf_unit_find("kg", 1));
    ck_assert_ptr_null(hf_unit_find("kgm", 3));
    ck_assert_ptr_null(hf_unit_find("", 0));
    ck_assert_ptr_nonnull(hf_unit_find("kgfoo", 3));
}
END_TEST

typedef struct good_load {
    const char *text;
    double value;
    const char *unit; /* "bare": the one given for bare numbers */
} good_load;

static const good_load good[] = {
    {"18 kg", 18, "kg"},        {"40lbf", 40, "lbf"}, {"1.2 kN", 1.2, "kN"}, {"  2.6 \t kg  ", 2.6, "kg"},
    {"18", 18, "bare"},         {" 18 ", 18, "bare"}, {"0 kg", 0, "kg"},     {"+4 oz", 4, "oz"},
    {".5 st", 0.5, "st"},       {"5. t", 5, "t"},     {"1e3 N", 1000, "N"},  {"1e3N", 1000, "N"},
    {"2.5E-2 MN", 0.025, "MN"}, {"7daN", 7, "daN"},   {"250 g", 250, "g"},   {"30 lb", 30, "lb"},
    {"3 kgf", 3, "kgf"},        {"-0 kg", 0, "kg"},
};

START_TEST(loads_are_read) {
    const hf_unit *bare = hf_unit_find("N", 1);
    hf_load load = {-1, NULL};
    hf_error error;
    hf_error_clear(&error);
    ck_assert_msg(hf_load_read(good[_i].text, strlen(good[_i].text), bare, &load, &error) == HF_OK, "%s: %s",
                  good[_i].text, error.message);
    hf_check_close(load.value, good[_i].value, HF_TOLERANCE_EXACT, good[_i].text);
    if (strcmp(good[_i].unit, "bare") == 0)
        ck_assert_ptr_eq(load.unit, bare);
    else
        ck_assert_str_eq(load.unit->name, good[_i].unit);
}
END_TEST

typedef struct bad_load {
    const char *text, *message;
} bad_load;

#define UNITS "expected one of N daN kN MN kgf lbf kg g t lb oz st"
#define A_LOAD "expected a load such as \"18 kg\" or \"1.2 kN\""

static const bad_load bad[] = {
    {"", "found \"\", " A_LOAD},
    {"  ", "found \"\", " A_LOAD},
    {"kg", "found \"kg\", " A_LOAD},
    {"heavy", "found \"heavy\", " A_LOAD},
    {"- 5 kg", "found \"- 5 kg\", " A_LOAD},
    {"nan kg", "found \"nan kg\", " A_LOAD},
    {"inf N", "found \"inf N\", " A_LOAD},
    {"18", "found \"18\" without a unit, expected one such as \"18 kg\""},
    {"-4 kg", "found \"-4 kg\", expected a load of 0 or more"},
    {"5 kgs", "found unit \"kgs\", " UNITS "; nearest is \"kgf\""},
    {"5 Kg", "found unit \"Kg\", " UNITS "; nearest is \"kg\""},
    {"5 lbs", "found unit \"lbs\", " UNITS "; nearest is \"lbf\""},
    {"5 n", "found unit \"n\", " UNITS "; nearest is \"N\""},
    {"5 x", "found unit \"x\", " UNITS},
    {"5 newtons", "found unit \"newtons\", " UNITS},
    {"1,5 kg", "found \"1,5 kg\", expected a decimal point and nothing between thousands"},
    {"1.2.3 kg", "found unit \".3 kg\", " UNITS},
    {"5 kg kg", "found unit \"kg kg\", " UNITS},
    {"0x10 N", "found unit \"x10 N\", " UNITS},
    {"5 aaaaaaaaaaaaaaaaaaaaaaaaaaaaa\xC3\xB6\xC3\xB6",
     "found unit \"aaaaaaaaaaaaaaaaaaaaaaaaaaaaa\xC3\xB6\", " UNITS},
};

START_TEST(other_words_are_refused) {
    hf_load load = {-1, NULL};
    hf_error error;
    ck_assert_int_eq(hf_load_read(bad[_i].text, strlen(bad[_i].text), NULL, &load, &error), HF_BAD_DATA);
    ck_assert_str_eq(error.message, bad[_i].message);
    ck_assert_int_eq(error.status, HF_BAD_DATA);
    ck_assert_double_eq(load.value, -1);
    ck_assert_ptr_null(load.unit);
    ck_assert_int_eq(hf_load_read(bad[_i].text, strlen(bad[_i].text), NULL, &load, NULL), HF_BAD_DATA);
}
END_TEST

/* A million digits are no load, and finding that out takes no time. */
START_TEST(long_texts_are_refused) {
    hf_text text = {0};
    hf_load load;
    for (int i = 0; i < 100000; i++) hf_text_add(&text, "1111111111");
    hf_text_add(&text, "+ kg");
    ck_assert_int_eq(hf_load_read(text.bytes, text.length, NULL, &load, NULL), HF_BAD_DATA);
    hf_text_free(&text);
}
END_TEST

START_TEST(only_the_given_bytes_are_read) {
    const char bytes[5] = {'1', '8', ' ', 'k', 'g'}; /* no terminating zero */
    hf_load load;
    ck_assert_int_eq(hf_load_read(bytes, 5, NULL, &load, NULL), HF_OK);
    hf_check_close(hf_load_newtons(load, 9.81), 176.58, HF_TOLERANCE_ROUNDING, "18 · 9.81");
    ck_assert_int_eq(hf_load_read("18 kgf", 5, NULL, &load, NULL), HF_OK);
    ck_assert_str_eq(load.unit->name, "kg");
}
END_TEST

START_TEST(force_of_a_record) {
    hf_rig_force rig = {.records = HF_RIG_RECORDS_ADDED, .tare = 25, .advantage = 3, .angle_deg = 60};
    hf_check_close(hf_rig_force_of_record(&rig, 100), 162.5, HF_TOLERANCE_ROUNDING,
                   "design 3: (100 · 3 + 25) · cos 60°");
    hf_check_close(hf_rig_force_of_record(&rig, 0), 12.5, HF_TOLERANCE_ROUNDING, "the hanger alone");
    hf_check_close(hf_rig_force_of_peak(&rig, 300), 150, HF_TOLERANCE_ROUNDING,
                   "design 3: a scale in line, 300 · cos 60°");
    rig.records = HF_RIG_RECORDS_TOTAL;
    rig.advantage = 1;
    hf_check_close(hf_rig_force_of_record(&rig, 100), 50, HF_TOLERANCE_ROUNDING,
                   "design 3: total · cos 60°, no tare");
    rig.angle_deg = 0;
    hf_check_close(hf_rig_force_of_record(&rig, 100.3), 100.3, HF_TOLERANCE_EXACT, "cos 0° = 1");
}
END_TEST

START_TEST(uncertainty_of_one_line) {
    hf_uncertainty line = {"weights", 0.03, 0, HF_UNCERTAINTY_STANDARD};
    hf_check_close(hf_uncertainty_at(&line, 500), 0.03, HF_TOLERANCE_EXACT, "as it is");
    line.kind = HF_UNCERTAINTY_TOLERANCE;
    hf_check_close(hf_uncertainty_at(&line, 500), 0.017320508075688773, HF_TOLERANCE_ROUNDING,
                   "JCGM 100:2008 4.3.7: a/√3");
    line.kind = HF_UNCERTAINTY_EXPANDED;
    hf_check_close(hf_uncertainty_at(&line, 500), 0.015, HF_TOLERANCE_ROUNDING,
                   "JCGM 100:2008 4.3.3: U/k, k = 2");
    line = (hf_uncertainty){"tare", 0, 2, HF_UNCERTAINTY_STANDARD};
    hf_check_close(hf_uncertainty_at(&line, 500), 0.004, HF_TOLERANCE_ROUNDING, "2 N of 500 N");
    hf_check_close(hf_uncertainty_at(&line, 50), 0.04, HF_TOLERANCE_ROUNDING, "2 N of 50 N");
}
END_TEST

START_TEST(uncertainty_of_all_lines) {
    hf_uncertainty lines[] = {{"weights", 0.03, 0, HF_UNCERTAINTY_STANDARD},
                              {"tare", 0, 20, HF_UNCERTAINTY_STANDARD}};
    hf_check_close(hf_uncertainty_combined(lines, 2, 500), 0.05, HF_TOLERANCE_ROUNDING,
                   "JCGM 100:2008 5.1.2: √(0.03² + 0.04²)");
    hf_check_close(hf_uncertainty_combined(lines, 1, 500), 0.03, HF_TOLERANCE_ROUNDING, "one line");
    hf_check_close(hf_uncertainty_combined(NULL, 0, 500), 0, HF_TOLERANCE_EXACT, "no lines");
}
END_TEST

static Suite *load_suite(void) {
    Suite *suite = suite_create("base_load");
    TCase *all = tcase_create("load");
    tcase_add_loop_test(all, units_are_exact, 0, ROWS);
    tcase_add_test(all, unit_names_are_exact);
    tcase_add_loop_test(all, loads_are_read, 0, sizeof good / sizeof *good);
    tcase_add_loop_test(all, other_words_are_refused, 0, sizeof bad / sizeof *bad);
    tcase_add_test(all, long_texts_are_refused);
    tcase_add_test(all, only_the_given_bytes_are_read);
    tcase_add_test(all, force_of_a_record);
    tcase_add_test(all, uncertainty_of_one_line);
    tcase_add_test(all, uncertainty_of_all_lines);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(load_suite)
