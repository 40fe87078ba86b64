/* The rules of the trade, each beside what it really promises.
 *
 * Five breaks can be turned into seven different "strengths". Each rule is one row: its factor on the
 * standard deviation, its source, and in plain words what it promises. They stand beside Holdfast's bound, never in its
 * place. */
#ifndef HOLDFAST_STRENGTH_TRADE_H
#define HOLDFAST_STRENGTH_TRADE_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/strength/bound.h"

typedef struct hf_trade_result {
    const char *code;   /* "mean_minus_3_sd" */
    const char *label;  /* "mean − 3 SD" */
    const char *source; /* standard, with "from memory" where that is the truth */
    double factor;      /* k on the standard deviation; NaN when the rule has none */
    double value;       /* load; NaN when not available */
    const char *reason; /* code when value is NaN */
    double
        next_below; /* chance that the next part is weaker than the rule's value (prediction), NaN when not defined */
    double content, confidence; /* what it is stated for, NaN when it states none */
    double
        confidence_real; /* rules without stated confidence: confidence that 90 % of parts are stronger; NaN otherwise */
    const char *promise; /* code of the sentence: "tolerance", "prediction", "lowest", "three_sd" */
} hf_trade_result;

enum { HF_TRADE_COUNT = 7 };

/* All rules on a sample, in table order, out[HF_TRADE_COUNT]. Normal law on mids as the trade does; the factor rules carry the
 * step allowance. */
void hf_trade_all(hf_sample sample, hf_trade_result *out);

/* Factor of EN 1990:2002 Annex D, table D1, 5 % fractile (C04): 1.645·√(1 + 1/n) with the scatter known (n ≥ 1), else
 * t(0.95; n − 1)·√(1 + 1/n) (n ≥ 2; NaN below). A prediction factor: it states no confidence. */
double hf_trade_en1990_factor(size_t n, bool scatter_known);

#endif
