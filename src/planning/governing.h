/* The bound that the assessment would go by: the chosen law's; with few parts the stated scatter's; where no law has one, the stated
 * scatter's and then the order statistic's. */
#ifndef HF_PLANNING_GOVERNING_H
#define HF_PLANNING_GOVERNING_H

#include "holdfast/strength/stated_scatter.h"

enum { HF_SCATTER_PARTS = 3 }; /* up to so many parts a stated scatter governs */

/* By the stated scatter: of the family, or of the lognormal where a Weibull shape of few degrees of freedom has no proven factor. */
hf_status hf_bound_by_scatter(const hf_family *family, hf_sample sample, const hf_stated_scatter *scatter,
                              double content, double confidence, hf_bound *out);

/* scatter may be NULL. HF_NO_RESULT, or the status of the family's bound, when there is none. */
hf_status hf_governing_bound(const hf_family *family, hf_sample sample, const hf_stated_scatter *scatter,
                             double content, double confidence, hf_bound *out);

/* k of n exact readings by the stated scatter. */
hf_status hf_scatter_factor(const hf_family *family, size_t n, const hf_stated_scatter *scatter,
                            double content, double confidence, double *k);

#endif
