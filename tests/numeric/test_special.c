/* Distributions against 30-digit values, and what must hold at their edges. */
#include "holdfast/numeric/special.h"

#include "numeric/table.h"

/* ln Γ near its zeros at 1 and 2 is good to 1e-15 absolute, which is less than 1e-12 relative. */
#define TOLERANCE_LOG_GAMMA 1e-12
#define TOLERANCE_NORMAL 1e-13 /* promised in special.h */

typedef struct function_row {
    const char *name;
    double (*one)(double);
    double (*two)(double, double);
    double (*three)(double, double, double);
    double tolerance;
} function_row;

#define ONE(name, tolerance)                                                                                 \
    { #name, hf_##name, NULL, NULL, tolerance }
#define TWO(name)                                                                                            \
    { #name, NULL, hf_##name, NULL, HF_TOLERANCE_SPECIAL }
#define THREE(name)                                                                                          \
    { #name, NULL, NULL, hf_##name, HF_TOLERANCE_SPECIAL }

static const function_row functions[] = {
    ONE(normal_lower, TOLERANCE_NORMAL),
    ONE(normal_upper, TOLERANCE_NORMAL),
    ONE(normal_log_lower, TOLERANCE_NORMAL),
    ONE(normal_quantile_lower, TOLERANCE_NORMAL),
    ONE(normal_quantile_upper, TOLERANCE_NORMAL),
    ONE(sev_lower, TOLERANCE_NORMAL),
    ONE(sev_upper, TOLERANCE_NORMAL),
    ONE(sev_log_lower, TOLERANCE_NORMAL),
    ONE(sev_quantile_lower, TOLERANCE_NORMAL),
    ONE(sev_quantile_upper, TOLERANCE_NORMAL),
    ONE(log_gamma, TOLERANCE_LOG_GAMMA),
    TWO(t_lower),
    TWO(t_upper),
    TWO(t_quantile_upper),
    TWO(chi2_lower),
    TWO(chi2_upper),
    TWO(chi2_quantile_lower),
    TWO(chi2_quantile_upper),
    TWO(gamma_lower),
    TWO(gamma_upper),
    TWO(gamma_quantile_lower),
    THREE(f_upper),
    THREE(beta_lower),
    THREE(beta_upper),
    THREE(beta_quantile_lower),
    THREE(binomial_at_least),
    THREE(binomial_at_most),
};
enum { FUNCTIONS = sizeof functions / sizeof functions[0] };

static int used[FUNCTIONS];

static double call(const function_row *f, const double *a) {
    if (f->one != NULL) return f->one(a[0]);
    return f->two != NULL ? f->two(a[0], a[1]) : f->three(a[0], a[1], a[2]);
}

static void compare(const table_row *row) {
    for (int i = 0; i < FUNCTIONS; i++) {
        if (strcmp(functions[i].name, row->name) != 0) continue;
        used[i]++;
        hf_check_close(call(&functions[i], row->argument), row->value, functions[i].tolerance, row->source);
        return;
    }
    ck_abort_msg("no function for %s", row->source);
}

START_TEST(test_reference_values) {
    ck_assert_int_ge(table_each("reference_special.csv", compare), 1100);
    for (int i = 0; i < FUNCTIONS; i++)
        ck_assert_msg(used[i] >= 10, "%s has %d rows", functions[i].name, used[i]);
}
END_TEST

START_TEST(test_not_a_number_stays) {
    for (int i = 0; i < FUNCTIONS; i++) {
        for (int bad = 0; bad < 3; bad++) {
            double a[3] = {0.3, 2.0, 3.0};
            a[bad] = (double)NAN;
            if ((bad > 0 && functions[i].one != NULL) || (bad > 1 && functions[i].two != NULL)) continue;
            ck_assert_msg(isnan(call(&functions[i], a)), "%s with NaN as argument %d", functions[i].name,
                          bad);
        }
    }
}
END_TEST

START_TEST(test_edges_are_exact) {
    const char *source = "limits of the law";
    hf_check_close(hf_normal_lower(-HUGE_VAL), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_lower(HUGE_VAL), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_lower(0.0), 0.5, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_log_lower(-HUGE_VAL), -HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_quantile_lower(0.0), -HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_quantile_lower(1.0), HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_normal_quantile_lower(0.5), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_sev_lower(-HUGE_VAL), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_sev_log_lower(-HUGE_VAL), -HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_sev_upper(HUGE_VAL), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_sev_quantile_upper(1.0), -HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_sev_quantile_upper(0.0), HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_t_upper(HUGE_VAL, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_t_lower(HUGE_VAL, 3.0), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_t_quantile_lower(0.5, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_t_quantile_lower(0.0, 3.0), -HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_chi2_lower(0.0, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_chi2_upper(-1.0, 3.0), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_chi2_upper(HUGE_VAL, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_chi2_quantile_lower(0.0, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_chi2_quantile_upper(0.0, 3.0), HUGE_VAL, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_beta_lower(0.0, 2.0, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_beta_upper(1.0, 2.0, 3.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_beta_quantile_lower(1.0, 2.0, 3.0), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_f_upper(0.0, 2.0, 3.0), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_least(0.0, 10.0, 0.3), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_least(11.0, 10.0, 0.3), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_most(10.0, 10.0, 0.3), 1.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_most(-1.0, 10.0, 0.3), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_least(1.0, 10.0, 0.0), 0.0, HF_TOLERANCE_EXACT, source);
    hf_check_close(hf_binomial_at_most(9.0, 10.0, 1.0), 0.0, HF_TOLERANCE_EXACT, source);
}
END_TEST

START_TEST(test_outside_is_not_a_number) {
    ck_assert(isnan(hf_normal_quantile_lower(-0.1)) && isnan(hf_normal_quantile_lower(1.1)));
    ck_assert(isnan(hf_sev_quantile_lower(1.5)) && isnan(hf_sev_quantile_upper(-0.5)));
    ck_assert(isnan(hf_t_upper(1.0, 0.0)) && isnan(hf_t_upper(1.0, -2.0)) &&
              isnan(hf_t_quantile_lower(2.0, 5.0)));
    ck_assert(isnan(hf_chi2_lower(1.0, 0.0)) && isnan(hf_chi2_quantile_lower(-0.1, 3.0)));
    ck_assert(isnan(hf_gamma_lower(1.0, -1.0)) && isnan(hf_gamma_quantile_lower(1.1, 2.0)));
    ck_assert(isnan(hf_beta_lower(0.5, 0.0, 1.0)) && isnan(hf_beta_quantile_lower(0.5, 1.0, -1.0)));
    ck_assert(isnan(hf_log_gamma(0.0)) && isnan(hf_log_gamma(-1.5)));
    ck_assert(isnan(hf_f_upper(1.0, 0.0, 2.0)) && isnan(hf_binomial_at_least(1.0, -1.0, 0.5)));
    ck_assert(isnan(hf_binomial_at_most(1.0, 5.0, 1.5)));
}
END_TEST

START_TEST(test_tails_complement) {
    for (double z = -8.0; z <= 8.0; z += 0.0625) {
        hf_check_within(hf_normal_lower(z) + hf_normal_upper(z), 1.0, HF_TOLERANCE_ROUNDING,
                        "lower + upper = 1");
        hf_check_within(hf_sev_lower(z) + hf_sev_upper(z), 1.0, HF_TOLERANCE_ROUNDING, "lower + upper = 1");
        for (double nu = 0.5; nu < 1e5; nu *= 3.0) {
            hf_check_within(hf_t_lower(z, nu) + hf_t_upper(z, nu), 1.0, HF_TOLERANCE_ROUNDING,
                            "lower + upper = 1");
            double x = nu * exp(0.3 * z);
            hf_check_within(hf_chi2_lower(x, nu) + hf_chi2_upper(x, nu), 1.0, HF_TOLERANCE_ROUNDING,
                            "lower + upper = 1");
        }
    }
}
END_TEST

START_TEST(test_quantiles_come_back) {
    const char *source = "probability of its own quantile";
    for (double p = 1e-9; p < 1.0; p = p * 1.7 + 1e-4) {
        hf_check_close(hf_normal_lower(hf_normal_quantile_lower(p)), p, HF_TOLERANCE_SPECIAL, source);
        hf_check_close(hf_normal_upper(hf_normal_quantile_upper(p)), p, HF_TOLERANCE_SPECIAL, source);
        hf_check_close(hf_sev_lower(hf_sev_quantile_lower(p)), p, HF_TOLERANCE_SPECIAL, source);
        for (double nu = 0.6; nu < 3e4; nu *= 2.5) {
            hf_check_close(hf_t_lower(hf_t_quantile_lower(p, nu), nu), p, HF_TOLERANCE_SPECIAL, source);
            hf_check_close(hf_t_upper(hf_t_quantile_upper(p, nu), nu), p, HF_TOLERANCE_SPECIAL, source);
            hf_check_close(hf_chi2_lower(hf_chi2_quantile_lower(p, nu), nu), p, HF_TOLERANCE_SPECIAL, source);
            hf_check_close(hf_chi2_upper(hf_chi2_quantile_upper(p, nu), nu), p, HF_TOLERANCE_SPECIAL, source);
            hf_check_close(hf_gamma_lower(nu, hf_gamma_quantile_lower(p, nu)), p, HF_TOLERANCE_SPECIAL,
                           source);
            double b = 1.0 + 400.0 / nu;
            hf_check_close(hf_beta_lower(hf_beta_quantile_lower(p, nu, b), nu, b), p, HF_TOLERANCE_SPECIAL,
                           source);
        }
    }
}
END_TEST

START_TEST(test_t_joins_the_normal) {
    hf_check_close(hf_t_upper(2.5, HUGE_VAL), hf_normal_upper(2.5), HF_TOLERANCE_EXACT, "t with infinite nu");
    hf_check_close(hf_t_quantile_upper(0.01, HUGE_VAL), hf_normal_quantile_upper(0.01), HF_TOLERANCE_EXACT,
                   "same");
    hf_check_close(hf_t_upper(3.0, 0.99e8), hf_t_upper(3.0, 1.01e8), HF_TOLERANCE_SPECIAL * 100.0,
                   "both sides of the change of method; the law itself moves by 2e-9");
    hf_check_close(hf_t_upper(1e9, 1.0), 1.0 / (HF_PI * 1e9), HF_TOLERANCE_ROUNDING, "Cauchy tail 1/(pi t)");
    hf_check_close(hf_t_upper(1e200, 1.0), 1.0 / (HF_PI * 1e200), 1e-13, "Cauchy tail, t*t overflows");
}
END_TEST

static Suite *suite(void) {
    Suite *s = suite_create("special");
    TCase *c = tcase_create("special");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, test_reference_values);
    tcase_add_test(c, test_not_a_number_stays);
    tcase_add_test(c, test_edges_are_exact);
    tcase_add_test(c, test_outside_is_not_a_number);
    tcase_add_test(c, test_tails_complement);
    tcase_add_test(c, test_quantiles_come_back);
    tcase_add_test(c, test_t_joins_the_normal);
    suite_add_tcase(s, c);
    return s;
}

HF_TEST_MAIN(suite)
