/* Rows of the bench about looks, batches and earlier scatter. */
#ifndef HF_TESTS_BENCH_PROMISES_H
#define HF_TESTS_BENCH_PROMISES_H

/* Prints one line each: figure, unit, and its ratio to the aim. */
void bench_promises(void);

#endif
