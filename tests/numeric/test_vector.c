/* The kernels: accuracy against the C library in long double, and the same bits on every width. */
#include "holdfast/numeric/vector.h"

#include <stdint.h>
#include "holdfast/numeric/random.h"
#include "numeric/vector_widths.h"
#include "numeric/table.h"

/* Promised in vector.h and kernel.h; long double has 64 bits, so the comparison itself is good to 1e-18. */
#define TOLERANCE_EXP 2e-16
#define TOLERANCE_LOG 2e-16
#define TOLERANCE_NORMAL 3e-15
#define TOLERANCE_QUANTILE 2e-15
enum { COUNT = 4099 }; /* no multiple of a vector's length */

static double worst_relative(double got, long double expected, double worst) {
    double error = expected == 0.0L ? fabs(got) : (double)fabsl(((long double)got - expected) / expected);
    return error > worst ? error : worst;
}

START_TEST(test_exp_accuracy) {
    double worst = 0.0;
    for (int i = 0; i < 400000; i++) {
        double x = -708.0 + 1417.5 * i / 400000.0, y;
        hf_vector_exp(&x, &y, 1);
        worst = worst_relative(y, expl((long double)x), worst);
    }
    ck_assert_msg(worst <= TOLERANCE_EXP, "largest relative error of exp %g", worst);
}
END_TEST

START_TEST(test_log_accuracy) {
    double worst = 0.0;
    for (int i = 0; i < 400000; i++) {
        double x = i % 2 == 0 ? 0.5 + 1.5 * i / 400000.0 : exp(-744.0 + 1453.0 * i / 400000.0), y;
        hf_vector_log(&x, &y, 1);
        worst = worst_relative(y, logl((long double)x), worst);
    }
    ck_assert_msg(worst <= TOLERANCE_LOG, "largest relative error of log %g", worst);
}
END_TEST

START_TEST(test_normal_accuracy) {
    double worst = 0.0;
    for (int i = 0; i < 200000; i++) {
        double z = -37.0 + 46.0 * i / 200000.0, y;
        hf_vector_normal_lower(&z, &y, 1);
        worst = worst_relative(y, 0.5L * erfcl(-(long double)z / sqrtl(2.0L)), worst);
    }
    ck_assert_msg(worst <= TOLERANCE_NORMAL, "largest relative error of the normal law %g", worst);
}
END_TEST

START_TEST(test_quantile_accuracy) {
    double worst = 0.0;
    for (int i = 1; i < 100000; i++) {
        double p = i % 2 == 0 ? i / 100000.0 : exp(-700.0 * i / 100000.0), z;
        hf_vector_normal_quantile(&p, &z, 1);
        long double x = (long double)z, small = p < 0.5 ? (long double)p : 1.0L - (long double)p;
        long double density = expl(-0.5L * x * x) / sqrtl(2.0L * acosl(-1.0L));
        long double error = (0.5L * erfcl(fabsl(x) / sqrtl(2.0L)) - small) / density;
        double relative = (double)fabsl(error) / fmax(fabs(z), 1e-8);
        if (relative > worst) worst = relative;
    }
    ck_assert_msg(worst <= TOLERANCE_QUANTILE, "largest error of the normal quantile %g", worst);
}
END_TEST

