/* Finding what a command's record says: the command by its words, its options, its usage, its exit codes. */
#include <stdio.h>
#include <string.h>
#include "holdfast/command/command.h"
#include "holdfast/command/help.h"

enum { NAME_SIZE = 64 };

const char *hf_exit_text(hf_exit code) {
    switch (code) {
#define HF_EXIT_CASE(name, number, meaning)                                                                  \
    case name:                                                                                               \
        return meaning;
        HF_EXIT_LIST(HF_EXIT_CASE)
#undef HF_EXIT_CASE
    }
    return "unknown";
}

static const hf_command *find(const hf_command *const *commands, const char *name) {
    for (; *commands; commands++)
        if (strcmp((*commands)->name, name) == 0) return *commands;
    return NULL;
}

const hf_command *hf_command_match(const hf_command *const *commands, const char *const *words, size_t count,
                                   size_t *used) {
    char pair[NAME_SIZE];
    *used = 0;
    if (count == 0) return NULL;
    if (count > 1) {
        int length = snprintf(pair, sizeof pair, "%s %s", words[0], words[1]);
        const hf_command *command = length > 0 && length < NAME_SIZE ? find(commands, pair) : NULL;
        *used = 2;
        if (command) return command;
    }
    *used = 1;
    return find(commands, words[0]);
}

const hf_option *hf_command_option(const hf_command *command, size_t at, size_t *offset) {
    for (const hf_option_group *group = command->groups; group->rows; group++) {
        for (const hf_option *row = group->rows; row->name; row++) {
            if (at-- > 0) continue;
            if (offset) *offset = group->offset + row->offset;
            return row;
        }
    }
    return NULL;
}

const hf_option *hf_command_option_named(const hf_command *command, const char *name, size_t length,
                                         size_t *offset) {
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(command, at, offset)) != NULL; at++) {
        if (strlen(row->name) == length && memcmp(row->name, name, length) == 0) return row;
    }
    return NULL;
}

const hf_option *hf_command_option_find(const hf_command *command, const char *name, size_t *offset) {
    return hf_command_option_named(command, name, strlen(name), offset);
}

const hf_option *hf_command_option_letter(const hf_command *command, char letter, size_t *offset) {
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(command, at, offset)) != NULL; at++) {
        if (row->letter && row->letter == letter) return row;
    }
    return NULL;
}

void hf_help_synopsis(const hf_command *command, hf_text *out) {
    hf_text_addf(out, "holdfast %s", command->name);
    for (const hf_argument *row = command->arguments; row->name; row++)
        hf_text_addf(out, row->optional ? " [%s%s]" : " %s%s", row->name, row->many ? " ..." : "");
    hf_text_add(out, " [options]");
}
