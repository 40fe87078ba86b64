/* One comparison for all floating-point tests: prints expected, got, error, tolerance and source. */
#ifndef HF_TESTS_CHECK_CLOSE_H
#define HF_TESTS_CHECK_CLOSE_H

#include <check.h>
#include <math.h>

/* Named tolerances; a bare number in a test is a mistake. */
#define HF_TOLERANCE_EXACT 0.0
#define HF_TOLERANCE_ROUNDING 1e-14 /* a handful of roundings */
#define HF_TOLERANCE_SPECIAL 1e-10  /* probabilities and quantiles, methods.md 9 */
#define HF_TOLERANCE_FACTOR 1e-8    /* noncentral-t k, methods.md 9 */
#define HF_TOLERANCE_FIT 1e-6       /* maximum likelihood estimates, methods.md 9 */

/* Relative difference; absolute where expected is 0. Both NaN, or both the same infinity, agree. */
#define hf_check_close(got, expected, tolerance, source)                                                     \
    do {                                                                                                     \
        double hf_got_ = (got), hf_expected_ = (expected), hf_tolerance_ = (tolerance);                      \
        double hf_error_ =                                                                                   \
            hf_expected_ == 0.0 ? fabs(hf_got_) : fabs(hf_got_ - hf_expected_) / fabs(hf_expected_);         \
        int hf_same_ =                                                                                       \
            (isnan(hf_got_) && isnan(hf_expected_)) || (isinf(hf_expected_) && hf_got_ == hf_expected_);     \
        ck_assert_msg(hf_same_ || hf_error_ <= hf_tolerance_,                                                \
                      "%s: got %.17g, expected %.17g, relative error %.3g, tolerance %.3g (%s)", #got,       \
                      hf_got_, hf_expected_, hf_error_, hf_tolerance_, (source));                            \
    } while (0)

/* Absolute difference, for printed tables: half a unit of the last printed digit and the like. */
#define hf_check_within(got, expected, absolute, source)                                                     \
    do {                                                                                                     \
        double hf_got_ = (got), hf_expected_ = (expected), hf_absolute_ = (absolute);                        \
        ck_assert_msg(fabs(hf_got_ - hf_expected_) <= hf_absolute_,                                          \
                      "%s: got %.17g, expected %.17g, difference %.3g, allowed %.3g (%s)", #got, hf_got_,    \
                      hf_expected_, fabs(hf_got_ - hf_expected_), hf_absolute_, (source));                   \
    } while (0)

/* main of a test program: runs one suite, one line per failure. */
#define HF_TEST_MAIN(suite_function)                                                                         \
    int main(void) {                                                                                         \
        SRunner *runner = srunner_create(suite_function());                                                  \
        srunner_run_all(runner, CK_NORMAL);                                                                  \
        int failed = srunner_ntests_failed(runner);                                                          \
        srunner_free(runner);                                                                                \
        return failed != 0;                                                                                  \
    }

#endif
