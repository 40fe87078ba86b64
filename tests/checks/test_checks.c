#define _DEFAULT_SOURCE
/* Published check values: one data file per source in this folder, one row per figure, one evaluator per kind. */
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"
#include "holdfast/strength/batch.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/fit.h"
#include "holdfast/strength/fit_test.h"
#include "holdfast/strength/order_statistic.h"
#include "holdfast/strength/stated_scatter.h"
#include "holdfast/numeric/noncentral_t.h"
#include "holdfast/strength/trade.h"
#include "strength/weibull.h"

enum { MOST_ROWS = 800, MOST_VALUES = 600, LINE = 400 };

typedef struct check_row {
    char file[16], kind[40], arguments[160], tolerance[24], label[48], source[160];
    int line;
    double expected, allowed; /* allowed: absolute */
} check_row;

static check_row table[MOST_ROWS];
static int row_count, bad_rows;

/* --- Data sets ----------------------------------------------------------------------------------- */

typedef struct data_set {
    hf_observation items[MOST_VALUES];
    int batch[MOST_VALUES];
    size_t count, batches;
} data_set;

static void add(data_set *data, hf_observation item, size_t times) {
    for (size_t i = 0; i < times; i++) {
        ck_assert_uint_lt(data->count, MOST_VALUES);
        data->items[data->count++] = item;
    }
}

static hf_observation between_ends(double low, double high) {
    hf_interval_kind kind = low == high ? HF_INTERVAL_EXACT : HF_INTERVAL_CLOSED;
    if (isinf(high))
        kind = HF_INTERVAL_ABOVE;
    else if (low == 0)
        kind = HF_INTERVAL_BELOW;
    return (hf_observation){kind, low, high, false, -1};
}

/* Empty cells are ends that were not observed. */
static hf_observation between(const char *lower, const char *upper) {
    return between_ends(lower[0] ? atof(lower) : 0, upper[0] ? atof(upper) : INFINITY);
}

/* How a line becomes observations depends on the columns named in the header. */
static void add_line(data_set *data, const char *header, char *line) {
    char none[] = "", *cells[3] = {line, none, none}, *comma = strchr(line, ',');
    for (int i = 1; comma && i < 3; i++) {
        *comma = '\0';
        cells[i] = comma + 1;
        comma = strchr(cells[i], ',');
    }
    if (strncmp(header, "lower", 5) == 0) {
        add(data, between(cells[0], cells[1]), cells[2][0] ? (size_t)atoi(cells[2]) : 1);
    } else if (strstr(header, "event")) {
        double x = atof(cells[0]);
        bool failed = atoi(cells[1]) == 1;
        add(data, failed ? (hf_observation){HF_INTERVAL_EXACT, x, x, false, -1} : between(cells[0], ""), 1);
    } else if (strstr(header, "inspected")) {
        size_t inspected = (size_t)atoi(cells[1]), cracked = (size_t)atoi(cells[2]);
        add(data, between("", cells[0]), cracked);
        add(data, between(cells[0], ""), inspected - cracked);
    } else {
        double x = atof(cells[cells[1][0] ? 1 : 0]);
        add(data, (hf_observation){HF_INTERVAL_EXACT, x, x, false, -1}, 1);
        data->batch[data->count - 1] = cells[1][0] ? atoi(cells[0]) - 1 : 0;
        if ((size_t)data->batch[data->count - 1] + 1 > data->batches)
            data->batches = (size_t)data->batch[data->count - 1] + 1;
    }
}

static void load_values(const char *list, data_set *data) {
    char copy[LINE], *at = copy;
    (void)snprintf(copy, sizeof copy, "%s", list);
    for (char *next; at; at = next) {
        next = strchr(at, ',');
        if (next) *next++ = '\0';
        double x = atof(at);
        add(data, (hf_observation){HF_INTERVAL_EXACT, x, x, false, -1}, 1);
    }
}

