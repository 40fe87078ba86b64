/* Is one design more even than the other?
 *
 * Even making is worth as much as strength: the lower bound falls with the scatter. Levene's test about medians
 * (Brown & Forsythe 1974) holds whatever the law; Bartlett's is sharper but only for bell shapes. Both take any number of groups;
 * on ln load they compare scatter in per cent. */
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
    double statistic; /* Levene: F with nu1, nu2; Bartlett: chi-square with nu1 */
    double nu1, nu2;  /* nu2 is INFINITY for Bartlett */
    double p;
} hf_spread_test;

/* About medians. HF_RANGE for fewer than two groups or a group of one, HF_NO_RESULT when no deviation varies, HF_MEMORY. */
hf_status hf_levene_test(hf_arena *arena, const hf_value_group *groups, size_t count, hf_spread_test *out);

/* HF_RANGE as above, HF_NO_RESULT when a group has no scatter. */
hf_status hf_bartlett_test(const hf_value_group *groups, size_t count, hf_spread_test *out);

#endif
