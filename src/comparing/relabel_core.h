/* Counting relabelings: the statistic, full enumeration and random draws, on plain arrays. */
#ifndef HF_COMPARING_RELABEL_CORE_H
#define HF_COMPARING_RELABEL_CORE_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/strength/sample.h"

/* One pull, y centred and scaled by the range. Sums of these describe a group. */
typedef struct hf_relabel_item {
    double y, square; /* y² */
    double width2;    /* squared width, 0 for an exact reading */
    double closed;    /* 1 for a step, 0 for an exact reading */
} hf_relabel_item;

typedef struct hf_relabel_problem {
    const hf_relabel_item *items; /* of A first */
    size_t n_a, n_b;              /* ≥ 2 each */
    hf_relabel_item total;
    double nothing; /* a squared denominator up to here is 0 */
    bool one_sided;
    double observed; /* signed square of the statistic seen */
} hf_relabel_problem;

typedef struct hf_relabel_count {
    uint64_t total, extreme;
    double largest; /* |statistic|² */
    uint64_t at_largest;
} hf_relabel_count;

/* Fills items[0..n_a + n_b) from mids y and widths, and the problem with the statistic seen. */
void hf_relabel_prepare(const double *y, const double *width, size_t n_a, size_t n_b, bool one_sided,
                        hf_relabel_item *items, hf_relabel_problem *problem);

/* All relabelings; n_a ≥ 2. In parallel blocks. HF_MEMORY. */
hf_status hf_relabel_count_all(const hf_relabel_problem *problem, hf_relabel_count *count);
/* The same by one thread, giving up once `enough` extreme ones were found. No allocation. */
void hf_relabel_count_serial(const hf_relabel_problem *problem, uint64_t enough, hf_relabel_count *count);

/* `draws` random relabelings (the one seen not counted). HF_MEMORY. */
hf_status hf_relabel_count_random(const hf_relabel_problem *problem, size_t draws, uint64_t seed,
                                  hf_relabel_count *count);

static inline void hf_relabel_add(hf_relabel_item *sum, const hf_relabel_item *item) {
    sum->y += item->y;
    sum->square += item->square;
    sum->width2 += item->width2;
    sum->closed += item->closed;
}

/* Squared standard error of one group's mean: (s² + h²/8)/n. */
static inline double hf_relabel_part(const hf_relabel_item *sum, double n) {
    double variance = (sum->square - sum->y * sum->y / n) / (n - 1);
    double step = sum->closed > 0 ? sum->width2 / sum->closed : 0;
    return (variance + 0.125 * step) / n;
}

/* d·|d|/D of a group with these sums against the rest. */
static inline double hf_relabel_statistic(const hf_relabel_problem *p, const hf_relabel_item *sum) {
    double n_a = (double)p->n_a, n_b = (double)p->n_b;
    hf_relabel_item rest = {p->total.y - sum->y, p->total.square - sum->square, p->total.width2 - sum->width2,
                            p->total.closed - sum->closed};
    double difference = sum->y / n_a - rest.y / n_b;
    double denominator = hf_relabel_part(sum, n_a) + hf_relabel_part(&rest, n_b);
    if (denominator <= p->nothing)
        return fabs(difference) < 1e-12 ? 0 : difference > 0 ? INFINITY : -INFINITY;
    return difference * fabs(difference) / denominator;
}

/* What ties up to rounding counts as at least as extreme; the statistic stands here squared. */
static inline void hf_relabel_judge(const hf_relabel_problem *p, double statistic, hf_relabel_count *count) {
    double size = fabs(statistic);
    double compared = p->one_sided ? statistic : size, seen = p->one_sided ? p->observed : fabs(p->observed);
    count->total++;
    count->extreme += isinf(seen) ? compared >= seen : compared >= seen - 2 * HF_SAME * fabs(seen);
    if (size > count->largest * (1 + 2 * HF_SAME)) {
        count->largest = size;
        count->at_largest = 1;
    } else if (size >= count->largest * (1 - 2 * HF_SAME)) {
        count->at_largest++;
    }
}

#endif
