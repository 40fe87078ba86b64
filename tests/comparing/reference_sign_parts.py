"""Expected n of sign_test_needs in test_ranking.c: from which n on the power stays at 0.8 for chance 0.8, 5 % two-sided."""
from scipy import stats


def power(n, chance, level):
    wins = next((w for w in range((n + 1) // 2, n + 1) if min(1, 2 * stats.binom.sf(w - 1, n, 0.5)) <= level), None)
    return 0 if wins is None else stats.binom.sf(wins - 1, n, chance)


print(1 + max(n for n in range(1, 400) if power(n, 0.8, 0.05) < 0.8))
