#include "command/commands.h"
#include "command/common.h"
#include "command/plan_options.h"
#include "holdfast/numeric/parallel.h"

typedef struct next_options {
    hf_option_value more;
    hf_subject_values subject;
    hf_promise_values promise;
    hf_plan_values plan;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} next_options;

static hf_exit run(hf_request *request) {
    const next_options *options = request->options;
    const hf_report_format *format;
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_plan_setup setup;
    const hf_plan_next *plan;
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    hf_parallel_set_threads((int)options->run.threads.count);
    if (hf_plan_options_read(request, &options->plan, &options->subject, &options->promise, campaign,
                             &setup) != HF_OK)
        return hf_request_fail(request);
    setup.seed = options->run.seed.count;
    request->error.status = hf_plan_next_make(request->arena, campaign, &setup, (size_t)options->more.count,
                                              &plan, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, campaign);
    hf_text text = {0};
    hf_report_print(&hf_report_plan_next, plan, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file with pulls, - for standard input"},
    {.name = NULL}};

static const hf_option own_rows[] = {{.name = "more",
                                      .type = HF_OPTION_COUNT,
                                      .value_name = "N",
                                      .preset = "10",
                                      .minimum = 1,
                                      .maximum = 200,
                                      .help = "up to how many more parts",
                                      .offset = offsetof(next_options, more)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_plan_subject_rows, offsetof(next_options, subject)},
                                         {hf_promise_rows, offsetof(next_options, promise)},
                                         {hf_plan_rows, offsetof(next_options, plan)},
                                         {hf_unit_rows, offsetof(next_options, unit)},
                                         {hf_format_rows, offsetof(next_options, format)},
                                         {hf_output_rows, offsetof(next_options, output)},
                                         {hf_run_rows, offsetof(next_options, run)},
                                         {hf_help_rows, offsetof(next_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {{"holdfast plan next sail.json --design ring --require 450",
                                       "the chance of reaching 450 with one, two, … more rings"},
                                      {NULL, NULL}};

const hf_command hf_command_plan_next = {
    .name = "plan next",
    .summary = "say what more pulls would bring",
    .arguments = arguments,
    .description = "Draws laws that fit the pulls so far, pulls more parts of each in numbers, and shows "
                   "where the bound would then lie and how "
                   "likely it is to reach the required bound. Looking early and then deciding is a look more "
                   "than planned; the report must say so.",
    .groups = groups,
    .options_size = sizeof(next_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