START_TEST(test_edges) {
    const double x[] = {710.0, 800.0, HUGE_VAL, -746.0, -1e300, -HUGE_VAL, 0.0, -0.0};
    const double e[] = {HUGE_VAL, HUGE_VAL, HUGE_VAL, 0.0, 0.0, 0.0, 1.0, 1.0};
    double out[8];
    hf_vector_exp(x, out, 8);
    for (int i = 0; i < 8; i++) hf_check_close(out[i], e[i], HF_TOLERANCE_EXACT, "limits of exp");
    const double y[] = {0.0, -0.0, 1.0, HUGE_VAL, 0x1p-1074, 0x1p-1022, 0x1.fffffffffffffp1023, 2.0};
    const double l[] = {-HUGE_VAL,        -HUGE_VAL,          0.0,
                        HUGE_VAL,         -744.4400719213812, -708.3964185322641,
                        709.782712893384, 0.69314718055994531};
    hf_vector_log(y, out, 8);
    for (int i = 0; i < 8; i++) hf_check_close(out[i], l[i], TOLERANCE_LOG, "ln of powers of two, mpmath");
    double bad[4] = {(double)NAN, -1.0, -HUGE_VAL, -(double)NAN};
    hf_vector_log(bad, out, 4);
    for (int i = 0; i < 4; i++) ck_assert(isnan(out[i]));
    hf_vector_exp(bad, out, 1);
    hf_vector_normal_lower(bad, out + 1, 1);
    hf_vector_normal_quantile(bad, out + 2, 2);
    for (int i = 0; i < 4; i++) ck_assert_msg(isnan(out[i]), "NaN or outside, %d", i);
    const double p[4] = {0.0, 1.0, 0.5, 0x1p-1074}, z[4] = {-HUGE_VAL, HUGE_VAL, 0.0, -38.467405617144346};
    hf_vector_normal_quantile(p, out, 4);
    for (int i = 0; i < 4; i++) hf_check_close(out[i], z[i], TOLERANCE_QUANTILE, "edges, mpmath");
    double small = -745.0;
    hf_vector_exp(&small, out, 1);
    hf_check_close(out[0], 0x1p-1074, HF_TOLERANCE_EXACT, "e^-745 is 4.99e-324, one subnormal unit");
}
END_TEST

static void fill_inputs(double *wide, double *unit) {
    hf_random random;
    hf_random_start(&random, 99, 1);
    for (int i = 0; i < COUNT; i++) {
        unit[i] = hf_random_uniform(&random);
        wide[i] = (hf_random_uniform(&random) - 0.5) * (i % 3 == 0 ? 1600.0 : 30.0);
    }
    const double special[] = {0.0,   -0.0,   HUGE_VAL, -HUGE_VAL, 1.0,   0x1p-1074,
                              710.0, -746.0, 39.0,     0.075,     0.925, 1e-300};
    for (size_t i = 0; i < sizeof special / sizeof special[0]; i++) {
        wide[37 * i] = special[i];
        if (special[i] >= 0.0 && special[i] <= 1.0) unit[41 * i] = special[i];
    }
}

static void check_map(hf_width_map base, hf_width_map other, const double *in, const char *name) {
    static double first[COUNT], second[COUNT];
    base(in, first, COUNT);
    other(in, second, COUNT);
    for (int i = 0; i < COUNT; i++)
        ck_assert_msg(memcmp(&first[i], &second[i], sizeof(double)) == 0, "%s of %a: %a and %a", name, in[i],
                      first[i], second[i]);
}

static void check_tails(const hf_vector_width *base, const hf_vector_width *other) {
    enum { NODES = 203 };
    double w[2][NODES], v[2][NODES], weight[2][NODES], out[2][3];
    const hf_tail_grid grid = {9.0, -3.0, 0.02, 0.02, 0.0};
    for (int k = 0; k < 2; k++) {
        const hf_vector_width *width = k == 0 ? base : other;
        hf_tail_nodes nodes = {w[k], v[k], weight[k], NODES};
        width->tail_nodes(&grid, &nodes);
        width->tail_sums(&nodes, 5.0, -4.05, out[k]);
    }
    ck_assert_int_eq(memcmp(weight[0], weight[1], sizeof weight[0]), 0);
    ck_assert_int_eq(memcmp(out[0], out[1], sizeof out[0]), 0);
}

START_TEST(test_same_bits_on_every_width) {
    static double wide[COUNT], unit[COUNT], uniform[2][COUNT];
    static uint64_t bits[COUNT];
    fill_inputs(wide, unit);
    for (int i = 0; i < COUNT; i++) memcpy(&bits[i], &wide[i], sizeof bits[i]);
    const hf_vector_width *table = hf_vector_width_table();
    for (size_t k = 1; k < hf_vector_widths(); k++) {
        check_map(table[0].exp, table[k].exp, wide, "exp");
        check_map(table[0].log, table[k].log, unit, "log");
        check_map(table[0].normal_lower, table[k].normal_lower, wide, "normal_lower");
        check_map(table[0].normal_quantile, table[k].normal_quantile, unit, "normal_quantile");
        check_map(table[0].sev_quantile, table[k].sev_quantile, unit, "sev_quantile");
        table[0].uniform(bits, uniform[0], COUNT);
        table[k].uniform(bits, uniform[1], COUNT);
        ck_assert_int_eq(memcmp(uniform[0], uniform[1], sizeof uniform[0]), 0);
        ck_assert(table[0].sum(unit, COUNT) == table[k].sum(unit, COUNT));
        ck_assert(table[0].sum_squares(unit, 0.4, COUNT) == table[k].sum_squares(unit, 0.4, COUNT));
        check_tails(&table[0], &table[k]);
    }
}
END_TEST

