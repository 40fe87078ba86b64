#include "holdfast/planning/proof.h"

#include <math.h>
#include <stdbool.h>
#include "holdfast/numeric/special.h"
#include "holdfast/strength/order_statistic.h"

static const double most_parts = 1e6;

static bool inside(double x) {
    return x > 0 && x < 1;
}

/* How many parts one overloaded part stands for: r^β. NaN for arguments outside. */
static double parts_a_pull(const hf_proof *proof) {
    if (proof->overload == 1) return 1;
    bool sound = proof->overload > 1 && isfinite(proof->overload) && proof->shape > 0 && proof->failures == 0;
    return sound ? pow(proof->overload, proof->shape) : NAN;
}

hf_status hf_proof_parts(const hf_proof *proof, size_t *n) {
    double pull = parts_a_pull(proof);
    if (!inside(proof->content) || !inside(proof->confidence) || isnan(pull)) return HF_RANGE;
    double needed = log1p(-proof->confidence) / (pull * log(proof->content));
    if (!(needed < most_parts) || (double)proof->failures > most_parts) return HF_RANGE;
    if (proof->failures > 0) {
        *n = hf_success_run_parts(proof->content, proof->confidence, proof->failures);
        return HF_OK;
    }
    double whole = ceil(needed * (1 - 1e-12)); /* 0.5^2 must count as 0.25 */
    *n = whole < 1 ? 1 : (size_t)whole;
    return HF_OK;
}

hf_status hf_proof_content(const hf_proof *proof, size_t n, double *content) {
    double pull = parts_a_pull(proof), size = (double)n, failed = (double)proof->failures;
    if (!inside(proof->confidence) || isnan(pull) || n < 1) return HF_RANGE;
    if (proof->failures >= n)
        *content = 0;
    else if (proof->failures == 0)
        *content = exp(log1p(-proof->confidence) / (size * pull));
    else
        *content = hf_beta_quantile_lower(1 - proof->confidence, size - failed, failed + 1);
    return HF_OK;
}

hf_status hf_proof_chance(const hf_proof *proof, size_t n, double truth, double *chance) {
    double pull = parts_a_pull(proof), size = (double)n;
    if (!inside(truth) || isnan(pull) || n < 1) return HF_RANGE;
    if (proof->failures == 0)
        *chance = exp(size * pull * log(truth));
    else
        *chance = hf_binomial_at_most((double)proof->failures, size, 1 - truth);
    return HF_OK;
}
