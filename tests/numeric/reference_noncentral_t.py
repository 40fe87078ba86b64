#!/usr/bin/env python3
"""30-digit reference values of the noncentral t, made with mpmath.

    /usr/bin/python3 reference_noncentral_t.py            writes reference_noncentral_t.csv
    /usr/bin/python3 reference_noncentral_t.py --check N  recomputes N random lines and compares

P(T ≤ t) = ∫ f(w) Φ(t·w − δ) dw, f the density of w = √(χ²_ν/ν), by Gauss–Legendre panels in w itself (the library uses
the trapezoidal rule in ln w, so the two share no step). Panels are doubled until 27 digits stand.
"""
import math
import pathlib
import random
import sys

import mpmath
from mpmath import mp, mpf

mp.dps = 34
FILE = pathlib.Path(__file__).with_name("reference_noncentral_t.csv")
COUNTS = (2, 3, 5, 10, 43, 100, 1000, 10000)
CONTENTS = (0.5, 0.9, 0.99, 0.99999)
CONFIDENCES = (0.5, 0.75, 0.9, 0.95, 0.99, 0.9999)


def legendre_rule(n):
    nodes, weights = [], []
    for i in range(n):
        x = mpmath.cos(mpmath.pi * (i + mpf(3) / 4) / (n + mpf(1) / 2))
        for _ in range(8):
            before, value = mpf(1), x
            for k in range(2, n + 1):
                before, value = value, ((2 * k - 1) * x * value - (k - 1) * before) / k
            slope = n * (before - x * value) / (1 - x * x)
            x -= value / slope
        nodes.append(x)
        weights.append(2 / ((1 - x * x) * slope * slope))
    return nodes, weights


NODES, WEIGHTS = legendre_rule(24)


def upper_normal(z):
    return mpmath.erfc(z / mpmath.sqrt(mpf(2))) / 2


def sums(t, nu, delta, is_upper, low, high, panels):
    """Tail probability and density of T at t over w in [low, high]."""
    constant = mpmath.log(2) + nu / 2 * mpmath.log(nu / 2) - mpmath.loggamma(nu / 2)
    probability = density = mpf(0)
    width = (high - low) / panels
    for panel in range(panels):
        for x, weight in zip(NODES, WEIGHTS):
            w = low + width * (panel + (1 + x) / 2)
            mass = weight * width / 2 * mpmath.exp(constant + (nu - 1) * mpmath.log(w) - nu * w * w / 2)
            z = t * w - delta
            probability += mass * upper_normal(z if is_upper else -z)
            density += mass * w * mpmath.exp(-z * z / 2)
    return probability, density / mpmath.sqrt(2 * mpmath.pi)


def where(t, nu, delta, is_upper):
    """w range where the integrand is above e^−75 of its peak, from a coarse scan in double precision."""
    nu_f, t_f, d_f = float(nu), float(t), float(delta)

    def height(w):
        z = (t_f * w - d_f) * (1 if is_upper else -1)
        tail = -0.5 * z * z - math.log(z + 1) if z > 0 else 0.0
        return (nu_f - 1) * math.log(w) - nu_f * w * w / 2 + tail

    spread = 1 / math.sqrt(2 * nu_f)
    points = [max(1e-9, 1 - 30 * spread) + i * (min(60 * spread, 40.0)) / 6000 for i in range(6001)]
    heights = [height(w) for w in points]
    floor = max(heights) - 75
    inside = [i for i, h in enumerate(heights) if h > floor]
    low = points[max(inside[0] - 1, 0)]
    return (mpf(0) if inside[0] == 0 else mpf(low)), mpf(points[min(inside[-1] + 1, 6000)])


