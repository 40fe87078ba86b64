/* Memory that is given back all at once.
 *
 * One request (one command, one assessment) takes everything it needs from one arena and frees the
 * arena at the end. Nothing taken from it is freed singly. Sizes are checked for overflow; memory comes
 * zeroed and aligned for any type. Built with HF_ARENA_SINGLE every piece is its own allocation, so that
 * a memory checker sees each one. */
#ifndef HOLDFAST_BASE_ARENA_H
#define HOLDFAST_BASE_ARENA_H

#include <stddef.h>

typedef struct hf_arena hf_arena;

/* A new empty arena, or NULL when memory has run out. Owned by the caller: hf_arena_free. */
hf_arena *hf_arena_create(void);

/* Frees the arena and all that was taken from it. NULL is allowed. */
void hf_arena_free(hf_arena *arena);

/* `count` zeroed elements of `size` bytes, or NULL when count·size overflows or memory has run out.
 * A count of 0 gives a valid pointer to nothing. */
void *hf_arena_array(hf_arena *arena, size_t count, size_t size);

/* A copy of `length` bytes of text with a terminating zero, or NULL. */
char *hf_arena_text(hf_arena *arena, const char *text, size_t length);

/* A formatted text in the arena, or NULL. */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
char *
hf_arena_format(hf_arena *arena, const char *format, ...);

/* Makes all that was taken from `child` part of `arena` and frees the child itself: work done on several threads, each with its
 * own arena, ends in one. child NULL is allowed. */
void hf_arena_adopt(hf_arena *arena, hf_arena *child);

/* Bytes the arena has taken from the system, for benchmarks. */
size_t hf_arena_bytes(const hf_arena *arena);

#define HF_ARENA_NEW(arena, type) ((type *)hf_arena_array((arena), 1, sizeof(type)))
#define HF_ARENA_NEW_ARRAY(arena, type, count) ((type *)hf_arena_array((arena), (count), sizeof(type)))

#endif
