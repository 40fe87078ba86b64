#include "holdfast/base/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void hf_error_clear(hf_error *error) {
    if (error) memset(error, 0, sizeof *error);
}

hf_status hf_error_set(hf_error *error, hf_status status, const char *format, ...) {
    va_list arguments;
    if (!error) return status;
    hf_error_clear(error);
    error->status = status;
    va_start(arguments, format);
    (void)vsnprintf(error->message, sizeof error->message, format, arguments);
    va_end(arguments);
    return status;
}
