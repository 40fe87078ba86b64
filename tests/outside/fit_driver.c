/* Lets other programs ask for fits. From standard input, any number of samples:
 *
 *     FAMILY COUNT
 *     LOWER UPPER        COUNT lines; equal: a reading; upper inf: still whole; lower 0 or -inf: first rung
 *
 * For each one line: m s se_m se_s log_likelihood stop. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include "holdfast/strength/fit.h"

enum { MOST_PARTS = 100000 };

static hf_observation observation_of(double lower, double upper) {
    hf_observation item = {HF_INTERVAL_CLOSED, lower, upper, false, -1};
    if (lower == upper)
        item.kind = HF_INTERVAL_EXACT;
    else if (isinf(upper))
        item.kind = HF_INTERVAL_ABOVE;
    else if (lower <= 0)
        item.kind = HF_INTERVAL_BELOW;
    return item;
}

static int read_items(hf_observation *items, size_t count) {
    for (size_t i = 0; i < count; i++) {
        double lower, upper;
        if (scanf("%lf %lf", &lower, &upper) != 2) {
            fprintf(stderr, "fit_driver: line %zu of a sample holds no two numbers\n", i + 1);
            return 1;
        }
        items[i] = observation_of(lower, upper);
    }
    return 0;
}

static int one_sample(const char *name, size_t count) {
    const hf_family *family = hf_family_find(name);
    if (!family || count == 0 || count > MOST_PARTS) {
        fprintf(stderr, "fit_driver: found '%s %zu', expected a family and a count up to %d\n", name, count,
                MOST_PARTS);
        return 1;
    }
    hf_observation *items = malloc(count * sizeof *items);
    if (!items) return 1;
    int failed = read_items(items, count);
    if (!failed) {
        hf_fit fit;
        hf_fit_maximum(family, (hf_sample){items, count}, &fit);
        printf("%.17g %.17g %.17g %.17g %.17g %s\n", fit.m, fit.s, fit.se_m, fit.se_s, fit.log_likelihood,
               hf_fit_stop_code(fit.stop));
    }
    free(items);
    return failed;
}

int main(void) {
    char name[16];
    size_t count;
    int got;
    while ((got = scanf("%15s %zu", name, &count)) == 2)
        if (one_sample(name, count)) return 2;
    return got == EOF ? 0 : 2;
}