/* "+open" after a name: the last group counts as open above. */
static void open_last_group(data_set *data) {
    double lower = data->items[data->count - 1].lower;
    for (size_t i = data->count; i-- > 0 && data->items[i].lower == lower;)
        data->items[i] = between_ends(lower, INFINITY);
}

static void load(const char *name, data_set *data) {
    char path[512], line[LINE], header[LINE] = "";
    const char *plus = strchr(name, '+');
    memset(data, 0, sizeof *data);
    if (name[0] == '@') {
        load_values(name + 1, data);
        return;
    }
    (void)snprintf(path, sizeof path, "%s/%.*s.csv", HF_DATASETS_DIR, (int)strcspn(name, "+"), name);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "%s is missing", path);
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\r\n")] = '\0';
        if (!line[0] || line[0] == '#') continue;
        if (!header[0])
            (void)snprintf(header, sizeof header, "%s", line);
        else
            add_line(data, header, line);
    }
    (void)fclose(file);
    ck_assert_msg(data->count > 0, "%s holds no value", path);
    if (plus) {
        ck_assert_str_eq(plus, "+open");
        open_last_group(data);
    }
}

/* --- Kinds --------------------------------------------------------------------------------------- */

typedef struct words {
    char text[4][200];
    double number[4];
} words;

static double factor(const char *family, const words *w) {
    double k, error;
    ck_assert_int_eq(
        hf_family_find(family)->factor((size_t)w->number[0], w->number[1], w->number[2], &k, &error), HF_OK);
    return k;
}

static double normal_k(const words *w) {
    return factor("normal", w);
}
static double weibull_w(const words *w) {
    return factor("weibull", w);
}
static double weibull_v(const words *w) {
    return sqrt(w->number[0]) * (factor("weibull", w) + hf_sev_quantile_upper(w->number[1]));
}
static double en1990_known(const words *w) {
    return hf_trade_en1990_factor((size_t)w->number[0], true);
}
static double en1990_unknown(const words *w) {
    return hf_trade_en1990_factor((size_t)w->number[0], false);
}
static double order_rank(const words *w) {
    return (double)hf_order_statistic_rank((size_t)w->number[0], w->number[1], w->number[2]);
}
static double koopmans_rank(const words *w) {
    return (double)hf_hanson_koopmans_rank((size_t)w->number[0]);
}
static double outlier_critical(const words *w) {
    return hf_outlier_critical((size_t)w->number[0], w->number[1]);
}
static double success_run(const words *w) {
    return (double)hf_success_run_parts(w->number[0], w->number[1], (size_t)w->number[2]);
}

static double koopmans_k(const words *w) {
    double k;
    ck_assert_int_eq(
        hf_hanson_koopmans_factor((size_t)w->number[0], (size_t)w->number[1], w->number[2], w->number[3], &k),
        HF_OK);
    return k;
}

enum { PIVOTS = 1000000 };

/* Shapes 1/s of simulated standard samples, the true shape being 1. */
static double *shapes(size_t n) {
    double *m = malloc(2 * PIVOTS * sizeof *m), *s = m + PIVOTS;
    ck_assert_ptr_nonnull(m);
    ck_assert_int_eq(hf_weibull_pivots(n, PIVOTS, 60606, m, s), HF_OK);
    for (size_t i = 0; i < PIVOTS; i++) m[i] = 1 / s[i];
    return m;
}

static double shape_pivot(const words *w) {
    double *shape = shapes((size_t)w->number[0]),
           out = hf_vector_select(shape, PIVOTS, (size_t)(w->number[1] * PIVOTS));
    free(shape);
    return out;
}

static double unbiasing(const words *w) {
    double *shape = shapes((size_t)w->number[0]), out = PIVOTS / hf_vector_sum(shape, PIVOTS);
    free(shape);
    return out;
}

static double handbook_significance(const words *w) {
    return hf_family_find(w->text[0])->handbook_significance(w->number[2], (size_t)w->number[1]);
}

static data_set data;

