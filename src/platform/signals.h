/* Signals, and the files that must not outlive them.
 *
 * Only the program calls hf_platform_prepare; in a library the signals are its host's. Watching a file costs nothing there. */
#ifndef HF_PLATFORM_SIGNALS_H
#define HF_PLATFORM_SIGNALS_H

#include <stddef.h>

/* For the start of a program: a closed pipe and a file that may not grow become errors that are reported; SIGINT, SIGTERM and SIGHUP
 * remove the watched files before they end the program; closed standard streams stay closed to what is read and written there, so
 * that no file can be opened in their place. */
void hf_platform_prepare(void);

/* Has the file removed when a signal ends the program. Returns a ticket for hf_platform_unwatch; more files than there are tickets
 * are not watched. */
size_t hf_platform_watch(const char *path);
void hf_platform_unwatch(size_t ticket);

/* What to call first when a signal ends the program, NULL: nothing. It may only do what a signal handler may. */
void hf_platform_at_signal(void (*call)(void));

#endif
