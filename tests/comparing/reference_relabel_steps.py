"""Brute force for steps_on_one_ladder_are_left_alone in test_relabel.c: prints extreme/ways.

Mids and widths on the ln scale; s^2 + h^2/8 with the widths relabelled together with the mids.
"""
import itertools
import math

A, B, STEP = [80, 100, 100, 120], [60, 80, 80, 60], 20
pulls = [(math.log(x * (x + STEP)) / 2, math.log((x + STEP) / x)) for x in A + B]


def part(group):
    n = len(group)
    mean = sum(y for y, _ in group) / n
    variance = sum((y - mean) ** 2 for y, _ in group) / (n - 1)
    return mean, (variance + sum(w * w for _, w in group) / n / 8) / n


def statistic(chosen):
    mean_a, part_a = part([pulls[i] for i in chosen])
    mean_b, part_b = part([pulls[i] for i in range(len(pulls)) if i not in chosen])
    return abs(mean_a - mean_b) / math.sqrt(part_a + part_b)


ways = list(itertools.combinations(range(len(pulls)), len(A)))
seen = statistic(tuple(range(len(A))))
print(sum(statistic(c) >= seen * (1 - 1e-12) for c in ways), "of", len(ways))
