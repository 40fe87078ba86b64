/* How fast: figures and ratios, never a verdict. Usage: bench [DEMO.json] [RATES_OF_R.txt] */
#define _GNU_SOURCE
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include "bench/bench_plan.h"
#include "bench/bench_promises.h"
#include "holdfast/campaign/write_plan.h"
#include "holdfast/comparing/relabel.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"
#include "holdfast/words/report.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/fit.h"
#include "holdfast/study/sheet.h"
#include "holdfast/study/step_curve.h"
#include "holdfast/study/study.h"

enum { PARTS = 10, SAMPLES = 2048, MILLION = 1000000, DESIGNS = 2000, GROUP = 50 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double ratio_to(const char *rates, const char *what, double rate) {
    char line[200], name[80];
    double value;
    FILE *file = rates ? fopen(rates, "r") : NULL;
    double ratio = NAN;
    while (file && fgets(line, sizeof line, file))
        if (sscanf(line, "%79s %lf", name, &value) == 2 && strcmp(name, what) == 0) ratio = rate / value;
    if (file) fclose(file);
    return ratio;
}

static void show(const char *what, double value, const char *unit, double ratio) {
    printf("%-46s %12.4g %-16s", what, value, unit);
    if (isfinite(ratio)) printf(" %.0f × R survreg", ratio);
    printf("\n");
    fflush(stdout);
}

static void draw(hf_random *random, hf_observation *items, size_t n, double step) {
    for (size_t i = 0; i < n; i++) {
        double z;
        hf_random_fill_sev(random, &z, 1);
        double load = exp(6.79 + 0.08 * z), low = step * floor(load / step);
        items[i] = step > 0 ? (hf_observation){HF_INTERVAL_CLOSED, low, low + step, false, -1}
                            : (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
    }
}

static double fit_rate(const char *family, double step) {
    static hf_observation items[SAMPLES][PARTS];
    hf_random random;
    hf_fit fit;
    size_t done = 0;
    hf_random_start(&random, 1, 0);
    for (size_t i = 0; i < SAMPLES; i++) draw(&random, items[i], PARTS, step);
    double start = now();
    while (now() - start < 0.5)
        for (size_t i = 0; i < SAMPLES; i++, done++)
            (void)hf_fit_maximum(hf_family_find(family), (hf_sample){items[i], PARTS}, &fit);
    return (double)done / (now() - start);
}

/* Fits of samples side by side, as the simulations do them; drawing is not counted. */
static double lane_rate(void) {
    static double y[256][PARTS * HF_LANES], work[PARTS * HF_LANES], m[HF_LANES], s[HF_LANES];
    const hf_family *weibull = hf_family_find("weibull");
    hf_random random;
    size_t done = 0;
    hf_random_start(&random, 2, 0);
    for (size_t i = 0; i < 256; i++) hf_random_fill_sev(&random, y[i], PARTS * HF_LANES);
    double start = now();
    while (now() - start < 0.5)
        for (size_t i = 0; i < 256; i++, done += HF_LANES) weibull->estimate_lanes(y[i], PARTS, work, m, s);
    return (double)done / (now() - start);
}

static double factor_rate(const char *family) {
    const hf_family *f = hf_family_find(family);
    double k, error, start = now();
    size_t done = 0;
    while (now() - start < 0.3)
        for (size_t n = 3; n < 60; n++, done++) (void)f->factor(n, 0.91, 0.94, &k, &error);
    return (double)done / (now() - start);
}

static double conditional_time(const char *family) {
    hf_observation items[PARTS];
    hf_random random;
    hf_bound bound;
    size_t done = 0;
    hf_random_start(&random, 3, 0);
    draw(&random, items, PARTS, 25);
    for (size_t i = 0; i < 3; i++) items[i] = (hf_observation){HF_INTERVAL_ABOVE, 860, INFINITY, false, -1};
    double start = now();
    for (; now() - start < 0.3; done++)
        (void)hf_bound_family(hf_family_find(family), (hf_sample){items, PARTS}, 0.9, 0.95, &bound);
    return 1e6 * (now() - start) / (double)done;
}

static double million_time(void) {
    hf_observation *items = malloc(MILLION * sizeof *items);
    hf_random random;
    hf_fit fit;
    if (!items) return NAN;
    hf_random_start(&random, 4, 0);
    draw(&random, items, MILLION, 0);
    double start = now();
    (void)hf_fit_maximum(hf_family_find("weibull"), (hf_sample){items, MILLION}, &fit);
    double time = 1e3 * (now() - start);
    free(items);
    return time;
}

/* What a command computes: a result of this kind, from a campaign. */
typedef hf_status (*hf_bench_study)(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                                    const void **result);

static hf_status study_assess(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                              const void **result) {
    const hf_assess_options options = {.seed = 1};
    const hf_assessment *made = NULL;
    hf_status status = hf_assess(arena, campaign, findings, &options, &made, NULL);
    *result = made;
    return status;
}

static hf_status study_compare(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                               const void **result) {
    const hf_study_options options = {.what = HF_STUDY_PAIRS | HF_STUDY_BESIDE, .seed = 1};
    const hf_study *made = NULL;
    hf_status status = hf_study_of(arena, campaign, findings, &options, &made, NULL);
    *result = made->comparison;
    return status;
}

/* Read, compute, report: all but starting the program. */
static double command_time(const hf_text *file, hf_bench_study study, const hf_report_kind *kind,
                           const char *format) {
    hf_report_style style = {.unit = hf_unit_find("N", 1), .gravity = HF_GRAVITY_STANDARD, .width = 80};
    const hf_campaign *campaign;
    const void *result;
    hf_findings findings;
    hf_text out = {0};
    double start = now();
    hf_arena *arena = hf_arena_create();
    if (!arena || hf_campaign_parse(arena, "bench", file->bytes, file->length, &campaign, &findings) != HF_OK)
        exit(1);
    if (study(arena, campaign, &findings, &result) != HF_OK) exit(1);
    hf_report_print(kind, result, hf_report_format_find(format), &style, &out);
    double time = 1e3 * (now() - start);
    hf_text_free(&out);
    hf_arena_free(arena);
    return time;
}

/* Three designs with a guess each, twelve plates of 5 kg and six of 2 kg: all that `plan --write` computes and writes, and all that a chart of the
 * plan does before it is drawn; ms. */
static double plan_file_time(bool write, bool curve) {
    static const char file[] =
        "{\"format\":\"holdfast-campaign/"
        "1\",\"unit\":\"kg\",\"rig\":{\"records\":\"added\",\"tare\":2.1,\"rating\":122},"
        "\"weights\":[{\"load\":5,\"count\":12},{\"load\":2,\"count\":6}],\"goal\":{\"service_load\":5,"
        "\"design_factor\":3},"
        "\"designs\":[{\"id\":\"ring\",\"guess\":{\"mean\":50,\"cv\":0.12}},{\"id\":\"eyelet\",\"guess\":{"
        "\"mean\":40,\"cv\":0.10}},"
        "{\"id\":\"plate\",\"guess\":{\"mean\":60,\"cv\":0.12}}]}";
    hf_report_style style = {.unit = hf_unit_find("kg", 2), .gravity = HF_GRAVITY_STANDARD, .width = 80};
    hf_arena *arena = hf_arena_create();
    hf_findings findings;
    const hf_campaign *campaign;
    const hf_plan *plan;
    hf_plan_setup setup;
    hf_plan_writing writing;
    hf_text text = {0};
    hf_step_curve points;
    double start = now();
    if (!arena || hf_campaign_parse(arena, "bench", file, sizeof file - 1, &campaign, &findings) != HF_OK ||
        hf_plan_setup_of(campaign, NULL, &setup, NULL) != HF_OK)
        exit(1);
    setup.brief = !write;
    if (hf_plan_make(arena, campaign, &setup, &plan, NULL) != HF_OK) exit(1);
    if (write && (hf_plan_writing_make(arena, plan, "2026-05-02", &writing, NULL) != HF_OK ||
                  hf_campaign_write_plan(arena, campaign, &writing, &text, NULL) != HF_OK))
        exit(1);
    if (write) hf_report_print(&hf_report_plan, plan, hf_report_format_find("text"), &style, &text);
    if (curve && hf_step_curve_of(plan, &points) != HF_OK) exit(1);
    double time = 1e3 * (now() - start);
    hf_text_free(&text);
    hf_arena_free(arena);
    return time;
}

static double assess_time(const hf_text *file, const char *format) {
    return command_time(file, study_assess, &hf_report_assess, format);
}

static void some_designs(hf_text *out, size_t designs, double step) {
    hf_random random;
    hf_random_start(&random, 5, 0);
    hf_text_add(out, "{\"format\":\"holdfast-campaign/1\",\"rig\":{\"records\":\"total\"},\"designs\":[");
    for (size_t d = 0; d < designs; d++) {
        hf_observation items[PARTS];
        draw(&random, items, PARTS, step);
        hf_text_addf(out, "%s{\"id\":\"d%zu\",\"specimens\":[", d ? "," : "", d);
        for (size_t i = 0; i < PARTS; i++)
            hf_text_addf(out, "%s{\"id\":\"d%zu-%zu\",\"held\":%.10g,\"failed\":%.10g}", i ? "," : "", d, i,
                         items[i].lower, items[i].upper);
        hf_text_add(out, "]}");
    }
    hf_text_add(out, "]}");
}

/* Values on the ln scale as readings of a scale, so that no two pulls are alike. */
static void read_group(hf_random *random, hf_observation *items, size_t n, double mean) {
    for (size_t i = 0; i < n; i++) {
        double z;
        hf_random_fill_normal(random, &z, 1);
        double load = exp(mean + 0.1 * z);
        items[i] = (hf_observation){HF_INTERVAL_EXACT, load, load, false, -1};
    }
}

/* All relabelings of n against n, or a million at random; ms, the best of five. */
static double relabel_time(size_t n, double *relabelings) {
    hf_observation a[GROUP], b[GROUP];
    hf_random random;
    hf_relabel result;
    double best = INFINITY;
    hf_random_start(&random, 6, n);
    read_group(&random, a, n, 6.80);
    read_group(&random, b, n, 6.85);
    for (int i = 0; i < 5; i++) {
        hf_arena *arena = hf_arena_create();
        double start = now();
        if (!arena || hf_relabel_test(arena, (hf_sample){a, n}, (hf_sample){b, n}, NULL, &result) != HF_OK)
            exit(1);
        best = fmin(best, 1e3 * (now() - start));
        hf_arena_free(arena);
    }
    *relabelings = result.relabelings;
    return best;
}

static double compare_time(const hf_text *file) {
    return command_time(file, study_compare, &hf_report_compare, "text");
}

static void show_against_limit(const char *what, double value, double limit) {
    printf("%-46s %12.4g %-16s %.2f of the %g ms aimed at\n", what, value, "ms", value / limit, limit);
    fflush(stdout);
}

static void comparisons(void) {
    hf_text six = {0};
    double ways;
    double time = relabel_time(10, &ways);
    if (ways != 184756) exit(1);
    show_against_limit("all 184 756 relabelings of 10 against 10", time, 20);
    time = relabel_time(GROUP, &ways);
    show_against_limit("10^6 random relabelings of 50 against 50", time, 500);
    some_designs(&six, 6, 40);
    (void)compare_time(&six);
    show_against_limit("compare six designs of 10 stepped pulls", compare_time(&six), 1000);
    hf_text_free(&six);
}

static void read_file(const char *path, hf_text *out) {
    char block[4096];
    FILE *file = fopen(path, "r");
    if (!file) exit(1);
    for (size_t got; (got = fread(block, 1, sizeof block, file)) > 0;) hf_text_add_bytes(out, block, got);
    fclose(file);
}

int main(int argc, char **argv) {
    const char *rates = argc > 2 ? argv[2] : NULL;
    hf_text demo = {0}, many = {0};
    struct rusage usage;
    double rate = fit_rate("weibull", 0);
    printf("threads: %d\n", hf_parallel_threads());
    show("exact Weibull fits, n = 10, side by side", lane_rate(), "a second, core", NAN);
    show("exact Weibull fits, n = 10, one by one", rate, "a second, core",
         ratio_to(rates, "exact_weibull", rate));
    rate = fit_rate("weibull", 40);
    show("stepped Weibull fits, n = 10", rate, "a second, core", ratio_to(rates, "stepped_weibull", rate));
    rate = fit_rate("normal", 40);
    show("stepped normal fits, n = 10", rate, "a second, core", ratio_to(rates, "stepped_normal", rate));
    show("normal factors k", factor_rate("normal"), "a second, core", NAN);
    show("Weibull factors w (table)", factor_rate("weibull"), "a second, core", NAN);
    show("conditional bound, normal, 3 of 10 open", conditional_time("normal"), "µs", NAN);
    show("conditional bound, Weibull, 3 of 10 open", conditional_time("weibull"), "µs", NAN);
    bench_plan();
    bench_promises();
    show_against_limit("plan --write, three designs with weights", plan_file_time(true, false), 300);
    show_against_limit("chart bound or ladder of that plan", plan_file_time(false, false), 300);
    show_against_limit("chart step of that plan", plan_file_time(false, true), 300);
    double million = million_time();
    show("one exact Weibull fit of 10^6 values", million, "ms",
         ratio_to(rates, "million_per_second", 1e3 / million));
    if (argc > 1) {
        read_file(argv[1], &demo);
        (void)assess_time(&demo, "text");
        show_against_limit("assess the demo", assess_time(&demo, "text"), 10);
    }
    comparisons();
    some_designs(&many, DESIGNS, 40);
    show("assess 2 000 designs of 10 stepped pulls, JSON", assess_time(&many, "json"), "ms", NAN);
    (void)getrusage(RUSAGE_SELF, &usage);
    show("peak memory", (double)usage.ru_maxrss / 1024, "MiB", NAN);
    hf_text_free(&demo);
    hf_text_free(&many);
    return 0;
}
