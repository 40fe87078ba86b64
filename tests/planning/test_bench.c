/* The fast way of the simulations must give the number that hf_bound_family gives for the same pulls. */
#include "check_close.h"
#include "holdfast/strength/bound.h"
#include "planning/bench.h"

enum { MOST = 12, LOADS = 14 };
#if defined(__SANITIZE_ADDRESS__)
enum { ROUNDS = 6, LEAST_GIVEN = 50 };
#else
enum { ROUNDS = 24, LEAST_GIVEN = 200 };
#endif
static const double agreement = 1e-9; /* estimate_lanes against estimate */

typedef struct bench_case {
    hf_bench bench;
    hf_bench_lanes lanes;
    double loads[LOADS];
} bench_case;

static void start(hf_arena *arena, hf_random *random, const hf_family *law, const hf_family *family,
                  bool stepped, bench_case *out) {
    static const size_t sizes[2] = {2, MOST};
    hf_guess guess;
    hf_bench_rule rule;
    ck_assert_int_eq(hf_guess_of(law, 900, 0.05 + 0.2 * hf_random_uniform(random), &guess), HF_OK);
    double load = 400 + 200 * hf_random_uniform(random);
    for (int i = 0; i < LOADS; i++) {
        out->loads[i] = load;
        load += 20 + 70 * hf_random_uniform(random);
    }
    hf_bench_ladder ladder = {stepped ? out->loads : NULL, LOADS, 30, stepped ? 0 : 700, stepped ? 0 : 1050};
    ck_assert_int_eq(
        hf_bench_rule_start(arena, family, hf_planning_method_find("formula"), 0.90, 0.95, sizes, &rule),
        HF_OK);
    ck_assert_int_eq(hf_bench_start(arena, &guess, &ladder, &rule, &out->bench), HF_OK);
    ck_assert_int_eq(hf_bench_lanes_start(arena, MOST, 64, &out->lanes), HF_OK);
    law->fill(random, out->lanes.z, MOST * HF_LANES);
}

/* The pull of a part by the text of methods.md 1, from its strength. */
static hf_observation pull(const bench_case *c, bool stepped, double strength) {
    if (!stepped) {
        if (strength <= 700) return (hf_observation){HF_INTERVAL_BELOW, 30, 700, false, -1};
        if (strength > 1050) return (hf_observation){HF_INTERVAL_ABOVE, 1050, INFINITY, false, -1};
        return (hf_observation){HF_INTERVAL_EXACT, strength, strength, false, -1};
    }
    if (strength <= c->loads[0]) return (hf_observation){HF_INTERVAL_BELOW, 30, c->loads[0], false, -1};
    for (int i = 1; i < LOADS; i++)
        if (strength <= c->loads[i])
            return (hf_observation){HF_INTERVAL_CLOSED, c->loads[i - 1], c->loads[i], false, -1};
    return (hf_observation){HF_INTERVAL_ABOVE, c->loads[LOADS - 1], INFINITY, false, -1};
}

static void check_lane(const bench_case *c, bool stepped, size_t n, size_t lane, double got, size_t *given) {
    hf_observation items[MOST];
    hf_bound bound;
    for (size_t i = 0; i < n; i++) {
        double y = c->bench.law.m + c->bench.law.s * c->lanes.z[i * HF_LANES + lane];
        items[i] = pull(c, stepped, hf_family_load(c->bench.law.family, y));
    }
    hf_status status = hf_bound_family(c->bench.rule.family, (hf_sample){items, n}, 0.90, 0.95, &bound);
    ck_assert_int_eq(status == HF_OK, !isnan(got));
    if (status != HF_OK) return;
    ++*given;
    /* Against the spread of the strengths, for a bound may lie near 0. */
    hf_check_within(hf_family_load(c->bench.rule.family, got), bound.value,
                    agreement * (900 + fabs(bound.value)), "hf_bound_family");
}

START_TEST(the_fast_way_equals_the_bound) {
    const hf_family *law = hf_family_at((size_t)_i / 3), *family = hf_family_at((size_t)_i % 3);
    hf_random random;
    size_t given = 0;
    hf_random_start(&random, 81, (uint64_t)_i);
    for (int round = 0; round < ROUNDS; round++) {
        hf_arena *arena = hf_arena_create();
        bench_case c;
        bool stepped = round % 2 == 0;
        start(arena, &random, law, family, stepped, &c);
        hf_bench_pull(&c.bench, &c.lanes, 0, MOST);
        for (size_t n = 2; n <= MOST; n += 5) {
            double got[HF_LANES];
            hf_bench_bounds(&c.bench, &c.lanes, n, NULL, got);
            for (size_t lane = 0; lane < HF_LANES; lane++)
                check_lane(&c, stepped, n, lane, got[lane], &given);
        }
        hf_arena_free(arena);
    }
    ck_assert_uint_gt(given, LEAST_GIVEN);
}
END_TEST

/* A remembered answer is the answer, also when the table is far too small. */
START_TEST(the_memory_of_bounds_is_never_wrong) {
    hf_random random;
    hf_arena *arena = hf_arena_create();
    hf_random_start(&random, 82, 0);
    bench_case c, plain;
    start(arena, &random, hf_family_at(2), hf_family_at(2), true, &c);
    plain = c;
    ck_assert_int_eq(hf_bench_lanes_start(arena, MOST, 8, &c.lanes), HF_OK);
    ck_assert_int_eq(hf_bench_lanes_start(arena, MOST, 0, &plain.lanes), HF_OK);
    for (int round = 0; round < 3000; round++) {
        double got[HF_LANES], expected[HF_LANES];
        hf_random_fill_sev(&random, c.lanes.z, 3 * HF_LANES);
        for (size_t i = 0; i < 3 * HF_LANES; i++) plain.lanes.z[i] = c.lanes.z[i];
        hf_bench_pull(&c.bench, &c.lanes, 0, 3);
        hf_bench_pull(&plain.bench, &plain.lanes, 0, 3);
        hf_bench_bounds(&c.bench, &c.lanes, 3, NULL, got);
        hf_bench_bounds(&plain.bench, &plain.lanes, 3, NULL, expected);
        for (size_t lane = 0; lane < HF_LANES; lane++)
            if (!isnan(got[lane]) || !isnan(expected[lane])) ck_assert_double_eq(got[lane], expected[lane]);
    }
    ck_assert_uint_gt(c.lanes.open, 100);
    hf_arena_free(arena);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planning_bench");
    TCase *t = tcase_create("bench");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, the_fast_way_equals_the_bound, 0, HF_FAMILY_COUNT * HF_FAMILY_COUNT);
    tcase_add_test(t, the_memory_of_bounds_is_never_wrong);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
