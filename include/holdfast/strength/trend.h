/* Do the parts get weaker or stronger in the order of pulling?
 *
 * A rig that wears, an operator who learns, a shed that warms: what changes during the test puts a slope into the strengths that the
 * bound takes for scatter of the parts, and the next campaign starts where the slope ended. The slope of ln load against the place in the
 * order of pulling is compared with the slopes of all other orders (up to eight parts), or by the t law of their correlation. */
#ifndef HOLDFAST_STRENGTH_TREND_H
#define HOLDFAST_STRENGTH_TREND_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"

enum { HF_TREND_LEAST_PARTS = 5, HF_TREND_EXACT_PARTS = 8 };

typedef struct hf_trend_test {
    bool available;
    const char *reason; /* when not: "too_few", "one_value" (of strength or of place) */
    size_t parts;
    double slope;         /* of ln load from one pull to the next */
    double first_to_last; /* load of the last place over that of the first, along the slope */
    double significance;  /* two-sided */
    bool exact;           /* all orders were looked at */
    bool trend;           /* significance ≤ 0.05 */
} hf_trend_test;

/* y[i]: ln load; place[i]: any number that rises in the order of pulling, ties allowed. At least HF_TREND_LEAST_PARTS: the orders of four
 * parts are too few to reach 0.05. HF_OK, HF_NO_RESULT or HF_MEMORY. */
hf_status hf_trend_test_values(const double *y, const double *place, size_t count, hf_trend_test *out);

#endif
