/* Ladder, pilot, proof and order: what must hold whatever the numbers. */
#include <stdlib.h>
#include "check_close.h"
#include "holdfast/numeric/random.h"
#include "holdfast/planning/ladder.h"
#include "holdfast/planning/order.h"
#include "holdfast/planning/pilot.h"
#include "holdfast/planning/proof.h"

static hf_ladder_rig plain_rig(double tare) {
    return (hf_ladder_rig){.tare = tare, .rating = INFINITY, .dwell_s = 30, .handling_s = 10, .mount_s = 120};
}

static hf_guess guess_of(const char *family, double mean, double cv) {
    hf_guess guess;
    ck_assert_int_eq(hf_guess_of(hf_family_find(family), mean, cv, &guess), HF_OK);
    return guess;
}

START_TEST(the_guess_has_its_mean_and_scatter) {
    hf_guess guess = guess_of(hf_family_at((size_t)_i)->name, 900, 0.12);
    double sum = 0, squares = 0, count = 200000;
    for (int i = 0; i < (int)count; i++) {
        double load = hf_guess_quantile(&guess, (i + 0.5) / count);
        sum += load;
        squares += load * load;
    }
    double mean = sum / count;
    hf_check_close(mean, 900, 1e-5, "mean of the quantiles");
    hf_check_close(sqrt(squares / count - mean * mean), 108, 1e-3, "deviation of the quantiles");
    hf_check_close(hf_guess_stronger(&guess, hf_guess_quantile(&guess, 0.3)), 0.7, 1e-12,
                   "quantile and its tail");
}
END_TEST

START_TEST(the_change_of_speed_follows_the_specification) {
    hf_guess normal = guess_of("normal", 900, 0.12), weibull = guess_of("weibull", 900, 0.12);
    hf_check_close(hf_ladder_change(&normal), 0.75 * 900 * (1 - 2.6 * 0.12), HF_TOLERANCE_ROUNDING,
                   "methods.md 6");
    hf_check_close(hf_guess_stronger(&weibull, hf_ladder_change(&weibull) / 0.75), 0.995, 1e-12,
                   "0.5 % point");
    hf_check_close(hf_ladder_default_step(&normal, 4), 54, HF_TOLERANCE_ROUNDING,
                   "half a deviation up to 4 parts");
    hf_check_close(hf_ladder_default_step(&normal, 5), 108, HF_TOLERANCE_ROUNDING,
                   "one deviation from 5 parts on");
}
END_TEST

static void check_ladder(const hf_ladder *ladder, const hf_guess *guess, double tare) {
    double before = tare, rungs = 0;
    for (size_t i = 0; i < ladder->count; i++) {
        ck_assert_double_gt(ladder->loads[i], before);
        ck_assert_double_eq(ladder->loads[i], ladder->rungs[i].force);
        if (!ladder->rungs[i].coarse && !ladder->step_too_wide)
            ck_assert_double_le(ladder->loads[i] - before, ladder->step_wanted * (1 + 1e-6));
        if (ladder->rungs[i].coarse) ck_assert_double_le(before, ladder->change);
        hf_check_close(ladder->rungs[i].reached, i ? hf_guess_stronger(guess, before) : 1, 1e-12,
                       "chance to get there");
        rungs += ladder->rungs[i].reached;
        before = ladder->loads[i];
    }
    hf_check_close(ladder->expected_rungs, rungs, 1e-12, "sum of the chances");
    hf_check_close(ladder->run_out, hf_guess_stronger(guess, before), 1e-12, "outlasts the top");
    if (ladder->end == HF_LADDER_ENDS_ABOVE) ck_assert_double_le(ladder->run_out, 0.001);
}

START_TEST(any_ladder_climbs_as_wanted) {
    hf_random random;
    hf_random_start(&random, 61, (uint64_t)_i);
    for (int round = 0; round < 40; round++) {
        hf_arena *arena = hf_arena_create();
        hf_ladder ladder;
        hf_guess guess = guess_of(hf_family_at((size_t)_i)->name, 200 + 900 * hf_random_uniform(&random),
                                  0.03 + 0.4 * hf_random_uniform(&random));
        hf_ladder_rig rig = plain_rig(guess.mean * 0.1 * hf_random_uniform(&random));
        size_t parts = 2 + (size_t)hf_random_below(&random, 10);
        ck_assert_int_eq(hf_ladder_plan(arena, &guess, parts, 0, &rig, &ladder), HF_OK);
        ck_assert(!ladder.step_too_wide && ladder.end == HF_LADDER_ENDS_ABOVE);
        check_ladder(&ladder, &guess, rig.tare);
        hf_arena_free(arena);
    }
}
END_TEST

