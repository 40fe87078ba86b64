/* Time: how long something took, which day it is, waiting. */
#ifndef HF_PLATFORM_CLOCK_H
#define HF_PLATFORM_CLOCK_H

/* Seconds since some fixed moment; never set back. */
double hf_platform_seconds(void);

/* In what follows SOURCE_DATE_EPOCH (seconds since 1970) of the environment stands for the present.
 *
 * The day by the clock and zone of this machine, "2026-05-01"; "1970-01-01" when it has none. */
void hf_platform_today(char out[11]);

/* The same with the time, "2026-05-01T10:12:33+02:00". */
void hf_platform_now(char out[26]);

void hf_platform_wait(double seconds);

#endif
