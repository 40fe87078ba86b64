#include "holdfast/base/error.h"

#include <stdarg.h>
#include <string.h>
#include "platform/c_locale.h"

void hf_error_clear(hf_error *error) {
    if (error) memset(error, 0, sizeof *error);
}

hf_status hf_error_set(hf_error *error, hf_status status, const char *format, ...) {
    va_list arguments;
    char message[HF_MESSAGE_SIZE] = "";
    if (!error) return status;
    va_start(arguments, format);
    (void)hf_c_locale_format(message, sizeof message, format,
                             arguments); /* the arguments may lie in *error */
    va_end(arguments);
    hf_error_clear(error);
    error->status = status;
    memcpy(error->message, message, sizeof message);
    return status;
}
