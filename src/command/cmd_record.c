#include "command/commands.h"
#include "command/common.h"

#include <string.h>

typedef struct record_options {
    hf_option_value held, failed, peak, outcome, mode, set_held, set_seen, note, again;
    hf_unit_values unit;
    hf_format_values format;
    hf_help_values help;
} record_options;

static const char *const outcome_choices[] = {"failed", "held", "rig", "void", NULL};

#define VALUE(member) .offset = offsetof(record_options, member)

static const hf_option own_rows[] = {
    {.name = "held",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "last load that held for the whole dwell, as written down",
     VALUE(held)},
    {.name = "failed",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "load at which, or on the way to "
             "which, the part failed",
     VALUE(failed)},
    {.name = "peak",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "highest reading of a scale in line, for a continuous pull",
     VALUE(peak)},
    {.name = "outcome",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHAT",
     .choices = outcome_choices,
     .help = "how the pull ended; failed when not given (held: it did not fail; rig: the rig let go; void: "
             "not to be used, needs --note)",
     VALUE(outcome)},
    {.name = "mode",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "how the part failed, such as stitch",
     VALUE(mode)},
    {.name = "set-held",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "last load without lasting movement",
     VALUE(set_held)},
    {.name = "set-seen",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "load at which lasting movement was seen",
     VALUE(set_seen)},
    {.name = "note",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "anything worth keeping",
     VALUE(note)},
    {.name = "again", .help = "replace a result that is already there", VALUE(again)},
    {.name = NULL}};

static const hf_question outcome_question = {"outcome", "How did it end: failed, held, rig or void",
                                             "failed"};

/* What to ask after each outcome, in the order of outcome_choices. */
static const hf_question after[][4] = {
    {{"held", "Last load that held (empty: failed at the first step)", ""},
     {"failed", "Load at which it failed", NULL},
     {"mode", "How it failed, such as stitch (empty: not seen)", ""},
     {"note", "Note (empty: none)", ""}},
    {{"held", "Highest load it held", NULL}, {"note", "Note (empty: none)", ""}},
    {{"held", "Last load that held before the rig let go", NULL}, {"note", "What let go", ""}},
    {{"note", "Why it is not to be used", NULL}},
};

static hf_status ask_all(hf_request *request) {
    hf_status status = hf_request_ask(request, &outcome_question);
    if (status != HF_OK) return status;
    const record_options *options = request->options;
    size_t at = 0;
    while (strcmp(outcome_choices[at], options->outcome.text) != 0) at++;
    for (size_t i = 0; i < sizeof after[0] / sizeof after[0][0] && after[at][i].option; i++) {
        status = hf_request_ask(request, &after[at][i]);
        if (status != HF_OK) return status;
    }
    return HF_OK;
}

static hf_record_change change_of(const record_options *options) {
    return (hf_record_change){.held = options->held.text,
                              .failed = options->failed.text,
                              .peak = options->peak.text,
                              .outcome = options->outcome.text,
                              .mode = options->mode.text,
                              .set_held = options->set_held.text,
                              .set_seen = options->set_seen.text,
                              .note = options->note.text};
}

static bool nothing_given(const record_options *options) {
    return !options->held.given && !options->failed.given && !options->peak.given &&
           !options->outcome.given && !options->mode.given && !options->set_held.given &&
           !options->set_seen.given && !options->note.given;
}

static hf_status want_something(hf_request *request) {
    if (!nothing_given(request->options)) return HF_OK;
    if (hf_request_can_ask(request)) return ask_all(request);
    return hf_error_set(&request->error, HF_USAGE,
                        "nothing to record, expected --held, --failed, --peak, "
                        "--outcome, --set-held, --set-seen, --mode or --note");
}

typedef struct record_work {
    hf_request *request;
    hf_findings refused; /* of the text with the pull in it */
} record_work;

