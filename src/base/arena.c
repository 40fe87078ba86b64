#include "holdfast/base/arena.h"

#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "platform/c_locale.h"

enum { CHUNK_BYTES = 64 * 1024 };

/* Chunks are never resized, so what was handed out never moves. */
typedef struct chunk {
    struct chunk *next;
    size_t used, size;
    max_align_t bytes[];
} chunk;

struct hf_arena {
    chunk *newest;
    size_t taken;
};

hf_arena *hf_arena_create(void) {
    return hf_memory_take_zeroed(1, sizeof(hf_arena));
}

void hf_arena_free(hf_arena *arena) {
    if (!arena) return;
    for (chunk *at = arena->newest, *next; at; at = next) {
        next = at->next;
        hf_memory_free(at);
    }
    hf_memory_free(arena);
}

static chunk *add_chunk(hf_arena *arena, size_t size) {
    if (size > SIZE_MAX - sizeof(chunk)) return NULL;
    chunk *fresh = hf_memory_take_zeroed(1, sizeof(chunk) + size);
    if (!fresh) return NULL;
    fresh->size = size;
    arena->taken += sizeof(chunk) + size;
    /* A large piece goes behind the newest chunk, whose rest stays in use. */
    if (arena->newest && size > CHUNK_BYTES) {
        fresh->next = arena->newest->next;
        arena->newest->next = fresh;
    } else {
        fresh->next = arena->newest;
        arena->newest = fresh;
    }
    return fresh;
}

void *hf_arena_array(hf_arena *arena, size_t count, size_t size) {
    const size_t grain = sizeof(max_align_t);
    if (size && count > SIZE_MAX / size) return NULL;
    size_t bytes = count * size;
    if (bytes > SIZE_MAX - grain) return NULL;
    bytes = bytes == 0 ? grain : (bytes + grain - 1) / grain * grain;
#ifdef HF_ARENA_SINGLE
    chunk *at = add_chunk(arena, bytes);
    return at ? at->bytes : NULL;
#else
    chunk *at = arena->newest;
    if (!at || at->size - at->used < bytes) at = add_chunk(arena, bytes > CHUNK_BYTES ? bytes : CHUNK_BYTES);
    if (!at) return NULL;
    void *piece = (char *)at->bytes + at->used;
    at->used += bytes;
    return piece;
#endif
}

char *hf_arena_text(hf_arena *arena, const char *text, size_t length) {
    if (length == SIZE_MAX) return NULL;
    char *copy = hf_arena_array(arena, length + 1, 1);
    if (copy && length) memcpy(copy, text, length);
    return copy;
}

char *hf_arena_format(hf_arena *arena, const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = hf_c_locale_format(NULL, 0, format, arguments);
    if (length < 0) hf_memory_count_refusal();
    char *text = length < 0 ? NULL : hf_arena_array(arena, (size_t)length + 1, 1);
    if (text) (void)hf_c_locale_format(text, (size_t)length + 1, format, again);
    va_end(again);
    va_end(arguments);
    return text;
}

void hf_arena_adopt(hf_arena *arena, hf_arena *child) {
    if (!child) return;
    chunk *last = child->newest;
    while (last && last->next) last = last->next;
    if (last && arena->newest) {
        last->next = arena->newest->next;
        arena->newest->next = child->newest;
    } else if (last) {
        arena->newest = child->newest;
    }
    arena->taken += child->taken;
    hf_memory_free(child);
}

size_t hf_arena_bytes(const hf_arena *arena) {
    return arena->taken;
}