START_TEST(weights_make_every_rung) {
    static const hf_weight_kind kinds[] = {{20000, 2}, {10000, 6}, {5000, 2}, {2500, 2}, {1250, 2}};
    hf_arena *arena = hf_arena_create();
    hf_guess guess = guess_of("weibull", 900, 0.12);
    hf_ladder_rig rig = plain_rig(25.5);
    hf_ladder ladder;
    rig.force_per_value = 0.00980665;
    ck_assert_int_eq(hf_weight_search_create(arena, kinds, 5, &rig.weights), HF_OK);
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 10, 0, &rig, &ladder), HF_OK);
    check_ladder(&ladder, &guess, rig.tare);
    const hf_weight_load empty = {0};
    const hf_weight_load *before = &empty;
    double seconds = 120;
    for (size_t i = 0; i < ladder.count; i++) {
        const hf_weight_load *load = &ladder.rungs[i].weights;
        int64_t total = 0;
        int handling = 0;
        for (size_t k = 0; k < 5; k++) {
            ck_assert_int_le(load->count[k], kinds[k].count);
            total += load->count[k] * kinds[k].value;
            handling += abs(load->count[k] - before->count[k]);
        }
        ck_assert_int_eq(total, load->total);
        ck_assert_int_eq(handling, load->handling);
        hf_check_close(ladder.loads[i], 25.5 + 0.00980665 * (double)total, HF_TOLERANCE_ROUNDING,
                       "true total");
        seconds += ladder.rungs[i].reached * (30 + 10 * handling);
        before = load;
    }
    hf_check_close(ladder.minutes_per_pull, seconds / 60, 1e-12, "dwell and handling");
    hf_arena_free(arena);
}
END_TEST

START_TEST(rating_and_weights_end_the_ladder) {
    static const hf_weight_kind few[] = {{10000, 7}}, heavy[] = {{400000, 1}};
    hf_arena *arena = hf_arena_create();
    hf_guess guess = guess_of("normal", 900, 0.12);
    hf_ladder_rig rig = plain_rig(20);
    hf_ladder ladder;
    rig.rating = 1000;
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 10, 0, &rig, &ladder), HF_OK);
    ck_assert_int_eq(ladder.end, HF_LADDER_ENDS_RATING);
    ck_assert_double_le(ladder.loads[ladder.count - 1], 1000);
    hf_check_close(ladder.over_rating, hf_guess_stronger(&guess, 1000), 1e-12, "stronger than the rating");
    ck_assert(ladder.rating_below_twice_top);
    rig.rating = 10;
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 10, 0, &rig, &ladder), HF_NO_RESULT);
    ck_assert_int_eq(ladder.problem, HF_LADDER_RATING);
    rig.rating = 4000;
    rig.force_per_value = 0.00980665;
    ck_assert_int_eq(hf_weight_search_create(arena, few, 1, &rig.weights), HF_OK);
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 10, 0, &rig, &ladder), HF_OK);
    ck_assert_int_eq(ladder.end, HF_LADDER_ENDS_WEIGHTS);
    ck_assert(!ladder.rating_below_twice_top);
    hf_check_close(ladder.loads[ladder.count - 1], 20 + 70000 * 0.00980665, HF_TOLERANCE_ROUNDING,
                   "all hang");
    ck_assert_int_eq(hf_weight_search_create(arena, heavy, 1, &rig.weights), HF_OK);
    rig.rating = 3000;
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 10, 0, &rig, &ladder), HF_NO_RESULT);
    hf_arena_free(arena);
}
END_TEST

START_TEST(impossible_ladders_are_refused) {
    hf_arena *arena = hf_arena_create();
    hf_guess guess = guess_of("weibull", 900, 0.12);
    hf_ladder_rig rig = plain_rig(950);
    hf_ladder ladder;
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 5, 0, &rig, &ladder), HF_RANGE);
    ck_assert_int_eq(ladder.problem, HF_LADDER_TARE);
    rig.tare = 0;
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 5, 1000, &rig, &ladder), HF_RANGE);
    ck_assert_int_eq(ladder.problem, HF_LADDER_STEP);
    ck_assert_int_eq(hf_ladder_plan(arena, &guess, 5, 0.1, &rig, &ladder), HF_RANGE);
    ck_assert_int_eq(ladder.problem, HF_LADDER_TOO_MANY);
    ck_assert_int_eq(hf_guess_of(hf_family_find("normal"), 0, 0.1, &guess), HF_RANGE);
    ck_assert_int_eq(hf_guess_of(hf_family_find("normal"), 900, 0, &guess), HF_RANGE);
    ck_assert_int_eq(hf_guess_of(hf_family_find("normal"), 900, 1.2, &guess), HF_RANGE);
    hf_arena_free(arena);
}
END_TEST

