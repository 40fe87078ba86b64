#!/usr/bin/env python3
"""Coefficients of the kernels in src/numeric/kernel.h, from 50-digit Chebyshev fits.

Each polynomial interpolates its function at Chebyshev nodes, is turned into powers, and its largest error on a
fine grid is printed beside it. Run: /usr/bin/python3 kernel_coefficients.py
"""
from mpmath import mp, mpf, exp, log, cos, pi, sqrt, erfc, chop, taylor, matrix, lu_solve

mp.dps = 50


def fit(function, low, high, degree):
    """Powers of the polynomial through the Chebyshev nodes on [low, high] (Newton form expanded)."""
    middle, half = (low + high) / 2, (high - low) / 2
    nodes = [middle + half * cos(pi * (2 * i + 1) / (2 * (degree + 1))) for i in range(degree + 1)]
    table = [function(x) for x in nodes]
    for level in range(1, degree + 1):
        for i in range(degree, level - 1, -1):
            table[i] = (table[i] - table[i - 1]) / (nodes[i] - nodes[i - level])
    powers = [mpf(0)]
    for i in range(degree, -1, -1):
        shifted = [mpf(0)] + powers
        powers = [(-nodes[i] * (powers[j] if j < len(powers) else 0)) + shifted[j] for j in range(len(shifted))]
        powers[0] += table[i]
    return powers[: degree + 1]


def value(powers, x):
    total = mpf(0)
    for p in reversed(powers):
        total = total * x + p
    return total


def grid(low, high, count=400):
    return [low + (high - low) * mpf(i) / count for i in range(count + 1)]


def show(name, powers, error):
    print(f"/* {name}: largest error {mp.nstr(error, 3)} */")
    for p in powers:
        print("   ", float(p).hex(), " /*", mp.nstr(p, 20), "*/")


def exp_tail(r):
    """(e^r − 1 − r)/r², by its series near 0."""
    return sum(r**k / mp.factorial(k + 2) for k in range(40))


def log_tail(z):
    """(ln((1+s)/(1−s)) − 2s)/s with z = s²."""
    return sum(2 * z ** (k - 1) / (2 * k + 1) for k in range(1, 60))


def mills(x):
    """Upper normal tail over e^(−x²/2)."""
    return erfc(x / sqrt(mpf(2))) * exp(x * x / 2) / 2


if __name__ == "__main__":
    half = log(2) / 2 * mpf("1.0001")
    q = fit(exp_tail, -half, half, 9)
    show("exp", q, max(abs(x * x * (value(q, x) - exp_tail(x))) for x in grid(-half, half)))

    s = (sqrt(mpf(2)) - 1) / (sqrt(mpf(2)) + 1)
    top = s * s * mpf("1.0001")
    q = fit(log_tail, mpf(0), top, 6)
    show("log", q, max(abs(x * (value(q, x) - log_tail(x))) for x in grid(mpf(0), top)))

    a, far, degree = mpf(4), mpf(39), 22
    top = (far - a) / (far + a)
    scaled = lambda t: (lambda x: (x + a) * mills(x))(a * (1 + t) / (1 - t))
    q = fit(scaled, mpf(-1), top, degree)
    show(f"mills, t = (x-{a})/(x+{a})", q, max(abs(value(q, t) / scaled(t) - 1) for t in grid(mpf(-1), top)))
