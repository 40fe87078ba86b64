/* The lower tolerance bound: the load that at least the share P of all parts carries, with confidence C.
 *
 *     bound = m − k · √(s² + A·h²)          on the working scale
 *
 * m and s describe the middles of the pulls, h their step size, A is the step allowance (1/8, or less where a law needs less), and k grows
 * quickly when there are few parts. The same formula carries every family and every kind of pull; only k changes. */
#ifndef HOLDFAST_STRENGTH_BOUND_H
#define HOLDFAST_STRENGTH_BOUND_H

#include <stdbool.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

typedef enum hf_bound_method {
    HF_BOUND_NONE,
    HF_BOUND_FACTOR,
    HF_BOUND_CONDITIONAL,
    HF_BOUND_STATED_SCATTER,
    HF_BOUND_ORDER_STATISTIC,
    HF_BOUND_HANSON_KOOPMANS,
    HF_BOUND_SURVIVORS,
    HF_BOUND_BATCH,    /* from the means of several batches, see batch_bound.h; on ln load */
    HF_BOUND_ONE_BATCH /* one batch, and a stated scatter between batches: exp(m − s), k = 1 and h = 0 */
} hf_bound_method;

/* Why there is no bound. Codes are part of the JSON interface. */
typedef enum hf_bound_reason {
    HF_REASON_NONE,
    HF_REASON_OPEN_OBSERVATIONS,  /* open_observations */
    HF_REASON_TOO_FEW,            /* too_few */
    HF_REASON_STEP_RANGE,         /* step_allowance_range */
    HF_REASON_ONE_STEP_AND_BELOW, /* one_step_and_below */
    HF_REASON_RANGE,              /* range: content or confidence outside the range */
    HF_REASON_ONE_VALUE,          /* one_value: all readings equal, no scatter to be seen */
    HF_REASON_NUMERIC,            /* numeric */
    HF_REASON_FACTOR_UNKNOWN,     /* factor_unknown: beyond the reach of a simulated factor (family.h) */
    HF_REASON_MORE_PARTS,         /* more_parts: a bound without a law needs more parts */
    HF_REASON_LAW_NOT_PROVEN,     /* law_not_proven: the record of the law has no factor */
    HF_REASON_TABLE_ENDS          /* table_ends: Hanson–Koopmans is tabled for 2 … 28 parts */
} hf_bound_reason;

/* What the s of a stated scatter is made of: s² = (degrees·stated² + own_degrees·own²)/(degrees + own_degrees). */
typedef struct hf_bound_scatter {
    double stated, own; /* of ln load; own 0 where own_degrees is */
    double degrees, own_degrees;
    double confidence_used; /* k is taken at it */
    bool at_middles;        /* of a scatter taken as known: the middles of steps, not the loads held */
} hf_bound_scatter;

typedef struct hf_bound {
    const hf_family *family; /* NULL for distribution-free rows */
    hf_bound_method method;
    hf_bound_reason reason;
    double content, confidence;
    double k, k_error;           /* factor and its standard error (0 when exact) */
    double m, s, h;              /* as they enter the one formula, working scale */
    double allowance;            /* A in √(s² + A·h²), see hf_bound_allowance */
    double value;                /* load; NaN when there is none. Can be negative for the normal. */
    size_t n;                    /* parts that entered */
    size_t rank;                 /* order statistic used; 0 otherwise */
    double lower_end, upper_end; /* distribution-free rows: the loads used */
    hf_bound_scatter scatter;    /* of a stated scatter; degrees 0 where it is taken as known */
} hf_bound;

/* Whether it counts what lies between batches: of the last two methods, which stand on ln load and have no law of their own. */
bool hf_bound_counts_batches(const hf_bound *bound);

/* The code of a method ("factor") and of a reason. Static. */
const char *hf_bound_method_code(hf_bound_method method);
const char *hf_bound_reason_code(hf_bound_reason reason);
/* One sentence for people about a reason. Static. */
const char *hf_bound_reason_text(hf_bound_reason reason);

/* What is promised where nothing else is stated: nine of ten parts, with 95 % confidence. */
#define HF_USUAL_CONTENT 0.90
#define HF_USUAL_CONFIDENCE 0.95

/* Whether the one formula is proven for these (methods.md 3): HF_OK or HF_RANGE. `stepped`: h > 0. */
hf_status hf_bound_range(double content, double confidence, bool stepped);

/* The bound of one family from a sample. Open observations go the conditional way. Always fills *out; returns HF_OK,
 * or HF_NO_RESULT/HF_RANGE with out->reason set. */
hf_status hf_bound_family(const hf_family *family, hf_sample sample, double content, double confidence,
                          hf_bound *out);

/* A of √(s² + A·h²) for this family's bound with factor k: the family's own, below content 0.90 at least 1/(4k²). family NULL:
 * 1/8 in its place, for bounds that lean on no single law. */
double hf_bound_allowance(const hf_family *family, double content, double k);

/* value of the one formula for given m, s, h, k, allowance on this family's working scale. */
double hf_bound_value(const hf_family *family, double m, double s, double h, double k, double allowance);

/* Largest content that the sample supports at `load` with `confidence` (solves the one formula for P within
 * its range). HF_RANGE with *content = lower end of the range when it is less than that; HF_OK otherwise (never above 0.99999). */
hf_status hf_bound_content_at(const hf_family *family, hf_sample sample, double load, double confidence,
                              double *content);

#endif
