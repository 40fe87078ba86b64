/* The strength laws: normal, lognormal, Weibull.
 *
 * On its working scale y (the load itself for the normal, ln load for the others) each law is
 * Y = m + s·Z with Z standard normal or standard smallest extreme value. Weibull scale η = exp(m), shape
 * β = 1/s. A family is one file, src/strength/<name>.c, and one row of family_list.h; nothing else asks which one it is. */
#ifndef HOLDFAST_STRENGTH_FAMILY_H
#define HOLDFAST_STRENGTH_FAMILY_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/numeric/random.h"
#include "holdfast/strength/family_list.h"

#define HF_FAMILY_ONE(name) +1
enum { HF_FAMILY_COUNT = 0 HF_FAMILY_LIST(HF_FAMILY_ONE), HF_LANES = 8 };
#undef HF_FAMILY_ONE

/* Values, run-outs and first-rung failures on the working scale; see src/strength/conditional.h. */
typedef struct hf_open_data hf_open_data;

/* Contents and confidences, ends included, for which a factor is known. */
typedef struct hf_factor_reach {
    double least_content, most_content, least_confidence, most_confidence;
} hf_factor_reach;

struct hf_family {
    const char *name;  /* "weibull" */
    const char *label; /* "Weibull" */
    bool log_scale;
    /* A of the step allowance A·h² (bound.h). The coverage study decides how little a law needs. */
    double step_allowance;
    bool has_shape; /* shape 1/s and scale exp(m) are its usual parameters */
    bool
        spread_divides_by_n_minus_1; /* `estimate` gives the n − 1 deviation; else the maximum likelihood s */
    /* Mean and standard deviation of Z; for laws of ln load ln E e^{sZ} (INFINITY where there is none) and the s whose load has this
     * coefficient of variation, 0 < cv ≤ 1 (NaN: none). NULL for laws of the load itself. */
    double mean_z, deviation_z;
    double (*log_moment)(double s);
    double (*spread_of_cv)(double cv);
    /* Standard law Z. q(p): value that the share p of all parts exceeds (upper-tail quantile). */
    double (*lower)(double z);
    double (*upper)(double z);
    double (*quantile_upper)(double p);
    /* ln f, ln P(Z ≤ z), ln P(Z > z) with first and second derivative in z: out[0..2]. */
    void (*log_density)(double z, double out[3]);
    void (*log_lower)(double z, double out[3]);
    void (*log_upper)(double z, double out[3]);
    /* ln P(low < Z ≤ high) with full relative precision in both tails; either end may be infinite. */
    double (*log_interval)(double low, double high);
    /* f''/f with first and second derivative: the next term of a narrow interval's probability. */
    void (*curvature)(double z, double out[3]);
    /* Point estimates that enter the one formula, from exact working-scale values y[0..n), n ≥ 2:
     * mean and n − 1 standard deviation, or maximum likelihood for the Weibull. s = 0 when all are equal. */
    hf_status (*estimate)(const double *y, size_t n, double *m, double *s);
    /* The same from values with whole counts (0 allowed), sum 2 or more: what `estimate` says of each value so often. */
    hf_status (*estimate_counted)(const double *y, const double *count, size_t n, double *m, double *s);
    /* The tolerance factor k (normal, lognormal) or w (Weibull) with its standard error, 0 where it is exact. n ≥ 2. HF_NO_RESULT
     * beyond `factor_reach` (HF_RANGE, HF_NUMERIC as usual). NULL: none is proven; then the law is fitted, tested, drawn and simulated, but
     * gives no bound, and nobody can let it govern. */
    hf_status (*factor)(size_t n, double content, double confidence, double *k, double *standard_error);
    /* How far a simulated factor is known, n = 3 or more; NULL: everywhere. */
    hf_factor_reach (*factor_reach)(void);
    /* A shorter way to the conditional limit, which may answer HF_RANGE: then the general one is taken. NULL: always the general one. */
    hf_status (*limit_by_mixture)(const hf_open_data *data, double content, double target, double m, double s,
                                  double *limit);
    /* Handbook significance formula of the Anderson–Darling statistic (C34). */
    double (*handbook_significance)(double a2, size_t n);
    /* For simulations, many values at once. Standard draws; ln P(Z ≤ z) and ln P(Z > z) of an array; and `estimate` of HF_LANES
     * samples side by side (value i of sample j at y[i·HF_LANES + j]), work[n·HF_LANES], m[HF_LANES], s[HF_LANES]; s = 0 where all are equal. */
    void (*fill)(hf_random *random, double *out, size_t count);
    /* log_lower NULL: not wanted. */
    void (*log_tails)(const double *z, double *log_lower, double *log_upper, size_t count);
    /* Σ ln f((y_i − m_j)/s) over y[0..n) for each location m[0..count). */
    void (*log_density_sums)(const double *y, size_t n, double s, const double *m, double *out, size_t count);
    /* Where nothing broke at the first load and the location given s is place + s·W, with W the same for every s and for all data with as
     * many values: the place, and ln of the mass of ln s (any constant). NULL: the location is searched. */
    double (*location)(const hf_open_data *data, double s, double *log_mass);
    /* How far from the best location (in s) the likelihood of d values can matter, e^−drop of its top; NULL: to be searched. */
    double (*likelihood_reach)(double d, double drop);
    void (*estimate_lanes)(const double *y, size_t n, double *work, double *m, double *s);
};

/* Row `index` of the list; NULL from HF_FAMILY_COUNT on. Static. */
const hf_family *hf_family_at(size_t index);
/* Where a law stands in the list, in arrays of HF_FAMILY_COUNT too; HF_FAMILY_COUNT for NULL. */
size_t hf_family_index(const hf_family *family);
/* By the word that a person wrote; NULL when unknown ("auto" too). Code names a law by its record. */
const hf_family *hf_family_find(const char *name);
/* Whether a factor is proven for it: only then it may govern. Row `index` of those that may; NULL past the last. */
bool hf_family_may_govern(const hf_family *family);
const hf_family *hf_family_governing_at(size_t index);
/* The law whose bound governs: `stated`, or by rule, where that is NULL, the Weibull (methods.md 3). The one place that says so. */
const hf_family *hf_family_governing(const hf_family *stated);
/* Working scale of a load and back. */
double hf_family_working(const hf_family *family, double load);
double hf_family_load(const hf_family *family, double y);

#endif
