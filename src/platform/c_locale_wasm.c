#include "platform/c_locale.h"

#include <stdio.h>

/* There is no other. */
bool hf_c_locale_enter(hf_c_locale *scope) {
    *scope = (hf_c_locale){0};
    return true;
}

void hf_c_locale_leave(hf_c_locale *scope) {
    (void)scope;
}

int hf_c_locale_format(char *out, size_t size, const char *format, va_list arguments) {
    return vsnprintf(out, size, format, arguments);
}
