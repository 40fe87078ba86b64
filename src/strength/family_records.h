/* The rows of the family table; one per file. */
#ifndef HF_STRENGTH_FAMILY_RECORDS_H
#define HF_STRENGTH_FAMILY_RECORDS_H

#include "holdfast/strength/family.h"

extern const hf_family hf_family_normal;
extern const hf_family hf_family_lognormal;
extern const hf_family hf_family_weibull;

#endif
