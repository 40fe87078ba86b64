#include "holdfast/numeric/random.h"

#include <assert.h>
#include "numeric/vector_loops.h"

enum { CHUNK = 256 };

/* SplitMix64 (Steele, Lea & Flood 2014). */
static uint64_t split_mix(uint64_t *x) {
    uint64_t z = *x += 0x9e3779b97f4a7c15U;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31);
}

void hf_random_start(hf_random *random, uint64_t seed, uint64_t stream) {
    uint64_t x = seed;
    x = split_mix(&x) ^ stream; /* for one seed, different streams never start alike */
    for (size_t i = 0; i < 4; i++) random->state[i] = split_mix(&x);
}

static uint64_t rotate_left(uint64_t x, int by) {
    return (x << by) | (x >> (64 - by));
}

static inline uint64_t next_bits(uint64_t s[4]) {
    uint64_t result = rotate_left(s[0] + s[3], 23) + s[0];
    uint64_t shifted = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= shifted;
    s[3] = rotate_left(s[3], 45);
    return result;
}

uint64_t hf_random_bits(hf_random *random) {
    return next_bits(random->state);
}

double hf_random_uniform(hf_random *random) {
    uint64_t bits = next_bits(random->state);
    double out;
    hf_loop_uniform(&bits, &out, 1);
    return out;
}

uint64_t hf_random_below(hf_random *random, uint64_t n) {
    assert(n >= 1);
    uint64_t incomplete = (0U - n) % n; /* values below it would make the first remainders likelier */
    for (;;) {
        uint64_t bits = next_bits(random->state);
        if (bits >= incomplete) return bits % n;
    }
}

typedef void (*transform)(const uint64_t *bits, double *out, size_t count);

HF_VECTOR_CLONES static void to_uniform(const uint64_t *bits, double *out, size_t count) {
    hf_loop_uniform(bits, out, count);
}

HF_VECTOR_CLONES static void to_normal(const uint64_t *bits, double *out, size_t count) {
    double p[CHUNK];
    hf_loop_uniform(bits, p, count);
    hf_loop_normal_quantile(p, out, count);
}

HF_VECTOR_CLONES static void to_sev(const uint64_t *bits, double *out, size_t count) {
    double p[CHUNK];
    hf_loop_uniform(bits, p, count);
    hf_loop_sev_quantile(p, out, count);
}

static void fill(hf_random *random, double *out, size_t count, transform function) {
    hf_random local = *random;
    uint64_t bits[CHUNK];
    for (size_t start = 0; start < count; start += CHUNK) {
        size_t length = count - start < CHUNK ? count - start : CHUNK;
        for (size_t i = 0; i < length; i++) bits[i] = next_bits(local.state);
        function(bits, out + start, length);
    }
    *random = local;
}

void hf_random_fill_uniform(hf_random *random, double *out, size_t count) {
    fill(random, out, count, to_uniform);
}

void hf_random_fill_normal(hf_random *random, double *out, size_t count) {
    fill(random, out, count, to_normal);
}

void hf_random_fill_sev(hf_random *random, double *out, size_t count) {
    fill(random, out, count, to_sev);
}
