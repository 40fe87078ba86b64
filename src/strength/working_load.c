#include "holdfast/strength/working_load.h"

#include <math.h>
#include "holdfast/numeric/special.h"

double hf_calibration_multiplier(double u, double confidence, double *z) {
    *z = fmax(1.645, hf_normal_quantile_lower(confidence));
    return fmax(0, 1 - *z * u);
}
