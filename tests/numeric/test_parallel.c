/* Blocks are each done once, and the number of threads changes no bit. */
#include "holdfast/numeric/parallel.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "check_close.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"

enum { BLOCKS = 40, PER_BLOCK = 500 };

typedef struct job {
    double sums[BLOCKS], quantiles[BLOCKS], chi2[BLOCKS];
    int calls[BLOCKS];
    int workers;
    bool worker_allowed[BLOCKS];
} job;

static void simulate(size_t block, int worker, void *context) {
    job *j = context;
    double x[PER_BLOCK];
    hf_random random;
    hf_random_start(&random, 11, block);
    hf_random_fill_normal(&random, x, PER_BLOCK);
    for (int i = 0; i < PER_BLOCK; i++) j->sums[block] += x[i];
    if (hf_noncentral_t_quantile(0.95, 9.0, 4.0 + x[0], &j->quantiles[block]) != HF_OK)
        j->quantiles[block] = NAN;
    j->chi2[block] = hf_chi2_quantile_lower(0.9, 3.0 + fabs(x[1]));
    j->calls[block]++;
    j->worker_allowed[block] = worker >= 0 && worker < j->workers;
}

static void run(job *j, int threads) {
    *j = (job){{0}, {0}, {0}, {0}, 0, {0}};
    hf_parallel_set_threads(threads);
    j->workers = hf_parallel_threads();
    hf_parallel_blocks(BLOCKS, simulate, j);
    for (int i = 0; i < BLOCKS; i++) {
        ck_assert_int_eq(j->calls[i], 1);
        ck_assert(j->worker_allowed[i]);
        ck_assert(!isnan(j->quantiles[i]));
    }
}

START_TEST(test_threads_do_not_matter) {
    static job one, many;
    run(&one, 1);
    for (int threads = 2; threads <= 5; threads++) {
        run(&many, threads);
        ck_assert_int_eq(memcmp(one.sums, many.sums, sizeof one.sums), 0);
        ck_assert_int_eq(memcmp(one.quantiles, many.quantiles, sizeof one.quantiles), 0);
        ck_assert_int_eq(memcmp(one.chi2, many.chi2, sizeof one.chi2), 0);
    }
    run(&many, 0);
    ck_assert_int_eq(memcmp(one.sums, many.sums, sizeof one.sums), 0);
}
END_TEST

START_TEST(test_thread_count) {
    hf_parallel_set_threads(1);
    ck_assert_int_eq(hf_parallel_threads(), 1);
    hf_parallel_set_threads(0);
    ck_assert_int_ge(hf_parallel_threads(), 1);
    hf_parallel_set_threads(-3);
    ck_assert_int_ge(hf_parallel_threads(), 1);
}
END_TEST

START_TEST(test_no_blocks) {
    job j = {{0}, {0}, {0}, {0}, 0, {0}};
    hf_parallel_blocks(0, simulate, &j);
    for (int i = 0; i < BLOCKS; i++) ck_assert_int_eq(j.calls[i], 0);
}
END_TEST

typedef struct report {
    int calls;
    double last;
    bool is_rising;
} report;

static void note(double done, void *context) {
    report *r = context;
    r->calls++;
    r->is_rising = r->is_rising && done > r->last && done <= 1.0;
    r->last = done;
}

static void sleep_a_little(size_t block, int worker, void *context) {
    (void)block, (void)worker, (void)context;
    const struct timespec wait = {0, 20000000};
    (void)nanosleep(&wait, NULL);
}

START_TEST(test_progress) {
    report r = {0, 0.0, true};
    hf_parallel_set_threads(1);
    hf_parallel_set_progress(note, &r);
    hf_parallel_blocks(20, sleep_a_little, NULL); /* at least 0.4 s */
    hf_parallel_set_progress(NULL, NULL);
    ck_assert_int_ge(r.calls, 1);
    ck_assert_int_le(r.calls, 19); /* fewer than one a block: throttled */
    ck_assert(r.is_rising);
    int calls = r.calls;
    hf_parallel_blocks(1, sleep_a_little, NULL);
    ck_assert_int_eq(r.calls, calls);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("parallel");
    TCase *c = tcase_create("parallel");
    tcase_add_test(c, test_threads_do_not_matter);
    tcase_add_test(c, test_thread_count);
    tcase_add_test(c, test_no_blocks);
    tcase_add_test(c, test_progress);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
