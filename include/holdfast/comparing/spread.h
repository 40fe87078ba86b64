/* Is one design more even than the other?
 *
 * Even making is worth as much as strength: the lower bound falls with the scatter. Levene's test about medians
 * (Brown & Forsythe 1974) holds whatever the law. It takes any number of groups; on ln load it compares scatter in per cent. */
#ifndef HOLDFAST_COMPARING_SPREAD_H
#define HOLDFAST_COMPARING_SPREAD_H

#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"

typedef struct hf_value_group {
    const double *values; /* any order */
    size_t n;             /* ≥ 2 */
} hf_value_group;

typedef struct hf_spread_test {
    double statistic; /* F with nu1, nu2 */
    double nu1, nu2;
    double p;
} hf_spread_test;

/* About medians. HF_RANGE for fewer than two groups or a group of one, HF_NO_RESULT when no deviation varies, HF_MEMORY. */
hf_status hf_levene_test(hf_arena *arena, const hf_value_group *groups, size_t count, hf_spread_test *out);

#endif
