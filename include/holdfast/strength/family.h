/* The three strength laws: normal, lognormal, Weibull.
 *
 * On its working scale y (the load itself for the normal, ln load for the others) each law is
 * Y = m + s·Z with Z standard normal or standard smallest extreme value. Weibull scale η = exp(m), shape
 * β = 1/s. A family is one file and one row of the table in family.c; nothing else asks which one it is. */
#ifndef HOLDFAST_STRENGTH_FAMILY_H
#define HOLDFAST_STRENGTH_FAMILY_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/status.h"

enum { HF_FAMILY_COUNT = 3 };

typedef struct hf_family {
    const char *name;  /* "weibull" */
    const char *label; /* "Weibull" */
    bool log_scale;
    bool has_shape; /* shape 1/s and scale exp(m) are its usual parameters */
    /* Standard law Z. q(p): value that the share p of all parts exceeds (upper-tail quantile). */
    double (*lower)(double z);
    double (*upper)(double z);
    double (*quantile_upper)(double p);
    /* ln f, ln P(Z ≤ z), ln P(Z > z) with first and second derivative in z: out[0..2]. */
    void (*log_density)(double z, double out[3]);
    void (*log_lower)(double z, double out[3]);
    void (*log_upper)(double z, double out[3]);
    /* Point estimates that enter the one formula, from exact working-scale values y[0..n), n ≥ 2:
     * mean and n − 1 standard deviation, or maximum likelihood for the Weibull. s = 0 when all are equal. */
    hf_status (*estimate)(const double *y, size_t n, double *m, double *s);
    /* The tolerance factor k (normal, lognormal) or w (Weibull) with its standard error. n ≥ 2. */
    hf_status (*factor)(size_t n, double content, double confidence, double *k, double *standard_error);
    /* Handbook significance formula of the Anderson–Darling statistic (C34). */
    double (*handbook_significance)(double a2, size_t n);
} hf_family;

/* The table: normal, lognormal, weibull in this order; HF_FAMILY_COUNT rows. Static. */
const hf_family *hf_family_table(void);
/* By name, NULL when unknown. */
const hf_family *hf_family_find(const char *name);
/* Working scale of a load and back. */
double hf_family_working(const hf_family *family, double load);
double hf_family_load(const hf_family *family, double y);

#endif
