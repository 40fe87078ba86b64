/* The C library for WebAssembly knows no zones: the page tells. */
#include "platform/clock.h"

void hf_platform_wait(double seconds) {
    (void)seconds;
}
