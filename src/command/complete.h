/* What may come next on a command line: for the shells, which ask the program itself. */
#ifndef HF_COMMAND_COMPLETE_H
#define HF_COMMAND_COMPLETE_H

#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/text.h"
#include "holdfast/command/command.h"

/* Appends a line for each thing that words[count − 1], which may be empty, could become: the word, a tab, what it is. The words before
 * it stand behind the program's name. The single line ":file" asks the shell for names of files. Commands, options and choices come from
 * the records, designs and parts from the campaign file of the command line; nothing is ever said on standard error. */
void hf_complete(hf_arena *arena, const hf_command *const *commands, const char *const *words, size_t count,
                 hf_text *out);

#endif
