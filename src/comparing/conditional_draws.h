/* Draws of (m, s) given the pulls, block by block, so that those who need only some of them need not keep them all. */
#ifndef HF_COMPARING_CONDITIONAL_DRAWS_H
#define HF_COMPARING_CONDITIONAL_DRAWS_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

enum { HF_DRAWS_A_BLOCK = 4096 };

typedef struct hf_draws hf_draws;

/* In the arena. Statuses of hf_conditional_draws (quantile_difference.h). */
hf_status hf_draws_start(hf_arena *arena, const hf_family *family, hf_sample sample, uint64_t seed,
                         hf_draws **out);
/* How many doubles a worker must lend to hf_draws_block. */
size_t hf_draws_scratch(const hf_draws *draws);
/* The first `count` draws, at most HF_DRAWS_A_BLOCK, of a block. */
void hf_draws_block(const hf_draws *draws, size_t block, size_t count, double *scratch, double *m, double *s);

#endif
