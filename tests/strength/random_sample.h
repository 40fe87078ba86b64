/* Random samples for property tests: fixed seeds, high-entropy values. */
#ifndef HF_TESTS_RANDOM_SAMPLE_H
#define HF_TESTS_RANDOM_SAMPLE_H

#include <math.h>
#include "holdfast/numeric/random.h"
#include "holdfast/strength/observation.h"

enum { HF_TEST_PARTS = 40 };

/* n pulls of a lognormal-like strength around 853.7 with 9 % scatter. step 0: read continuously. */
static inline hf_sample hf_test_sample(hf_random *random, size_t n, double step, hf_observation *items) {
    double z[HF_TEST_PARTS];
    hf_random_fill_normal(random, z, n);
    double offset = hf_random_uniform(random) * step;
    for (size_t i = 0; i < n; i++) {
        double load = 853.7 * exp(0.0913 * z[i]);
        items[i] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
        if (step > 0) {
            double low = offset + step * (ceil((load - offset) / step) - 1);
            items[i] = (hf_observation){HF_INTERVAL_CLOSED, low, low + step, false, -1};
        }
    }
    return (hf_sample){items, n};
}

/* Loads of all observations times c. */
static inline void hf_test_scale(hf_observation *items, size_t n, double c) {
    for (size_t i = 0; i < n; i++) {
        items[i].lower *= c;
        items[i].upper *= c;
    }
}

#endif
