#include "platform/clock.h"

#include <stdlib.h>
#include <time.h>
#include "platform/clock_zone.h"

/* The zone comes as +0200. */
int32_t hf_platform_zone_minutes(double seconds) {
    time_t moment = (time_t)seconds;
    struct tm local;
    char zone[8];
    if (!localtime_r(&moment, &local) || strftime(zone, sizeof zone, "%z", &local) != 5) return 0;
    int hundreds = (int)strtol(zone, NULL, 10);
    return hundreds / 100 * 60 + hundreds % 100;
}

void hf_platform_wait(double seconds) {
    time_t whole = (time_t)seconds;
    struct timespec rest = {whole, (long)(1e9 * (seconds - (double)whole))};
    (void)nanosleep(&rest, NULL);
}
