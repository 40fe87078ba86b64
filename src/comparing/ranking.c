#include "holdfast/comparing/ranking.h"

#include <math.h>
#include "holdfast/comparing/power.h"
#include "holdfast/comparing/studentized_range.h"
#include "holdfast/numeric/special.h"

/* --- Holm (1979) -------------------------------------------------------------------------------- */

/* Ascending by repeated search of the least value not yet replaced (comparisons are few); replaced ones carry a
 * minus sign until all are done, since p may be the same array. */
void hf_holm_adjust(const double *p, size_t count, double *adjusted) {
    double running = 0;
    size_t left = 0;
    for (size_t i = 0; i < count; i++) {
        left += isnan(p[i]) ? 0 : 1;
        adjusted[i] = isnan(p[i]) ? p[i] : fabs(p[i]);
    }
    while (left > 0) {
        size_t least = count;
        for (size_t i = 0; i < count; i++)
            if (!isnan(adjusted[i]) && !signbit(adjusted[i]) &&
                (least == count || adjusted[i] < adjusted[least]))
                least = i;
        running = fmax(running, fmin(1, (double)left * adjusted[least]));
        adjusted[least] = -running;
        left--;
    }
    for (size_t i = 0; i < count; i++)
        if (!isnan(adjusted[i])) adjusted[i] = fabs(adjusted[i]);
}

/* --- Games & Howell (1976) ---------------------------------------------------------------------- */

hf_status hf_games_howell_pair(const hf_group *a, const hf_group *b, size_t groups, double level,
                               hf_games_howell *out) {
    if (a->n < 2 || b->n < 2 || !(a->variance + b->variance > 0) || groups < 2 || !(level > 0 && level < 1))
        return HF_RANGE;
    hf_power_setup setup = {(double)a->n, (double)b->n, a->variance, b->variance, level, false};
    double quantile;
    out->difference = a->mean - b->mean;
    out->standard_error = sqrt(a->variance / setup.n_a + b->variance / setup.n_b);
    out->t = out->difference / out->standard_error;
    out->degrees_of_freedom = hf_power_degrees_of_freedom(&setup);
    out->p = hf_studentized_range_upper(fabs(out->t) * HF_SQRT2, groups, out->degrees_of_freedom);
    hf_status status = hf_studentized_range_quantile_upper(level, groups, out->degrees_of_freedom, &quantile);
    double half = status == HF_OK ? quantile * out->standard_error / HF_SQRT2 : NAN;
    out->low = out->difference - half;
    out->high = out->difference + half;
    return status;
}

/* --- Groups that cannot be told apart: maximal cliques (Bron & Kerbosch 1973) --------------------- */

typedef struct clique_search {
    uint64_t alike[HF_RANKING_LIMIT]; /* designs not told apart from i, without i */
    uint64_t *groups;
    size_t capacity, count;
    bool overflow;
} clique_search;

static size_t lowest_bit(uint64_t set) {
    size_t i = 0;
    while (!(set >> i & 1)) i++;
    return i;
}

static void grow(clique_search *search, uint64_t chosen, uint64_t possible, uint64_t excluded) {
    if (!possible && !excluded) {
        if (search->count < search->capacity)
            search->groups[search->count++] = chosen;
        else
            search->overflow = true;
        return;
    }
    uint64_t pivots = possible | excluded, skip = search->alike[lowest_bit(pivots)];
    for (uint64_t left = possible & ~skip; left && !search->overflow; left &= left - 1) {
        uint64_t bit = left & (~left + 1), alike = search->alike[lowest_bit(left)];
        grow(search, chosen | bit, possible & alike, excluded & alike);
        possible &= ~bit;
        excluded |= bit;
    }
}

/* Order of first members, then of the next: the set whose lowest differing bit is set comes first. */
static bool comes_before(uint64_t x, uint64_t y) {
    uint64_t differing = x ^ y;
    return (x & (differing & (~differing + 1))) != 0;
}

hf_status hf_ranking_groups(const bool *differ, size_t count, uint64_t *groups, size_t capacity,
                            size_t *group_count) {
    clique_search search = {.groups = groups, .capacity = capacity};
    *group_count = 0;
    if (count > HF_RANKING_LIMIT) return HF_RANGE;
    if (count == 0) return HF_OK;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            if (differ[i * count + j]) continue;
            search.alike[i] |= (uint64_t)1 << j;
            search.alike[j] |= (uint64_t)1 << i;
        }
    grow(&search, 0, count == 64 ? UINT64_MAX : ((uint64_t)1 << count) - 1, 0);
    if (search.overflow) return HF_NO_RESULT;
    for (size_t i = 1; i < search.count; i++)
        for (size_t j = i; j > 0 && comes_before(groups[j], groups[j - 1]); j--) {
            uint64_t swap = groups[j];
            groups[j] = groups[j - 1];
            groups[j - 1] = swap;
        }
    *group_count = search.count;
    return HF_OK;
}

/* --- League -------------------------------------------------------------------------------------- */

static bool ranks_higher(double x, double y) {
    return x > y || (!isnan(x) && isnan(y));
}

void hf_ranking_league(const double *bounds, size_t count, size_t *order) {
    for (size_t i = 0; i < count; i++) {
        size_t at = i;
        for (; at > 0 && ranks_higher(bounds[i], bounds[order[at - 1]]); at--) order[at] = order[at - 1];
        order[at] = i;
    }
}
