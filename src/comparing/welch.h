/* What the two ways to a contrast share. */
#ifndef HF_COMPARING_WELCH_H
#define HF_COMPARING_WELCH_H

#include "holdfast/comparing/contrast.h"

void hf_contrast_clear(hf_contrast *out);
hf_status hf_contrast_refuse(hf_contrast *out, hf_contrast_reason reason);

#endif
