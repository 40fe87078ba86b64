/* The simulation behind holdfast/strength/looks.h, with a stated number of sequences. */
#ifndef HF_STRENGTH_LOOKS_H
#define HF_STRENGTH_LOOKS_H

#include <stdint.h>
#include "holdfast/strength/looks.h"

/* As hf_looks_confidence, always simulated: 4·bases sequences (each base gives four by reflection), bases rounded up to a multiple of 8. */
hf_status hf_looks_simulated(const hf_look_plan *plan, double content, double confidence, size_t bases,
                             hf_look_confidence *out);

/* z of the confidence that each sequence asks for up to and with look i, at asked[i·4·bases + …]: −INFINITY below range[0], range[1] also for
 * all above. bases: a multiple of 8. */
hf_status hf_looks_running(const hf_look_plan *plan, double content, const double range[2], size_t bases,
                           uint64_t seed, double *asked);

/* The committed table, made by tests/tools/make_looks_table.c: looks at first, first + 1 … last. */
enum { HF_LOOKS_FIRST_ROWS = 14, HF_LOOKS_ROWS = 301, HF_LOOKS_CONTENTS = 3, HF_LOOKS_CONFIDENCES = 4 };
extern const double hf_looks_contents[HF_LOOKS_CONTENTS], hf_looks_confidences[HF_LOOKS_CONFIDENCES];
/* Row: first 2 … 15, within it last first + 1 … 30. C′, its error, the worth of plain looks, its error. */
extern const double hf_looks_table[HF_LOOKS_ROWS][HF_LOOKS_CONTENTS][HF_LOOKS_CONFIDENCES][4];

#endif
