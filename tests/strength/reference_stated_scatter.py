#!/usr/bin/env python3
"""Factors of a stated scatter by scipy: the rows of tests/checks/SS1.csv behind the published ones.

    /usr/bin/python3 reference_stated_scatter.py            prints them

scipy's noncentral t takes fractional degrees of freedom. Where it fails (very few degrees), its distribution function is solved."""
import math

from scipy import optimize, stats

GAMMA = 0.5772156649015329


def zeta(content):
    weibull = -(math.log(-math.log(content)) + GAMMA) * math.sqrt(6) / math.pi
    return max(stats.norm.ppf(content), weibull)


def noncentral(confidence, degrees, shift):
    return optimize.brentq(lambda t: stats.nct.cdf(t, degrees, shift) - confidence, 1e-3, 1e4, xtol=1e-13, rtol=1e-13)


def used(confidence, n):
    value = min(confidence + 0.035, 0.90) if confidence < 0.90 else confidence
    if n < 6:
        return value
    z = stats.norm.ppf(value)
    return stats.norm.cdf(z + min(0.04 * math.log(n / 4.5), 0.2326 * z))


def factor(n, degrees, content, confidence):
    earlier = 2 / (2 / degrees + 2.4 / (degrees + 1))
    root = math.sqrt(n)
    return noncentral(used(confidence, n), earlier + (n - 1) / 2.2, zeta(content) * root) / root


if __name__ == "__main__":
    for content, confidence in ((0.90, 0.95), (0.99, 0.95), (0.95, 0.90), (0.95, 0.75)):
        for degrees in (1, 4, 15, 60):
            for n in (1, 2, 5, 6, 20):
                print(f"scatter_k;{n} {degrees} {content:.2f} {confidence:.2f};{factor(n, degrees, content, confidence):.9g};"
                      "1e-5%;COMPUTED")
