/* A promise a fuzz target checks: broken, it says which and aborts, with assertions compiled in or not. */
#ifndef HF_TESTS_FUZZ_MUST_H
#define HF_TESTS_FUZZ_MUST_H

#include <stdio.h>
#include <stdlib.h>

#define MUST(condition)                                                                                      \
    do {                                                                                                     \
        if (!(condition)) {                                                                                  \
            (void)fprintf(stderr, "%s:%d: broken promise: %s\n", __FILE__, __LINE__, #condition);            \
            abort();                                                                                         \
        }                                                                                                    \
    } while (0)

#endif
