/* What the standard streams lead to. */
#ifndef HF_PLATFORM_TERMINAL_H
#define HF_PLATFORM_TERMINAL_H

#include <stdbool.h>
#include <stddef.h>

/* stream: 0 standard input, 1 standard output, 2 standard error. */
bool hf_platform_is_terminal(int stream);

/* Whether something can be read from standard input, its end included, within so many seconds. */
bool hf_platform_input_within(double seconds);

/* Columns of the terminal on standard output; 0 when it has not said. */
size_t hf_platform_columns(void);

#endif
