/* Proving a load without breaking parts.
 *
 * If n parts all hold a load, a share of all parts that also holds it is proven with a confidence; whatever the law. If the
 * parts are loaded beyond what is to be proven, fewer are needed, provided the Weibull shape is known from elsewhere: one
 * overload ratio counts as r^β parts. Then the shape must be the low end of what is plausible, and a single failure voids
 * the proof. Checks C21 and C22. */
#ifndef HOLDFAST_PLANNING_PROOF_H
#define HOLDFAST_PLANNING_PROOF_H

#include <stddef.h>
#include "holdfast/base/status.h"
#include "holdfast/planning/ladder.h"

typedef struct hf_proof {
    double content, confidence; /* both in (0, 1) */
    size_t failures;            /* allowed; 0 with an overload */
    double overload;            /* r ≥ 1: load hung ÷ load to be proven; 1: none */
    double shape;               /* β > 0, read only when overload > 1 */
} hf_proof;

/* Least number of parts. HF_RANGE for arguments outside, or when more than a million would be needed. */
hf_status hf_proof_parts(const hf_proof *proof, size_t *n);

/* Content that n parts with `failures` failing among them prove at the load to be proven (lower Clopper–Pearson limit). proof->content is not
 * read. 0 when failures ≥ n. */
hf_status hf_proof_content(const hf_proof *proof, size_t n, double *content);

/* Chance to pass such a proof when the true content at the load to be proven is `truth`: the risk of the one who makes the parts. */
hf_status hf_proof_chance(const hf_proof *proof, size_t n, double truth, double *chance);

/* Rungs at about half and three quarters of it and then the least load that can be made and is not below `load`; chances in *out are NaN.
 * HF_NO_RESULT with out->problem set, HF_MEMORY. */
hf_status hf_proof_ladder(hf_arena *arena, double load, const hf_ladder_rig *rig, hf_ladder *out);

#endif
