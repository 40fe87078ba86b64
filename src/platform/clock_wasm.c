#include "platform/clock.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

/* Minutes that the clocks here are ahead of UTC at this second; the C library for WebAssembly knows no zones. */
__attribute__((import_module("holdfast"), import_name("zone_minutes"))) extern int32_t
hf_platform_zone_minutes(double seconds);

void hf_platform_now(char out[26]) {
    time_t now = (time_t)hf_platform_present();
    int minutes = hf_platform_zone_minutes((double)now), ahead = minutes < 0 ? -minutes : minutes;
    time_t shifted = now + 60 * (time_t)minutes;
    struct tm local;
    if (!gmtime_r(&shifted, &local) || strftime(out, 26, "%Y-%m-%dT%H:%M:%S", &local) != 19)
        (void)strcpy(out, "1970-01-01T00:00:00");
    (void)snprintf(out + 19, 7, "%c%02d:%02d", minutes < 0 ? '-' : '+', ahead / 60 % 24, ahead % 60);
}

void hf_platform_wait(double seconds) {
    (void)seconds;
}
