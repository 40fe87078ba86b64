#include "planning/coverage_library.h"

#include <math.h>
#include "holdfast/numeric/vector.h"
#include "planning/governing.h"

static const double least_load = 1e-6; /* of the mean: a normal law wide enough has parts below 0 */

hf_status hf_coverage_library_check(const hf_coverage_cell *cell) {
    bool ladder = cell->ladder == HF_LADDER_CONTINUOUS || cell->ladder == HF_LADDER_WORKING;
    bool alone = !cell->looks && !cell->batches && cell->designs <= 1;
    bool formula = isnan(cell->method->allowance) && !cell->method->bound;
    if (!ladder || !alone || !formula || !cell->family->log_scale || cell->n < 1 || cell->past_parts < 2)
        return HF_RANGE;
    if (!(cell->past_step >= 0 && cell->past_step <= 10 && cell->past_apart >= 0 && cell->past_apart <= 2))
        return HF_RANGE;
    return cell->stop_share == 0 && cell->first_share == 0 ? HF_OK : HF_RANGE;
}

hf_status hf_coverage_library_start(hf_arena *arena, const hf_coverage_cell *cell, hf_coverage_library *out) {
    size_t most = cell->n > cell->past_parts ? cell->n : cell->past_parts;
    out->earlier = HF_ARENA_NEW_ARRAY(arena, hf_earlier_scatter, cell->past_designs);
    out->y = HF_ARENA_NEW_ARRAY(arena, double, most);
    out->items = HF_ARENA_NEW_ARRAY(arena, hf_observation, cell->n);
    return out->earlier && out->y && out->items ? HF_OK : HF_MEMORY;
}

/* ln load that the share `z` of the law reaches where the design scatters `times` as much. */
static double log_load(const hf_guess *law, double times, double z) {
    if (law->family->log_scale)
        return law->m + law->s * law->family->mean_z + times * law->s * (z - law->family->mean_z);
    return log(fmax(law->m + times * law->s * z, least_load));
}

/* Strengths of one design; how much it scatters against the others. */
static double draw_design(const hf_coverage_cell *cell, const hf_guess *law, hf_random *random, double *y,
                          size_t count) {
    double apart;
    hf_random_fill_normal(random, &apart, 1);
    double times = exp(cell->past_apart * apart);
    law->family->fill(random, y, count);
    for (size_t i = 0; i < count; i++) y[i] = log_load(law, times, y[i]);
    return times;
}

static double deviation_of(const hf_guess *law) {
    return law->family->log_scale ? law->s * law->family->deviation_z : law->deviation;
}

/* The highest rung below; one lies at `base`. */
static double rung_below(double y, double width, double base) {
    return base + width * floor((y - base) / width);
}

static double scatter_of(const double *y, size_t count, double width) {
    double mean, deviation;
    hf_vector_mean_sd(y, count, &mean, &deviation);
    return sqrt(deviation * deviation + width * width / 8);
}

/* Of the earlier designs what the rule takes; false: they show none. */
static bool pool(const hf_coverage_cell *cell, const hf_guess *law, hf_random *random,
                 hf_coverage_library *room, hf_stated_scatter *out) {
    double width = cell->past_step * deviation_of(law);
    hf_scatter_library library;
    for (size_t j = 0; j < cell->past_designs; j++) {
        (void)draw_design(cell, law, random, room->y, cell->past_parts);
        double base = width > 0 ? width * hf_random_uniform(random) : 0;
        for (size_t i = 0; width > 0 && i < cell->past_parts; i++)
            room->y[i] = rung_below(room->y[i], width, base) + 0.5 * width;
        room->earlier[j] =
            (hf_earlier_scatter){scatter_of(room->y, cell->past_parts, width), (double)cell->past_parts - 1};
    }
    return hf_scatter_of_designs(room->earlier, cell->past_designs, &library, out) == HF_OK;
}

static void fill_items(const hf_coverage_cell *cell, const hf_guess *law, hf_coverage_library *room) {
    double width = cell->ladder == HF_LADDER_CONTINUOUS ? 0 : cell->step * deviation_of(law);
    double base = log_load(law, 1, law->family->mean_z) + cell->offset * deviation_of(law);
    for (size_t i = 0; i < cell->n; i++) {
        double low = exp(room->y[i]), high = low;
        if (width > 0) {
            double rung = rung_below(room->y[i], width, base);
            low = exp(rung);
            high = exp(rung + width);
        }
        room->items[i] =
            (hf_observation){width > 0 ? HF_INTERVAL_CLOSED : HF_INTERVAL_EXACT, low, high, false, -1};
    }
}

void hf_coverage_library_count(const hf_coverage_cell *cell, const hf_guess *law, hf_random *random,
                               hf_coverage_library *room, double margin_unit, hf_coverage_counts *out) {
    hf_stated_scatter stated;
    hf_bound bound;
    bool pooled = pool(cell, law, random, room, &stated);
    double times = draw_design(cell, law, random, room->y, cell->n);
    double truth = log_load(law, times, law->family->quantile_upper(cell->content));
    fill_items(cell, law, room);
    out->replicates++;
    const hf_governing_scatter scatter = {pooled ? &stated : NULL, NULL, 0};
    if (hf_governing_bound(cell->family, (hf_sample){room->items, cell->n}, scatter, cell->content,
                           cell->confidence, &bound) != HF_OK ||
        !(bound.value > 0))
        return;
    double log_bound = log(bound.value);
    out->given++;
    out->right += log_bound <= truth;
    out->margin +=
        llrint((log_load(law, times, law->family->mean_z) - log_bound) / deviation_of(law) * margin_unit);
}
