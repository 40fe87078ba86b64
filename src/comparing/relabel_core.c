#include "comparing/relabel_core.h"

#include <string.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/numeric/random.h"

enum { DRAWS_A_BLOCK = 4096 };

static bool two_values_at_most(const double *y, size_t n) {
    double other = y[0];
    for (size_t i = 1; i < n; i++) {
        if (y[i] == y[0] || y[i] == other) continue;
        if (other != y[0]) return false;
        other = y[i];
    }
    return true;
}

void hf_relabel_prepare(const double *y, const double *width, size_t n_a, size_t n_b, bool one_sided,
                        hf_relabel_item *items, hf_relabel_problem *problem) {
    size_t n = n_a + n_b;
    double low = y[0], high = y[0], steps = 0;
    hf_relabel_item zero = {0, 0, 0, 0}, first = zero;
    for (size_t i = 1; i < n; i++) {
        low = fmin(low, y[i]);
        high = fmax(high, y[i]);
    }
    double center = 0.5 * (low + high), scale = high > low ? high - low : 1;
    *problem = (hf_relabel_problem){items, n_a, n_b, zero, 0, one_sided, 0};
    for (size_t i = 0; i < n; i++) {
        double value = (y[i] - center) / scale, w = width ? width[i] / scale : 0;
        items[i] = (hf_relabel_item){value, value * value, w * w, w > 0};
        hf_relabel_add(&problem->total, &items[i]);
        if (i < n_a) hf_relabel_add(&first, &items[i]);
        steps += w;
    }
    /* Without steps only two distinct values can leave both groups without scatter; then rounding must not hide the 0. */
    if (steps == 0 && two_values_at_most(y, n)) problem->nothing = 1e-9;
    problem->observed = hf_relabel_statistic(problem, &first);
}

/* --- Full enumeration: a tree over ascending indices; sums are built from the root, so no rounding piles up. --- */

typedef struct branch {
    const hf_relabel_problem *problem;
    uint64_t enough;
    hf_relabel_count count;
} branch;

static void descend(branch *b, size_t missing, size_t start, const hf_relabel_item *sum) {
    const hf_relabel_problem *p = b->problem;
    size_t n = p->n_a + p->n_b;
    for (size_t i = start; i + missing <= n && b->count.extreme < b->enough; i++) {
        hf_relabel_item next = *sum;
        hf_relabel_add(&next, &p->items[i]);
        if (missing > 1)
            descend(b, missing - 1, i + 1, &next);
        else
            hf_relabel_judge(p, hf_relabel_statistic(p, &next), &b->count);
    }
}

static void merge(hf_relabel_count *into, const hf_relabel_count *part) {
    into->total += part->total;
    into->extreme += part->extreme;
    if (part->largest > into->largest * (1 + 2 * HF_SAME)) {
        into->largest = part->largest;
        into->at_largest = part->at_largest;
    } else if (part->largest >= into->largest * (1 - 2 * HF_SAME)) {
        into->at_largest += part->at_largest;
    }
}

/* With equal groups each sharing-out and its mirror give the same |statistic|: only those with the first pull in A are gone
 * through and every count is doubled. */
static bool mirrored(const hf_relabel_problem *p) {
    return p->n_a == p->n_b && !p->one_sided;
}

static void unfold(const hf_relabel_problem *p, hf_relabel_count *count) {
    if (!mirrored(p)) return;
    count->total *= 2;
    count->extreme *= 2;
    count->at_largest *= 2;
}

typedef struct enumeration {
    const hf_relabel_problem *problem;
    hf_relabel_count *parts; /* one per pair of first two indices */
} enumeration;

static void enumerate_block(size_t block, int worker, void *context) {
    const enumeration *e = context;
    const hf_relabel_problem *p = e->problem;
    size_t n = p->n_a + p->n_b, first = block / n, second = block % n;
    branch b = {p, UINT64_MAX, {0, 0, 0, 0}};
    (void)worker;
    if (second > first && !(mirrored(p) && first > 0)) {
        hf_relabel_item sum = p->items[first];
        hf_relabel_add(&sum, &p->items[second]);
        if (p->n_a == 2)
            hf_relabel_judge(p, hf_relabel_statistic(p, &sum), &b.count);
        else
            descend(&b, p->n_a - 2, second + 1, &sum);
    }
    e->parts[block] = b.count;
}

