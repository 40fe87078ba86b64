/* One-way F beside the k-sample test, and the trend against the order of pulling. */
#include "check_close.h"
#include "holdfast/strength/batch.h"
#include "holdfast/strength/trend.h"

/* Three batches of two, all variance between them: no k-sample test and no dealing of so few can say so (6 of 90 ways are as far apart),
 * the F law does. f_oneway of scipy 1.10 on ln load: F 395.0535, p 0.00023264 (COMPUTED). */
START_TEST(three_batches_of_two_are_told_apart) {
    static const double load[] = {900, 910, 1000, 1010, 1100, 1110};
    hf_observation items[6];
    hf_batch_test test;
    for (int i = 0; i < 6; i++)
        items[i] = (hf_observation){HF_INTERVAL_EXACT, load[i], load[i], false, i / 2};
    ck_assert_int_eq(hf_batch_test_run((hf_sample){items, 6}, &test), HF_OK);
    ck_assert(!test.differ && test.one_way.available && test.one_way.exact && test.one_way.differ);
    hf_check_close(test.one_way.f, 395.053534, 1e-6, "scipy");
    hf_check_close(test.one_way.by_law, 0.000232639873, 1e-6, "scipy");
    hf_check_close(test.one_way.significance, 6 / 90.0, HF_TOLERANCE_ROUNDING, "by hand");
    hf_check_close(test.one_way.least, 6 / 90.0, HF_TOLERANCE_ROUNDING, "by hand");
}
END_TEST

/* Batches 3 + 1: four ways, of which the observed lone part is the farthest. */
START_TEST(a_batch_of_one_counts) {
    static const double y[] = {1, 1.1, 1.2, 3};
    static const int batch[] = {0, 0, 0, 1};
    hf_batch_f test;
    ck_assert_int_eq(hf_batch_f_values(y, batch, 4, 2, &test), HF_OK);
    hf_check_close(test.significance, 0.25, HF_TOLERANCE_ROUNDING, "by hand");
    hf_check_close(test.least, 0.25, HF_TOLERANCE_ROUNDING, "by hand");
    static const int lone[] = {0, 1, 2, 3};
    ck_assert_int_eq(hf_batch_f_values(y, lone, 4, 4, &test), HF_NO_RESULT);
}
END_TEST

START_TEST(equal_batches_do_not_differ) {
    static const double y[] = {1, 2, 3, 4, 1, 2, 3, 4};
    static const int batch[] = {0, 0, 0, 0, 1, 1, 1, 1};
    hf_batch_f test;
    ck_assert_int_eq(hf_batch_f_values(y, batch, 8, 2, &test), HF_OK);
    ck_assert(!test.differ && test.exact);
    hf_check_close(test.significance, 1, HF_TOLERANCE_ROUNDING, "no way is less far apart than not at all");
}
END_TEST

START_TEST(a_trend_is_seen_in_all_orders) {
    static const double rising[] = {1, 2, 3, 4, 5}, place[] = {3, 7, 8, 20, 21};
    static const double level[] = {1, 3, 2, 3, 1};
    hf_trend_test test;
    ck_assert_int_eq(hf_trend_test_values(rising, place, 5, &test), HF_OK);
    hf_check_close(test.significance, 2 / 120.0, HF_TOLERANCE_ROUNDING, "up and down, of 5!");
    hf_check_close(test.slope, 1, HF_TOLERANCE_ROUNDING, "by hand");
    ck_assert(test.exact && test.trend);
    ck_assert_int_eq(hf_trend_test_values(level, place, 5, &test), HF_OK);
    hf_check_close(test.significance, 1, HF_TOLERANCE_ROUNDING, "no slope");
    ck_assert_int_eq(hf_trend_test_values(rising, place, 4, &test), HF_NO_RESULT);
}
END_TEST

/* Nine parts go by the t law of the correlation; near the exact 2·(number of orders as steep)/9! of eight and fewer. */
START_TEST(many_parts_go_by_the_correlation) {
    static const double y[] = {0.1, -0.3, 0.4, 0.2, 0.5, 0.1, 0.9, 0.6, 0.8};
    static const double place[] = {1, 2, 3, 4, 5, 6, 7, 8, 9};
    hf_trend_test test;
    ck_assert_int_eq(hf_trend_test_values(y, place, 9, &test), HF_OK);
    ck_assert(!test.exact && test.trend);
    hf_check_close(test.significance, 0.0158387618, 1e-6, "scipy.stats.pearsonr 1.10");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("batch_trend");
    TCase *t = tcase_create("batch_trend");
    tcase_add_test(t, three_batches_of_two_are_told_apart);
    tcase_add_test(t, a_batch_of_one_counts);
    tcase_add_test(t, equal_batches_do_not_differ);
    tcase_add_test(t, a_trend_is_seen_in_all_orders);
    tcase_add_test(t, many_parts_go_by_the_correlation);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
