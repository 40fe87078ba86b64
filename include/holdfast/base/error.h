/* Where something went wrong, and in which words.
 *
 * The caller owns an hf_error and passes it down; whoever finds the mistake words it: one line,
 * impersonal, naming the thing and the value and saying what was expected. There is no global last
 * error. Passing NULL is always allowed and only loses the words. */
#ifndef HOLDFAST_BASE_ERROR_H
#define HOLDFAST_BASE_ERROR_H

#include <stddef.h>
#include "holdfast/base/status.h"

enum { HF_MESSAGE_SIZE = 480, HF_PATH_SIZE = 200 };

/* A place in a text file. line and column count from 1 (column in characters, not bytes); 0 means "not
 * known". path is the JSON path such as designs[0].specimens[2].held, or empty. */
typedef struct hf_where {
    const char *file; /* borrowed; NULL when no file is concerned */
    size_t line, column;
    char path[HF_PATH_SIZE];
} hf_where;

typedef struct hf_error {
    hf_status status;
    char message[HF_MESSAGE_SIZE];
    hf_where where;
} hf_error;

/* Fills *error (when not NULL) with status and a printf-style message cut at HF_MESSAGE_SIZE, leaves
 * `where` empty, and returns status, so that a caller can write: return hf_error_set(error, …). */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
hf_status
hf_error_set(hf_error *error, hf_status status, const char *format, ...);

/* An hf_error that says nothing: status HF_OK, empty texts. */
void hf_error_clear(hf_error *error);

#endif
