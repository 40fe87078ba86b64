/* The one thing of a clock that each system has in its own way. */
#ifndef HF_PLATFORM_CLOCK_ZONE_H
#define HF_PLATFORM_CLOCK_ZONE_H

#include <stdint.h>

/* Minutes that the clocks of this place are ahead of UTC at that moment, in seconds since 1970; 0 where nothing is known. */
#ifdef __wasm__
__attribute__((import_module("holdfast"), import_name("zone_minutes"))) extern
#endif
    int32_t
    hf_platform_zone_minutes(double seconds);

#endif
