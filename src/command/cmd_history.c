#include "command/commands.h"
#include "command/common.h"

#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/campaign/journal.h"

typedef struct history_options {
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} history_options;

/* The file need not be a valid campaign: an editor may have broken it, and then its history is wanted most. */
static hf_status read_journal(hf_request *request, const char *path, char sha256[65],
                              const hf_journal **out) {
    hf_text text = {0};
    if (strcmp(path, "-") == 0)
        return hf_error_set(&request->error, HF_USAGE,
                            "found - for FILE, expected a file: the journal stands beside it");
    hf_status status = hf_file_read(path, HF_CAMPAIGN_LIMIT_BYTES, &text, &request->error);
    hf_file_sha256(text.bytes ? text.bytes : "", text.length, sha256);
    hf_text_free(&text);
    if (status == HF_OK) status = hf_journal_read(request->arena, path, sha256, out, &request->error);
    request->error.status = status;
    return status;
}

static hf_exit run(hf_request *request) {
    const history_options *options = request->options;
    const hf_report_format *format;
    const hf_journal *journal;
    char sha256[65];
    const char *path = request->arguments[0];
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        read_journal(request, path, sha256, &journal) != HF_OK)
        return hf_request_fail(request);
    hf_text text = {0};
    hf_report_style style = hf_request_style(request, NULL);
    const hf_history_result result = {path, sha256, journal};
    hf_report_print(&hf_report_history, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = "FILE", .is_path = true, .help = "campaign file"},
                                        {.name = NULL}};

static const hf_option_group groups[] = {{hf_format_rows, offsetof(history_options, format)},
                                         {hf_output_rows, offsetof(history_options, output)},
                                         {hf_help_rows, offsetof(history_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast history sail.json", "what was changed, when and by which command, oldest first"},
    {"holdfast history sail.json --json", "the same with what stood there before and after"},
    {NULL, NULL}};

const hf_command hf_command_history = {
    .name = "history",
    .summary = "list what was changed in a campaign file, and when",
    .arguments = arguments,
    .description =
        "Reads the journal that stands beside the file as FILE.log and lists every change that a command "
        "made: when, by which command, whether it stands, was taken back, or never took effect because the "
        "program was cut off. Where something else, such as an editor, changed the file in between, that is "
        "told too, but not what it changed.\n\n"
        "A file that was copied or renamed leaves its journal behind.",
    .groups = groups,
    .options_size = sizeof(history_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
