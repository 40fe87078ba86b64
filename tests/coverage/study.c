#include "coverage/study.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct looked_at {
    hf_coverage_cell cell;
    hf_coverage result;
} looked_at;

static hf_coverage look(const hf_coverage_cell *cell) {
    hf_coverage out;
    hf_status status = hf_coverage_of(cell, &out);
    if (status != HF_OK) {
        fprintf(stderr, "coverage: %s n=%zu step %g offset %g: %s\n", cell->truth->name, cell->n, cell->step,
                cell->offset, hf_status_text(status));
        exit(2);
    }
    return out;
}

/* Keeps the worst cells, worst first. */
static void keep(looked_at *worst, size_t *count, const looked_at *one) {
    size_t place = *count;
    while (place > 0 && worst[place - 1].result.coverage > one->result.coverage) place--;
    if (place == HF_STUDY_LOOKED_AT_AGAIN) return;
    if (*count < HF_STUDY_LOOKED_AT_AGAIN) ++*count;
    for (size_t i = *count - 1; i > place; i--) worst[i] = worst[i - 1];
    worst[place] = *one;
}

static bool is_low(const hf_coverage *result, double floor) {
    return result->coverage + 3 * result->standard_error < floor;
}

static size_t first_look(const hf_study_search *search, looked_at *worst, size_t *cells) {
    size_t count = 0;
    for (size_t i = 0; i < search->step_count; i++) {
        size_t offsets = search->steps[i] > 0 ? search->offsets : 1;
        for (size_t j = 0; j < offsets; j++, ++*cells) {
            looked_at one = {.cell = search->cell};
            one.cell.step = search->steps[i];
            one.cell.offset = search->offset_from + search->steps[i] * (double)j / (double)offsets;
            one.cell.replicates = search->samples;
            one.cell.seed += *cells;
            one.cell.ladder_seed = one.cell.seed; /* kept by the second look */
            if (search->steps[i] == 0) one.cell.ladder = HF_LADDER_CONTINUOUS;
            one.result = look(&one.cell);
            keep(worst, &count, &one);
        }
    }
    return count;
}

hf_study_worst hf_study_find_worst(const hf_study_search *search) {
    looked_at worst[HF_STUDY_LOOKED_AT_AGAIN];
    hf_study_worst out = {.coverage = INFINITY};
    size_t count = first_look(search, worst, &out.cells);
    for (size_t i = 0; i < count; i++) {
        bool low = is_low(&worst[i].result, search->floor);
        worst[i].cell.seed += 1000003;
        worst[i].cell.replicates =
            low && search->refined < 10 * search->samples ? 10 * search->samples : search->refined;
        hf_coverage again = look(&worst[i].cell);
        out.low |= low && is_low(&again, search->floor);
        if (again.coverage >= out.coverage) continue;
        out.coverage = again.coverage;
        out.error = again.standard_error;
        out.given_bound = again.given_bound;
        out.bound_share = again.bound_share;
        out.step = worst[i].cell.step;
        out.offset = worst[i].cell.offset;
    }
    return out;
}
