#include "command/commands.h"
#include "command/common.h"

typedef struct proof_options {
    hf_option_value failures, overload, shape, n;
    hf_promise_values promise;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} proof_options;

static hf_exit run(hf_request *request) {
    const proof_options *options = request->options;
    const hf_report_format *format;
    hf_plan_proof plan = {.failures = (size_t)options->failures.count,
                          .overload = options->overload.number,
                          .shape = options->shape.number,
                          .given_n = (size_t)options->n.count};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        hf_promise_read(&options->promise, &plan.content, &plan.confidence, &request->error) != HF_OK)
        return hf_request_fail(request);
    if (!(plan.content > 0 && plan.confidence > 0)) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "expected both --content P and --confidence C, or --basis LETTER");
        return hf_request_fail(request);
    }
    if (hf_plan_proof_make(&plan, &request->error) != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_plan_proof, &plan, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = NULL}};

#define OWN(field) .offset = offsetof(proof_options, field)
static const hf_option own_rows[] = {
    {.name = "failures",
     .type = HF_OPTION_COUNT,
     .value_name = "X",
     .preset = "0",
     .maximum = 10000,
     .help = "failures that are allowed",
     OWN(failures)},
    {.name = "overload",
     .type = HF_OPTION_NUMBER,
     .value_name = "R",
     .preset = "1",
     .minimum = 1,
     .maximum = 100,
     .help = "load hung over load to be proven",
     OWN(overload)},
    {.name = "shape",
     .type = HF_OPTION_NUMBER,
     .value_name = "B",
     .maximum = 1000,
     .help = "Weibull shape, the low end of what is plausible; with --overload",
     OWN(shape)},
    {.name = "n",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 1,
     .maximum = 1000000,
     .help = "say what this number of parts proves",
     OWN(n)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(proof_options, promise)},
                                         {hf_format_rows, offsetof(proof_options, format)},
                                         {hf_output_rows, offsetof(proof_options, output)},
                                         {hf_help_rows, offsetof(proof_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast plan proof --content 0.90 --confidence 0.95", "29 parts that all hold the load"},
    {"holdfast plan proof --content 0.90 --confidence 0.90 --overload 1.5 --shape 2",
     "fewer parts at one and a half times the load"},
    {NULL, NULL}};

const hf_command hf_command_plan_proof = {
    .name = "plan proof",
    .summary = "say how many parts must hold a load to prove it",
    .arguments = arguments,
    .description = "Parts that must all hold a load (or all but a few) so that at least the stated share of "
                   "all parts holds it with the stated "
                   "confidence, whatever the strength law. Overloading needs fewer parts but leans on a "
                   "Weibull shape known from elsewhere. "
                   "Parts that held a proof load are scrapped or marked.",
    .groups = groups,
    .options_size = sizeof(proof_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
