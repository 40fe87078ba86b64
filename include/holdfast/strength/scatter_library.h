/* The scatter of earlier designs of one kind, and what it is worth for the next.
 *
 * Three parts alone show their scatter poorly; five earlier designs of the kind show well how such parts scatter. How far the earlier
 * scatter may be trusted depends on how alike the designs were: with s_j on ln load (step allowance in it) on ν_j degrees of freedom,
 *
 *     e_j = ln s_j² − ψ(ν_j/2) + ln(ν_j/2)      V = variance(e_j) − mean ψ′(ν_j/2)      ν̂₀ = 2·ψ′⁻¹(V), infinite if V ≤ 0
 *     ν₀ = min(ν̂₀, J)                           s₀² = Σν_j·s_j²/Σν_j
 *
 * (moments after Smyth 2004, doi 10.2202/1544-6115.1027, from memory; the cap J, the number of designs, and the arithmetic mean s₀² were
 * found by simulation, docs/coverage.md.) Designs that scatter differently make ν̂₀ small and so punish themselves. Means never carry
 * over. The choice to use a library is made before the pulls. */
#ifndef HOLDFAST_STRENGTH_SCATTER_LIBRARY_H
#define HOLDFAST_STRENGTH_SCATTER_LIBRARY_H

#include "holdfast/strength/stated_scatter.h"

typedef struct hf_earlier_scatter {
    double s; /* standard deviation of ln load, √(s² + h²/8) where there were steps; > 0 */
    double degrees_of_freedom; /* > 0: parts less one */
} hf_earlier_scatter;

typedef struct hf_scatter_library {
    size_t designs; /* J */
    double parts;   /* N = Σν_j + J */
    double excess;  /* V: variance of ln σ² between designs beyond what chance explains; may be below 0 */
    double degrees_estimated; /* ν̂₀, INFINITY if V ≤ 0: the designs are as alike as chance allows */
    double degrees;           /* ν₀ = min(ν̂₀, J) */
    bool differ;              /* more than chance explains: ν̂₀ < J */
    double s;                 /* s₀ */
} hf_scatter_library;

/* HF_RANGE for fewer than two designs (one: see stated_scatter.h), or an s or ν that is not above 0 and finite. HF_NUMERIC. No allocation. */
hf_status hf_scatter_library_of(const hf_earlier_scatter *earlier, size_t designs, hf_scatter_library *out);

/* What is stated by earlier designs: one is a stated scatter like any other (*library stays empty), several are pooled as above. Fills *out; HF_RANGE where
 * its cv would be above 1, and as above with nothing in *out->pooled. */
hf_status hf_scatter_of_designs(const hf_earlier_scatter *earlier, size_t designs,
                                hf_scatter_library *library, hf_stated_scatter *out);

#endif
