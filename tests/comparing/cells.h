/* Looking for the worst ladder place of a comparison, twice where it seems to break its promise. */
#ifndef HF_TESTS_COMPARING_CELLS_H
#define HF_TESTS_COMPARING_CELLS_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/planning/comparison_coverage.h"

typedef struct hf_cell_search {
    hf_comparison_cell cell; /* offsets are set by the search */
    size_t places;           /* ladder places looked at for each ladder */
    bool apart; /* the two ladders are moved each for itself; false: one ladder, the same place */
    size_t
        samples; /* of the first look; the worst place is looked at again with a new seed and ten times as many */
    double floor; /* coverage that must be kept */
} hf_cell_search;

typedef struct hf_cell_worst {
    hf_comparison_coverage seen; /* second look at the worst place */
    double offset_a, offset_b;
    size_t cells, samples;
    bool low; /* more than three standard errors below the floor, both times */
} hf_cell_worst;

/* Ends the program with a message when a cell cannot be simulated. */
hf_comparison_coverage hf_cell_look(const hf_comparison_cell *cell);
hf_cell_worst hf_cell_find_worst(const hf_cell_search *search);

/* The situations in which methods.md 7 allows 0.90: numbers 2:1 apart with the fewer parts scattering more, or scatters more than 2:1
 * apart (true values). */
bool hf_cell_is_cautioned(const hf_comparison_cell *cell);

#endif
