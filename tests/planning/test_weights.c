/* The exact search for weights against trying every combination. */
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <time.h>
#include "check_close.h"
#include "holdfast/numeric/random.h"
#include "holdfast/planning/weights.h"

enum { KINDS = 4 };

typedef struct best_load {
    bool found;
    int64_t total;
    int handling, pieces;
} best_load;

/* Next combination in the mixed-radix count, false after the last. */
static bool count_up(const hf_weight_kind *kinds, int *count) {
    for (size_t k = 0; k < KINDS; k++) {
        if (++count[k] <= kinds[k].count) return true;
        count[k] = 0;
    }
    return false;
}

static void look_at(const hf_weight_kind *kinds, const hf_weight_load *now, const int *count,
                    const int64_t window[2], best_load *best) {
    best_load one = {true, 0, 0, 0};
    for (size_t k = 0; k < KINDS; k++) {
        one.total += count[k] * kinds[k].value;
        one.handling += abs(count[k] - now->count[k]);
        one.pieces += count[k];
    }
    if (one.total < window[0] || one.total > window[1]) return;
    bool better = !best->found || one.handling < best->handling;
    if (best->found && one.handling == best->handling)
        better = one.total > best->total || (one.total == best->total && one.pieces < best->pieces);
    if (better) *best = one;
}

static best_load try_all(const hf_weight_kind *kinds, const hf_weight_load *now, const int64_t window[2]) {
    best_load best = {false, 0, 0, 0};
    int count[KINDS] = {0};
    do look_at(kinds, now, count, window, &best);
    while (count_up(kinds, count));
    return best;
}

static int64_t total_of(const hf_weight_kind *kinds, size_t count) {
    int64_t total = 0;
    for (size_t k = 0; k < count; k++) total += kinds[k].count * kinds[k].value;
    return total;
}

static void random_case(hf_random *random, hf_weight_kind *kinds, hf_weight_load *now) {
    *now = (hf_weight_load){0};
    for (size_t k = 0; k < KINDS; k++) {
        kinds[k].value = 1 + (int64_t)hf_random_below(random, 40);
        kinds[k].count = 1 + (int)hf_random_below(random, 4);
        now->count[k] = (int)hf_random_below(random, (uint64_t)kinds[k].count + 1);
    }
}

START_TEST(least_handling_equals_trying_all) {
    hf_random random;
    hf_random_start(&random, 41, (uint64_t)_i);
    for (int round = 0; round < 150; round++) {
        hf_weight_kind kinds[KINDS];
        hf_weight_load now, next;
        hf_weight_search *search;
        hf_arena *arena = hf_arena_create();
        random_case(&random, kinds, &now);
        ck_assert_int_eq(hf_weight_search_create(arena, kinds, KINDS, &search), HF_OK);
        int64_t low = (int64_t)hf_random_below(&random, (uint64_t)total_of(kinds, KINDS) + 3);
        int64_t window[2] = {low, low + (int64_t)hf_random_below(&random, 6)};
        best_load best = try_all(kinds, &now, window);
        hf_status status = hf_weight_next(search, &now, window[0], window[1], &next);
        ck_assert_int_eq(status, best.found ? HF_OK : HF_NO_RESULT);
        if (best.found) {
            int64_t total = 0;
            int handling = 0;
            for (size_t k = 0; k < KINDS; k++) {
                ck_assert_int_le(next.count[k], kinds[k].count);
                total += next.count[k] * kinds[k].value;
                handling += abs(next.count[k] - now.count[k]);
            }
            ck_assert_int_eq(next.total, total);
            ck_assert_int_eq(next.handling, handling);
            ck_assert_int_eq(next.total, best.total);
            ck_assert_int_eq(next.handling, best.handling);
            ck_assert_int_eq(next.pieces, best.pieces);
        }
        hf_arena_free(arena);
    }
}
END_TEST

START_TEST(reachable_totals_equal_trying_all) {
    hf_random random;
    hf_random_start(&random, 42, (uint64_t)_i);
    const hf_weight_load empty = {0};
    for (int round = 0; round < 60; round++) {
        hf_weight_kind kinds[KINDS];
        hf_weight_load now;
        hf_weight_search *search;
        hf_arena *arena = hf_arena_create();
        random_case(&random, kinds, &now);
        ck_assert_int_eq(hf_weight_search_create(arena, kinds, KINDS, &search), HF_OK);
        int64_t all = total_of(kinds, KINDS), largest = 0, smallest;
        for (int64_t x = 0; x <= all; x++) {
            int64_t window[2] = {x, x};
            bool can = try_all(kinds, &empty, window).found;
            if (can) largest = x;
            int64_t got;
            ck_assert_int_eq(hf_weight_largest(search, x, &got), HF_OK);
            ck_assert_int_eq(got, largest);
            if (x == 0) continue;
            ck_assert_int_eq(hf_weight_smallest(search, x - 1, &smallest), HF_OK);
            ck_assert_int_eq(smallest == x, can);
        }
        ck_assert_int_eq(hf_weight_smallest(search, all, &smallest), HF_NO_RESULT);
        ck_assert_int_eq(hf_weight_largest(search, -1, &largest), HF_NO_RESULT);
        hf_arena_free(arena);
    }
}
END_TEST

/* The size: 40 weights of 12 kinds, a ladder of 40 rungs, under 100 ms. */
START_TEST(forty_weights_of_twelve_kinds_are_quick) {
    hf_weight_kind kinds[12];
    hf_weight_load now = {0}, next;
    hf_weight_search *search;
    hf_arena *arena = hf_arena_create();
    for (int k = 0; k < 12; k++) kinds[k] = (hf_weight_kind){437 + 1613 * k + 11 * k * k, k < 4 ? 4 : 3};
    clock_t start = clock();
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 12, &search), HF_OK);
    int64_t all = total_of(kinds, 12);
    for (int rung = 1; rung <= 40; rung++) {
        ck_assert_int_eq(hf_weight_next(search, &now, all * rung / 41 - all / 120, all * rung / 41, &next),
                         HF_OK);
        now = next;
    }
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
#if defined(__OPTIMIZE__) && !defined(__SANITIZE_ADDRESS__)
    ck_assert_msg(seconds < 0.1, "%.3f s", seconds);
#else
    (void)seconds;
#endif
    hf_arena_free(arena);
}
END_TEST

START_TEST(impossible_weights_are_refused) {
    hf_weight_search *search;
    hf_arena *arena = hf_arena_create();
    hf_weight_kind kinds[HF_WEIGHT_KINDS];
    for (int k = 0; k < HF_WEIGHT_KINDS; k++) kinds[k] = (hf_weight_kind){1000 + k, 1};
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 0, &search), HF_RANGE);
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, HF_WEIGHT_KINDS, &search), HF_RANGE);
    kinds[0].value = 0;
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 1, &search), HF_RANGE);
    kinds[0] = (hf_weight_kind){1, 0};
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 1, &search), HF_RANGE);
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planning_weights");
    TCase *t = tcase_create("weights");
    tcase_add_loop_test(t, least_handling_equals_trying_all, 0, 4);
    tcase_add_loop_test(t, reachable_totals_equal_trying_all, 0, 2);
    tcase_add_test(t, forty_weights_of_twelve_kinds_are_quick);
    tcase_add_test(t, impossible_weights_are_refused);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
