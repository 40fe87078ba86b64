#include "holdfast/base/memory.h"

#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>

static atomic_size_t refusals;

void hf_memory_count_refusal(void) {
    atomic_fetch_add(&refusals, 1);
}

size_t hf_memory_refusals(void) {
    return atomic_load(&refusals);
}

static void *counted(void *piece) {
    if (!piece) hf_memory_count_refusal();
    return piece;
}

void *hf_memory_take(size_t count, size_t size) {
    if (size && count > SIZE_MAX / size) return counted(NULL);
    size_t bytes = count * size;
    return counted(malloc(bytes ? bytes : 1));
}

void *hf_memory_take_zeroed(size_t count, size_t size) {
    if (size && count > SIZE_MAX / size) return counted(NULL);
    return count && size ? counted(calloc(count, size)) : counted(calloc(1, 1));
}

void *hf_memory_resize(void *old, size_t bytes) {
    return counted(realloc(old, bytes));
}

void hf_memory_free(void *piece) {
    free(piece);
}
