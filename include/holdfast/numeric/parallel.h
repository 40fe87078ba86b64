/* Work in blocks on all cores.
 *
 * A job is cut into numbered blocks; each block does its own part with its own random stream and writes to its own place, so
 * any number of threads gives the same bits. */
#ifndef HOLDFAST_NUMERIC_PARALLEL_H
#define HOLDFAST_NUMERIC_PARALLEL_H

#include <stddef.h>

/* Threads used by all parallel work: 0 means as many as there are cores (default). Set once at start. */
void hf_parallel_set_threads(int threads);
int hf_parallel_threads(void);

/* Progress of long work: called at most every 0.1 s with done/total in [0, 1], from one thread at a time. NULL: none. */
typedef void (*hf_progress_function)(double done, void *context);
void hf_parallel_set_progress(hf_progress_function function, void *context);

/* Calls work(block, context) once for each block in 0 … blocks − 1, in any order, possibly at once.
 * worker is in 0 … hf_parallel_threads() − 1 and tells whose scratch memory may be used. */
typedef void (*hf_parallel_function)(size_t block, int worker, void *context);
void hf_parallel_blocks(size_t blocks, hf_parallel_function work, void *context);

#endif
