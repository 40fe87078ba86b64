/* The smallest-extreme-value law in lanes and the Weibull factor. */
#ifndef HF_STRENGTH_WEIBULL_H
#define HF_STRENGTH_WEIBULL_H

#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"

hf_status hf_weibull_estimate(const double *y, size_t n, double *m, double *s);
hf_status hf_weibull_estimate_counted(const double *y, const double *count, size_t n, double *m, double *s);
void hf_weibull_estimate_lanes(const double *y, size_t n, double *work, double *m, double *s);
void hf_weibull_log_tails(const double *z, double *log_lower, double *log_upper, size_t count);

/* Coefficient of variation of strength with scale of logarithms `spread`. NaN where it is not above 0. */
double hf_weibull_cv(double spread);

/* w(n, P, C) from the shipped table, HF_NO_RESULT beyond it; n = 2 exactly. */
hf_status hf_weibull_factor(size_t n, double content, double confidence, double *w, double *standard_error);
hf_status hf_weibull_factor_of_two(double content, double confidence, double *w);
hf_factor_reach hf_weibull_reach(void);

/* m and s estimates of `count` (a multiple of HF_LANES) standard samples of size n, drawn in blocks of HF_WEIBULL_BLOCK
 * with one random stream each. */
enum { HF_WEIBULL_BLOCK = 8192 };
hf_status hf_weibull_pivots(size_t n, size_t count, uint64_t seed, double *m, double *s);

/* w from pivots: selects the `confidence` quantile of (m − q)/s into *w and its standard error. scratch has `count` places. */
void hf_weibull_factor_of_pivots(const double *m, const double *s, size_t count, double content,
                                 double confidence, double *scratch, double *w, double *standard_error);

#endif
