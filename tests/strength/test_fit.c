/* Maximum likelihood: where it exists, that it is a maximum, and that it does not care about units. */
#include "check_close.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/sample.h"
#include "strength/random_sample.h"

/* Steps made by adding widths: the end of one and the beginning of the next differ in the last bit, either way. */
START_TEST(steps_that_differ_in_the_last_bit_are_neighbours) {
    const hf_family *family = hf_family_at((size_t)_i);
    double rung = 30.787927907657657, width = 2.697527407823873;
    for (int way = -1; way <= 1; way++) {
        double next = way ? nextafter(rung, way * HUGE_VAL) : rung;
        const hf_observation items[] = {{HF_INTERVAL_CLOSED, rung - width, rung, false, -1},
                                        {HF_INTERVAL_CLOSED, next, rung + width, false, -1},
                                        {HF_INTERVAL_CLOSED, rung - width, rung, false, -1}};
        hf_fit fit;
        ck_assert_int_eq(hf_fit_maximum(family, (hf_sample){items, 3}, &fit), HF_NO_RESULT);
        ck_assert_str_eq(hf_fit_stop_code(fit.stop), "two_steps");
    }
}
END_TEST

START_TEST(neighbouring_ends_become_the_lowest_of_them) {
    hf_observation items[] = {{HF_INTERVAL_CLOSED, nextafter(800, 900), 840, false, -1},
                              {HF_INTERVAL_CLOSED, 760, 800, false, -1},
                              {HF_INTERVAL_ABOVE, 840 * (1 + 9e-10), INFINITY, false, -1},
                              {HF_INTERVAL_BELOW, 0, 760 * (1 + 2e-9), false, -1},
                              {HF_INTERVAL_CLOSED, 900, 900 * (1 + 1e-12), false, -1}};
    ck_assert_int_eq(hf_sample_join_neighbours(items, 5), HF_OK);
    ck_assert(items[0].lower == 800 && items[1].upper == 800);
    ck_assert(items[2].lower == 840 && isinf(items[2].upper));
    ck_assert(items[3].lower == 0 &&
              items[3].upper == 760 * (1 + 2e-9)); /* twice the distance: another load */
    ck_assert(items[4].kind == HF_INTERVAL_EXACT && items[4].upper == 900);
}
END_TEST

static const hf_observation one_step[] = {
    {HF_INTERVAL_CLOSED, 760.5, 801.5, false, -1},   {HF_INTERVAL_CLOSED, 760.5, 801.5, false, -1},
    {HF_INTERVAL_CLOSED, 760.5, 801.5, false, -1},   {HF_INTERVAL_ABOVE, 801.5, INFINITY, false, -1},
    {HF_INTERVAL_ABOVE, 812.5, INFINITY, false, -1}, {HF_INTERVAL_BELOW, 0, 760.5, false, -1},
    {HF_INTERVAL_BELOW, 0, 755.5, false, -1},        {HF_INTERVAL_CLOSED, 801.5, 842.5, false, -1},
    {HF_INTERVAL_CLOSED, 842.5, 883.5, false, -1},   {HF_INTERVAL_EXACT, 777.7, 777.7, false, -1},
    {HF_INTERVAL_ABOVE, 901.5, INFINITY, false, -1}, {HF_INTERVAL_BELOW, 0, 650.5, false, -1}};

typedef struct existence_case {
    const char *name;
    size_t count;
    int index[6]; /* into one_step */
    hf_fit_stop stop;
} existence_case;

/* methods.md 2: where no maximum exists. */
static const existence_case cases[] = {
    {"one failure", 1, {0}, HF_FIT_TOO_FEW},
    {"one failure and a run-out", 2, {0, 3}, HF_FIT_TOO_FEW},
    {"all in one step", 3, {0, 1, 2}, HF_FIT_ONE_STEP},
    {"one step, run-out stopped at its upper end", 3, {0, 1, 3}, HF_FIT_ONE_STEP_OPEN},
    {"one step, run-out stopped above it", 3, {0, 1, 4}, HF_FIT_CONVERGED},
    {"one step, first-rung failure ending at its lower end", 3, {0, 1, 5}, HF_FIT_ONE_STEP_OPEN},
    {"one step, first-rung failure ending below it", 3, {0, 1, 6}, HF_FIT_CONVERGED},
    {"two neighbouring steps", 3, {0, 1, 7}, HF_FIT_TWO_STEPS},
    {"two steps apart", 3, {0, 1, 8}, HF_FIT_CONVERGED},
    {"equal readings", 2, {9, 9}, HF_FIT_ONE_STEP},
    {"a reading inside the step", 3, {0, 1, 9}, HF_FIT_ONE_STEP},
    {"run-outs above first-rung failures, nothing else", 4, {10, 10, 11, 11}, HF_FIT_ENDLESS_SCATTER},
};

START_TEST(a_law_is_found_by_the_word_of_its_row) {
    static const char *const rows[] = {
#define FAMILY_WORD(name) #name,
        HF_FAMILY_LIST(FAMILY_WORD)
#undef FAMILY_WORD
    };
    const hf_family *family = hf_family_at((size_t)_i);
    ck_assert_str_eq(family->name, rows[_i]);
    ck_assert_ptr_eq(hf_family_find(rows[_i]), family);
    ck_assert_uint_eq(hf_family_index(family), (size_t)_i);
    ck_assert_ptr_eq(hf_family_governing(family), family);
    ck_assert_ptr_null(hf_family_at(HF_FAMILY_COUNT));
    ck_assert_uint_eq(hf_family_index(NULL), HF_FAMILY_COUNT);
    ck_assert_ptr_null(hf_family_find("auto"));
}
END_TEST

