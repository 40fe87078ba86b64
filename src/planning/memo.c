#include "planning/memo.h"

#include <math.h>

enum { PROBES = 8, NO_STEP = 0xffff };

hf_status hf_bench_memo_start(hf_arena *arena, size_t slots, hf_bench_memo *out) {
    *out = (hf_bench_memo){0};
    if (slots == 0) return HF_OK;
    out->keys = HF_ARENA_NEW_ARRAY(arena, uint16_t, slots * HF_MEMO_PARTS);
    out->values = HF_ARENA_NEW_ARRAY(arena, double, slots);
    out->used = HF_ARENA_NEW_ARRAY(arena, bool, slots);
    if (!out->keys || !out->values || !out->used) return HF_MEMORY;
    out->slots = slots;
    return HF_OK;
}

/* FNV-1a over the step numbers. */
static size_t first_slot(const hf_bench_memo *memo, const uint32_t *steps, size_t n) {
    uint64_t hash = 0xcbf29ce484222325U;
    for (size_t i = 0; i < n; i++) hash = (hash ^ steps[i]) * 0x100000001b3U;
    return (size_t)((hash ^ (hash >> 29)) % memo->slots);
}

/* A key shorter than HF_MEMO_PARTS ends with NO_STEP. */
static bool same(const uint16_t *key, const uint32_t *steps, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (key[i] != steps[i]) return false;
    return n == HF_MEMO_PARTS || key[n] == NO_STEP;
}

bool hf_bench_memo_find(const hf_bench_memo *memo, const uint32_t *steps, size_t n, double *value) {
    size_t slot = first_slot(memo, steps, n);
    for (int probe = 0; probe < PROBES; probe++, slot = (slot + 1) % memo->slots) {
        if (!memo->used[slot]) return false;
        if (!same(memo->keys + slot * HF_MEMO_PARTS, steps, n)) continue;
        *value = memo->values[slot];
        return true;
    }
    return false;
}

void hf_bench_memo_keep(hf_bench_memo *memo, const uint32_t *steps, size_t n, double value) {
    size_t home = first_slot(memo, steps, n), slot = home;
    for (int probe = 0; probe < PROBES && memo->used[slot]; probe++) slot = (slot + 1) % memo->slots;
    if (memo->used[slot]) slot = home;
    uint16_t *key = memo->keys + slot * HF_MEMO_PARTS;
    for (size_t i = 0; i < n; i++) key[i] = (uint16_t)steps[i];
    if (n < HF_MEMO_PARTS) key[n] = NO_STEP;
    memo->used[slot] = true;
    memo->values[slot] = value;
}
