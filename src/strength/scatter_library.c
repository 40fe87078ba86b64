#include "holdfast/strength/scatter_library.h"

#include <math.h>
#include "holdfast/numeric/special.h"

static double centred(const hf_earlier_scatter *one) {
    double half = 0.5 * one->degrees_of_freedom;
    return 2 * log(one->s) - hf_digamma(half) + log(half);
}

hf_status hf_scatter_library_of(const hf_earlier_scatter *earlier, size_t designs, hf_scatter_library *out) {
    double mean = 0, squares = 0, expected = 0, degrees = 0, pooled = 0, size = (double)designs;
    *out = (hf_scatter_library){designs, NAN, NAN, NAN, NAN, NAN, false};
    if (designs < 2) return HF_RANGE;
    for (size_t j = 0; j < designs; j++) {
        double s = earlier[j].s, nu = earlier[j].degrees_of_freedom;
        if (!(s > 0 && isfinite(s) && nu > 0 && isfinite(nu))) return HF_RANGE;
        /* Welford's update of mean and sum of squares. */
        double e = centred(&earlier[j]), away = e - mean;
        mean += away / ((double)j + 1);
        squares += away * (e - mean);
        expected += hf_trigamma(0.5 * nu) / size;
        degrees += nu;
        pooled += nu * s * s;
    }
    out->parts = degrees + size;
    out->excess = squares / (size - 1) - expected;
    out->degrees_estimated = out->excess > 0 ? 2 * hf_trigamma_inverse(out->excess) : INFINITY;
    if (isnan(out->degrees_estimated)) return HF_NUMERIC;
    out->degrees = fmin(out->degrees_estimated, size);
    out->differ = out->degrees_estimated < size;
    out->s = sqrt(pooled / degrees);
    return HF_OK;
}

hf_status hf_scatter_of_designs(const hf_earlier_scatter *earlier, size_t designs,
                                hf_scatter_library *library, hf_stated_scatter *out) {
    *library = (hf_scatter_library){0};
    *out = (hf_stated_scatter){0};
    if (designs == 1) {
        out->degrees_of_freedom = earlier->degrees_of_freedom;
        out->pooled =
            (hf_past_scatter){earlier->s, hf_scatter_degrees(earlier->degrees_of_freedom, 1), false};
    } else {
        hf_status status = hf_scatter_library_of(earlier, designs, library);
        if (status != HF_OK) return status;
        out->degrees_of_freedom = library->degrees;
        out->pooled = (hf_past_scatter){library->s, library->degrees, true};
    }
    out->cv = hf_cv_of_scatter(out->pooled.s0);
    return out->cv > 0 ? HF_OK : HF_RANGE;
}
