#include "campaign/makeable.h"

#include <stdlib.h>
#include "holdfast/base/memory.h"

enum { MOST_SUMS = 200000 };

static int compare_doubles(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static size_t merge_equal(double *sums, size_t count) {
    size_t kept = 0;
    qsort(sums, count, sizeof *sums, compare_doubles);
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || sums[i] - sums[kept - 1] > 1e-9 * sums[i]) sums[kept++] = sums[i];
    return kept;
}

/* All sums with 0 … count of one weight more, none above `most`. 0: more than can be listed. */
static size_t add_weight(const hf_weight *weight, double most, double *sums, size_t start) {
    size_t count = start;
    for (size_t times = 1; times <= weight->count && (double)times * weight->newtons <= most; times++)
        for (size_t i = 0; i < start && sums[i] + (double)times * weight->newtons <= most; i++) {
            if (count == MOST_SUMS) return 0;
            sums[count++] = sums[i] + (double)times * weight->newtons;
        }
    return merge_equal(sums, count);
}

hf_makeable hf_makeable_up_to(const hf_campaign *campaign, double most) {
    hf_makeable made = {NULL, 0};
    if (!campaign->weight_count || campaign->rig.force.records != HF_RIG_RECORDS_ADDED) return made;
    made.sums = hf_memory_take(MOST_SUMS, sizeof *made.sums);
    if (!made.sums) return made;
    made.count = 1;
    made.sums[0] = 0;
    for (size_t k = 0; k < campaign->weight_count && made.count; k++)
        made.count =
            add_weight(&campaign->weights[k], most * (1 + HF_MAKEABLE_TOLERANCE), made.sums, made.count);
    if (!made.count) hf_makeable_free(&made); /* too many to list: no claim is made then */
    return made;
}

void hf_makeable_free(hf_makeable *made) {
    hf_memory_free(made->sums);
    made->sums = NULL;
}

/* The first sum not below the load; count when there is none. */
static size_t find(const hf_makeable *made, double load) {
    size_t low = 0, high = made->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (made->sums[middle] < load)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

bool hf_makeable_is(const hf_makeable *made, double load) {
    size_t at = find(made, load * (1 - HF_MAKEABLE_TOLERANCE));
    return at < made->count && made->sums[at] <= load * (1 + HF_MAKEABLE_TOLERANCE);
}

double hf_makeable_nearest(const hf_makeable *made, double load) {
    size_t at = find(made, load);
    if (at == made->count) return made->sums[at - 1];
    if (at == 0) return made->sums[0];
    return load - made->sums[at - 1] <= made->sums[at] - load ? made->sums[at - 1] : made->sums[at];
}

double hf_all_weights(const hf_campaign *campaign) {
    double sum = 0;
    for (size_t i = 0; i < campaign->weight_count; i++)
        sum += (double)campaign->weights[i].count * campaign->weights[i].newtons;
    return sum;
}
