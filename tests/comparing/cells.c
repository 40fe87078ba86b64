#include "comparing/cells.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double twice = 2 - 1e-9;

hf_comparison_coverage hf_cell_look(const hf_comparison_cell *cell) {
    hf_comparison_coverage out;
    hf_status status = hf_comparison_coverage_of(cell, &out);
    if (status == HF_OK) return out;
    fprintf(stderr, "comparison of %zu and %zu, steps %g and %g: %s\n", cell->a.n, cell->b.n, cell->a.step,
            cell->b.step, hf_status_text(status));
    exit(2);
}

static bool is_low(const hf_comparison_coverage *seen, double floor) {
    return seen->coverage + 3 * seen->coverage_error < floor;
}

hf_cell_worst hf_cell_find_worst(const hf_cell_search *search) {
    hf_comparison_cell cell = search->cell, worst = cell;
    hf_cell_worst out = {.seen.coverage = INFINITY};
    size_t places_a = cell.a.step > 0 ? search->places : 1,
           places_b = search->apart && cell.b.step > 0 ? search->places : 1;
    cell.replicates = search->samples;
    for (size_t i = 0; i < places_a; i++)
        for (size_t j = 0; j < places_b; j++, out.cells++) {
            cell.seed = search->cell.seed + out.cells;
            cell.a.offset = cell.a.step * (double)i / (double)places_a;
            cell.b.offset =
                search->apart ? cell.b.step * ((double)j + 0.5) / (double)places_b : cell.a.offset;
            hf_comparison_coverage seen = hf_cell_look(&cell);
            out.samples += seen.replicates;
            if (seen.coverage >= out.seen.coverage) continue;
            out.seen = seen;
            worst = cell;
        }
    bool low = is_low(&out.seen, search->floor);
    worst.seed += 1000003;
    worst.replicates = 10 * search->samples;
    out.seen = hf_cell_look(&worst);
    out.samples += out.seen.replicates;
    out.low = low && is_low(&out.seen, search->floor);
    out.offset_a = worst.a.offset;
    out.offset_b = worst.b.offset;
    return out;
}

bool hf_cell_is_cautioned(const hf_comparison_cell *cell) {
    double n_a = (double)cell->a.n, n_b = (double)cell->b.n, s_a = cell->a.spread, s_b = cell->b.spread;
    bool few_a = n_b >= twice * n_a && s_a > s_b, few_b = n_a >= twice * n_b && s_b > s_a;
    return few_a || few_b || fmax(s_a, s_b) > 2 * fmin(s_a, s_b) * (1 + 1e-9);
}