/* The law made from mean and scatter, taken for a fit, gives them back; what hf_guess_of refuses is refused. */
START_TEST(a_fitted_law_gives_back_mean_and_scatter) {
    const hf_family *family = hf_family_at((size_t)_i);
    for (double cv = 0.02; cv < 0.99; cv += 0.07) {
        hf_guess guess = guess_of(family->name, 873.1, cv), back;
        ck_assert_int_eq(hf_guess_from_fit(family, guess.m, guess.s, &back), HF_OK);
        hf_check_close(back.mean, 873.1, 1e3 * HF_TOLERANCE_ROUNDING, "there and back");
        hf_check_close(back.deviation, cv * 873.1, 1e4 * HF_TOLERANCE_ROUNDING, "there and back");
    }
    hf_guess wide;
    ck_assert_int_eq(
        hf_guess_from_fit(family, family->log_scale ? 6.0 : 400.0, family->log_scale ? 2.0 : 900.0, &wide),
        HF_RANGE);
}
END_TEST

START_TEST(a_pilot_fixes_the_range) {
    hf_arena *arena = hf_arena_create();
    hf_ladder_rig rig = plain_rig(10);
    hf_ladder ladder;
    hf_pilot_belief belief, again;
    ck_assert_int_eq(hf_pilot_ladder(arena, 50, 1600, 1.25, &rig, &ladder), HF_OK);
    for (size_t i = 1; i < ladder.count; i++)
        hf_check_close(ladder.loads[i] / ladder.loads[i - 1], 1.25, HF_TOLERANCE_ROUNDING, "constant factor");
    ck_assert_double_ge(ladder.loads[ladder.count - 1], 1600 * (1 - 1e-9));
    hf_observation pull = {HF_INTERVAL_CLOSED, 800, 1000, false, -1};
    ck_assert_int_eq(hf_pilot_update(NULL, 0.15, pull, &belief), HF_OK);
    hf_check_close(belief.mean, sqrt(800.0 * 1000), HF_TOLERANCE_ROUNDING, "middle of the logs");
    hf_check_close(belief.uncertainty, sqrt(0.15 * 0.15 + pow(log(1.25), 2) / 12), HF_TOLERANCE_ROUNDING,
                   "scatter and step");
    ck_assert_int_eq(hf_pilot_update(&belief, 0.15, pull, &again),
                     HF_OK); /* the same again: same place, √2 surer */
    hf_check_close(again.mean, belief.mean, HF_TOLERANCE_ROUNDING, "the same pull twice");
    hf_check_close(again.uncertainty, belief.uncertainty / sqrt(2.0), HF_TOLERANCE_ROUNDING,
                   "precisions add");
    pull.kind = HF_INTERVAL_ABOVE;
    ck_assert_int_eq(hf_pilot_update(NULL, 0.15, pull, &again), HF_NO_RESULT);
    ck_assert_int_eq(hf_pilot_ladder(arena, 50, 1600, 1, &rig, &ladder), HF_RANGE);
    hf_arena_free(arena);
}
END_TEST

START_TEST(proofs_agree_with_published_figures) {
    static const double contents[] = {0.80, 0.90, 0.95, 0.99, 0.999},
                        confidences[] = {0.50, 0.80, 0.90, 0.95, 0.99};
    static const size_t parts[5][5] = {{4, 8, 11, 14, 21},
                                       {7, 16, 22, 29, 44},
                                       {14, 32, 45, 59, 90},
                                       {69, 161, 230, 299, 459},
                                       {693, 1609, 2302, 2995, 4603}}; /* C21 */
    size_t n;
    for (int i = 0; i < 5; i++)
        for (int j = 0; j < 5; j++) {
            hf_proof proof = {contents[i], confidences[j], 0, 1, 0};
            ck_assert_int_eq(hf_proof_parts(&proof, &n), HF_OK);
            ck_assert_uint_eq(n, parts[i][j]);
        }
    hf_proof half = {0.5, 0.75, 0, 1, 0};
    ck_assert_int_eq(hf_proof_parts(&half, &n), HF_OK);
    ck_assert_uint_eq(n, 2); /* 0.5² is exactly 1 − 0.75 */
    hf_proof over = {0.90, 0.90, 0, 1.5, 2};
    ck_assert_int_eq(hf_proof_parts(&over, &n), HF_OK);
    ck_assert_uint_eq(n, 10); /* C22: 9.713 */
    over.failures = 1;
    ck_assert_int_eq(hf_proof_parts(&over, &n), HF_RANGE); /* one failure voids an overload proof */
}
END_TEST

