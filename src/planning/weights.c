#include "holdfast/planning/weights.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_COUNT = 10000 };
static const int64_t most_value = 1000000000000;

/* One combination of a half. `index` is the mixed-radix number of its counts, least kind first. */
typedef struct combination {
    int64_t sum;
    uint32_t index;
} combination;

typedef struct half {
    size_t kinds[HF_WEIGHT_KINDS]; /* positions in the caller's list */
    size_t kind_count, size;
    combination *sorted;         /* by sum */
    uint16_t *handling, *pieces; /* by index */
} half;

struct hf_weight_search {
    hf_weight_kind kinds[HF_WEIGHT_KINDS];
    size_t count;
    half left, right;
    uint32_t *queue; /* positions of right, for the least in a moving window */
};

/* Kinds in turn to the half with fewer combinations, many-of-a-kind first. */
static hf_status split(hf_weight_search *search) {
    bool used[HF_WEIGHT_KINDS] = {false};
    half *left = &search->left, *right = &search->right;
    left->size = right->size = 1;
    for (size_t round = 0; round < search->count; round++) {
        size_t best = search->count;
        for (size_t i = 0; i < search->count; i++)
            if (!used[i] && (best == search->count || search->kinds[i].count > search->kinds[best].count))
                best = i;
        used[best] = true;
        half *smaller = left->size <= right->size ? left : right;
        smaller->kinds[smaller->kind_count++] = best;
        smaller->size *= (size_t)search->kinds[best].count + 1;
        if (smaller->size > HF_WEIGHT_HALF) return HF_RANGE;
    }
    return HF_OK;
}

static int by_sum(const void *a, const void *b) {
    const combination *one = a, *other = b;
    if (one->sum != other->sum) return one->sum < other->sum ? -1 : 1;
    return one->index < other->index ? -1 : 1;
}

static hf_status list_half(hf_arena *arena, const hf_weight_search *search, half *h) {
    h->sorted = HF_ARENA_NEW_ARRAY(arena, combination, h->size);
    h->handling = HF_ARENA_NEW_ARRAY(arena, uint16_t, h->size);
    h->pieces = HF_ARENA_NEW_ARRAY(arena, uint16_t, h->size);
    if (!h->sorted || !h->handling || !h->pieces) return HF_MEMORY;
    size_t done = 1;
    for (size_t k = 0; k < h->kind_count; k++) {
        const hf_weight_kind *kind = &search->kinds[h->kinds[k]];
        for (size_t c = 1; c <= (size_t)kind->count; c++)
            for (size_t i = 0; i < done; i++) {
                h->sorted[c * done + i].sum = h->sorted[i].sum + (int64_t)c * kind->value;
                h->pieces[c * done + i] = (uint16_t)(h->pieces[i] + c);
            }
        done *= (size_t)kind->count + 1;
    }
    for (size_t i = 0; i < h->size; i++) h->sorted[i].index = (uint32_t)i;
    qsort(h->sorted, h->size, sizeof *h->sorted, by_sum);
    return HF_OK;
}

hf_status hf_weight_search_create(hf_arena *arena, const hf_weight_kind *kinds, size_t count,
                                  hf_weight_search **out) {
    long pieces = 0;
    if (count < 1 || count > HF_WEIGHT_KINDS) return HF_RANGE;
    for (size_t i = 0; i < count; i++) {
        if (kinds[i].value < 1 || kinds[i].value > most_value) return HF_RANGE;
        if (kinds[i].count < 1 || kinds[i].count > MOST_COUNT) return HF_RANGE;
        pieces += kinds[i].count;
    }
    if (pieces > MOST_COUNT) return HF_RANGE;
    hf_weight_search *search = HF_ARENA_NEW(arena, hf_weight_search);
    if (!search) return HF_MEMORY;
    memcpy(search->kinds, kinds, count * sizeof *kinds);
    search->count = count;
    hf_status status = split(search);
    if (status == HF_OK) status = list_half(arena, search, &search->left);
    if (status == HF_OK) status = list_half(arena, search, &search->right);
    if (status != HF_OK) return status;
    search->queue = HF_ARENA_NEW_ARRAY(arena, uint32_t, search->right.size);
    if (!search->queue) return HF_MEMORY;
    *out = search;
    return HF_OK;
}

