#include "command/commands.h"
#include "command/common.h"
#include "command/complete.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/command/help.h"

enum { NAME_LIMIT = 32 };

typedef struct help_options {
    hf_option_value json, man, completion, markdown, complete;
    hf_output_values output;
    hf_help_values help;
} help_options;

static hf_status unknown(hf_request *request, const char *word) {
    const char *names[NAME_LIMIT];
    size_t count = 0;
    for (; count < NAME_LIMIT && request->commands[count]; count++)
        names[count] = request->commands[count]->name;
    const char *near = hf_text_nearest(word, names, count);
    return hf_error_set(&request->error, HF_USAGE, "unknown command \"%.60s\"%s%s", word,
                        near ? "; the nearest is " : "; all commands: holdfast help", near ? near : "");
}

static hf_status write_help(hf_request *request, hf_text *text) {
    const help_options *options = request->options;
    size_t used, count = request->argument_count;
    if (options->json.given)
        hf_help_json(request->commands, text);
    else if (options->man.given)
        hf_help_man(request->commands, text);
    else if (options->completion.given)
        hf_help_completion(options->completion.text, text);
    else if (options->markdown.given)
        hf_help_markdown(request->commands, text);
    else if (options->complete.given)
        hf_complete(request->arena, request->commands, request->arguments, count, text);
    else if (count == 0)
        hf_help_overview(request->commands, request->terminal->width, text);
    else {
        const hf_command *command = hf_command_match(request->commands, request->arguments, count, &used);
        if (!command || used != count) return unknown(request, request->arguments[count - 1]);
        hf_help_command(command, request->terminal->width, text);
    }
    return HF_OK;
}

static hf_exit run(hf_request *request) {
    hf_text text = {0};
    if (write_help(request, &text) != HF_OK) return hf_request_fail(request);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = "COMMAND",
                                         .optional = true,
                                         .many = true,
                                         .help = "the command to explain; an overview without it"},
                                        {.name = NULL}};

static const hf_option own_rows[] = {
    {.name = "json",
     .help = "all commands with their arguments, options and examples as data, for a program",
     .offset = offsetof(help_options, json)},
    {.name = "man", .hidden = true, .help = "the manual page", .offset = offsetof(help_options, man)},
    {.name = "completion",
     .type = HF_OPTION_CHOICE,
     .value_name = "SHELL",
     .choice_at = hf_help_shell,
     .hidden = true,
     .help = "the completion script",
     .offset = offsetof(help_options, completion)},
    {.name = "complete",
     .hidden = true,
     .help = "what the last of the words behind -- could become",
     .offset = offsetof(help_options, complete)},
    {.name = "markdown",
     .hidden = true,
     .help = "docs/commands.md",
     .offset = offsetof(help_options, markdown)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_output_rows, offsetof(help_options, output)},
                                         {hf_help_rows, offsetof(help_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {{"holdfast help", "lists all commands"},
                                      {"holdfast help assess", "the same as holdfast assess --help"},
                                      {NULL, NULL}};

const hf_command hf_command_help = {
    .name = "help",
    .summary = "explain the program or one command",
    .arguments = arguments,
    .description = "Without a word lists all commands; with the name of a command explains that one.",
    .groups = groups,
    .options_size = sizeof(help_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