START_TEST(a_maximum_is_found_exactly_where_one_exists) {
    const existence_case *c = &cases[_i / HF_FAMILY_COUNT];
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_observation items[6];
    for (size_t i = 0; i < c->count; i++) items[i] = one_step[c->index[i]];
    hf_fit fit;
    hf_status status = hf_fit_maximum(family, (hf_sample){items, c->count}, &fit);
    /* The normal law knows a first-rung failure to lie between 0 and the rung, which holds its scatter together. */
    hf_fit_stop expected =
        c->stop == HF_FIT_ENDLESS_SCATTER && !family->log_scale ? HF_FIT_CONVERGED : c->stop;
    ck_assert_msg(fit.stop == expected, "%s, %s: got %s, expected %s", family->name, c->name,
                  hf_fit_stop_code(fit.stop), hf_fit_stop_code(expected));
    ck_assert_int_eq(status == HF_OK, expected == HF_FIT_CONVERGED);
}
END_TEST

static double log_likelihood(const hf_family *family, hf_sample sample, double m, double s) {
    double sum = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        double f[3], low = (hf_family_working(family, item->lower) - m) / s;
        double high = (hf_family_working(family, item->upper) - m) / s;
        if (item->kind == HF_INTERVAL_EXACT) {
            family->log_density(low, f);
            sum += f[0] - log(s) - (family->log_scale ? log(item->lower) : 0);
        } else {
            sum += family->log_interval(low, high);
        }
    }
    return sum;
}

/* The value itself is redone with another formula, and no neighbour is higher. */
START_TEST(the_fit_is_a_maximum) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_random random;
    hf_random_start(&random, 417, (uint64_t)_i);
    for (int round = 0; round < 50; round++) {
        hf_observation items[HF_TEST_PARTS];
        size_t n = 3 + hf_random_below(&random, 30);
        hf_sample sample = hf_test_sample(&random, n, round % 2 ? 38.9 : 0, items);
        for (size_t i = 0; i < n; i += 4)
            if (round % 5 == 3)
                items[i] = (hf_observation){HF_INTERVAL_ABOVE, items[i].lower, INFINITY, false, -1};
        hf_fit fit;
        if (hf_fit_maximum(family, sample, &fit) != HF_OK) continue;
        double top = log_likelihood(family, sample, fit.m, fit.s), d = 1e-4 * fit.s;
        hf_check_close(fit.log_likelihood, top, 1e3 * HF_TOLERANCE_ROUNDING, "the likelihood written out");
        for (int side = -1; side <= 1; side += 2) {
            ck_assert_double_lt(log_likelihood(family, sample, fit.m + side * d, fit.s), top);
            ck_assert_double_lt(log_likelihood(family, sample, fit.m, fit.s + side * d), top);
        }
    }
}
END_TEST

START_TEST(estimates_follow_the_unit) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    hf_random random;
    hf_random_start(&random, 93, (uint64_t)_i);
    static const double factors[] = {1e-6, 0.101971621, 4.4482216152605, 1e6};
    for (int round = 0; round < 40; round++) {
        hf_observation items[HF_TEST_PARTS];
        size_t n = 4 + hf_random_below(&random, 20);
        hf_sample sample = hf_test_sample(&random, n, round % 2 ? 57.3 : 0, items);
        hf_fit fit, scaled;
        double c = factors[round % 4];
        if (hf_fit_maximum(family, sample, &fit) != HF_OK) continue;
        hf_test_scale(items, n, c);
        ck_assert_int_eq(hf_fit_maximum(family, sample, &scaled), HF_OK);
        hf_check_close(hf_family_load(family, scaled.m), c * hf_family_load(family, fit.m), 1e-9,
                       "methods.md 9: loads times c");
        hf_check_close(scaled.s, family->log_scale ? fit.s : c * fit.s, 1e-9, "methods.md 9: loads times c");
    }
}
END_TEST

/* A step that shrinks to nothing becomes a reading: the narrow-step series meets the exact formula. */
START_TEST(a_narrow_step_is_a_reading) {
    const hf_family *family = hf_family_at((size_t)_i % HF_FAMILY_COUNT);
    static const double loads[] = {713.9, 846.21, 902.7, 795.33, 958.8};
    hf_observation exact[5], narrow[5];
    for (int i = 0; i < 5; i++) {
        double half = 0.5e-5 * loads[i];
        exact[i] = (hf_observation){HF_INTERVAL_EXACT, loads[i], loads[i], false, -1};
        narrow[i] = (hf_observation){HF_INTERVAL_CLOSED, loads[i] - half, loads[i] + half, false, -1};
    }
    hf_fit a, b;
    ck_assert_int_eq(hf_fit_maximum(family, (hf_sample){exact, 5}, &a), HF_OK);
    ck_assert_int_eq(hf_fit_maximum(family, (hf_sample){narrow, 5}, &b), HF_OK);
    hf_check_close(b.m, a.m, 1e-8, "limit of the interval likelihood");
    hf_check_close(b.s, a.s, 1e-7, "limit of the interval likelihood");
    hf_check_close(b.se_s, a.se_s, 1e-7, "limit of the interval likelihood");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("strength fit");
    TCase *t = tcase_create("fit");
    tcase_add_loop_test(t, a_law_is_found_by_the_word_of_its_row, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, a_maximum_is_found_exactly_where_one_exists, 0,
                        (int)(sizeof cases / sizeof *cases) * HF_FAMILY_COUNT);
    tcase_add_loop_test(t, steps_that_differ_in_the_last_bit_are_neighbours, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, neighbouring_ends_become_the_lowest_of_them);
    tcase_add_loop_test(t, the_fit_is_a_maximum, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, estimates_follow_the_unit, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, a_narrow_step_is_a_reading, 0, HF_FAMILY_COUNT);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
