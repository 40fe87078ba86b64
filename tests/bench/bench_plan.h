/* Rows of the bench about planning. */
#ifndef HF_TESTS_BENCH_PLAN_H
#define HF_TESTS_BENCH_PLAN_H

/* Prints one line each: figure, unit, and its ratio to the aim. */
void bench_plan(void);

#endif
