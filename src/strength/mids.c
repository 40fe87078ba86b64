#include "strength/mids.h"

#include <math.h>
#include <stdint.h>
#include "holdfast/base/memory.h"

hf_status hf_mids_of(const hf_family *family, hf_sample sample, hf_mids *mids) {
    double squares = 0;
    size_t closed = 0;
    mids->y = mids->small;
    mids->count = 0;
    mids->h = 0;
    if (sample.count > HF_MIDS_SMALL) {
        if (sample.count > SIZE_MAX / sizeof *mids->y) return HF_MEMORY;
        mids->y = hf_memory_take(sample.count, sizeof *mids->y);
        if (!mids->y) return HF_MEMORY;
    }
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        if (item->kind == HF_INTERVAL_EXACT) {
            mids->y[mids->count++] = hf_family_working(family, item->lower);
        } else if (item->kind == HF_INTERVAL_CLOSED) {
            double low = hf_family_working(family, item->lower),
                   high = hf_family_working(family, item->upper);
            double width = (high - low) * (item->dropped ? 2 : 1);
            mids->y[mids->count++] = 0.5 * (low + high);
            squares += width * width;
            closed++;
        }
    }
    if (closed) mids->h = sqrt(squares / (double)closed);
    return HF_OK;
}

void hf_mids_free(hf_mids *mids) {
    if (mids && mids->y != mids->small) hf_memory_free(mids->y);
}
