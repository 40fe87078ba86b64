/* All that people read about the commands, made from the command records. */
#ifndef HOLDFAST_COMMAND_HELP_H
#define HOLDFAST_COMMAND_HELP_H

#include <stddef.h>
#include "holdfast/base/text.h"
#include "holdfast/command/command.h"

/* The overview of all commands, `width` columns wide, appended to *out. */
void hf_help_overview(size_t width, hf_text *out);

/* --help of one command. */
void hf_help_command(const hf_command *command, size_t width, hf_text *out);

/* "holdfast record FILE SPECIMEN [options]" */
void hf_help_synopsis(const hf_command *command, hf_text *out);

/* The manual page (roff, man macros), the bash completion script, docs/commands.md. */
void hf_help_man(hf_text *out);
void hf_help_bash(hf_text *out);
void hf_help_markdown(hf_text *out);

#endif
