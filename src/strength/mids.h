/* The middles and step size of a sample on a family's working scale, as they enter the one formula. */
#ifndef HF_STRENGTH_MIDS_H
#define HF_STRENGTH_MIDS_H

#include <stdbool.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

enum { HF_MIDS_SMALL = 64 };

typedef struct hf_mids {
    double *y; /* middles of exact and closed pulls */
    size_t count;
    double h; /* root mean square of the closed widths, dropped ones doubled; 0 when every pull is exact */
    double small[HF_MIDS_SMALL];
} hf_mids;

/* HF_MEMORY or HF_OK. Free with hf_mids_free. */
hf_status hf_mids_of(const hf_family *family, hf_sample sample, hf_mids *mids);
void hf_mids_free(hf_mids *mids);

#endif
