/* What the two ways to compare open pulls share. */
#ifndef HF_COMPARING_OPEN_COMPARE_PRIVATE_H
#define HF_COMPARING_OPEN_COMPARE_PRIVATE_H

#include "holdfast/comparing/open_compare.h"

size_t hf_failures(hf_sample sample); /* exact, closed and below */

/* Derivative of hf_log_likelihood_at in m, with full relative precision where it is small. */
double hf_location_score(const hf_family *family, hf_sample sample, double m, double s);

void hf_open_compare_clear(hf_open_compare *out, bool common_spread);
hf_status hf_open_compare_refuse(hf_open_compare *out, hf_status status, const char *reason);

#endif
