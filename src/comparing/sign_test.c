#include "holdfast/comparing/sign_test.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/special.h"

enum { MOST_PULLS = 100000 };

static double two_sided(size_t won, size_t of) {
    double larger = (double)(won > of - won ? won : of - won);
    return of ? fmin(1, 2 * hf_binomial_at_least(larger, (double)of, 0.5)) : 1;
}

size_t hf_sign_test_least(double level) {
    if (!(level > 0 && level < 1)) return 0;
    size_t n = 1;
    while (2 * ldexp(1, -(int)n) > level) n++;
    return n;
}

hf_status hf_sign_test_of(size_t first_won, size_t second_won, size_t ties, double level, hf_sign_test *out) {
    memset(out, 0, sizeof *out);
    if (!(level > 0 && level < 1)) return HF_RANGE;
    size_t n = first_won + second_won, leader = first_won > second_won ? first_won : second_won;
    double won = (double)first_won, lost = (double)second_won;
    out->first_won = first_won;
    out->second_won = second_won;
    out->ties = ties;
    out->p = two_sided(first_won, n);
    out->share = n ? won / (double)n : NAN;
    out->low = first_won ? hf_beta_quantile_lower(0.5 * level, won, lost + 1) : 0;
    out->high = second_won ? hf_beta_quantile_lower(1 - 0.5 * level, won + 1, lost) : 1;
    while (two_sided(leader + out->more, n + out->more) > level) out->more++;
    return HF_OK;
}

/* Least wins of n that reach the level, n + 1 when none do. */
static size_t critical_wins(size_t n, double level, size_t start) {
    size_t wins = start;
    while (wins <= n && two_sided(wins, n) > level) wins++;
    return wins;
}

/* The power goes up in saw teeth; the answer is one past the last n that falls short. It is searched until the power has stayed up for a
 * whole further length, where no tooth can reach down again. */
hf_status hf_sign_test_parts(double chance, double power, double level, size_t *n) {
    size_t last_short = 0, wins = 1;
    if (!(chance > 0.5 && chance <= 1) || !(power > 0 && power < 1) || !(level > 0 && level < 1))
        return HF_RANGE;
    for (size_t at = 1; at <= MOST_PULLS; at++) {
        size_t half = (at + 2) / 2;
        wins = critical_wins(at, level, wins > half ? wins : half);
        double reached = wins <= at ? hf_binomial_at_least((double)wins, (double)at, chance) : 0;
        if (reached < power) last_short = at;
        if (last_short < at && at > 2 * last_short + 20) {
            *n = last_short + 1;
            return HF_OK;
        }
    }
    return HF_NO_RESULT;
}
