#include "platform/clock.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

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

void hf_platform_today(char out[11]) {
    time_t now = present();
    struct tm local;
    if (!localtime_r(&now, &local) || strftime(out, 11, "%Y-%m-%d", &local) != 10)
        (void)strcpy(out, "1970-01-01");
}

/* The zone comes as +0200. */
void hf_platform_now(char out[26]) {
    time_t now = present();
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
