/* The vector loops compiled for one width each, so that a test can hold them against one another.
 *
 * Rows beyond what the processor can do must not be called: hf_vector_widths() says how many rows may be. */
#ifndef HOLDFAST_NUMERIC_VECTOR_WIDTHS_H
#define HOLDFAST_NUMERIC_VECTOR_WIDTHS_H

#include <stddef.h>
#include <stdint.h>
#include "numeric/tail_sums.h"

typedef void (*hf_width_map)(const double *x, double *out, size_t count);

typedef struct hf_vector_width {
    int bits;
    hf_width_map exp, log, normal_lower, normal_quantile, sev_quantile;
    void (*uniform)(const uint64_t *bits, double *out, size_t count);
    double (*sum)(const double *x, size_t count);
    double (*sum_squares)(const double *x, double centre, size_t count);
    void (*tail_nodes)(const hf_tail_grid *grid, hf_tail_nodes *nodes);
    void (*tail_sums)(const hf_tail_nodes *nodes, double t, double shift, double out[3]);
} hf_vector_width;

/* Usable rows of hf_vector_width_table(), 1 to 3, narrowest first. */
size_t hf_vector_widths(void);
const hf_vector_width *hf_vector_width_table(void);

#endif
