/* Distributions and special functions, both tails.
 *
 * Each distribution comes as lower tail, upper tail, and quantile from either tail, so that nobody
 * ever writes 1 − p and loses the digits. Edges give exact answers (0, 1, ±infinity); NaN in gives NaN
 * out; parameters outside their range give NaN. All are pure and safe to call from many threads. */
#ifndef HOLDFAST_NUMERIC_SPECIAL_H
#define HOLDFAST_NUMERIC_SPECIAL_H

#define HF_PI 3.14159265358979323846
#define HF_SQRT2 1.41421356237309504880
#define HF_LN_SQRT_2PI 0.91893853320467274178
#define HF_EULER 0.57721566490153286061

/* Standard normal. Relative error at most 1e-13 in either tail (against 30-digit quadrature). */
double hf_normal_lower(double z);     /* P(Z ≤ z) */
double hf_normal_upper(double z);     /* P(Z > z) */
double hf_normal_log_lower(double z); /* ln P(Z ≤ z), also far in the tail */
double hf_normal_log_density(double z);
double hf_normal_quantile_lower(double p); /* z with P(Z ≤ z) = p */
double hf_normal_quantile_upper(double p); /* z with P(Z > z) = p */

/* Student t, nu > 0 (infinity: normal). */
double hf_t_lower(double t, double nu);
double hf_t_upper(double t, double nu);
double hf_t_quantile_lower(double p, double nu);
double hf_t_quantile_upper(double p, double nu);

/* Chi-square, nu > 0. */
double hf_chi2_lower(double x, double nu);
double hf_chi2_upper(double x, double nu);
double hf_chi2_quantile_lower(double p, double nu);
double hf_chi2_quantile_upper(double p, double nu);

/* F distribution: upper tail, and x with P(F ≤ x) = p. Both degrees of freedom > 0, finite. */
double hf_f_upper(double x, double nu1, double nu2);
double hf_f_quantile_lower(double p, double nu1, double nu2);

/* Regularised incomplete gamma (shape a > 0, x ≥ 0): P lower, Q upper; quantile of P. */
double hf_gamma_lower(double a, double x);
double hf_gamma_upper(double a, double x);
double hf_gamma_quantile_lower(double p, double a);
double hf_log_gamma(double x); /* ln Γ(x), x > 0 */

/* ψ(x), ψ′(x), ψ″(x), x > 0, and the y > 0 with ψ′(y) = x, x > 0 (0: infinity). */
double hf_digamma(double x);
double hf_trigamma(double x);
double hf_tetragamma(double x);
double hf_trigamma_inverse(double x);

/* Beta distribution with shapes a, b > 0. */
double hf_beta_lower(double x, double a, double b);
double hf_beta_upper(double x, double a, double b);
double hf_beta_quantile_lower(double p, double a, double b);

/* P(X ≥ r) and P(X ≤ r) for X binomial(n, p). */
double hf_binomial_at_least(double r, double n, double p);
double hf_binomial_at_most(double r, double n, double p);

/* Standard smallest extreme value: lower tail 1 − exp(−e^z), upper tail exp(−e^z). */
double hf_sev_lower(double z);
double hf_sev_upper(double z);
double hf_sev_log_lower(double z);
double hf_sev_quantile_lower(double p); /* ln(−ln(1 − p)) */
double hf_sev_quantile_upper(double p); /* ln(−ln p): q of methods.md for content p */

#endif
