/* Scales of the chart grammar: places, round ticks, and the shortest text of a tick. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/number.h"
#include "chart/chart.h"

START_TEST(linear_scale_should_end_on_round_numbers_around_the_data) {
    hf_scale scale = hf_scale_linear(3.7, 958, 0, 100);
    hf_check_close(scale.low, 0, HF_TOLERANCE_EXACT, "by hand: step 200");
    hf_check_close(scale.high, 1000, HF_TOLERANCE_EXACT, "by hand: step 200");
    hf_check_close(hf_scale_place(&scale, 250), 25, HF_TOLERANCE_ROUNDING, "a quarter of the way");
}
END_TEST

START_TEST(scale_of_one_value_should_have_room) {
    hf_scale scale = hf_scale_linear(760, 760, 0, 100);
    double at = hf_scale_place(&scale, 760);
    ck_assert(isfinite(at) && at > 0 && at < 100);
    scale = hf_scale_linear(0, 0, 0, 100);
    ck_assert(isfinite(hf_scale_place(&scale, 0)));
}
END_TEST

static const double spans[] = {1.3e-9, 0.0123, 0.1, 0.7, 3, 17, 958, 12345, 1e7, 8.8e12};

START_TEST(ticks_should_be_few_even_and_short_at_any_size) {
    double ticks[HF_TICKS_MOST];
    char text[HF_NUMBER_SIZE];
    hf_scale scale = hf_scale_linear(0, spans[_i], 0, 500);
    for (size_t most = 2; most <= 12; most++) {
        size_t count = hf_scale_ticks(&scale, most, ticks);
        ck_assert_uint_le(count, most);
        ck_assert_uint_ge(count, 1);
        for (size_t i = 0; i < count; i++) {
            ck_assert(ticks[i] >= scale.low && ticks[i] <= scale.high * (1 + 1e-12));
            hf_number_shortest(ticks[i], text);
            size_t digits = 0;
            for (const char *c = text; *c && *c != 'e'; c++) digits += *c >= '1' && *c <= '9';
            ck_assert_msg(digits <= 2, "tick %s of the span to %g is not round", text, spans[_i]);
            if (i > 1)
                hf_check_close(ticks[i] - ticks[i - 1], ticks[1] - ticks[0], HF_TOLERANCE_SPECIAL,
                               "equal steps");
        }
    }
}
END_TEST

START_TEST(logarithmic_scale_should_give_a_decade_the_same_width_everywhere) {
    double ticks[HF_TICKS_MOST];
    hf_scale scale = hf_scale_log(0.01, 1e7, 0, 900);
    double low = hf_scale_place(&scale, 1) - hf_scale_place(&scale, 0.1),
           high = hf_scale_place(&scale, 1e6) - hf_scale_place(&scale, 1e5);
    hf_check_close(low, high, HF_TOLERANCE_SPECIAL, "log(10x) - log(x) does not depend on x");
    ck_assert(scale.low < 0.01 && scale.high > 1e7);
    size_t count = hf_scale_ticks(&scale, 11, ticks);
    ck_assert(count >= 4 && count <= 11);
    for (size_t i = 0; i < count; i++)
        hf_check_within(log10(ticks[i]), round(log10(ticks[i])), HF_TOLERANCE_SPECIAL, "whole decades");
    scale = hf_scale_log(20, 900, 0, 100);
    count = hf_scale_ticks(&scale, 11, ticks);
    ck_assert_uint_eq(count, 6); /* by hand: ends 17.0 and 1058, so 20 50 100 200 500 1000 */
}
END_TEST

START_TEST(probability_paper_should_be_symmetric_for_the_normal_law) {
    double ticks[HF_TICKS_MOST];
    hf_scale scale = hf_scale_probability(hf_family_find("normal"), 0.01, 0.99, 0, 100);
    hf_check_close(hf_scale_place(&scale, 0.5), 50, HF_TOLERANCE_SPECIAL, "z = 0");
    hf_check_close(hf_scale_place(&scale, 0.1) + hf_scale_place(&scale, 0.9), 100, HF_TOLERANCE_SPECIAL,
                   "z(p) = -z(1-p)");
    hf_check_close((hf_scale_place(&scale, 0.95) - 50) / 50, 1.6448536269514722 / 2.3263478740408408,
                   HF_TOLERANCE_SPECIAL, "normal quantiles of 0.95 and 0.99 (scipy.stats.norm.ppf)");
    ck_assert_uint_eq(hf_scale_ticks(&scale, HF_TICKS_MOST, ticks), 9);
}
END_TEST

START_TEST(text_should_be_safe_inside_xml) {
    hf_text out = {0};
    hf_chart_add_text(&out, "<a>&\"'\x01\xFF\xEF\xBF\xBF\xE2\x80\xAE z");
    ck_assert_str_eq(out.bytes, "&lt;a&gt;&amp;&quot;&#39; ??  z");
    hf_text_free(&out);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("chart scales");
    TCase *scale = tcase_create("scale");
    tcase_add_test(scale, linear_scale_should_end_on_round_numbers_around_the_data);
    tcase_add_test(scale, scale_of_one_value_should_have_room);
    tcase_add_loop_test(scale, ticks_should_be_few_even_and_short_at_any_size, 0,
                        sizeof spans / sizeof *spans);
    tcase_add_test(scale, logarithmic_scale_should_give_a_decade_the_same_width_everywhere);
    tcase_add_test(scale, probability_paper_should_be_symmetric_for_the_normal_law);
    tcase_add_test(scale, text_should_be_safe_inside_xml);
    suite_add_tcase(out, scale);
    return out;
}

HF_TEST_MAIN(suite)
