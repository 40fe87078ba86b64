/* Ways to make a bound out of stepped pulls: the one of this library, and the habits it is measured against.
 *
 * Whoever writes down the failing load as the strength, or the last load held, or the middle of the step as if it had been
 * read exactly, gives a promise of another strength than the one he names. The simulations of coverage.h say of which. One
 * row of the table is one way. */
#ifndef HOLDFAST_PLANNING_METHOD_H
#define HOLDFAST_PLANNING_METHOD_H

#include <stddef.h>
#include "holdfast/strength/bound.h"

typedef struct hf_planning_method {
    const char *name;  /* "formula" */
    const char *label; /* for people */
    double
        position; /* taken for the strength: 0 the load held, 1/2 the middle, 1 the failing load; working scale */
    double allowance; /* share of h² added to s²; NaN: the proven rule of methods.md 3 */
    /* A distribution-free rule; NULL for those that follow the one formula. */
    hf_status (*bound)(hf_sample sample, double content, double confidence, hf_bound *out);
} hf_planning_method;

/* Rows: formula, twelfth (h²/12), middle, failing_load, held_load, order_statistic, hanson_koopmans; NULL after the last. Static.
 * Only `formula` and the distribution-free rows answer when some pulls are open. */
const hf_planning_method *hf_planning_method_at(size_t index);
/* By name; NULL when unknown. */
const hf_planning_method *hf_planning_method_find(const char *name);

#endif
