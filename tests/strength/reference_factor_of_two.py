#!/usr/bin/env python3
"""The Weibull factor of two parts to 20 digits (mpmath): two values have one shape, so it is a single integral.

With A, B standard exponential the smaller of two standard smallest-extreme values is ln(A/2), their distance ln(1 + 2B/A); m̂ = y₁ + a·d,
ŝ = b·d with a, b from the pair (0, 1). P(W > w) = P(ln(A/2) − q > c·d), c = b·w − a."""
import mpmath
from mpmath import mp, mpf

mp.dps = 30


def shape():
    def equation(k):
        e = mpmath.exp(k)
        return e / (1 + e) - mpf(1) / 2 - 1 / k

    k = mpmath.findroot(equation, 2.4)
    return mpmath.log((1 + mpmath.exp(k)) / 2) / k, 1 / k


A, B = shape()


def beyond(w, content):
    least = -2 * mpmath.log(content)
    c = B * w - A

    def density(x):
        return mpmath.exp(-x) * -mpmath.expm1(-x / 2 * mpmath.expm1(mpmath.log(x / least) / c))

    return mpmath.quad(density, [least, least + 1, 3, 10, 30, 80])


for content in ("0.5", "0.9", "0.999999"):
    for tail in ("1e-2", "1e-4", "1e-6", "1e-9"):
        content_, tail_ = mpf(content), mpf(tail)
        w = mpmath.findroot(lambda x: mpmath.log(beyond(mpmath.exp(x), content_) / tail_), mpmath.log(2 / tail_), tol=1e-20)
        print(f"{{{content}, {tail}, {mpmath.nstr(mpmath.exp(w), 15)}}},")
