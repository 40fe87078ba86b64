/* Levene's test about medians (Brown & Forsythe 1974). */
#include "holdfast/comparing/spread.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/sample.h"

static bool usable(const hf_value_group *groups, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (groups[i].n < 2) return false;
    return count >= 2;
}

static double median_of(double *scratch, const double *values, size_t n) {
    memcpy(scratch, values, n * sizeof *scratch);
    hf_vector_sort(scratch, n);
    return 0.5 * (scratch[(n - 1) / 2] + scratch[n / 2]);
}

/* Mean and sum of squares of |value − median|. */
static void deviations_of(double *scratch, const hf_value_group *group, double *mean, double *squares) {
    double median = median_of(scratch, group->values, group->n), s;
    for (size_t i = 0; i < group->n; i++) scratch[i] = fabs(group->values[i] - median);
    hf_vector_mean_sd(scratch, group->n, mean, &s);
    *squares = s * s * (double)(group->n - 1);
}

hf_status hf_levene_test(hf_arena *arena, const hf_value_group *groups, size_t count, hf_spread_test *out) {
    size_t largest = 0;
    double total = 0, grand = 0, within = 0, between = 0;
    *out = (hf_spread_test){NAN, NAN, NAN, NAN};
    if (!usable(groups, count)) return HF_RANGE;
    for (size_t i = 0; i < count; i++) {
        largest = groups[i].n > largest ? groups[i].n : largest;
        total += (double)groups[i].n;
    }
    double *scratch = HF_ARENA_NEW_ARRAY(arena, double, largest),
           *means = HF_ARENA_NEW_ARRAY(arena, double, count);
    if (!scratch || !means) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) {
        double squares;
        deviations_of(scratch, &groups[i], &means[i], &squares);
        within += squares;
        grand += means[i] * (double)groups[i].n / total;
    }
    for (size_t i = 0; i < count; i++)
        between += (double)groups[i].n * (means[i] - grand) * (means[i] - grand);
    /* Equal deviations leave a rounding error of their squares. */
    if (!(within > HF_SAME * HF_SAME * total * (grand * grand + between))) return HF_NO_RESULT;
    out->nu1 = (double)count - 1;
    out->nu2 = total - (double)count;
    out->statistic = (between / out->nu1) / (within / out->nu2);
    out->p = hf_f_upper(out->statistic, out->nu1, out->nu2);
    return HF_OK;
}