def tail(t, nu, delta, is_upper):
    t, nu, delta = mpf(t), mpf(nu), mpf(delta)
    low, high = where(t, nu, delta, is_upper)
    panels, old = 6, None
    while True:
        new = sums(t, nu, delta, is_upper, low, high, panels)
        if old is not None and abs(new[0] - old[0]) < mpf(10) ** -27 * new[0]:
            return new
        if panels > 400:
            raise ArithmeticError(f"t {t} nu {nu} delta {delta}")
        panels, old = 2 * panels, new


def normal_quantile(p):
    """z with P(Z ≤ z) = p ≥ ½."""
    if p == mpf(1) / 2:
        return mpf(0)
    return mpmath.findroot(lambda z: mpmath.log(upper_normal(z) / (1 - p)), mpmath.sqrt(-2 * mpmath.log(1 - p)))


def factor(n, content, confidence):
    """k with P(T ≤ k√n) = confidence for the noncentral t with n − 1 and z_P·√n."""
    if content == confidence == 0.5:
        return mpf(0)  # T is symmetric about 0
    root_n, nu, q = mpmath.sqrt(n), mpf(n - 1), 1 - mpf(confidence)
    delta = normal_quantile(mpf(content)) * root_n
    z, variance = normal_quantile(mpf(confidence)), 1 / (2 * nu)
    a = 1 - z * z * variance
    inner = 1 + variance * (delta * delta - z * z)
    t = (delta + z * mpmath.sqrt(inner)) / a if a > 0.3 and inner > 0 else max(delta, 1) / q ** (1 / nu)
    for _ in range(60):
        probability, density = tail(t, nu, delta, True)
        change = mpmath.log(probability / q) * probability / (density * t)
        t *= mpmath.exp(max(min(change, mpf(1)), mpf(-1)))
        if abs(change) < mpf(10) ** -16:
            return t / root_n
    raise ArithmeticError(f"factor {n} {content} {confidence}")


def cases():
    for n in COUNTS:
        for content in CONTENTS:
            for confidence in CONFIDENCES:
                yield "factor", n, content, confidence
    for nu, delta in ((1.0, 0.5), (1.0, -2.0), (2.0, 6.0), (4.0, 2.8), (9.0, 4.05), (9.0, -1.5), (42.0, 13.0), (99.0, 12.8),
                      (999.0, 73.0), (9999.0, 427.0), (9999.0, 0.0)):
        centre, spread = delta, math.sqrt(1 + delta * delta / (2 * nu))
        for shift in (-6.0, -3.0, -0.5, 0.4, 2.0, 5.0):
            t = round(centre + shift * spread, 3)
            if t > 0:
                yield "lower", t, nu, delta
                yield "upper", t, nu, delta


def line(case):
    kind, a, b, c = case
    value = factor(a, b, c) if kind == "factor" else tail(a, b, c, kind == "upper")[0]
    return f"{kind},{a!r},{b!r},{c!r},{mpmath.nstr(value, 28)}"


def check(count):
    stored = [row for row in FILE.read_text().splitlines() if row and row[0] != "#"][1:]
    wrong = 0
    for row in random.Random(20260502).sample(stored, count):
        kind, a, b, c, value = row.split(",")
        first = int(a) if kind == "factor" else float(a)
        again = mpf(line((kind, first, float(b), float(c))).split(",")[4])
        if abs(mpf(value) - again) > mpf(10) ** -22 * abs(again):
            wrong += 1
            print(f"stored {row}\nagain  {mpmath.nstr(again, 28)}")
    print(f"{count} lines recomputed, {wrong} differ")
    return 1 if wrong else 0


def main():
    if len(sys.argv) == 3 and sys.argv[1] == "--check":
        return check(int(sys.argv[2]))
    head = (f"# made by reference_noncentral_t.py with mpmath {mpmath.__version__} at {mp.dps} digits\n"
            "# factor: n, content, confidence; lower and upper: t, degrees of freedom, noncentrality\n"
            "kind,x,a,b,value\n")
    with FILE.open("w") as out:
        out.write(head)
        for case in cases():
            out.write(line(case) + "\n")
            out.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
