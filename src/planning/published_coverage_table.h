/* The rows of part own of the coverage study. */
#ifndef HF_PLANNING_PUBLISHED_COVERAGE_TABLE_H
#define HF_PLANNING_PUBLISHED_COVERAGE_TABLE_H

#include "holdfast/planning/published_coverage.h"

extern const hf_published_coverage hf_published_coverage_table[];
extern const size_t hf_published_coverage_count;

extern const hf_published_open hf_published_open_table[];
extern const size_t hf_published_open_count;

#endif
