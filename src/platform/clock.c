/* What every system's clock has in common. */
#include "platform/clock.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "platform/clock_zone.h"

double hf_platform_seconds(void) {
    struct timespec now;
    if (clock_gettime(CLOCK_MONOTONIC, &now) != 0) return 0;
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* What is made by a script can be made again to the byte: SOURCE_DATE_EPOCH, seconds since 1970, stands for the present. */
static time_t present(void) {
    const char *given = getenv("SOURCE_DATE_EPOCH");
    char *end = NULL;
    long long seconds = given && *given ? strtoll(given, &end, 10) : -1;
    return end && *end == '\0' && seconds >= 0 ? (time_t)seconds : time(NULL);
}

void hf_platform_now(char out[26]) {
    time_t now = present();
    int minutes = hf_platform_zone_minutes((double)now), ahead = minutes < 0 ? -minutes : minutes;
    time_t shifted = now + 60 * (time_t)minutes;
    struct tm local;
    if (!gmtime_r(&shifted, &local) || strftime(out, 26, "%Y-%m-%dT%H:%M:%S", &local) != 19)
        (void)strcpy(out, "1970-01-01T00:00:00");
    (void)snprintf(out + 19, 7, "%c%02d:%02d", minutes < 0 ? '-' : '+', ahead / 60 % 24, ahead % 60);
}

void hf_platform_today(char out[11]) {
    char now[26];
    hf_platform_now(now);
    memcpy(out, now, 10);
    out[10] = '\0';
}
