/* The table of commands, and the way from the program's words to one of them. */
#include "holdfast/command/command.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/command/help.h"
#include "command/commands.h"
#include "command/common.h"
#include "command/terminal.h"

/* In the order of the work. */
const hf_command *const hf_commands[] = {
    &hf_command_new,           &hf_command_add,        &hf_command_set,       &hf_command_check,
    &hf_command_record,        &hf_command_day,        &hf_command_status,    &hf_command_undo,
    &hf_command_history,       &hf_command_import,     &hf_command_export,    &hf_command_plan,
    &hf_command_plan_contrast, &hf_command_plan_proof, &hf_command_plan_next, &hf_command_scatter,
    &hf_command_sheet,         &hf_command_assess,     &hf_command_compare,   &hf_command_factor,
    &hf_command_coverage,      &hf_command_report,     &hf_command_chart,     &hf_command_notebook,
    &hf_command_page,          &hf_command_help,       &hf_command_version,   NULL,
};

enum { COMMANDS = sizeof hf_commands / sizeof *hf_commands - 1 };

static bool wants_help(const char *const *words, size_t count) {
    for (size_t i = 0; i < count && strcmp(words[i], "--") != 0; i++) {
        if (strcmp(words[i], "--help") == 0 || strcmp(words[i], "-h") == 0) return true;
    }
    return false;
}

static hf_exit no_such_command(hf_request *request, const char *word) {
    const char *names[COMMANDS];
    for (size_t at = 0; at < COMMANDS; at++) names[at] = hf_commands[at]->name;
    if (word[0] == '-') {
        hf_error_set(&request->error, HF_USAGE,
                     "found option %.60s first, expected a command; options follow it", word);
        return hf_request_fail(request);
    }
    const char *near = hf_text_nearest(word, names, COMMANDS);
    if (near)
        hf_error_set(&request->error, HF_USAGE, "unknown command \"%.60s\"; the nearest is \"%s\"", word,
                     near);
    else
        hf_error_set(&request->error, HF_USAGE, "unknown command \"%.60s\"; all commands: holdfast help",
                     word);
    return hf_request_fail(request);
}

/* `holdfast`, `holdfast --help`, `holdfast --version`: no command of their own. */
static const char *command_instead(const char *word) {
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0) return "help";
    if (strcmp(word, "--version") == 0) return "version";
    return word;
}

static hf_exit show_help(hf_request *request) {
    hf_text text = {0};
    hf_help_command(request->command, request->terminal->width, &text);
    request->options = hf_arena_array(request->arena, 1, request->command->options_size);
    if (!request->options) text.failed = true;
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static hf_exit run(hf_request *request, const char *const *words, size_t count) {
    if (wants_help(words, count)) return show_help(request);
    if (hf_request_parse(request, words, count) != HF_OK || hf_request_check_output(request) != HF_OK)
        return hf_request_fail(request);
    hf_progress progress;
    hf_progress_start(&progress, request->terminal);
    hf_exit code = request->command->run(request);
    hf_progress_stop(&progress);
    return code;
}

static hf_exit dispatch(hf_request *request, const char **words, size_t count) {
    if (count == 0) {
        hf_text overview = {0};
        hf_help_overview(hf_commands, request->terminal->width, &overview);
        bool whole = !overview.failed;
        if (whole && overview.length) fwrite(overview.bytes, 1, overview.length, stderr);
        hf_text_free(&overview);
        return whole ? HF_EXIT_USAGE : hf_request_fail(request);
    }
    size_t used;
    words[0] = command_instead(words[0]);
    request->command = hf_command_match(hf_commands, words, count, &used);
    if (!request->command) return no_such_command(request, words[0]);
    return run(request, words + used, count - used);
}

int hf_command_main(int count, char *const *words) {
    hf_terminal terminal;
    size_t refusals = hf_memory_refusals();
    hf_terminal_detect(&terminal);
    hf_request request = {.commands = hf_commands,
                          .arena = hf_arena_create(),
                          .terminal = &terminal,
                          .memory_refusals = refusals};
    hf_error_clear(&request.error);
    size_t kept = count > 1 ? (size_t)count - 1 : 0;
    const char **copy = request.arena ? HF_ARENA_NEW_ARRAY(request.arena, const char *, kept + 1) : NULL;
    hf_exit code;
    if (!copy) {
        hf_error_set(&request.error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        code = hf_request_fail(&request);
    } else {
        for (size_t i = 0; i < kept; i++) copy[i] = words[i + 1];
        code = dispatch(&request, copy, kept);
    }
    hf_arena_free(request.arena);
    return code;
}
