/* A small table of bounds by the sorted step numbers of a sample. Forgets when it is full; never wrong. */
#ifndef HF_PLANNING_MEMO_H
#define HF_PLANNING_MEMO_H

#include "planning/bench.h"

hf_status hf_bench_memo_start(hf_arena *arena, size_t slots, hf_bench_memo *out);
bool hf_bench_memo_find(const hf_bench_memo *memo, const uint32_t *steps, size_t n, double *value);
void hf_bench_memo_keep(hf_bench_memo *memo, const uint32_t *steps, size_t n, double value);

#endif