static hf_sample sample_of(const words *w) {
    load(w->text[0], &data);
    return (hf_sample){data.items, data.count};
}

static double outlier_statistic(const words *w) {
    hf_outlier_test test;
    hf_outlier_test_run(sample_of(w), &test);
    return test.statistic;
}

static void moments(const words *w, double *mean, double *deviation) {
    double values[MOST_VALUES];
    hf_sample sample = sample_of(w);
    for (size_t i = 0; i < sample.count; i++) values[i] = sample.items[i].lower;
    hf_vector_mean_sd(values, sample.count, mean, deviation);
}

static double mean_of(const words *w) {
    double mean, deviation;
    moments(w, &mean, &deviation);
    return mean;
}

static double deviation_of(const words *w) {
    double mean, deviation;
    moments(w, &mean, &deviation);
    return deviation;
}

static hf_fit fit_of(const words *w) {
    hf_fit fit;
    ck_assert_int_eq(hf_fit_maximum(hf_family_find(w->text[1]), sample_of(w), &fit), HF_OK);
    return fit;
}

static double fit_m(const words *w) {
    return fit_of(w).m;
}
static double fit_s(const words *w) {
    return fit_of(w).s;
}
static double fit_se_m(const words *w) {
    return fit_of(w).se_m;
}
static double fit_se_s(const words *w) {
    return fit_of(w).se_s;
}
static double fit_shape(const words *w) {
    return 1 / fit_of(w).s;
}
static double fit_scale(const words *w) {
    return exp(fit_of(w).m);
}
static double fit_loglik(const words *w) {
    return fit_of(w).log_likelihood;
}

static double fitted_quantile(const words *w, double content) {
    hf_fit fit = fit_of(w);
    return hf_family_load(fit.family, fit.m + fit.s * fit.family->quantile_upper(content));
}

static double fit_q90(const words *w) {
    return fitted_quantile(w, 0.90);
}
static double fit_q99(const words *w) {
    return fitted_quantile(w, 0.99);
}

static double a2(const words *w) {
    hf_fit_test test;
    ck_assert_int_eq(hf_fit_test_run(hf_family_find(w->text[1]), sample_of(w), 1, 8, &test), HF_OK);
    return test.a2;
}

/* Upper point of A² over samples of the law itself, each fitted anew. */
static double a2_point(const words *w) {
    enum { SAMPLES = 100000 };
    const hf_family *family = hf_family_find(w->text[0]);
    size_t n = (size_t)w->number[1];
    static double statistic[SAMPLES], y[64], m, s;
    hf_random random;
    hf_random_start(&random, 505, n);
    for (size_t i = 0; i < SAMPLES; i++) {
        family->fill(&random, y, n);
        ck_assert_int_eq(family->estimate(y, n, &m, &s), HF_OK);
        statistic[i] = hf_anderson_darling(family, y, n, m, s);
    }
    return hf_vector_select(statistic, SAMPLES, (size_t)((1 - w->number[2]) * SAMPLES));
}

static double bound(const words *w) {
    hf_bound out;
    ck_assert_int_eq(
        hf_bound_family(hf_family_find(w->text[1]), sample_of(w), w->number[2], w->number[3], &out), HF_OK);
    return out.value;
}

static double order_bound(const words *w) {
    hf_bound out;
    ck_assert_int_eq(hf_bound_order_statistic(sample_of(w), w->number[1], w->number[2], &out), HF_OK);
    return out.value;
}

static hf_batch_test batches_of(const words *w) {
    hf_batch_test test;
    double values[MOST_VALUES];
    hf_sample sample = sample_of(w);
    for (size_t i = 0; i < sample.count; i++) values[i] = sample.items[i].lower;
    ck_assert_int_eq(hf_batch_test_values(values, data.batch, data.count, data.batches, &test), HF_OK);
    return test;
}

