#include "holdfast/numeric/solve.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include "holdfast/base/memory.h"
#include "holdfast/numeric/special.h"
#include "numeric/library.h"

enum { ROOT_STEPS = 200, INTERVALS = 2000 };

typedef struct call {
    hf_function function;
    void *context;
} call;

static double evaluate(double x, void *context) {
    const call *c = context;
    return c->function(x, c->context);
}

/* GSL takes its workspaces itself. */
static hf_status out_of_memory(void) {
    hf_memory_count_refusal();
    return HF_MEMORY;
}

/* Brent's iteration on a bracket that is known to hold a root. */
static hf_status narrow(gsl_root_fsolver *solver, double absolute, double relative, double *out) {
    for (int step = 0; step < ROOT_STEPS; step++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS) return HF_NUMERIC;
        double low = gsl_root_fsolver_x_lower(solver), high = gsl_root_fsolver_x_upper(solver);
        *out = gsl_root_fsolver_root(solver);
        if (fabs(high - low) <= absolute + relative * fabs(*out)) return HF_OK;
    }
    return HF_NUMERIC;
}

hf_status hf_solve_root(hf_function function, void *context, double low, double high, double absolute,
                        double relative, double *out) {
    hf_library_start();
    double at_low = function(low, context), at_high = function(high, context);
    if (isnan(at_low) || isnan(at_high)) return HF_NUMERIC;
    if (at_low == 0.0 || at_high == 0.0) {
        *out = at_low == 0.0 ? low : high;
        return HF_OK;
    }
    if ((at_low < 0.0) == (at_high < 0.0) || !(low < high)) return HF_RANGE;
    call c = {function, context};
    gsl_function wrapped = {evaluate, &c};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (solver == NULL) return out_of_memory();
    hf_status status = HF_NUMERIC;
    if (gsl_root_fsolver_set(solver, &wrapped, low, high) == GSL_SUCCESS)
        status = narrow(solver, absolute, relative, out);
    gsl_root_fsolver_free(solver);
    return status;
}

hf_status hf_integrate(hf_function function, void *context, double low, double high, double absolute,
                       double relative, double *out, double *error_estimate) {
    hf_library_start();
    call c = {function, context};
    gsl_function wrapped = {evaluate, &c};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(INTERVALS);
    if (space == NULL) return out_of_memory();
    double error = 0.0;
    int code;
    if (isinf(low) && isinf(high))
        code = gsl_integration_qagi(&wrapped, absolute, relative, INTERVALS, space, out, &error);
    else if (isinf(low))
        code = gsl_integration_qagil(&wrapped, high, absolute, relative, INTERVALS, space, out, &error);
    else if (isinf(high))
        code = gsl_integration_qagiu(&wrapped, low, absolute, relative, INTERVALS, space, out, &error);
    else
        code = gsl_integration_qag(&wrapped, low, high, absolute, relative, INTERVALS, GSL_INTEG_GAUSS21,
                                   space, out, &error);
    gsl_integration_workspace_free(space);
    if (error_estimate != NULL) *error_estimate = error;
    return code == GSL_SUCCESS && isfinite(*out) ? HF_OK : HF_NUMERIC;
}

/* Legendre polynomial of degree n at x and its derivative. */
static double legendre(size_t n, double x, double *derivative) {
    double before = 1.0, value = x;
    for (size_t k = 2; k <= n; k++) {
        double degree = (double)k;
        double next = ((2.0 * degree - 1.0) * x * value - (degree - 1.0) * before) / degree;
        before = value;
        value = next;
    }
    *derivative = (double)n * (before - x * value) / ((1.0 - x) * (1.0 + x));
    return value;
}

void hf_gauss_legendre(size_t n, double *nodes, double *weights) {
    assert(n >= 1 && n <= 200);
    for (size_t i = 0; i < (n + 1) / 2; i++) {
        double x = cos(HF_PI * ((double)i + 0.75) / ((double)n + 0.5)), slope = 1.0;
        bool is_middle = 2 * i + 1 == n;
        if (is_middle) x = 0.0;
        for (int step = 0; step < 6; step++) {
            double value = legendre(n, x, &slope);
            if (!is_middle) x -= value / slope;
        }
        (void)legendre(n, x, &slope);
        nodes[i] = -x;
        nodes[n - 1 - i] = x;
        weights[i] = weights[n - 1 - i] = 2.0 / ((1.0 - x) * (1.0 + x) * slope * slope);
    }
}
