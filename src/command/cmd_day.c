#include "command/commands.h"
#include "command/day.h"

#include <math.h>

typedef struct day_options {
    hf_option_value design, dwell, by, lines;
    hf_help_values help;
} day_options;

#define VALUE(member) .offset = offsetof(day_options, member)

static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "only the parts of this design",
     VALUE(design)},
    {.name = "dwell",
     .type = HF_OPTION_NUMBER,
     .value_name = "SECONDS",
     .maximum = 86400,
     .help = "how long each load stands; rig.dwell_s of the file, else 30, when not given; 0: no countdown",
     VALUE(dwell)},
    {.name = "by",
     .type = HF_OPTION_TEXT,
     .value_name = "NAME",
     .help = "who pulls, written to every part",
     VALUE(by)},
    {.name = "lines",
     .type = HF_OPTION_FLAG,
     .help = "go line by line, a key and Enter each: for a screen reader or a log",
     VALUE(lines)},
    {.name = NULL}};

/* Lines where they are asked for, and where there is no screen. */
static void choose_view(hf_day *day, bool lines) {
    day->view = &hf_day_screen;
    if (!lines && day->view->open(day)) return;
    day->view = &hf_day_lines;
    (void)day->view->open(day);
}

static hf_exit run(hf_request *request) {
    const day_options *options = request->options;
    hf_day day = {.request = request,
                  .path = request->arguments[0],
                  .design = options->design.given ? options->design.text : NULL,
                  .by = options->by.given ? options->by.text : NULL,
                  .dwell_s = options->dwell.given ? options->dwell.number : NAN};
    if (!hf_request_in_place(request)) return hf_request_fail(request);
    choose_view(&day, options->lines.given);
    day.view->intro(&day);
    hf_status status = hf_day_go(&day);
    day.view->close(&day);
    request->error.status = status;
    if (status == HF_BAD_DATA && day.findings.errors)
        (void)hf_findings_print(request, &day.findings, day.path);
    hf_say("%zu part%s pulled\n", day.pulled, day.pulled == 1 ? "" : "s");
    if (status == HF_NO_RESULT && day.pulled) {
        hf_say("nothing is left to pull; next: holdfast assess %s\n", day.path);
        return HF_EXIT_DONE;
    }
    if (status != HF_OK) return hf_request_fail(request);
    hf_say("to go on here: holdfast day %s\n", day.path);
    return HF_EXIT_DONE;
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file with a plan; it is changed in place"},
    {.name = NULL}};

static const hf_option_group groups[] = {
    {own_rows, 0}, {hf_help_rows, offsetof(day_options, help)}, {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast day sail.json --by Kim", "takes you through the parts of the plan, rung by rung"},
    {NULL, NULL}};

const hf_command hf_command_day = {
    .name = "day",
    .summary = "go through test day at the rig, rung by rung",
    .arguments = arguments,
    .description =
        "Takes the parts of the plan in their order and each up its ladder: what to put on and "
        "take off, the force on the part, a "
        "countdown of the dwell with a bell at its end. One key says what happened; ? lists the keys. On a "
        "terminal of 40 columns and 12 rows or more the figures are large and nothing scrolls; no colour "
        "is needed. With --lines, and where the terminal cannot place its cursor (TERM) or there is "
        "none, all goes by lines, each key with Enter, so that it works with a screen reader and in a "
        "log.\n\n"
        "Every key is on the disk before the next, in the journal beside the file: a day that is "
        "cut off goes on at the same rung when the "
        "command is given again. A part is written into the file as record would, with date, "
        "duration and, with --by, who pulled it. "
        "u goes a rung back and, from the first rung, takes back the part before if it was pulled in this "
        "session; "
        "holdfast undo takes back any. No working load is told "
        "before all is pulled: holdfast assess does.",
    .groups = groups,
    .options_size = sizeof(day_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