hf_status hf_weight_largest(const hf_weight_search *search, int64_t limit, int64_t *total) {
    const half *left = &search->left, *right = &search->right;
    if (limit < 0) return HF_NO_RESULT;
    int64_t best = 0;
    size_t j = right->size;
    for (size_t i = 0; i < left->size; i++) {
        while (j > 0 && left->sorted[i].sum + right->sorted[j - 1].sum > limit) j--;
        if (j == 0) break;
        int64_t sum = left->sorted[i].sum + right->sorted[j - 1].sum;
        best = sum > best ? sum : best;
    }
    *total = best;
    return HF_OK;
}

hf_status hf_weight_smallest(const hf_weight_search *search, int64_t above, int64_t *total) {
    const half *left = &search->left, *right = &search->right;
    int64_t best = INT64_MAX;
    size_t j = right->size; /* right sums from j on are large enough for left sum i */
    for (size_t i = 0; i < left->size; i++) {
        while (j > 0 && left->sorted[i].sum + right->sorted[j - 1].sum > above) j--;
        if (j == right->size) continue;
        int64_t sum = left->sorted[i].sum + right->sorted[j].sum;
        best = sum < best ? sum : best;
    }
    *total = best;
    return best < INT64_MAX ? HF_OK : HF_NO_RESULT;
}

/* Handling of every combination of a half, in the order of their indices. */
static void price(const hf_weight_search *search, half *h, const hf_weight_load *now) {
    size_t done = 1;
    h->handling[0] = 0;
    for (size_t k = 0; k < h->kind_count; k++) {
        int hanging = now->count[h->kinds[k]], owned = search->kinds[h->kinds[k]].count;
        for (int c = owned; c >= 0; c--) {
            int moved = c > hanging ? c - hanging : hanging - c;
            for (size_t i = 0; i < done; i++)
                h->handling[(size_t)c * done + i] = (uint16_t)(h->handling[i] + moved);
        }
        done *= (size_t)owned + 1;
    }
}

typedef struct merit {
    int64_t handling, total, pieces;
} merit;

static bool better(merit a, merit b) {
    if (a.handling != b.handling) return a.handling < b.handling;
    if (a.total != b.total) return a.total > b.total;
    return a.pieces < b.pieces;
}

static merit merit_of(const half *h, size_t position) {
    uint32_t index = h->sorted[position].index;
    return (merit){h->handling[index], h->sorted[position].sum, h->pieces[index]};
}

static void unpack(const hf_weight_search *search, const half *h, uint32_t index, hf_weight_load *out) {
    for (size_t k = 0; k < h->kind_count; k++) {
        uint32_t radix = (uint32_t)search->kinds[h->kinds[k]].count + 1;
        out->count[h->kinds[k]] = (int)(index % radix);
        index /= radix;
    }
}

/* Left sums fall, so the window [low − left, high − left] of right sums moves up; the queue holds its positions that are
 * better than all after them. */
static bool walk(hf_weight_search *search, int64_t low, int64_t high, size_t best[2], merit *least) {
    const half *left = &search->left, *right = &search->right;
    size_t entered = 0, head = 0, tail = 0;
    bool found = false;
    for (size_t i = left->size; i-- > 0;) {
        int64_t sum = left->sorted[i].sum;
        for (; entered < right->size && right->sorted[entered].sum + sum <= high; entered++) {
            merit entering = merit_of(right, entered);
            while (tail > head && !better(merit_of(right, search->queue[tail - 1]), entering)) tail--;
            search->queue[tail++] = (uint32_t)entered;
        }
        while (tail > head && right->sorted[search->queue[head]].sum + sum < low) head++;
        if (tail == head) continue;
        merit one = merit_of(left, i), other = merit_of(right, search->queue[head]);
        merit both = {one.handling + other.handling, one.total + other.total, one.pieces + other.pieces};
        if (found && !better(both, *least)) continue;
        found = true;
        *least = both;
        best[0] = left->sorted[i].index;
        best[1] = right->sorted[search->queue[head]].index;
    }
    return found;
}

hf_status hf_weight_next(hf_weight_search *search, const hf_weight_load *now, int64_t low, int64_t high,
                         hf_weight_load *out) {
    merit least = {0};
    size_t best[2] = {0, 0};
    price(search, &search->left, now);
    price(search, &search->right, now);
    if (!walk(search, low, high, best, &least)) return HF_NO_RESULT;
    memset(out, 0, sizeof *out);
    unpack(search, &search->left, (uint32_t)best[0], out);
    unpack(search, &search->right, (uint32_t)best[1], out);
    out->total = least.total;
    out->pieces = (int)least.pieces;
    out->handling = (int)least.handling;
    return HF_OK;
}
