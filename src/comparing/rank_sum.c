/* Wilcoxon (1945); Mann & Whitney (1947); Hodges & Lehmann (1963). */
#include "holdfast/comparing/rank_sum.h"

#include <math.h>
#include <stdint.h>
#include <string.h>
#include "comparing/ranks.h"
#include "holdfast/numeric/special.h"
#include "holdfast/numeric/vector.h"

enum { EXACT_LIMIT = 50 };

/* share[w] = P(W = w), w = 0 … n_a·n_b, by adding one part at a time: the Gaussian binomial coefficients. */
static void exact_shares(double *share, size_t n_a, size_t n_b) {
    size_t most = n_a * n_b;
    share[0] = 1;
    for (size_t i = 1; i <= n_a; i++) {
        double factor = (double)i / (double)(n_b + i); /* keeps the sum at 1 */
        /* multiply by (1 − x^(n_b+i)) … */
        for (size_t w = most + 1; w-- > n_b + i;) share[w] -= share[w - n_b - i];
        /* … and divide by (1 − x^i). */
        for (size_t w = i; w <= most; w++) share[w] += share[w - i];
        for (size_t w = 0; w <= most; w++) share[w] *= factor;
    }
}

static double sum_of(const double *x, size_t from, size_t to) {
    double sum = 0;
    for (size_t i = from; i <= to; i++) sum += x[i];
    return sum;
}

static bool has_ties(const double *sorted, size_t n) {
    for (size_t i = 1; i < n; i++)
        if (hf_tied(sorted[i], sorted[i - 1])) return true;
    return false;
}

static double normal_deviation(const double *sorted, size_t n_a, size_t n_b) {
    double n = (double)(n_a + n_b), ties = 0;
    for (size_t i = 0, j; i < n_a + n_b; i = j) {
        for (j = i; j < n_a + n_b && hf_tied(sorted[j], sorted[i]); j++) {
        }
        double run = (double)(j - i);
        ties += run * run * run - run;
    }
    return sqrt((double)n_a * (double)n_b / 12 * (n + 1 - ties / (n * (n - 1))));
}

static void normal_tests(hf_rank_sum *out, double center, double deviation) {
    if (!(deviation > 0)) {
        out->p = out->p_greater = 1;
        return;
    }
    double away = out->w - center;
    out->p_greater = hf_normal_upper((away - 0.5) / deviation);
    out->p = away == 0 ? 1 : fmin(1, 2 * hf_normal_upper((fabs(away) - 0.5) / deviation));
}

/* Rank c so that the c-th smallest and c-th largest difference bound the shift: the largest with P(W ≤ c − 1) ≤ level/2; 0: none. */
static size_t interval_rank(const hf_rank_sum *out, const double *share, size_t most, double center,
                            double deviation, double level) {
    if (!out->exact) {
        double rank = floor(center + 0.5 - hf_normal_quantile_upper(0.5 * level) * deviation);
        return rank > 0 ? (size_t)rank : 0;
    }
    size_t rank = 0;
    for (double sum = share[0]; sum <= 0.5 * level && rank < most; sum += share[++rank]) {
    }
    return rank;
}

hf_status hf_rank_sum_of(hf_arena *arena, const double *a, size_t n_a, const double *b, size_t n_b,
                         double level, hf_rank_sum *out) {
    memset(out, 0, sizeof *out);
    if (n_a < 1 || n_b < 1 || n_a > SIZE_MAX / n_b || !(level > 0 && level < 1)) return HF_RANGE;
    size_t pairs = n_a * n_b;
    double *sorted = HF_ARENA_NEW_ARRAY(arena, double, n_a + n_b);
    double *differences = HF_ARENA_NEW_ARRAY(arena, double, pairs);
    double *share = HF_ARENA_NEW_ARRAY(arena, double, pairs + 1);
    if (!sorted || !differences || !share) return HF_MEMORY;
    memcpy(sorted, a, n_a * sizeof *sorted);
    memcpy(sorted + n_a, b, n_b * sizeof *sorted);
    hf_vector_sort(sorted, n_a + n_b);
    for (size_t i = 0; i < n_a; i++) {
        out->w += 0.5 * hf_twice_below(b, n_b, a[i]);
        for (size_t j = 0; j < n_b; j++) differences[i * n_b + j] = a[i] - b[j];
    }
    hf_vector_sort(differences, pairs);
    double center = 0.5 * (double)pairs, deviation = normal_deviation(sorted, n_a, n_b);
    out->exact = n_a <= EXACT_LIMIT && n_b <= EXACT_LIMIT && !has_ties(sorted, n_a + n_b);
    if (out->exact) {
        size_t w = (size_t)out->w;
        exact_shares(share, n_a, n_b);
        out->p_greater = sum_of(share, w, pairs);
        out->p = fmin(1, 2 * fmin(out->p_greater, sum_of(share, 0, w)));
    } else {
        normal_tests(out, center, deviation);
    }
    size_t rank = interval_rank(out, share, pairs, center, deviation, level);
    out->shift = 0.5 * (differences[(pairs - 1) / 2] + differences[pairs / 2]);
    out->low = rank ? differences[rank - 1] : -INFINITY;
    out->high = rank ? differences[pairs - rank] : INFINITY;
    return HF_OK;
}
