/* All that people read about the commands, made from the command records. */
#ifndef HOLDFAST_COMMAND_HELP_H
#define HOLDFAST_COMMAND_HELP_H

#include <stddef.h>
#include "holdfast/base/text.h"
#include "holdfast/command/command.h"

/* The overview of all commands (a list that ends with NULL), `width` columns wide, appended to *out. */
void hf_help_overview(const hf_command *const *commands, size_t width, hf_text *out);

/* --help of one command. */
void hf_help_command(const hf_command *command, size_t width, hf_text *out);

/* "holdfast record FILE PART [options]" */
void hf_help_synopsis(const hf_command *command, hf_text *out);

/* The manual page (roff, man macros), the completion script for a shell, docs/commands.md. */
/* All records as data, "holdfast-help/1": for programs that offer the commands to people. */
void hf_help_json(const hf_command *const *commands, hf_text *out);
void hf_help_man(const hf_command *const *commands, hf_text *out);
void hf_help_completion(const char *shell, hf_text *out);
/* Name of shell `at`, NULL past the last. */
const char *hf_help_shell(size_t at);
void hf_help_markdown(const hf_command *const *commands, hf_text *out);

#endif