hf_status hf_relabel_count_all(const hf_relabel_problem *problem, hf_relabel_count *count) {
    size_t n = problem->n_a + problem->n_b, blocks = mirrored(problem) ? n : n * n;
    enumeration e = {problem, hf_memory_take_zeroed(blocks, sizeof *e.parts)};
    if (!e.parts) return HF_MEMORY;
    hf_parallel_blocks(blocks, enumerate_block, &e);
    *count = (hf_relabel_count){0, 0, 0, 0};
    for (size_t i = 0; i < blocks; i++) merge(count, &e.parts[i]);
    unfold(problem, count);
    hf_memory_free(e.parts);
    return HF_OK;
}

void hf_relabel_count_serial(const hf_relabel_problem *problem, uint64_t enough, hf_relabel_count *count) {
    hf_relabel_item nothing = {0, 0, 0, 0};
    bool half = mirrored(problem);
    branch b = {problem, half ? (enough + 1) / 2 : enough, {0, 0, 0, 0}};
    if (half)
        descend(&b, problem->n_a - 1, 1, &problem->items[0]);
    else
        descend(&b, problem->n_a, 0, &nothing);
    *count = b.count;
    unfold(problem, count);
}

/* --- Random draws: a partial shuffle picks the smaller group; each block has its own stream. --- */

typedef struct drawing {
    const hf_relabel_problem *problem;
    size_t draws;
    uint64_t seed;
    hf_relabel_item *scratch; /* n per worker */
    hf_relabel_count *parts;
} drawing;

/* 0 … n − 1 without bias from 32 random bits (Lemire 2019); n < 2³¹. */
static inline uint32_t pick(uint32_t bits, uint32_t n, hf_random *random) {
    uint64_t product = (uint64_t)bits * n;
    if ((uint32_t)product < n) {
        uint32_t threshold = (uint32_t)(-n) % n;
        while ((uint32_t)product < threshold) product = (hf_random_bits(random) >> 32) * (uint64_t)n;
    }
    return (uint32_t)(product >> 32);
}

static void draw_block(size_t block, int worker, void *context) {
    const drawing *d = context;
    const hf_relabel_problem *p = d->problem;
    size_t n = p->n_a + p->n_b, small = p->n_a < p->n_b ? p->n_a : p->n_b, start = block * DRAWS_A_BLOCK;
    size_t end = start + DRAWS_A_BLOCK < d->draws ? start + DRAWS_A_BLOCK : d->draws;
    hf_relabel_item *deck = d->scratch + n * (size_t)worker;
    hf_relabel_count count = {0, 0, 0, 0};
    hf_random random;
    hf_random_start(&random, d->seed, block);
    memcpy(deck, p->items, n * sizeof *deck);
    for (size_t draw = start; draw < end; draw++) {
        hf_relabel_item sum = {0, 0, 0, 0};
        uint64_t bits = 0;
        for (size_t i = 0; i < small; i++) {
            bits = i % 2 ? bits >> 32 : hf_random_bits(&random);
            size_t j = i + pick((uint32_t)bits, (uint32_t)(n - i), &random);
            hf_relabel_item drawn = deck[j];
            deck[j] = deck[i];
            deck[i] = drawn;
            hf_relabel_add(&sum, &drawn);
        }
        if (small != p->n_a) {
            sum = (hf_relabel_item){p->total.y - sum.y, p->total.square - sum.square,
                                    p->total.width2 - sum.width2, p->total.closed - sum.closed};
        }
        hf_relabel_judge(p, hf_relabel_statistic(p, &sum), &count);
    }
    d->parts[block] = count;
}

hf_status hf_relabel_count_random(const hf_relabel_problem *problem, size_t draws, uint64_t seed,
                                  hf_relabel_count *count) {
    size_t n = problem->n_a + problem->n_b, blocks = (draws + DRAWS_A_BLOCK - 1) / DRAWS_A_BLOCK;
    drawing d = {problem, draws, seed,
                 hf_memory_take_zeroed(n * (size_t)hf_parallel_threads(), sizeof *d.scratch),
                 hf_memory_take_zeroed(blocks ? blocks : 1, sizeof *d.parts)};
    hf_status status = d.scratch && d.parts ? HF_OK : HF_MEMORY;
    if (status == HF_OK) hf_parallel_blocks(blocks, draw_block, &d);
    *count = (hf_relabel_count){0, 0, 0, 0};
    for (size_t i = 0; status == HF_OK && i < blocks; i++) merge(count, &d.parts[i]);
    hf_memory_free(d.scratch);
    hf_memory_free(d.parts);
    return status;
}
