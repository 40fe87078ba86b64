#include "command/commands.h"
#include "command/common.h"

#include "holdfast/study/standing.h"

typedef struct status_options {
    hf_option_value next;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} status_options;

static hf_exit run(hf_request *request) {
    const status_options *options = request->options;
    const hf_report_format *format;
    const hf_campaign *campaign;
    const hf_standing *standing;
    hf_findings findings = {0};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    request->error.status = hf_standing_make(request->arena, campaign, &standing, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_text text = {0};
    hf_report_style style = hf_request_style(request, campaign);
    hf_report_print(options->next.given ? &hf_report_status_next : &hf_report_status, standing, format,
                    &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const hf_option own_rows[] = {{.name = "next",
                                      .help = "only the next part and its first rung",
                                      .offset = offsetof(status_options, next)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_unit_rows, offsetof(status_options, unit)},
                                         {hf_format_rows, offsetof(status_options, format)},
                                         {hf_output_rows, offsetof(status_options, output)},
                                         {hf_help_rows, offsetof(status_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast status sail.json", "what is pulled, what is left, which part is next and what hangs first"},
    {NULL, NULL}};

const hf_command hf_command_status = {
    .name = "status",
    .summary = "say how far a test has come and which part is next",
    .arguments = arguments,
    .description =
        "Counts for each design what failed, what held to the end (run-outs), where the rig let go, what is "
        "void and what is left; "
        "names the next part in the order of the plan with its first rung; and reckons the minutes that are "
        "left from dwell, "
        "handling and what is known of the strength. Pulls that do not look right are listed, as record "
        "would ask about them.\n\n"
        "No working load is told here: holdfast assess does, at the end or at the looks stated beforehand.",
    .groups = groups,
    .options_size = sizeof(status_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
