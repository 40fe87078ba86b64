/* What spreading parts over batches brings. */
#include "check_close.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/special.h"
#include "holdfast/planning/batch_gain.h"

enum { REPLICATES = 10000 };
static const hf_batch_gain_setup usual = {
    .content = 0.90, .confidence = 0.95, .required = NAN, .replicates = REPLICATES, .seed = 11};

typedef struct layout {
    size_t batches, parts;
    double margin;
} layout;

static hf_batch_gain gain_of(const hf_batch_gain_setup *setup, size_t batches, size_t parts, double share) {
    size_t list[32];
    hf_batch_gain out;
    for (size_t i = 0; i < batches; i++) list[i] = parts;
    ck_assert_int_eq(hf_batch_gain_of(setup, list, batches, share, &out), HF_OK);
    return out;
}

/* OWN RESULT of another simulation, one decimal, three tenths of the variance between batches: margins of the batch bound alone in standard deviations;
 * they are the middle ones, which half of all tests exceed. */
START_TEST(margins_of_layouts) {
    static const layout list[] = {{2, 5, 11.3}, {3, 3, 4.0}, {3, 5, 3.6},
                                  {5, 2, 2.7},  {5, 5, 2.4}, {10, 2, 2.1}};
    hf_batch_gain_setup alone = usual;
    alone.batch_alone = true;
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        hf_batch_gain got = gain_of(&alone, list[i].batches, list[i].parts, 0.3);
        hf_check_within(got.middle, list[i].margin, 0.05 + 0.025 * list[i].margin, "OWN RESULT");
        ck_assert_double_gt(got.right + 3 * got.right_error, 0.95);
        ck_assert_double_gt(got.long_one, got.middle);
    }
}
END_TEST

/* Six parts: three pairs bring far more than two threes, and six of one batch promise more than they keep. */
START_TEST(more_batches_bring_more) {
    hf_batch_gain one = gain_of(&usual, 1, 6, 0.5), two = gain_of(&usual, 2, 3, 0.5),
                  three = gain_of(&usual, 3, 2, 0.5);
    ck_assert_double_gt(two.middle, 1.5 * three.middle);
    ck_assert_double_gt(three.middle, one.middle);
    ck_assert_double_lt(one.right + 3 * one.right_error, 0.95);
    ck_assert_double_gt(fmin(two.right, three.right), 0.95);
}
END_TEST

START_TEST(required_bounds_are_counted) {
    hf_batch_gain_setup asked = usual;
    asked.required = gain_of(&usual, 3, 3, 0.3).middle;
    hf_check_within(gain_of(&asked, 3, 3, 0.3).reached, 0.5, 1.0 / REPLICATES,
                    "half are shorter than the middle one");
    asked.required = gain_of(&usual, 3, 3, 0.3).long_one;
    hf_check_within(gain_of(&asked, 3, 3, 0.3).reached, 0.9, 2.0 / REPLICATES, "one in ten is longer");
    ck_assert(isnan(gain_of(&usual, 3, 3, 0.3).reached));
}
END_TEST

START_TEST(same_bits_on_any_threads_and_refusals) {
    static const size_t batches[] = {3, 0, 2}, one_part[] = {1};
    hf_batch_gain first, second;
    hf_batch_gain_setup normal = usual;
    hf_parallel_set_threads(1);
    first = gain_of(&usual, 4, 2, 0.2);
    hf_parallel_set_threads(3);
    second = gain_of(&usual, 4, 2, 0.2);
    hf_parallel_set_threads(0);
    ck_assert(first.middle == second.middle && first.long_one == second.long_one &&
              first.right == second.right);
    normal.family = &hf_family_normal;
    ck_assert_int_eq(hf_batch_gain_of(&usual, batches, 3, 0.3, &first), HF_RANGE);
    ck_assert_int_eq(hf_batch_gain_of(&usual, one_part, 1, 0.3, &first), HF_RANGE);
    ck_assert_int_eq(hf_batch_gain_of(&usual, batches, 1, 1.1, &first), HF_RANGE);
    ck_assert_int_eq(hf_batch_gain_of(&normal, batches, 1, 0.3, &first), HF_RANGE);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("what batches bring");
    TCase *t = tcase_create("batches");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, margins_of_layouts);
    tcase_add_test(t, more_batches_bring_more);
    tcase_add_test(t, required_bounds_are_counted);
    tcase_add_test(t, same_bits_on_any_threads_and_refusals);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