static double batch_a2(const words *w) {
    return batches_of(w).a2;
}
static double batch_a2_midrank(const words *w) {
    return batches_of(w).a2_midrank;
}
static double batch_sigma(const words *w) {
    return batches_of(w).sigma;
}
static double batch_adk(const words *w) {
    return batches_of(w).adk;
}
static double batch_critical(const words *w) {
    return batches_of(w).critical;
}
static double batch_significance(const words *w) {
    return batches_of(w).significance;
}

static double batch_standardised(const words *w) {
    hf_batch_test test = batches_of(w);
    return (test.a2 - (double)test.batches + 1) / test.sigma;
}

static double batch_standardised_midrank(const words *w) {
    hf_batch_test test = batches_of(w);
    return (test.a2_midrank - (double)test.batches + 1) / test.sigma;
}

/* n, degrees of freedom, content, confidence. */
static double noncentral_k(const words *w) {
    double root = sqrt(w->number[0]), t;
    ck_assert_int_eq(hf_noncentral_t_quantile(w->number[3], w->number[1],
                                              root * hf_normal_quantile_lower(w->number[2]), &t),
                     HF_OK);
    return t / root;
}

static double scatter_zeta(const words *w) {
    return hf_scatter_quantile(w->number[0]);
}

/* n, degrees of freedom of one earlier design, content, confidence. */
static double scatter_k(const words *w) {
    hf_scatter_factors factors;
    hf_past_scatter past = {1, hf_scatter_degrees(w->number[1], 1), false};
    ck_assert_int_eq(hf_scatter_factors_of(past, (size_t)w->number[0], w->number[2], w->number[3], &factors),
                     HF_OK);
    return factors.k;
}

typedef struct kind_row {
    const char *name;
    double (*evaluate)(const words *);
} kind_row;

#define KIND(name)                                                                                           \
    { #name, name }
static const kind_row kinds[] = {
    KIND(normal_k),
    KIND(weibull_w),
    KIND(weibull_v),
    KIND(en1990_known),
    KIND(en1990_unknown),
    KIND(order_rank),
    KIND(koopmans_rank),
    KIND(koopmans_k),
    KIND(outlier_critical),
    KIND(outlier_statistic),
    KIND(success_run),
    KIND(shape_pivot),
    KIND(unbiasing),
    KIND(handbook_significance),
    {"mean", mean_of},
    {"deviation", deviation_of},
    KIND(fit_m),
    KIND(fit_s),
    KIND(fit_se_m),
    KIND(fit_se_s),
    KIND(fit_shape),
    KIND(fit_scale),
    KIND(fit_loglik),
    KIND(fit_q90),
    KIND(fit_q99),
    KIND(a2),
    KIND(a2_point),
    KIND(bound),
    KIND(order_bound),
    KIND(batch_a2),
    KIND(batch_a2_midrank),
    KIND(batch_sigma),
    KIND(batch_adk),
    KIND(batch_critical),
    KIND(batch_significance),
    KIND(batch_standardised),
    KIND(batch_standardised_midrank),
    KIND(noncentral_k),
    KIND(scatter_zeta),
    KIND(scatter_k),
};

static double evaluate(const check_row *row) {
    words w = {0};
    char copy[sizeof row->arguments], *at = copy;
    memcpy(copy, row->arguments, sizeof copy);
    for (int i = 0; i < 4 && *at; i++) {
        size_t length = strcspn(at, " ");
        (void)snprintf(w.text[i], sizeof w.text[i], "%.*s", (int)length, at);
        w.number[i] = atof(w.text[i]);
        at += length;
        while (*at == ' ') at++;
    }
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kinds[i].name, row->kind) == 0) return kinds[i].evaluate(&w);
    ck_abort_msg("unknown kind %s", row->kind);
    return NAN;
}

