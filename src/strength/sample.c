#include "holdfast/strength/sample.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/vector.h"

bool hf_same_load(double a, double b) {
    return a == b || fabs(a - b) <= HF_SAME * fmax(fabs(a), fabs(b));
}

static int order_of(double a, double b) {
    return (a > b) - (a < b);
}

int hf_observation_order(const hf_observation *a, const hf_observation *b) {
    int lower = order_of(a->lower, b->lower), upper = order_of(a->upper, b->upper);
    if (lower) return lower;
    if (upper) return upper;
    if (a->kind != b->kind) return a->kind < b->kind ? -1 : 1;
    if (a->dropped != b->dropped) return a->dropped ? 1 : -1;
    return (a->batch > b->batch) - (a->batch < b->batch);
}

int hf_sample_order(hf_sample a, hf_sample b) {
    if (a.count != b.count) return a.count < b.count ? -1 : 1;
    for (size_t i = 0; i < a.count; i++) {
        int order = hf_observation_order(&a.items[i], &b.items[i]);
        if (order) return order;
    }
    return 0;
}

bool hf_sample_in_batches(hf_sample sample, bool *several) {
    bool stated = true, more = false;
    for (size_t i = 0; i < sample.count; i++) {
        stated &= sample.items[i].batch >= 0;
        more |= sample.items[i].batch != sample.items[0].batch;
    }
    if (several) *several = stated && more;
    return stated;
}

/* Keeps of ascending ends the lowest of each row of neighbours; *near tells whether any two differed. */
static size_t keep_lowest(double *ends, size_t count, bool *near) {
    size_t kept = 0;
    double last = -1; /* of the row, not the lowest: a row may be long */
    *near = false;
    for (size_t i = 0; i < count; i++) {
        bool same = kept > 0 && ends[i] - last <= HF_SAME * ends[i];
        *near = *near || (same && ends[i] != last);
        last = ends[i];
        if (!same) ends[kept++] = ends[i];
    }
    return kept;
}

/* The highest kept end that is not above the load. */
static double lowest_of_row(const double *kept, size_t count, double load) {
    size_t low = 0, high = count;
    if (!(load > 0) || isinf(load)) return load;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (kept[middle] <= load)
            low = middle;
        else
            high = middle;
    }
    return kept[low];
}

hf_status hf_sample_join_neighbours(hf_observation *items, size_t count) {
    size_t found = 0, kept;
    bool near;
    if (count == 0) return HF_OK;
    if (count > SIZE_MAX / (2 * sizeof(double))) return HF_MEMORY;
    double *ends = hf_memory_take(2 * count, sizeof *ends);
    if (!ends) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) {
        if (items[i].lower > 0) ends[found++] = items[i].lower;
        if (items[i].upper > 0 && isfinite(items[i].upper)) ends[found++] = items[i].upper;
    }
    hf_vector_sort(ends, found);
    kept = keep_lowest(ends, found, &near);
    for (size_t i = 0; near && i < count; i++) {
        items[i].lower = lowest_of_row(ends, kept, items[i].lower);
        items[i].upper = lowest_of_row(ends, kept, items[i].upper);
        if (items[i].kind == HF_INTERVAL_CLOSED && items[i].lower == items[i].upper)
            items[i].kind = HF_INTERVAL_EXACT;
    }
    hf_memory_free(ends);
    return HF_OK;
}

static int by_numbers(const void *a, const void *b) {
    return hf_observation_order(a, b);
}

hf_status hf_sample_settle(hf_observation *items, size_t count) {
    hf_status status = hf_sample_join_neighbours(items, count);
    if (status == HF_OK && count) qsort(items, count, sizeof *items, by_numbers);
    return status;
}
