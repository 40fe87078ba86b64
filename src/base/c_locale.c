#include "base/c_locale.h"

#include <stdio.h>

bool hf_c_locale_enter(hf_c_locale *scope) {
    scope->c = newlocale(LC_ALL_MASK, "C", (locale_t)0); /* no allocation in the common C libraries */
    if (scope->c == (locale_t)0) return false;
    scope->before = uselocale(scope->c);
    return true;
}

void hf_c_locale_leave(hf_c_locale *scope) {
    (void)uselocale(scope->before);
    freelocale(scope->c);
}

int hf_c_locale_format(char *out, size_t size, const char *format, va_list arguments) {
    hf_c_locale scope;
    if (!hf_c_locale_enter(&scope)) return -1;
    int length = vsnprintf(out, size, format, arguments);
    hf_c_locale_leave(&scope);
    return length;
}
