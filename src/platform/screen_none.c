/* Built without a terminal library: there is no screen, and whoever asks for one goes by lines. */
#include "platform/screen.h"

bool hf_platform_screen_open(void) {
    return false;
}

void hf_platform_screen_close(void) {}

void hf_platform_screen_size(size_t *columns, size_t *rows) {
    *columns = *rows = 0;
}

void hf_platform_screen_clear(void) {}

void hf_platform_screen_put(size_t row, size_t column, const char *text, bool strong) {
    (void)row, (void)column, (void)text, (void)strong;
}

void hf_platform_screen_show(void) {}

void hf_platform_screen_bell(void) {}

int hf_platform_screen_key(double seconds) {
    (void)seconds;
    return HF_SCREEN_ENDED;
}
