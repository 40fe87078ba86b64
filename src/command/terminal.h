/* What the terminal is like, and progress on it. */
#ifndef HF_COMMAND_TERMINAL_H
#define HF_COMMAND_TERMINAL_H

#include <stdbool.h>
#include "holdfast/command/command.h"

/* Looks at the three streams and the environment (COLUMNS, TERM, NO_COLOR, CLICOLOR_FORCE). */
void hf_terminal_detect(hf_terminal *terminal);

/* Whether to write colours. wish: "always", "never" or "auto"; to_file: the output goes to a named file. */
bool hf_terminal_color(const hf_terminal *terminal, const char *wish, bool to_file);

/* Progress of long work on stderr, drawn only on a terminal and only after one second. The struct is the
 * caller's and must live until hf_progress_stop. */
typedef struct hf_progress {
    double start_s;
    bool active, drawn;
} hf_progress;

void hf_progress_start(hf_progress *progress, const hf_terminal *terminal);
void hf_progress_stop(hf_progress *progress);

#endif
