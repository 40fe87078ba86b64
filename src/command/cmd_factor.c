#include "command/commands.h"
#include "command/common.h"

#include <math.h>

typedef struct factor_options {
    hf_option_value family, n;
    hf_promise_values promise;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} factor_options;

static hf_status read_promise(hf_request *request, hf_factor_result *result) {
    const factor_options *options = request->options;
    hf_status status =
        hf_promise_read(&options->promise, &result->content, &result->confidence, &request->error);
    if (status != HF_OK) return status;
    if (result->n == 1)
        return hf_error_set(&request->error, HF_USAGE,
                            "--n 1: one part shows no scatter: expected 2 or more; a scatter stated in a "
                            "campaign file gives even one part a bound: holdfast assess FILE");
    if (result->content <= 0 || result->confidence <= 0)
        return hf_error_set(&request->error, HF_USAGE,
                            "expected both --content P and --confidence C, or --basis LETTER");
    return HF_OK;
}

/* A factor that was found by simulation ends where too few samples lie beyond. */
static hf_status beyond_reach(hf_request *request, const hf_factor_result *result) {
    hf_factor_reach reach = result->family->factor_reach();
    return hf_error_set(&request->error, HF_NO_RESULT,
                        "no factor for %s, n = %zu, content %.10g, confidence %.10g: known for content %g to "
                        "%g and confidence up to %g (from %g)",
                        result->family->name, result->n, result->content, result->confidence,
                        reach.least_content, reach.most_content, reach.most_confidence,
                        reach.least_confidence);
}

static hf_status compute(hf_request *request, hf_factor_result *result) {
    hf_status status = result->family->factor(result->n, result->content, result->confidence, &result->k,
                                              &result->standard_error);
    if (status == HF_OK) return HF_OK;
    result->k = result->standard_error = NAN;
    if (status == HF_NO_RESULT && result->family->factor_reach) return beyond_reach(request, result);
    return hf_error_set(
        &request->error, status, "no factor for %s, n = %zu, content %.10g, confidence %.10g: %s",
        result->family->name, result->n, result->content, result->confidence, hf_status_text(status));
}

static hf_exit run(hf_request *request) {
    const factor_options *options = request->options;
    const hf_report_format *format;
    hf_factor_result result = {.family = hf_family_find(options->family.text), .n = (size_t)options->n.count};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        read_promise(request, &result) != HF_OK)
        return hf_request_fail(request);
    hf_exit code = HF_EXIT_DONE;
    if (compute(request, &result) != HF_OK) code = hf_request_fail(request);
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_factor, &result, format, &style, &text);
    return hf_request_write(request, &text, code);
}

static const hf_argument arguments[] = {{.name = NULL}};

static const hf_option own_rows[] = {{.name = "family",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "FAMILY",
                                      .preset = "normal",
                                      .choice_at = hf_proven_choice,
                                      .help = "strength law",
                                      .offset = offsetof(factor_options, family)},
                                     {.name = "n",
                                      .type = HF_OPTION_COUNT,
                                      .value_name = "N",
                                      .minimum = 1,
                                      .maximum = 1000000,
                                      .required = true,
                                      .help = "number of parts pulled to failure, 2 or more",
                                      .offset = offsetof(factor_options, n)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(factor_options, promise)},
                                         {hf_format_rows, offsetof(factor_options, format)},
                                         {hf_output_rows, offsetof(factor_options, output)},
                                         {hf_help_rows, offsetof(factor_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast factor --n 5 --content 0.90 --confidence 0.95",
     "how many standard deviations below the mean of five parts the 90/95 bound lies"},
    {"holdfast factor --family weibull --n 8 --basis B --json", "the Weibull counterpart, for a script"},
    {NULL, NULL}};

const hf_command hf_command_factor = {
    .name = "factor",
    .summary = "print the tolerance factor k for a number of parts",
    .arguments = arguments,
    .description =
        "Prints the factor k of the lower tolerance bound m - k s for n parts pulled to failure: with the "
        "stated confidence at least the stated share of all parts is stronger than the bound. m and s are "
        "mean and standard deviation (of the logarithms for the lognormal law), or location and scale of the "
        "logarithms by maximum likelihood for the Weibull law.\n\n"
        "Share and confidence must be stated, as numbers or as a basis.",
    .groups = groups,
    .options_size = sizeof(factor_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_NO_RESULT) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
