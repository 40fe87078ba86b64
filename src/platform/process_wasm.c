#include "platform/process.h"

#include <stddef.h>

hf_platform_filtered hf_platform_filter(const char *const *words, const char *text, size_t length,
                                        hf_platform_take take, void *context) {
    (void)words;
    (void)text;
    (void)length;
    (void)take;
    (void)context;
    return HF_PLATFORM_NO_PROGRAM;
}

char *hf_platform_program_file(void) {
    return NULL;
}
