#include "platform/clock.h"

#include <string.h>
#include <time.h>

/* The zone comes as +0200. */
void hf_platform_now(char out[26]) {
    time_t now = (time_t)hf_platform_present();
    struct tm local;
    if (!localtime_r(&now, &local) || strftime(out, 26, "%Y-%m-%dT%H:%M:%S%z", &local) != 24)
        (void)strcpy(out, "1970-01-01T00:00:00+0000");
    memmove(out + 23, out + 22, 3);
    out[22] = ':';
}

void hf_platform_wait(double seconds) {
    time_t whole = (time_t)seconds;
    struct timespec rest = {whole, (long)(1e9 * (seconds - (double)whole))};
    (void)nanosleep(&rest, NULL);
}
