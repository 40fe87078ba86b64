#include "command/commands.h"
#include "command/common.h"

#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/campaign/set.h"

typedef struct add_options {
    hf_option_value name, mean, cv, parts;
    hf_help_values help;
} add_options;

#define VALUE(member) .offset = offsetof(add_options, member)

static const hf_option own_rows[] = {
    {.name = "name",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "the design's name in words",
     VALUE(name)},
    {.name = "mean",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "guess of its mean strength",
     VALUE(mean)},
    {.name = "cv",
     .type = HF_OPTION_NUMBER,
     .value_name = "V",
     .maximum = 1,
     .open_ends = true,
     .help = "guess of its scatter: standard deviation as a share of the mean, such as 0.12 or 12%",
     VALUE(cv)},
    {.name = "parts",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .maximum = 1000,
     .help = "planned parts to write; plan --write adds them by itself where mean and scatter are guessed",
     VALUE(parts)},
    {.name = NULL}};

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    hf_request *request = context;
    const add_options *options = request->options;
    char cv[HF_NUMBER_SIZE];
    const hf_new_design design = {.id = request->arguments[1],
                                  .name = options->name.given ? options->name.text : NULL,
                                  .mean = options->mean.given ? options->mean.text : NULL,
                                  .cv = options->cv.given ? hf_number_shortest(options->cv.number, cv) : NULL,
                                  .parts = (size_t)options->parts.count};
    hf_status status = hf_campaign_add_design(request->arena, now, &design, text, error);
    return status == HF_BAD_DATA ? HF_USAGE : status;
}

static hf_exit run(hf_request *request) {
    const add_options *options = request->options;
    const char *path = request->arguments[0], *id = request->arguments[1];
    if (hf_request_in_place(request) && !*id)
        hf_error_set(&request->error, HF_USAGE, "found \"\" for DESIGN, expected a short id such as ring");
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_campaign_change change = hf_request_change(request, path, edit, request);
    request->error.status = hf_campaign_change_make(request->arena, &change, &request->error);
    if (request->error.status != HF_OK && change.findings.errors)
        return hf_findings_print(request, &change.findings, path);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_request_note_names(request, path, change.names);
    hf_say("%s: %s%s with %zu planned part%s\n", path,
           hf_campaign_design(change.before, id) ? "more of " : "design ", id, (size_t)options->parts.count,
           options->parts.count == 1 ? "" : "s");
    if (options->mean.given && options->cv.given)
        hf_say("next: how many parts and which loads   holdfast plan %s --write\n", path);
    return HF_EXIT_DONE;
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"},
    {.name = "DESIGN", .help = "short id of the new design, or of one that is to get more parts"},
    {.name = NULL}};

static const hf_option_group groups[] = {
    {own_rows, 0}, {hf_help_rows, offsetof(add_options, help)}, {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast add sail.json eyelet --name \"pressed eyelet\" --mean 700N --cv 10%",
     "another design to plan and pull"},
    {"holdfast add sail.json ring --parts 3", "three more planned parts of a design that is there"},
    {NULL, NULL}};

const hf_command hf_command_add = {
    .name = "add",
    .summary = "add a design, or planned parts, to the campaign file",
    .arguments = arguments,
    .description = "Writes one more design at the end of the file, or with --parts more planned parts of one "
                   "that is there. Every other "
                   "byte stays as it was, and holdfast undo takes it back. holdfast set changes what is said "
                   "of a design.",
    .groups = groups,
    .options_size = sizeof(add_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
