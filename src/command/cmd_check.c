#include "command/commands.h"
#include "command/common.h"

typedef struct check_options {
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} check_options;

static hf_exit run(hf_request *request) {
    const check_options *options = request->options;
    const hf_report_format *format;
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    hf_report_style style = hf_request_style(request, campaign);
    hf_text text = {0};
    const hf_check_result result = {.campaign = campaign, .findings = &findings};
    hf_report_print(&hf_report_check, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const hf_option_group groups[] = {{hf_unit_rows, offsetof(check_options, unit)},
                                         {hf_format_rows, offsetof(check_options, format)},
                                         {hf_output_rows, offsetof(check_options, output)},
                                         {hf_help_rows, offsetof(check_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast check sail.json", "lists what is wrong or odd and shows every pull as force on the part"},
    {"holdfast check - --unit lbf", "reads the file from standard input and shows pounds-force"},
    {NULL, NULL}};

const hf_command hf_command_check = {
    .name = "check",
    .summary = "validate a campaign and show every pull as force on the part",
    .arguments = arguments,
    .description =
        "Reads the whole file and reports everything found, each with line, column and place in the file. "
        "Errors end with exit code 3 and nothing else is printed. Warnings leave the file usable: they go to "
        "standard error and come back as cautions in every result.\n\n"
        "The echo shows what each record means once tare, lever and angle are taken into account: the force "
        "the part held and the force at which it failed. A wrong unit or a forgotten tare shows here.",
    .groups = groups,
    .options_size = sizeof(check_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
