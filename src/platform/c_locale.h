/* printf, strtod and other calls in the C locale, whatever locale the calling program has set.
 *
 * The locale is switched for the calling thread only, so that other threads see nothing of it. */
#ifndef HF_PLATFORM_C_LOCALE_H
#define HF_PLATFORM_C_LOCALE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct hf_c_locale {
    void *c, *before; /* the system's own words for a locale */
} hf_c_locale;

/* False when memory has run out; nothing is switched then. After true, hf_c_locale_leave must follow. */
bool hf_c_locale_enter(hf_c_locale *scope);
void hf_c_locale_leave(hf_c_locale *scope);

/* vsnprintf in the C locale. Negative when it fails. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 0)))
#endif
int hf_c_locale_format(char *out, size_t size, const char *format, va_list arguments);

#endif
