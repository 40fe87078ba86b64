#include "command/commands.h"
#include "command/undo.h"

#include <string.h>

typedef struct undo_options {
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} undo_options;

/* The change before the one that was taken back, and how many behind it were passed over. */
static hf_undo_result result_of(const hf_undo *undo) {
    const hf_journal *journal = undo->journal;
    hf_undo_result result = {.campaign = undo->change.after, .taken_back = journal->last};
    result.edited = strcmp(undo->change.before->sha256, journal->last->after) != 0;
    for (size_t i = 0; i < journal->count; i++) {
        const hf_entry *entry = &journal->entries[i];
        if (entry < journal->last && entry->standing == HF_ENTRY_STANDS && !entry->takes_back)
            result.next = entry;
        result.passed += entry > journal->last && entry->standing == HF_ENTRY_NEVER;
    }
    return result;
}

static hf_exit run(hf_request *request) {
    const undo_options *options = request->options;
    const hf_report_format *format;
    const char *path = request->arguments[0];
    hf_undo undo;
    if (!hf_request_in_place(request) || hf_format_read(&options->format, &format, &request->error) != HF_OK)
        return hf_request_fail(request);
    request->error.status = hf_undo_make(request, path, &undo);
    if (request->error.status != HF_OK && undo.change.findings.errors)
        return hf_findings_print(request, &undo.change.findings, path);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_request_note_names(request, path, undo.change.names);
    const hf_undo_result result = result_of(&undo);
    request->kept =
        hf_arena_format(request->arena, "change %zu of %s is taken back", result.taken_back->number, path);
    hf_text text = {0};
    hf_report_style style = hf_request_style(request, undo.change.after);
    hf_report_print(&hf_report_undo, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"}, {.name = NULL}};

static const hf_option_group groups[] = {{hf_format_rows, offsetof(undo_options, format)},
                                         {hf_output_rows, offsetof(undo_options, output)},
                                         {hf_help_rows, offsetof(undo_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast undo sail.json", "takes the last change back; once more, the one before it"}, {NULL, NULL}};

const hf_command hf_command_undo = {
    .name = "undo",
    .summary = "take the last change of a campaign file back",
    .arguments = arguments,
    .description =
        "Takes back the last change that a command made to the file, whatever it was; said again, the one "
        "before it. Taking back is a change of its own and stands in the journal, FILE.log, so nothing is "
        "lost by it. Changes that never took effect, because the program was cut off, are passed over.\n\n"
        "Where something else, such as an editor, has changed the file since, its changes stay: only what "
        "still stands there just once as it was written is taken back, else nothing is changed (exit 3).",
    .groups = groups,
    .options_size = sizeof(undo_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
