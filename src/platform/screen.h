/* The whole terminal as a screen of characters, by the terminal's own description in terminfo.
 *
 * What is put on the screen shows at hf_platform_screen_show, and only where it differs from what stands there. A signal that ends the
 * program gives the terminal back first. Texts are UTF-8 and hold no control characters. */
#ifndef HF_PLATFORM_SCREEN_H
#define HF_PLATFORM_SCREEN_H

#include <stdbool.h>
#include <stddef.h>

enum { /* what hf_platform_screen_key returns beside the bytes that were typed */
       HF_SCREEN_NOTHING = -1,
       HF_SCREEN_RESIZED = -2,
       HF_SCREEN_ENDED = -3, /* the input has ended */
       HF_SCREEN_ENTER = '\n',
       HF_SCREEN_ERASE = '\b',
       HF_SCREEN_ESCAPE = 27
};

/* False when the streams are no terminal, or it is one that cannot place its cursor. */
bool hf_platform_screen_open(void);
void hf_platform_screen_close(void);

void hf_platform_screen_size(size_t *columns, size_t *rows);
void hf_platform_screen_clear(void);
/* What lies outside the screen is left out. strong: stands out without colour. The cursor stays behind the text. */
void hf_platform_screen_put(size_t row, size_t column, const char *text, bool strong);
void hf_platform_screen_show(void);
void hf_platform_screen_bell(void);

/* The next key; waits for it so many seconds. Function keys are left out. */
int hf_platform_screen_key(double seconds);

#endif
