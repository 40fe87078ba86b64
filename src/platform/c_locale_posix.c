#include "platform/c_locale.h"

#include <locale.h>
#include <stdio.h>

bool hf_c_locale_enter(hf_c_locale *scope) {
    locale_t c = newlocale(LC_ALL_MASK, "C", (locale_t)0); /* no allocation in the common C libraries */
    if (c == (locale_t)0) return false;
    *scope = (hf_c_locale){c, uselocale(c)};
    return true;
}

void hf_c_locale_leave(hf_c_locale *scope) {
    (void)uselocale((locale_t)scope->before);
    freelocale((locale_t)scope->c);
}

int hf_c_locale_format(char *out, size_t size, const char *format, va_list arguments) {
    hf_c_locale scope;
    if (!hf_c_locale_enter(&scope)) return -1;
    int length = vsnprintf(out, size, format, arguments);
    hf_c_locale_leave(&scope);
    return length;
}
