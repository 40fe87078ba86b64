#include "planning/spread.h"

#include <math.h>
#include "holdfast/numeric/vector.h"

static double quantile(const double *sorted, size_t count, double p) {
    double place = p * (double)(count - 1);
    size_t below = (size_t)place;
    if (below + 1 >= count) return sorted[count - 1];
    double share = place - (double)below, low = sorted[below], high = sorted[below + 1];
    return share > 0 && isfinite(low) ? low + share * (high - low) : low;
}

hf_spread hf_spread_of(double *values, size_t count, double required) {
    hf_spread out = {.mean = NAN, .mean_error = NAN, .reached = NAN, .reached_error = NAN};
    size_t missing = 0, reached = 0;
    double deviation, size = (double)count;
    hf_vector_sort(values, count);
    while (missing < count && isinf(values[missing])) missing++;
    out.missing = (double)missing / size;
    if (count - missing > 1) {
        hf_vector_mean_sd(values + missing, count - missing, &out.mean, &deviation);
        out.mean_error = deviation / sqrt((double)(count - missing));
    }
    out.low = quantile(values, count, 0.1);
    out.middle = quantile(values, count, 0.5);
    out.high = quantile(values, count, 0.9);
    if (isnan(required)) return out;
    for (size_t i = missing; i < count; i++) reached += values[i] >= required;
    out.reached = (double)reached / size;
    out.reached_error = sqrt(fmax(out.reached * (1 - out.reached), 1 / size) / size);
    return out;
}
