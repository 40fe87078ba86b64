/* Bounds of samples with open observations, and what bound.c shares with it. */
#ifndef HF_STRENGTH_OPEN_BOUND_H
#define HF_STRENGTH_OPEN_BOUND_H

#include "holdfast/strength/bound.h"

/* Fills a cleared *out for a sample with first-rung failures, run-outs or rig failures. */
hf_status hf_bound_open(const hf_family *family, hf_sample sample, hf_bound *out);

void hf_bound_clear(hf_bound *out, const hf_family *family, double content, double confidence);
hf_status hf_bound_refuse(hf_bound *out, hf_bound_reason reason);
/* Why a factor was not given. */
hf_bound_reason hf_bound_factor_reason(hf_status status);

#endif
