/* Lognormal family: the normal law on ln load. */
#include "strength/normal.h"

#include "holdfast/numeric/special.h"
#include "strength/family_records.h"

const hf_family hf_family_lognormal = {
    .name = "lognormal",
    .label = "lognormal",
    .log_scale = true,
    .spread_divides_by_n_minus_1 = true,
    .lower = hf_normal_lower,
    .upper = hf_normal_upper,
    .quantile_upper = hf_standard_normal_quantile_upper,
    .log_density = hf_standard_normal_log_density,
    .log_lower = hf_standard_normal_log_lower,
    .log_upper = hf_standard_normal_log_upper,
    .log_interval = hf_standard_normal_log_interval,
    .curvature = hf_standard_normal_curvature,
    .estimate = hf_mean_deviation_estimate,
    .factor = hf_normal_factor,
    .handbook_significance = hf_normal_handbook_significance,
    .fill = hf_random_fill_normal,
    .estimate_lanes = hf_mean_deviation_lanes,
    .log_tails = hf_normal_log_tails,
    .log_density_sums = hf_normal_log_density_sums,
    .likelihood_reach = hf_normal_likelihood_reach,
};
