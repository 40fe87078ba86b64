/* Random numbers that are the same on every machine and any number of threads.
 *
 * The generator is explicit: a seed and a stream number give one independent sequence, and a
 * simulation gives every block of replicates its own stream, so the result does not depend on which
 * thread did the block. Generator: xoshiro256++ (Blackman & Vigna 2019), state from SplitMix64 over (seed, stream). */
#ifndef HOLDFAST_NUMERIC_RANDOM_H
#define HOLDFAST_NUMERIC_RANDOM_H

#include <stddef.h>
#include <stdint.h>

#define HF_RANDOM_NAME "xoshiro256++"

typedef struct hf_random {
    uint64_t state[4];
} hf_random;

void hf_random_start(hf_random *random, uint64_t seed, uint64_t stream);
uint64_t hf_random_bits(hf_random *random);
double hf_random_uniform(hf_random *random); /* in (0, 1), never 0 or 1 */
double hf_random_binomial(hf_random *random, double n,
                          double p); /* successes of n (whole, below 2^53), each with chance p */
uint64_t hf_random_below(hf_random *random, uint64_t n); /* 0 … n − 1, unbiased, n ≥ 1 */

/* Arrays; the vectorised kernels do the work. Each value uses exactly one draw. */
void hf_random_fill_uniform(hf_random *random, double *out, size_t count);
void hf_random_fill_normal(hf_random *random, double *out,
                           size_t count); /* by inverse distribution function */
void hf_random_fill_sev(hf_random *random, double *out,
                        size_t count); /* standard smallest extreme value, ln(−ln u) */

#endif
