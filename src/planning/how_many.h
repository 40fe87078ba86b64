/* The two ways to fill the table of how_many.h. */
#ifndef HF_PLANNING_HOW_MANY_H
#define HF_PLANNING_HOW_MANY_H

#include "holdfast/planning/how_many.h"
#include "planning/bench.h"

enum { HF_LEAST_PARTS = 2 };

/* First n of the table: 1 with a stated scatter. All functions below fill rows[n − first]. */
static inline size_t hf_how_many_first(const hf_how_many_setup *setup) {
    return setup->scatter ? 1 : HF_LEAST_PARTS;
}

/* Continuous readings, law and bound both normal or both lognormal. */
bool hf_how_many_is_closed(const hf_how_many_setup *setup);
hf_status hf_how_many_closed(const hf_how_many_setup *setup, const hf_guess *law, const hf_bench_rule *rule,
                             hf_how_many_row *rows);

hf_status hf_how_many_simulated(hf_arena *arena, const hf_how_many_setup *setup, const hf_bench *bench,
                                size_t replicates, hf_how_many_row *rows);

#endif
