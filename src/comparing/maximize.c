#include "comparing/maximize.h"

#include <math.h>
#include <stdbool.h>

enum { ROUNDS = 200 };

static const double golden = 0.3819660112501051;

typedef struct trio {
    double x, w, v;    /* best, second best, the one before */
    double fx, fw, fv; /* of −function */
} trio;

static double cost(hf_function function, void *context, double x) {
    double value = function(x, context);
    return isnan(value) ? INFINITY : -value;
}

/* Offset from x to the top of the parabola through the three points; NaN when it is of no use. */
static double parabola(const trio *t) {
    double r = (t->x - t->w) * (t->fx - t->fv), q = (t->x - t->v) * (t->fx - t->fw);
    double p = (t->x - t->v) * q - (t->x - t->w) * r, denominator = 2 * (q - r);
    return denominator != 0 && isfinite(p) && isfinite(denominator) ? -p / denominator : NAN;
}

static void keep(trio *t, double u, double fu) {
    if (fu <= t->fx) {
        *t = (trio){u, t->x, t->w, fu, t->fx, t->fw};
    } else if (fu <= t->fw || t->w == t->x) {
        *t = (trio){t->x, u, t->w, t->fx, fu, t->fw};
    } else if (fu <= t->fv || t->v == t->x || t->v == t->w) {
        t->v = u;
        t->fv = fu;
    }
}

double hf_maximize(hf_function function, void *context, double low, double high, double tolerance,
                   double *top) {
    double start = low + golden * (high - low), value = cost(function, context, start), last = 0, before = 0;
    trio t = {start, start, start, value, value, value};
    for (int round = 0; round < ROUNDS; round++) {
        double middle = 0.5 * (low + high);
        if (fabs(t.x - middle) <= 2 * tolerance - 0.5 * (high - low)) break;
        double step = fabs(before) > tolerance ? parabola(&t) : NAN;
        bool good = fabs(step) < fabs(0.5 * before) && t.x + step > low && t.x + step < high;
        before = good ? last : (t.x < middle ? high : low) - t.x;
        if (!good) step = golden * before;
        if (good && (t.x + step - low < 2 * tolerance || high - t.x - step < 2 * tolerance))
            step = copysign(tolerance, middle - t.x);
        last = step;
        double u = t.x + (fabs(step) >= tolerance ? step : copysign(tolerance, step)),
               fu = cost(function, context, u);
        if (fu <= t.fx) {
            if (u < t.x)
                high = t.x;
            else
                low = t.x;
        } else {
            if (u < t.x)
                low = u;
            else
                high = u;
        }
        keep(&t, u, fu);
    }
    if (top) *top = -t.fx;
    return t.x;
}
