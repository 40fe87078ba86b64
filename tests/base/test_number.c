/* Numbers to text and back: what is read, that every double survives, and that ratings are never rounded up. */
#include <float.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/number.h"

typedef struct reading {
    const char *text;
    double value; /* NaN: is no number of ours */
} reading;

#define NO_NUMBER ((double)NAN)

static const reading readings[] = {
    {"0", 0},
    {"-0", 0},
    {"18", 18},
    {"+18", 18},
    {"-18.25", -18.25},
    {".5", 0.5},
    {"5.", 5},
    {"1e3", 1000},
    {"1E+3", 1000},
    {"1.5e-3", 0.0015},
    {"007", 7},
    {"9007199254740993", 9007199254740992}, /* a tie, to even (IEEE 754) */
    {"1.7976931348623157e308", DBL_MAX},
    {"4.9406564584124654e-324", 4.9406564584124654e-324},
    {"0.1000000000000000055511151231257827021181583404541015625000000000000000000000001", 0.1},
    {"1e-400", 0},
    {"", NO_NUMBER},
    {".", NO_NUMBER},
    {"-", NO_NUMBER},
    {"+-1", NO_NUMBER},
    {" 1", NO_NUMBER},
    {"1 ", NO_NUMBER},
    {"1,5", NO_NUMBER},
    {"1.2.3", NO_NUMBER},
    {"e5", NO_NUMBER},
    {"1e", NO_NUMBER},
    {"1e+", NO_NUMBER},
    {"1e5.0", NO_NUMBER},
    {"0x10", NO_NUMBER},
    {"1p3", NO_NUMBER},
    {"inf", NO_NUMBER},
    {"-infinity", NO_NUMBER},
    {"nan", NO_NUMBER},
    {"NaN(1)", NO_NUMBER},
    {"1e309", NO_NUMBER},
    {"-1e309", NO_NUMBER},
    {"1.7976931348623159e308", NO_NUMBER}, /* rounds beyond the largest double */
    {"1'000", NO_NUMBER},
    {"1_000", NO_NUMBER},
    {"\xD9\xA1", NO_NUMBER}, /* an Arabic-Indic one */
};

START_TEST(numbers_are_read) {
    const reading *row = &readings[_i];
    double value = -77;
    bool good = hf_number_read(row->text, strlen(row->text), &value);
    ck_assert_msg(good == !isnan(row->value), "\"%s\" is %s", row->text, good ? "read" : "refused");
    if (good)
        hf_check_close(value, row->value, HF_TOLERANCE_EXACT, row->text);
    else
        ck_assert_double_eq(value, -77); /* untouched */
}
END_TEST

START_TEST(only_the_given_bytes_are_read) {
    double value = 0;
    ck_assert(hf_number_read("12345", 3, &value));
    ck_assert_double_eq(value, 123);
    ck_assert(!hf_number_read("1\0002", 3, &value));
    char exact[3] = {'4', '.', '5'}; /* no terminating zero */
    ck_assert(hf_number_read(exact, sizeof exact, &value));
    ck_assert_double_eq(value, 4.5);
}
END_TEST

typedef struct writing {
    double value;
    const char *text;
} writing;

/* Shortest digits that read back: the printed forms of these doubles in any shortest-digits printer, for instance Python's
 * repr; the layout is that of printf's %g. */
static const writing shortest[] = {
    {0, "0"},
    {-0.0, "0"},
    {0.1, "0.1"},
    {-812.4, "-812.4"},
    {0.1 + 0.2, "0.30000000000000004"},
    {1.0 / 3, "0.3333333333333333"},
    {2.0 / 3, "0.6666666666666666"},
    {9.80665, "9.80665"},
    {4.4482216152605, "4.4482216152605"},
    {1e15, "1e+15"},
    {123456789012345, "123456789012345"},
    {9007199254740991, "9007199254740991"},
    {1e22, "1e+22"},
    {1e23, "1e+23"},
    {0.0001, "0.0001"},
    {0.00001, "1e-05"},
    {5e-324, "5e-324"},
    {1.5e-323, "1.5e-323"},
    {2.2250738585072014e-308, "2.2250738585072014e-308"},
    {DBL_MAX, "1.7976931348623157e+308"},
};

