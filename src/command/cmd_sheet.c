#include "command/commands.h"
#include "command/common.h"
#include "holdfast/handover/sheet.h"

typedef struct sheet_options {
    hf_option_value design, ladder, json;
    hf_unit_values unit;
    hf_output_values output;
    hf_help_values help;
} sheet_options;

static hf_exit run(hf_request *request) {
    const sheet_options *options = request->options;
    const hf_campaign *campaign;
    const hf_sheet *sheet;
    hf_findings findings = {0};
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    request->error.status =
        hf_sheet_make(request->arena, campaign, options->design.text, &sheet, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, campaign);
    hf_text text = {0};
    if (options->json.given)
        hf_report_print(&hf_report_sheet, sheet, hf_report_format_find("json"), &style, &text);
    else if (options->ladder.given)
        hf_sheet_csv(sheet, &style, &text);
    else {
        bool plates =
            sheet->plates && !options->unit.unit.given && campaign->rig.force.records == HF_RIG_RECORDS_ADDED;
        hf_sheet_html(sheet, &style, plates ? sheet->plates : style.unit, &text);
        (void)hf_request_name_output(request, request->arguments[0], "sheet", "html");
    }
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file with a plan, - for standard input"},
    {.name = NULL}};

static const char *const ladder_choices[] = {"csv", NULL};

static const hf_option own_rows[] = {{.name = "design",
                                      .type = HF_OPTION_TEXT,
                                      .value_name = "ID",
                                      .help = "only this design",
                                      .offset = offsetof(sheet_options, design)},
                                     {.name = "ladder",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "FORMAT",
                                      .choices = ladder_choices,
                                      .help = "only the ladders, as a table",
                                      .offset = offsetof(sheet_options, ladder)},
                                     {.name = "json",
                                      .help = "the parts in their order and the ladders as data",
                                      .offset = offsetof(sheet_options, json)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_unit_rows, offsetof(sheet_options, unit)},
                                         {hf_output_rows, offsetof(sheet_options, output)},
                                         {hf_help_rows, offsetof(sheet_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast sheet sail.json -o sheet.html",
     "a page to print: one block per planned part, in the order to pull"},
    {"holdfast sheet sail.json --ladder csv", "the rungs and weights as a table"},
    {NULL, NULL}};

const hf_command hf_command_sheet = {
    .name = "sheet",
    .summary = "make a worksheet to print for test day",
    .arguments = arguments,
    .description = "From the plan in the file: the safety list on top, then one block for each planned part "
                   "in the order to pull, with every rung "
                   "printed (what to add, what to take off, the force on the part) and boxes to tick. One "
                   "file, for A4 and Letter, legible in black and white.",
    .groups = groups,
    .options_size = sizeof(sheet_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