START_TEST(the_published_value_is_met) {
    const check_row *row = &table[_i];
    double got = evaluate(row);
    const char *report = getenv("HF_CHECKS_REPORT");
    FILE *file = report ? fopen(report, "a") : NULL;
    if (file) {
        (void)fprintf(file, "%s;%s;%s;%.9g;%.9g;%s;%s\n", row->file, row->kind, row->arguments, row->expected,
                      got, row->tolerance, row->label);
        (void)fclose(file);
    }
    ck_assert_msg(fabs(got - row->expected) <= row->allowed,
                  "%s.csv:%d: %s(%s): got %.10g, expected %.10g, difference %.3g, allowed %.3g (%s; %s)",
                  row->file, row->line, row->kind, row->arguments, got, row->expected,
                  fabs(got - row->expected), row->allowed, row->label, row->source);
}
END_TEST

/* A tolerance is absolute, or relative to the expected figure with %. */
static bool read_numbers(const char *expected, check_row *row) {
    char *end, *rest;
    row->expected = strtod(expected, &end);
    row->allowed = strtod(row->tolerance, &rest);
    bool relative = strcmp(rest, "%") == 0;
    if (relative) row->allowed *= 0.01 * fabs(row->expected);
    return end != expected && !*end && rest != row->tolerance && (relative || !*rest) && row->allowed >= 0;
}

static bool read_row(const char *line, check_row *row) {
    char expected[32], rest;
    int fields = sscanf(line, "%39[^;];%159[^;];%31[^;];%23[^;];%47[^;\n]%c", row->kind, row->arguments,
                        expected, row->tolerance, row->label, &rest);
    return fields == 6 && rest == '\n' && read_numbers(expected, row);
}

/* The first comment of a file is "# C01: source". A line that is neither comment nor row is counted and fails the program. */
static void read_rows(const char *folder, const char *name) {
    char path[512], line[LINE], source[160] = "";
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    for (int number = 1; file && fgets(line, sizeof line, file); number++) {
        const char *colon = strchr(line, ':');
        if (line[0] == '#') {
            if (!source[0] && colon)
                (void)snprintf(source, sizeof source, "%.*s", (int)strcspn(colon + 1, "\n") - 1, colon + 2);
            continue;
        }
        check_row *row = &table[row_count];
        if (row_count == MOST_ROWS || !source[0] || !read_row(line, row)) {
            (void)fprintf(stderr, "%s:%d: found no row, or no source above it, or more than %d rows\n", path,
                          number, MOST_ROWS);
            bad_rows++;
            continue;
        }
        (void)snprintf(row->file, sizeof row->file, "%.*s", (int)strcspn(name, "."), name);
        (void)snprintf(row->source, sizeof row->source, "%s", source);
        row->line = number;
        row_count++;
    }
    if (!file)
        bad_rows++;
    else
        (void)fclose(file);
}

static int is_data(const struct dirent *entry) {
    size_t length = strlen(entry->d_name);
    return length > 4 && strcmp(entry->d_name + length - 4, ".csv") == 0;
}

static Suite *suite(const char *folder) {
    Suite *s = suite_create("published checks");
    TCase *t = tcase_create("checks");
    struct dirent **names;
    int count = scandir(folder, &names, is_data, alphasort);
    for (int i = 0; i < count; i++) {
        read_rows(folder, names[i]->d_name);
        free(names[i]);
    }
    if (count > 0) free(names);
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, the_published_value_is_met, 0, row_count);
    suite_add_tcase(s, t);
    return s;
}

enum { FEWEST_ROWS = 400 };

/* usage: test_published_checks [FOLDER of data files, default tests/checks] */
int main(int argc, char **argv) {
    const char *report = getenv("HF_CHECKS_REPORT");
    if (report && remove(report) != 0 && errno != ENOENT) {
        perror(report);
        return 1;
    }
    SRunner *runner = srunner_create(suite(argc > 1 ? argv[1] : HF_TEST_DIR "/checks"));
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner), run = srunner_ntests_run(runner);
    srunner_free(runner);
    if (run < FEWEST_ROWS) (void)fprintf(stderr, "%d rows ran, expected at least %d\n", run, FEWEST_ROWS);
    return failed != 0 || bad_rows != 0 || run < FEWEST_ROWS;
}
