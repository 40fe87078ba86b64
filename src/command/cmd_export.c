#include "command/commands.h"
#include "command/common.h"

#include <string.h>
#include "holdfast/campaign/table.h"

typedef struct export_options {
    hf_option_value design, unit, separator;
    hf_output_values output;
    hf_help_values help;
} export_options;

static const char *const separator_choices[] = {"comma", "semicolon", NULL};

#define VALUE(member) .offset = offsetof(export_options, member)

static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "only the design with this id; all of them when not given",
     VALUE(design)},
    {.name = "unit",
     .type = HF_OPTION_CHOICE,
     .value_name = "UNIT",
     .choice_at = hf_unit_choice,
     .help = "convert every load to this unit; as recorded when not given",
     VALUE(unit)},
    {.name = "separator",
     .type = HF_OPTION_CHOICE,
     .value_name = "NAME",
     .preset = "comma",
     .choices = separator_choices,
     .help = "what parts the cells; with semicolons the decimal mark is the comma",
     VALUE(separator)},
    {.name = NULL}};

static hf_exit run(hf_request *request) {
    const export_options *options = request->options;
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_text text = {0};
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    hf_table_style style = {.design = options->design.given ? options->design.text : NULL,
                            .semicolon = strcmp(options->separator.text, "semicolon") == 0};
    if (options->unit.given) style.unit = hf_unit_find(options->unit.text, strlen(options->unit.text));
    if (hf_campaign_export(request->arena, campaign, &style, &text, &request->error) != HF_OK)
        return hf_request_fail(request);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_output_rows, offsetof(export_options, output)},
                                         {hf_help_rows, offsetof(export_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast export sail.json -o pulls.csv", "writes every pull as a row, with its loads as recorded"},
    {"holdfast export sail.json --unit kN --separator semicolon",
     "loads in kN with decimal comma, for a spreadsheet that expects it"},
    {NULL, NULL}};

const hf_command hf_command_export = {
    .name = "export",
    .summary = "write the pulls of the campaign as a table",
    .arguments = arguments,
    .description =
        "Writes one row a pull; the columns are named as the keys of the campaign file, with the unit of "
        "loads in the header. The loads are those recorded at the rig, before tare, lever and angle. Read "
        "back with import, the table gives the same pulls.\n\n"
        "A text that a spreadsheet would take for a formula, because it begins with = + - or @, is written "
        "in quotes behind an apostrophe; import takes the apostrophe away again.",
    .groups = groups,
    .options_size = sizeof(export_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
