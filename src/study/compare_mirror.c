/* A pair is worked out once, in the order of its data; read from the other side it is the same pair in a mirror. */
#include <math.h>
#include <string.h>
#include "holdfast/strength/sample.h"
#include "study/compare_parts.h"
#include "study/event.h"

static int order_of(double a, double b) {
    return (a > b) - (a < b);
}

static int order_of_scatter(const hf_scatter *a, const hf_scatter *b) {
    if (a->given != b->given) return a->given ? 1 : -1;
    if (!a->given) return 0;
    int order = order_of(a->cv, b->cv);
    return order ? order : order_of(a->degrees_of_freedom, b->degrees_of_freedom);
}

static bool is_turned(const hf_compare_pair_request *request) {
    const hf_comparison_design *a = request->a, *b = request->b;
    int order = hf_sample_order(a->sample, b->sample);
    if (!order) order = order_of_scatter(&a->design->scatter, &b->design->scatter);
    if (!order) order = hf_compare_names(a->design->id, b->design->id);
    return order > 0;
}

static void swap(double *a, double *b) {
    double kept = *a;
    *a = *b;
    *b = kept;
}

static void swap_counts(size_t *a, size_t *b) {
    size_t kept = *a;
    *a = *b;
    *b = kept;
}

/* An interval of ratios from the other side. */
static void invert(double *ratio, double *low, double *high) {
    swap(low, high);
    *ratio = 1 / *ratio;
    *low = 1 / *low;
    *high = 1 / *high;
}

/* x becomes from − x, also at the ends; 0 stays +0. */
static void reflect(double from, double *middle, double *low, double *high) {
    swap(low, high);
    *middle = from - *middle;
    *low = from - *low;
    *high = from - *high;
}

static void mirror_open(hf_open_compare *open) {
    swap(&open->m_a, &open->m_b);
    swap(&open->s_a, &open->s_b);
    open->difference = 0 - open->difference;
    invert(&open->ratio, &open->low, &open->high);
}

static void mirror_quantile(hf_quantile_difference *quantile) {
    swap(&quantile->quantile_a, &quantile->quantile_b);
    reflect(0, &quantile->difference, &quantile->difference_low, &quantile->difference_high);
    invert(&quantile->ratio, &quantile->ratio_low, &quantile->ratio_high);
}

void hf_compare_mirror(hf_comparison_pair *pair) {
    invert(&pair->ratio, &pair->low, &pair->high);
    pair->t = 0 - pair->t;
    swap_counts(&pair->batches_a, &pair->batches_b);
    pair->relabel.statistic = 0 - pair->relabel.statistic;
    reflect(0, &pair->games_howell.difference, &pair->games_howell.low, &pair->games_howell.high);
    pair->games_howell.t = 0 - pair->games_howell.t;
    mirror_open(&pair->separate);
    mirror_quantile(&pair->quantile);
    pair->outlasts.statistic = 0 - pair->outlasts.statistic;
    reflect(1, &pair->outlasts.chance, &pair->outlasts.low, &pair->outlasts.high);
    pair->fitted_chance = 1 - pair->fitted_chance;
    swap(&pair->least, &pair->most);
    pair->least = 1 - pair->least;
    pair->most = 1 - pair->most;
}

/* Copies of both designs whose loads are joined over the two: ties between designs are as real as within one. */
static hf_status join(hf_arena *arena, const hf_comparison_design *a, const hf_comparison_design *b,
                      hf_comparison_design *both) {
    size_t n_a = a->sample.count, n_b = b->sample.count;
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, n_a + n_b);
    if (!items) return HF_MEMORY;
    if (n_a) memcpy(items, a->sample.items, n_a * sizeof *items);
    if (n_b) memcpy(items + n_a, b->sample.items, n_b * sizeof *items);
    if (hf_sample_join_neighbours(items, n_a + n_b) != HF_OK) return HF_MEMORY;
    both[0] = *a;
    both[1] = *b;
    both[0].sample = (hf_sample){items, n_a};
    both[1].sample = (hf_sample){items + n_a, n_b};
    return HF_OK;
}

hf_status hf_compare_in_order(hf_arena *arena, hf_compare_pair_request *request, bool *turned) {
    hf_comparison_design *both = HF_ARENA_NEW_ARRAY(arena, hf_comparison_design, 2);
    if (!both || join(arena, request->a, request->b, both) != HF_OK) return HF_MEMORY;
    request->a = &both[0];
    request->b = &both[1];
    *turned = is_turned(request);
    if (!*turned) return HF_OK;
    request->a = &both[1];
    request->b = &both[0];
    return HF_OK;
}
