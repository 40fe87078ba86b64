/* The bound that the assessment would go by: the stated scatter's, unless the pulls contradict it or are so many that their own leads; else
 * the chosen law's; where no law has one, the order statistic's. */
#ifndef HF_PLANNING_GOVERNING_H
#define HF_PLANNING_GOVERNING_H

#include "holdfast/strength/stated_scatter.h"

/* A stated scatter and, for one with degrees of freedom, its factors by number of parts (NULL: worked out anew each time, as is where it
 * hands over). */
typedef struct hf_governing_scatter {
    const hf_stated_scatter *stated; /* NULL: none */
    const hf_scatter_factors *factors;
    size_t hands_over; /* beside factors; 0: to no number of parts at hand */
} hf_governing_scatter;

/* HF_NO_RESULT, or the status of the family's bound, when there is none. */
hf_status hf_governing_bound(const hf_family *family, hf_sample sample, hf_governing_scatter scatter,
                             double content, double confidence, hf_bound *out);

/* k of n exact readings that are alike, by the stated scatter. */
hf_status hf_stated_factor(size_t n, hf_stated_scatter scatter, double content, double confidence, double *k);

#endif
