#include "holdfast/planning/order.h"

#include <stdlib.h>
#include "holdfast/base/arena.h"
#include "holdfast/numeric/random.h"

typedef struct place {
    double key;
    size_t design, batch, part;
} place;

static int by_batch(const void *a, const void *b) {
    const place *one = a, *other = b;
    if (one->design != other->design) return one->design < other->design ? -1 : 1;
    if (one->batch != other->batch) return one->batch < other->batch ? -1 : 1;
    return one->key < other->key ? -1 : one->key > other->key;
}

static int by_design(const void *a, const void *b) {
    const place *one = a, *other = b;
    if (one->design != other->design) return one->design < other->design ? -1 : 1;
    return one->key < other->key ? -1 : one->key > other->key;
}

static int by_key(const void *a, const void *b) {
    const place *one = a, *other = b;
    return one->key < other->key ? -1 : one->key > other->key;
}

/* The parts of a run (same design, and same batch where asked) get one random place in each of its equal sections. */
static void spread(place *places, size_t count, int batches, hf_random *random) {
    for (size_t start = 0, end; start < count; start = end) {
        for (end = start; end < count; end++) {
            if (places[end].design != places[start].design) break;
            if (batches && places[end].batch != places[start].batch) break;
        }
        for (size_t i = start; i < end; i++)
            places[i].key = ((double)(i - start) + hf_random_uniform(random)) / (double)(end - start);
    }
}

hf_status hf_order_random(const hf_order_part *parts, size_t count, uint64_t seed, size_t *order) {
    hf_arena *arena = hf_arena_create();
    place *places = arena ? HF_ARENA_NEW_ARRAY(arena, place, count) : NULL;
    hf_random random;
    if (!places) {
        hf_arena_free(arena);
        return HF_MEMORY;
    }
    hf_random_start(&random, seed, 0);
    for (size_t i = 0; i < count; i++)
        places[i] = (place){hf_random_uniform(&random), parts[i].design, parts[i].batch, i};
    qsort(places, count, sizeof *places, by_batch); /* parts of a batch in random order */
    spread(places, count, 1, &random);
    qsort(places, count, sizeof *places, by_design); /* batches of a design interleaved */
    spread(places, count, 0, &random);
    qsort(places, count, sizeof *places, by_key); /* designs interleaved */
    for (size_t i = 0; i < count; i++) order[i] = places[i].part;
    hf_arena_free(arena);
    return HF_OK;
}
