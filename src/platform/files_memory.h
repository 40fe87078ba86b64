/* Where there is no file system (in a browser): files live in memory, put in and taken out by whoever runs the program. */
#ifndef HF_PLATFORM_FILES_MEMORY_H
#define HF_PLATFORM_FILES_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/* Copies the bytes under this name, over what stood there. False when memory has run out. */
bool hf_platform_memory_put(const char *name, const char *bytes, size_t length);

/* File `at` in the order they came; NULL past the last. Name and bytes are the store's, until its next change. */
const char *hf_platform_memory_at(size_t at, const char **bytes, size_t *length);

void hf_platform_memory_forget_all(void);

#endif
