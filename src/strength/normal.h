/* The standard normal law as functions of z, shared by the normal and the lognormal family. */
#ifndef HF_STRENGTH_NORMAL_H
#define HF_STRENGTH_NORMAL_H

#include <stddef.h>
#include "holdfast/base/status.h"

double hf_standard_normal_quantile_upper(double p);
void hf_standard_normal_log_density(double z, double out[3]);
void hf_standard_normal_log_lower(double z, double out[3]);
void hf_standard_normal_log_upper(double z, double out[3]);
double hf_standard_normal_log_interval(double low, double high);
void hf_standard_normal_curvature(double z, double out[3]);
hf_status hf_mean_deviation_estimate(const double *y, size_t n, double *m, double *s);
/* The same from values with whole counts. */
hf_status hf_mean_deviation_counted(const double *y, const double *count, size_t n, double *m, double *s);
hf_status hf_normal_factor(size_t n, double content, double confidence, double *k, double *standard_error);
double hf_normal_handbook_significance(double a2, size_t n);
void hf_normal_log_tails(const double *z, double *log_lower, double *log_upper, size_t count);
void hf_normal_log_density_sums(const double *y, size_t n, double s, const double *m, double *out,
                                size_t count);
double hf_normal_likelihood_reach(double d, double drop);
void hf_mean_deviation_lanes(const double *y, size_t n, double *work, double *m, double *s);

/* What both families share: the normal law on its working scale. */
#define HF_NORMAL_LAW                                                                                        \
    .mean_z = 0, .deviation_z = 1, .step_allowance = 0.125, .spread_divides_by_n_minus_1 = true,             \
    .lower = hf_normal_lower, .upper = hf_normal_upper, .quantile_upper = hf_standard_normal_quantile_upper, \
    .log_density = hf_standard_normal_log_density, .log_lower = hf_standard_normal_log_lower,                \
    .log_upper = hf_standard_normal_log_upper, .log_interval = hf_standard_normal_log_interval,              \
    .curvature = hf_standard_normal_curvature, .estimate = hf_mean_deviation_estimate,                       \
    .estimate_counted = hf_mean_deviation_counted, .factor = hf_normal_factor,                               \
    .handbook_significance = hf_normal_handbook_significance, .fill = hf_random_fill_normal,                 \
    .estimate_lanes = hf_mean_deviation_lanes, .log_tails = hf_normal_log_tails,                             \
    .log_density_sums = hf_normal_log_density_sums, .likelihood_reach = hf_normal_likelihood_reach

#endif
