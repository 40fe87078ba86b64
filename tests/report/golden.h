/* What a report should look like, to the letter. HF_UPDATE_GOLDEN=1 in the environment writes what comes out now. */
#ifndef HF_TESTS_REPORT_GOLDEN_H
#define HF_TESTS_REPORT_GOLDEN_H

#include "holdfast/base/text.h"

/* Fails with the first line that differs from tests/report/golden/<name>. The version of the program stands there as V. */
void compare_golden(const char *name, const hf_text *found);

#endif
