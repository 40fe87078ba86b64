/* The null distribution of the Anderson–Darling statistic where many pulls were stepped on few ladders. */
#ifndef HF_STRENGTH_FIT_TEST_CELLS_H
#define HF_STRENGTH_FIT_TEST_CELLS_H

#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

typedef struct hf_cell_job hf_cell_job;

/* Cells of the ladders the pulls were made on, under the law (m, s). *out is NULL where cells do not serve: few pulls, a pull that was
 * read, too many ladders or cells. HF_MEMORY. */
hf_status hf_cell_job_start(hf_arena *arena, const hf_family *family, hf_sample sample, double m, double s,
                            hf_cell_job **out);

/* Draws one sample and tells whether its statistic is at least this; a sample in one cell has none and counts as exceeding. */
bool hf_cell_job_exceeds(hf_cell_job *job, hf_random *random, double least);

#endif
