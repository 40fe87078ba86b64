/* Searching for the worst true confidence of a bound over steps and ladder places. */
#ifndef HF_TESTS_COVERAGE_STUDY_H
#define HF_TESTS_COVERAGE_STUDY_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/planning/coverage.h"

typedef struct hf_study_search {
    hf_coverage_cell cell; /* step and offset are set by the search */
    const double *steps;   /* in deviations; {0}: continuous readings */
    size_t step_count;
    double offset_from; /* of the first ladder place, in deviations */
    size_t offsets;     /* ladder places in each step */
    size_t samples;     /* of the first look at each cell */
    size_t refined;     /* of the second look, with a new seed, at the worst cells */
    double floor;       /* what the bound promises */
} hf_study_search;

typedef struct hf_study_worst {
    double coverage, error; /* of the worst cell after the second look */
    double step, offset;
    double given_bound, bound_share; /* of that cell */
    size_t cells;
    bool
        low; /* more than three standard errors below the floor, twice, the second time with at least ten times the samples */
} hf_study_worst;

enum { HF_STUDY_LOOKED_AT_AGAIN = 8 };

/* Ends the program with a message when a cell cannot be simulated. */
hf_study_worst hf_study_find_worst(const hf_study_search *search);

#endif