START_TEST(proofs_fit_together) {
    hf_random random;
    hf_random_start(&random, 71, 0);
    for (int round = 0; round < 300; round++) {
        hf_proof proof = {0.6 + 0.39 * hf_random_uniform(&random), 0.5 + 0.49 * hf_random_uniform(&random),
                          (size_t)hf_random_below(&random, 4), 1, 0};
        if (proof.failures == 0 && round % 2) {
            proof.overload = 1 + hf_random_uniform(&random);
            proof.shape = 1 + 9 * hf_random_uniform(&random);
        }
        size_t n;
        double content, less, chance;
        ck_assert_int_eq(hf_proof_parts(&proof, &n), HF_OK);
        ck_assert_int_eq(hf_proof_content(&proof, n, &content), HF_OK);
        ck_assert_double_ge(content, proof.content * (1 - 1e-9));
        ck_assert_int_eq(hf_proof_chance(&proof, n, proof.content, &chance), HF_OK);
        ck_assert_double_le(chance, (1 - proof.confidence) *
                                        (1 + 1e-9)); /* passing at the content itself is the error allowed */
        if (n <= proof.failures + 1 || n < 2) continue;
        ck_assert_int_eq(hf_proof_chance(&proof, n - 1, proof.content, &less), HF_OK);
        ck_assert_double_gt(less, 1 - proof.confidence);
    }
}
END_TEST

START_TEST(the_order_is_random_but_interleaved) {
    enum { PARTS = 36 };
    hf_order_part parts[PARTS];
    size_t order[PARTS], again[PARTS], other[PARTS], differs = 0;
    for (size_t i = 0; i < PARTS; i++)
        parts[i] = (hf_order_part){i / 12, (i / 4) % 3}; /* 3 designs of 3 batches of 4 */
    ck_assert_int_eq(hf_order_random(parts, PARTS, 7, order), HF_OK);
    ck_assert_int_eq(hf_order_random(parts, PARTS, 7, again), HF_OK);
    ck_assert_int_eq(hf_order_random(parts, PARTS, 8, other), HF_OK);
    bool seen[PARTS] = {false};
    size_t by_design[3] = {0}, by_batch[9] = {0};
    for (size_t i = 0; i < PARTS; i++) {
        ck_assert_uint_eq(order[i], again[i]);
        differs += order[i] != other[i];
        ck_assert(!seen[order[i]]);
        seen[order[i]] = true;
        by_design[order[i] / 12]++;
        by_batch[order[i] / 4]++;
        if (i % 3 == 2) /* no design ever runs ahead of another by more than 3 */
            for (size_t d = 0; d < 3; d++)
                ck_assert_uint_le(
                    by_design[d] > (i + 1) / 3 ? by_design[d] - (i + 1) / 3 : (i + 1) / 3 - by_design[d], 3);
    }
    ck_assert_uint_gt(differs, PARTS / 2);
    for (size_t b = 0; b < 9; b++) ck_assert_uint_eq(by_batch[b], 4);
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("planning_ladder");
    TCase *t = tcase_create("ladder");
    tcase_add_loop_test(t, the_guess_has_its_mean_and_scatter, 0, HF_FAMILY_COUNT);
    tcase_add_loop_test(t, a_fitted_law_gives_back_mean_and_scatter, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, the_change_of_speed_follows_the_specification);
    tcase_add_loop_test(t, any_ladder_climbs_as_wanted, 0, HF_FAMILY_COUNT);
    tcase_add_test(t, weights_make_every_rung);
    tcase_add_test(t, rating_and_weights_end_the_ladder);
    tcase_add_test(t, impossible_ladders_are_refused);
    tcase_add_test(t, a_pilot_fixes_the_range);
    tcase_add_test(t, proofs_agree_with_published_figures);
    tcase_add_test(t, proofs_fit_together);
    tcase_add_test(t, the_order_is_random_but_interleaved);
    suite_add_tcase(s, t);
    return s;
}

HF_TEST_MAIN(suite)