START_TEST(the_shortest_text_is_written) {
    char out[HF_NUMBER_SIZE];
    ck_assert_str_eq(hf_number_shortest(shortest[_i].value, out), shortest[_i].text);
}
END_TEST

/* A generator of our own (Steele, Lea and Flood 2014, splitmix), so that the values are the same everywhere. */
static uint64_t next_random(uint64_t *state) {
    uint64_t z = *state += 0x9E3779B97F4A7C15u;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    return z ^ z >> 31;
}

static double any_double(uint64_t *state) {
    for (;;) {
        uint64_t bits = next_random(state);
        double value;
        memcpy(&value, &bits, sizeof value);
        if (isfinite(value)) return value;
    }
}

static bool survives(double value) {
    char out[HF_NUMBER_SIZE];
    double again = NO_NUMBER;
    hf_number_shortest(value, out);
    return strlen(out) < HF_NUMBER_SIZE && hf_number_read(out, strlen(out), &again) && again == value;
}

enum { ROUNDS = 100000 };

START_TEST(every_double_survives) {
    uint64_t state = 1;
    for (int i = 0; i < ROUNDS; i++) {
        double wild = any_double(&state), tame = (double)(next_random(&state) % 100000000) / 1000;
        ck_assert_msg(survives(wild), "%a", wild);
        ck_assert_msg(survives(tame), "%a", tame);
    }
    for (int exponent = -1074; exponent <= 1023; exponent++) ck_assert(survives(ldexp(1, exponent)));
}
END_TEST

static const struct {
    double value;
    int figures;
    const char *text;
} figures[] = {
    {812.4, 5, "812.40"},
    {812.4, 3, "812"},
    {9.996, 3, "10.0"},
    {999.96, 4, "1000"},
    {99985, 4, "99980"}, /* a tie that a double holds exactly: to even */
    {0.00012345, 3, "0.000123"},
    {0.000099996, 4, "0.0001000"},
    {0.00001234, 3, "1.23e-05"},
    {1234567, 3, "1230000"},
    {9999999, 3, "1.00e+07"},
    {12345678, 3, "1.23e+07"},
    {-64.2124, 5, "-64.212"},
    {0, 3, "0"},
    {-0.0, 3, "0"},
    {2, 1, "2"},
    {2.5, 1, "2"},
    {0.1, 17, "0.10000000000000001"},
    {(double)INFINITY, 3, "-"},
    {-(double)INFINITY, 3, "-"},
    {(double)NAN, 3, "-"},
};

static const struct {
    double share;
    int figures;
    const char *text;
} percents[] = {
    {0.9, 5, "90"},
    {1, 3, "100"},
    {0.123456, 3, "12.3"},
    {0.99949, 3, "99.9"},
    {0.9996, 3, "99.96"},
    {0.999999, 3, "99.9999"},
    {0.999999999, 5, "99.9999999"},
    {0.9999999999999, 5, "99.99999999999"},
    {0x1.fffffffffffffp-1, 3, "99.99999999999999"},
    {1.0004, 3, "100"},
    {-0.5, 3, "-50"},
};

START_TEST(what_is_not_certain_is_not_printed_as_100_percent) {
    char out[HF_NUMBER_SIZE];
    ck_assert_str_eq(hf_number_percent(percents[_i].share, percents[_i].figures, out), percents[_i].text);
}
END_TEST

START_TEST(people_get_a_few_figures) {
    char out[HF_NUMBER_SIZE];
    ck_assert_str_eq(hf_number_figures(figures[_i].value, figures[_i].figures, out), figures[_i].text);
}
END_TEST

