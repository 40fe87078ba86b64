/* Memory from the system, and whether it ran out.
 *
 * Every piece the library takes singly comes from here, what the JSON reader takes too once hf_json_count_memory has been called. A
 * piece that is refused is counted for the whole process, so that whoever is about to print can ask whether anything was refused since
 * he began: an answer that lacks a part for want of memory is then no answer. A function that cannot go on still says HF_MEMORY.
 * Sizes are in bytes; NULL is the answer when memory has run out or count·size overflows; hf_memory_free takes NULL. Safe from several
 * threads; with several requests at once a refusal is everybody's. */
#ifndef HOLDFAST_BASE_MEMORY_H
#define HOLDFAST_BASE_MEMORY_H

#include <stddef.h>

/* `count` elements of `size` bytes, as they come; and zeroed. A count of 0 gives a valid pointer to nothing. */
void *hf_memory_take(size_t count, size_t size);
void *hf_memory_take_zeroed(size_t count, size_t size);
/* The piece at `old` (NULL: none) with `bytes` > 0 bytes, perhaps elsewhere; on NULL `old` is as it was. */
void *hf_memory_resize(void *old, size_t bytes);
void hf_memory_free(void *piece);

/* Counts a piece that somebody else's library was refused. */
void hf_memory_count_refusal(void);
/* Pieces refused since the process began. */
size_t hf_memory_refusals(void);

#endif