START_TEST(test_picked_width_gives_the_same_bits) {
    static double wide[COUNT], unit[COUNT];
    fill_inputs(wide, unit);
    const hf_vector_width *table = hf_vector_width_table();
    check_map(table[0].exp, hf_vector_exp, wide, "exp");
    check_map(table[0].log, hf_vector_log, unit, "log");
    check_map(table[0].normal_lower, hf_vector_normal_lower, wide, "normal_lower");
    check_map(table[0].normal_quantile, hf_vector_normal_quantile, unit, "normal_quantile");
    ck_assert(table[0].sum(unit, COUNT) == hf_vector_sum(unit, COUNT));
}
END_TEST

START_TEST(test_sums) {
    double x[100];
    for (int i = 0; i < 100; i++) x[i] = i + 1.0;
    for (size_t n = 0; n <= 100; n++)
        hf_check_close(hf_vector_sum(x, n), 0.5 * (double)n * ((double)n + 1.0), HF_TOLERANCE_EXACT,
                       "n(n+1)/2");
    double mean, sd;
    hf_vector_mean_sd(x, 100, &mean, &sd);
    hf_check_close(mean, 50.5, HF_TOLERANCE_EXACT, "(n+1)/2");
    hf_check_close(sd, sqrt(100.0 * 101.0 / 12.0), HF_TOLERANCE_ROUNDING, "sqrt(n(n+1)/12)");
    for (int i = 0; i < 100; i++) x[i] += 1e9;
    hf_vector_mean_sd(x, 100, &mean, &sd);
    hf_check_close(sd, sqrt(100.0 * 101.0 / 12.0), HF_TOLERANCE_ROUNDING, "unmoved by a shift of 1e9");
}
END_TEST

static int compare_doubles(const void *a, const void *b) {
    double x, y;
    memcpy(&x, a, sizeof x);
    memcpy(&y, b, sizeof y);
    return (x > y) - (x < y);
}

/* Random, equal, ascending, descending, saw and organ-pipe orders. */
static void fill_order(double *x, size_t count, int kind, hf_random *random) {
    for (size_t i = 0; i < count; i++) {
        double rank = (double)i, fall = (double)(count - i);
        const double values[] = {hf_random_uniform(random), 1.0, rank, fall, (double)(i % 7),
                                 rank < fall ? rank : fall};
        x[i] = values[kind];
    }
}

START_TEST(test_sort_and_select) {
    hf_random random;
    hf_random_start(&random, 5, 5);
    static double x[3000], sorted[3000], copy[3000];
    const size_t counts[] = {0, 1, 2, 3, 10, 24, 25, 26, 100, 1000, 3000};
    for (size_t c = 0; c < sizeof counts / sizeof counts[0]; c++) {
        for (int kind = 0; kind < 6; kind++) {
            size_t n = counts[c];
            fill_order(x, n, kind, &random);
            memcpy(sorted, x, sizeof x);
            memcpy(copy, x, sizeof x);
            qsort(sorted, n, sizeof sorted[0], compare_doubles);
            hf_vector_sort(copy, n);
            ck_assert_msg(memcmp(copy, sorted, n * sizeof copy[0]) == 0, "sort of %zu, order %d", n, kind);
            for (size_t k = 0; k < n; k += n / 11 + 1) {
                memcpy(copy, x, sizeof x);
                hf_check_close(hf_vector_select(copy, n, k), sorted[k], HF_TOLERANCE_EXACT, "qsort");
            }
        }
    }
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("vector");
    TCase *c = tcase_create("vector");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, test_exp_accuracy);
    tcase_add_test(c, test_log_accuracy);
    tcase_add_test(c, test_normal_accuracy);
    tcase_add_test(c, test_quantile_accuracy);
    tcase_add_test(c, test_edges);
    tcase_add_test(c, test_same_bits_on_every_width);
    tcase_add_test(c, test_picked_width_gives_the_same_bits);
    tcase_add_test(c, test_sums);
    tcase_add_test(c, test_sort_and_select);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
