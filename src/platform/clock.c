/* What every system's clock has in common. */
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
long long hf_platform_present(void) {
    const char *given = getenv("SOURCE_DATE_EPOCH");
    char *end = NULL;
    long long seconds = given && *given ? strtoll(given, &end, 10) : -1;
    return end && *end == '\0' && seconds >= 0 ? seconds : (long long)time(NULL);
}

void hf_platform_today(char out[11]) {
    char now[26];
    hf_platform_now(now);
    memcpy(out, now, 10);
    out[10] = '\0';
}
