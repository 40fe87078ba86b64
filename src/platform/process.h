/* Another program as a filter: text in, bytes out. */
#ifndef HF_PLATFORM_PROCESS_H
#define HF_PLATFORM_PROCESS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum hf_platform_filtered {
    HF_PLATFORM_FILTERED,
    HF_PLATFORM_NO_PROGRAM, /* none of that name is in PATH */
    HF_PLATFORM_NOT_FILTERED
} hf_platform_filtered;

/* Takes a piece of what comes out; false: no more is wanted. */
typedef bool (*hf_platform_take)(void *context, const char *bytes, size_t length);

/* Runs words[0], looked for in PATH, with the words (NULL-terminated) as its arguments, gives it the text and takes what it writes. Its
 * messages go where ours go. HF_PLATFORM_FILTERED only when it ended with 0 and all it wrote was taken. */
hf_platform_filtered hf_platform_filter(const char *const *words, const char *text, size_t length,
                                        hf_platform_take take, void *context);

/* The file that this program runs from; malloc'ed. NULL where the system does not say. */
char *hf_platform_program_file(void);

#endif
