/* A random permutation, for tests of what must not depend on an order. */
#ifndef HF_TESTS_SHUFFLE_H
#define HF_TESTS_SHUFFLE_H

#include "holdfast/numeric/random.h"

static inline void hf_random_shuffle(hf_random *random, size_t *items, size_t count) {
    for (size_t i = count; i > 1; i--) {
        size_t j = (size_t)hf_random_below(random, i), kept = items[i - 1];
        items[i - 1] = items[j];
        items[j] = kept;
    }
}

#endif
