/* The row a report quotes. */
#include <check.h>
#include <stdlib.h>
#include "holdfast/planning/published_coverage.h"

START_TEST(the_nearest_number_of_parts_is_taken_and_the_smaller_of_two) {
    const hf_family *weibull = hf_family_find("weibull");
    ck_assert_uint_eq(hf_published_coverage_nearest(weibull, 0.90, 0.95, 10)->n, 10);
    ck_assert_uint_eq(hf_published_coverage_nearest(weibull, 0.90, 0.95, 7)->n, 6);
    ck_assert_uint_eq(hf_published_coverage_nearest(weibull, 0.90, 0.95, 17)->n, 20);
    ck_assert_uint_eq(hf_published_coverage_nearest(weibull, 0.90, 0.95, 5000)->n, 30);
}
END_TEST

START_TEST(every_law_of_the_table_of_laws_has_the_four_promises) {
    static const double promises[][2] = {{0.90, 0.95}, {0.99, 0.95}, {0.95, 0.90}, {0.95, 0.75}};
    const hf_family *family = hf_family_at((size_t)_i);
    for (size_t p = 0; p < 4; p++) {
        const hf_published_coverage *row =
            hf_published_coverage_nearest(family, promises[p][0], promises[p][1], 5);
        ck_assert_msg(row, "%s %g/%g", family->name, promises[p][0], promises[p][1]);
        ck_assert_uint_eq(row->n, 5);
        ck_assert(row->coverage > promises[p][1] - 0.01 && row->coverage < 1);
        ck_assert(row->standard_error > 0 && row->standard_error < 0.01);
    }
}
END_TEST

START_TEST(another_promise_has_no_row) {
    ck_assert_ptr_null(hf_published_coverage_nearest(hf_family_find("normal"), 0.91, 0.95, 5));
}
END_TEST

/* docs/coverage.md, Open pulls: weibull 90/95. */
START_TEST(open_pulls_take_the_nearest_share_then_the_nearest_number) {
    const hf_family *weibull = hf_family_find("weibull");
    const hf_published_open *row = hf_published_open_nearest(weibull, 0.90, 0.95, false, 0.375, 8);
    ck_assert(row && !row->below && row->share == 0.40 && row->n == 10);
    ck_assert(row->coverage == 0.9928 && row->given == 0.993 && row->bounded == 1);
    row = hf_published_open_nearest(weibull, 0.90, 0.95, true, 0.01, 4);
    ck_assert(row && row->below && row->share == 0.03 && row->n == 3 && row->bounded == 0.98);
    row = hf_published_open_nearest(weibull, 0.90, 0.95, false, 0.99, 1000);
    ck_assert(row && row->share == 0.70 && row->n == 20);
    ck_assert_ptr_null(hf_published_open_nearest(weibull, 0.91, 0.95, false, 0.1, 10));
}
END_TEST

int main(void) {
    Suite *suite = suite_create("published_coverage");
    TCase *rows = tcase_create("rows");
    tcase_add_test(rows, the_nearest_number_of_parts_is_taken_and_the_smaller_of_two);
    tcase_add_loop_test(rows, every_law_of_the_table_of_laws_has_the_four_promises, 0, HF_FAMILY_COUNT);
    tcase_add_test(rows, another_promise_has_no_row);
    tcase_add_test(rows, open_pulls_take_the_nearest_share_then_the_nearest_number);
    suite_add_tcase(suite, rows);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
