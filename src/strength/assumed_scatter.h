/* The bound of a scatter taken as known. */
#ifndef HF_STRENGTH_ASSUMED_SCATTER_H
#define HF_STRENGTH_ASSUMED_SCATTER_H

#include "holdfast/strength/stated_scatter.h"

/* The lower of the normal and the Weibull bound of known scatter, from the lower ends, or (at_middles) from the middles of steps, with
 * the step allowance. Fills a cleared *out of content and confidence. */
hf_status hf_bound_assumed_scatter(hf_sample sample, double cv, bool at_middles, hf_bound *out);

#endif