/* A name that is not in the file is a mistake of the command line, not of the file. */
static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    record_work *work = context;
    hf_request *request = work->request;
    const record_options *options = request->options;
    const char *id = request->arguments[1];
    hf_record_change change = change_of(options);
    hf_status status = hf_campaign_record(request->arena, now, id, &change, options->again.given, text,
                                          &work->refused, error);
    if (status == HF_BAD_DATA && !hf_campaign_specimen(now, id, NULL)) status = HF_USAGE;
    return status;
}

/* The file with the change in it, on disk and in memory. */
static hf_exit change_file(hf_request *request, const char *path, hf_campaign_change *change) {
    record_work work = {.request = request};
    *change = hf_request_change(request, path, edit, &work);
    hf_status status = hf_campaign_change_make(request->arena, change, &request->error);
    request->error.status = status;
    if (status == HF_OK) hf_request_note_names(request, path, change->names);
    if (status == HF_OK || change->findings.errors)
        return hf_findings_print(request, &change->findings, path);
    if (work.refused.errors) return hf_findings_print(request, &work.refused, path);
    return hf_request_fail(request);
}

/* A campaign with only this one pull in it, so that the echo is the line that `check` shows. */
static hf_status only(hf_request *request, const hf_campaign *campaign, const hf_campaign **out) {
    const hf_design *design = NULL;
    const hf_specimen *specimen = hf_campaign_specimen(campaign, request->arguments[1], &design);
    hf_campaign *one = HF_ARENA_NEW(request->arena, hf_campaign);
    hf_design *alone = HF_ARENA_NEW(request->arena, hf_design);
    if (!one || !alone || !specimen || !design)
        return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    *alone = *design;
    alone->specimens = specimen;
    alone->specimen_count = 1;
    *one = *campaign;
    one->designs = alone;
    one->design_count = 1;
    *out = one;
    return HF_OK;
}

static hf_exit run(hf_request *request) {
    const record_options *options = request->options;
    const char *path = request->arguments[0];
    const hf_report_format *format;
    if (strcmp(path, "-") == 0)
        hf_error_set(&request->error, HF_USAGE,
                     "found - for FILE, expected a file: record changes it in place");
    if (request->error.status != HF_OK ||
        hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        want_something(request) != HF_OK)
        return hf_request_fail(request);
    hf_text echo = {0};
    const hf_campaign *one = NULL;
    hf_campaign_change change;
    hf_exit code = change_file(request, path, &change);
    if (code != HF_EXIT_DONE) return code;
    request->kept = hf_arena_format(request->arena, "the pull of %s is in %s", request->arguments[1], path);
    if (only(request, change.after, &one) != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, change.after);
    const hf_check_result shown = {change.after, &change.findings, one};
    hf_report_print(&hf_report_check, &shown, format, &style, &echo);
    return hf_request_write(request, &echo, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"},
    {.name = "SPECIMEN", .help = "id of the part that was pulled, as it stands in the file"},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_unit_rows, offsetof(record_options, unit)},
                                         {hf_format_rows, offsetof(record_options, format)},
                                         {hf_help_rows, offsetof(record_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast record sail.json ring-01 --held 76kg --failed 80kg --mode stitch",
     "held 76 kg, failed on the way to 80 kg"},
    {"holdfast record sail.json ring-02 --held 90kg --outcome held",
     "ran out of weights: a run-out at 90 kg"},
    {"holdfast record sail.json ring-03 --outcome void --note \"hook slipped\"", "not to be used, and why"},
    {NULL, NULL}};

const hf_command hf_command_record = {
    .name = "record",
    .summary = "write one pull into the campaign file",
    .arguments = arguments,
    .description =
        "Writes what happened to one part into the file and shows it back as force on the part. Every other "
        "byte of the file stays as it was; the new file takes the place of the old one in one step, so a "
        "power "
        "cut leaves one or the other whole. A bare load is in the file's unit.\n\n"
        "At a terminal, without options, it asks. A part that already has a result is left alone unless "
        "--again "
        "is given.",
    .groups = groups,
    .options_size = sizeof(record_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
