#include "command/commands.h"
#include "command/common.h"
#include <string.h>
#include "holdfast/numeric/parallel.h"

typedef struct coverage_options {
    hf_option_value family, truth, n, cv, step_sd, offset_sd, replicates, method, ladder;
    hf_promise_values promise;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} coverage_options;

static const char *method_choice(size_t at) {
    const hf_planning_method *method = hf_planning_method_at(at);
    return method ? method->name : NULL;
}

static const char *ladder_choice(size_t at) {
    return at < HF_COVERAGE_LADDERS ? hf_coverage_ladder_name((hf_coverage_ladder)at) : NULL;
}

static hf_coverage_ladder ladder_of(const coverage_options *options) {
    for (size_t i = 0; i < HF_COVERAGE_LADDERS; i++)
        if (strcmp(ladder_choice(i), options->ladder.text) == 0 && options->step_sd.number > 0)
            return (hf_coverage_ladder)i;
    return HF_LADDER_CONTINUOUS;
}

static hf_coverage_cell cell_of(const coverage_options *options) {
    const hf_family *bound = hf_family_find(options->family.text); /* "auto": NULL, the governing rule */
    const hf_family *truth = options->truth.text ? hf_family_find(options->truth.text) : bound;
    return (hf_coverage_cell){.truth = hf_family_governing(truth),
                              .cv = options->cv.number,
                              .family = bound,
                              .method = hf_planning_method_find(options->method.text),
                              .n = (size_t)options->n.count,
                              .ladder = ladder_of(options),
                              .step = options->step_sd.number,
                              .offset = options->offset_sd.number,
                              .coarse = 4,
                              .replicates = (size_t)options->replicates.count,
                              .seed = options->run.seed.count};
}

static hf_exit run(hf_request *request) {
    const coverage_options *options = request->options;
    const hf_report_format *format;
    hf_coverage_result result = {.cell = cell_of(options)};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        hf_promise_read(&options->promise, &result.cell.content, &result.cell.confidence, &request->error) !=
            HF_OK)
        return hf_request_fail(request);
    if (!(result.cell.content > 0 && result.cell.confidence > 0)) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "expected both --content P and --confidence C, or --basis LETTER");
        return hf_request_fail(request);
    }
    if (!(result.cell.cv > 0)) {
        (void)hf_error_set(&request->error, HF_USAGE, "--cv: expected a scatter above 0 and at most 1");
        return hf_request_fail(request);
    }
    hf_parallel_set_threads((int)options->run.threads.count);
    hf_status status = hf_coverage_of(&result.cell, &result.coverage);
    if (status != HF_OK) {
        (void)hf_error_set(&request->error, status == HF_RANGE ? HF_USAGE : status,
                           "this cell cannot be simulated: %s", hf_status_text(status));
        return hf_request_fail(request);
    }
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_coverage, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = NULL}};

#define OWN(field) .offset = offsetof(coverage_options, field)
static const hf_option own_rows[] = {{.name = "family",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "FAMILY",
                                      .preset = "auto",
                                      .choice_at = hf_family_choice,
                                      .help = "law of the bound; auto is the governing rule",
                                      OWN(family)},
                                     {.name = "truth",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "FAMILY",
                                      .choice_at = hf_law_choice,
                                      .help = "true law; by default that of the bound",
                                      OWN(truth)},
                                     {.name = "n",
                                      .type = HF_OPTION_COUNT,
                                      .value_name = "N",
                                      .minimum = 2,
                                      .maximum = 10000,
                                      .required = true,
                                      .help = "parts in each sample",
                                      OWN(n)},
                                     {.name = "cv",
                                      .type = HF_OPTION_NUMBER,
                                      .value_name = "V",
                                      .preset = "0.1",
                                      .maximum = 1,
                                      .help = "true scatter",
                                      OWN(cv)},
                                     {.name = "step-sd",
                                      .type = HF_OPTION_NUMBER,
                                      .value_name = "H",
                                      .preset = "0",
                                      .maximum = 100,
                                      .help = "step in standard deviations; 0 for continuous readings",
                                      OWN(step_sd)},
                                     {.name = "offset-sd",
                                      .type = HF_OPTION_NUMBER,
                                      .value_name = "O",
                                      .preset = "0",
                                      .minimum = -1000,
                                      .maximum = 1000,
                                      .help = "place of the ladder: one rung lies this far above the mean",
                                      OWN(offset_sd)},
                                     {.name = "ladder",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "KIND",
                                      .preset = "working",
                                      .choice_at = ladder_choice,
                                      .help = "kind of ladder",
                                      OWN(ladder)},
                                     {.name = "replicates",
                                      .type = HF_OPTION_COUNT,
                                      .value_name = "R",
                                      .preset = "20000",
                                      .minimum = 8,
                                      .maximum = 1000000000,
                                      .help = "simulated samples",
                                      OWN(replicates)},
                                     {.name = "method",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "M",
                                      .preset = "formula",
                                      .choice_at = method_choice,
                                      .help = "way to make the bound",
                                      OWN(method)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(coverage_options, promise)},
                                         {hf_format_rows, offsetof(coverage_options, format)},
                                         {hf_output_rows, offsetof(coverage_options, output)},
                                         {hf_run_rows, offsetof(coverage_options, run)},
                                         {hf_help_rows, offsetof(coverage_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast coverage --family normal --n 10 --content 0.90 --confidence 0.95 --step-sd 1",
     "does the bound keep its promise with steps of one standard deviation?"},
    {"holdfast coverage --family normal --n 10 --content 0.90 --confidence 0.95 --step-sd 1 --method "
     "failing_load",
     "and when the failing load is taken for the strength?"},
    {NULL, NULL}};

const hf_command hf_command_coverage = {
    .name = "coverage",
    .summary = "simulate the true confidence of a bound",
    .arguments = arguments,
    .description = "Pulls parts of a known law on a ladder in numbers, takes the bound, and counts how often "
                   "it keeps its promise. "
                   "The habits of the trade (failing load, last load held, middle as if exact) can be tried "
                   "beside the formula.",
    .groups = groups,
    .options_size = sizeof(coverage_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
