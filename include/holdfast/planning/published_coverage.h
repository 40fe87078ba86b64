/* The true confidence of a bound as docs/coverage.md publishes it, for a report to quote.
 *
 * A bound that promises 95 % is right in a share of all samples that depends a little on the number of parts and on the steps. The
 * coverage study has simulated that share over many steps and ladder places; the worst of each row stands here, so that a report can
 * say what its own kind of bound was really worth when it was tried. Generated from the study, never written by hand. */
#ifndef HOLDFAST_PLANNING_PUBLISHED_COVERAGE_H
#define HOLDFAST_PLANNING_PUBLISHED_COVERAGE_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/strength/family.h"

typedef struct hf_published_coverage {
    const hf_family *family; /* the true law and the one of the bound */
    double content, confidence;
    size_t n;              /* parts, all of them finished pulls */
    double coverage;       /* worst share of right bounds found */
    double standard_error; /* of that share */
} hf_published_coverage;

/* The row of this family, content and confidence whose n is nearest (the smaller of two equally near). NULL when none was published for
 * that family, content and confidence. Static. */
const hf_published_coverage *hf_published_coverage_nearest(const hf_family *family, double content,
                                                           double confidence, size_t n);

/* The same for samples in which a share of the parts outlasts the last rung, or breaks below the first; 800 samples or more each, on steps
 * of half and of one standard deviation at several ladder places, the worst of them. */
typedef struct hf_published_open {
    const hf_family *family;
    double content, confidence;
    double share; /* of the parts that outlast the last rung, or break below the first */
    bool below;   /* the first rung */
    size_t n;
    double coverage; /* share of all samples without a wrong bound */
    double given;    /* share of right bounds among the samples that gave one */
    double bounded;  /* share of samples that gave one */
} hf_published_open;

/* The row of this family, content, confidence and side whose share, then n, is nearest to these. NULL when none was published. Static. */
const hf_published_open *hf_published_open_nearest(const hf_family *family, double content, double confidence,
                                                   bool below, double share, size_t n);

#endif