static const struct {
    double value;
    int figures;
    double expected;
} down[] = {
    {812.4, 3, 812},
    {812.4, 4, 812.4},
    {812.4, 5, 812.4},
    {819.99, 2, 810},
    {812, 3, 812},
    {0.3 * 3, 1, 0.9}, /* 0.8999999999999999: noise, not a unit */
    {0.1 * 3, 1, 0.3}, /* 0.30000000000000004 */
    {1.1 * 1.1, 3, 1.21},
    {0.9999, 3, 0.999},
    {0.9996, 3, 0.999}, /* the nearest has one digit more: 1.00 */
    {999.6, 3, 999},
    {1000, 3, 1000},
    {1000.0000001, 3, 1000},
    {999.9999, 3, 999},
    {100.4, 3, 100},
    {99.96, 3, 99.9},
    {0.96, 1, 0.9},
    {9.6, 1, 9},
    {10.4, 1, 10},
    {1e-300, 3, 1e-300},
    {1.2399e-300, 3, 1.23e-300},
    {5e-324, 3, 5e-324},
    {1.7999e300, 3, 1.79e300},
    {DBL_MAX, 3, 1.79e308},
    {-812.4, 3, -813},
    {-812, 3, -812},
    {-999.4, 3, -1000},
    {-0.96, 1, -1},
    {-0.3 * 3, 1, -0.9},
    {0, 3, 0},
    {588.4399999, 5, 588.43},
    {588.44, 17, 588.44},
};

START_TEST(ratings_are_rounded_down) {
    double got = hf_number_round_down(down[_i].value, down[_i].figures);
    ck_assert_msg(got == down[_i].expected, "%.17g with %d figures: got %.17g, expected %.17g",
                  down[_i].value, down[_i].figures, got, down[_i].expected);
}
END_TEST

START_TEST(rounding_down_keeps_its_promise) {
    uint64_t state = 2;
    for (int i = 0; i < ROUNDS; i++) {
        double value = (double)(next_random(&state) % 2000000000 + 1) / 1000 * ((i % 3) ? 1 : -1);
        int count = 1 + i % 6;
        double got = hf_number_round_down(value, count),
               unit = pow(10, floor(log10(fabs(got)) + 1e-12) - (count - 1));
        char text[64];
        ck_assert_msg(got <= value * (1 + (value > 0 ? 1 : -1) * 4 * DBL_EPSILON), "%.17g up to %.17g", value,
                      got);
        ck_assert_msg(value - got < unit * (1 + 1e-9), "%.17g loses more than one unit: %.17g", value, got);
        (void)snprintf(text, sizeof text, "%.*e", count - 1, got);
        double again = NO_NUMBER;
        ck_assert(hf_number_read(text, strlen(text), &again));
        ck_assert_msg(again == got, "%.17g has more than %d figures", got, count);
        ck_assert_double_eq(hf_number_round_down(got, count), got); /* rounding twice changes nothing */
    }
}
END_TEST

START_TEST(what_is_no_number_stays_so) {
    ck_assert(isnan(hf_number_round_down((double)NAN, 3)));
    ck_assert(isinf(hf_number_round_down((double)INFINITY, 3)));
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof *(table))

static Suite *number_suite(void) {
    Suite *suite = suite_create("base_number");
    TCase *all = tcase_create("number");
    tcase_set_timeout(all, 120);
    tcase_add_loop_test(all, numbers_are_read, 0, ROWS(readings));
    tcase_add_test(all, only_the_given_bytes_are_read);
    tcase_add_loop_test(all, the_shortest_text_is_written, 0, ROWS(shortest));
    tcase_add_test(all, every_double_survives);
    tcase_add_loop_test(all, what_is_not_certain_is_not_printed_as_100_percent, 0, ROWS(percents));
    tcase_add_loop_test(all, people_get_a_few_figures, 0, ROWS(figures));
    tcase_add_loop_test(all, ratings_are_rounded_down, 0, ROWS(down));
    tcase_add_test(all, rounding_down_keeps_its_promise);
    tcase_add_test(all, what_is_no_number_stays_so);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(number_suite)
