/* Both tails of a law at one place, each with full relative precision, and quantiles from either. */
#ifndef HOLDFAST_NUMERIC_TAILS_H
#define HOLDFAST_NUMERIC_TAILS_H

typedef struct hf_tails {
    double lower, upper;
    double density;
} hf_tails;

/* Gamma law with shape a at x ≥ 0 and beta law at x with y = 1 − x, inside their ranges. */
hf_tails hf_gamma_tails(double a, double x);
hf_tails hf_beta_tails(double x, double y, double a, double b);

/* ln Γ(a+1) − [(a + ½) ln a − a + ln √(2π)], the error of Stirling's formula. a > 0. */
double hf_stirling_error(double a);
/* a·ln(a/m) + m − a, without cancellation. a, m > 0. */
double hf_deviance(double a, double m);

/* A law on x > 0 for hf_quantile_solve; tail() gives one tail in `upper` or `lower` as is_upper says, and the density. */
typedef struct hf_quantile_law {
    hf_tails (*tails)(double x, const double parameter[2]);
    double parameter[2];
    double limit; /* x lies below it; may be infinite */
    int is_upper; /* 1: p is an upper tail */
} hf_quantile_law;

/* x with that tail equal to p, 0 < p < 1, from the starting value; NaN when it does not settle. */
double hf_quantile_solve(const hf_quantile_law *law, double p, double start);

#endif
