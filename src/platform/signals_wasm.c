#include "platform/signals.h"

/* No signal reaches a page. */
void hf_platform_prepare(void) {}

size_t hf_platform_watch(const char *path) {
    (void)path;
    return 0;
}

void hf_platform_unwatch(size_t ticket) {
    (void)ticket;
}
