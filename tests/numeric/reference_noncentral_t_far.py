#!/usr/bin/env python3
"""30-digit reference values of the noncentral t where its arguments are extreme, made with mpmath.

    /usr/bin/python3 reference_noncentral_t_far.py            writes reference_noncentral_t_far.csv
    /usr/bin/python3 reference_noncentral_t_far.py --check N  recomputes N random lines and compares

P(T > t) = ∫ f(w) Φ(δ − t·w) dw, f the density of w = √(χ²_ν/ν). Around the edge w = δ/t, forty of its widths to either side, the integral
is taken by Gauss–Legendre panels; beyond it Φ is 0 or 1 to 340 digits and the rest is an incomplete gamma function, or, where the degrees of
freedom are too many for its series, panels over the bulk of f.
"""
import pathlib
import random
import sys

import mpmath
from mpmath import mp, mpf

mp.dps = 40
FILE = pathlib.Path(__file__).with_name("reference_noncentral_t_far.csv")
REACH = 40
NODES = [(x, w) for x, w in mpmath.calculus.quadrature.GaussLegendre(mp).calc_nodes(4, mp.prec + 20)]


def panels(function, low, high, count):
    total, width = mpf(0), (high - low) / count
    for i in range(count):
        middle = low + width * (i + mpf(1) / 2)
        total += sum(w * function(middle + x * width / 2) for x, w in NODES) * width / 2
    return total


def tail(t, nu, delta, is_upper):
    t, nu, delta = mpf(t), mpf(nu), mpf(delta)
    half = nu / 2
    constant = mpmath.log(2) + half * mpmath.log(half) - mpmath.loggamma(half)
    edge, sign = delta / t, 1 if is_upper else -1
    low, high = max(mpf(0), edge - REACH / t), edge + REACH / t
    bulk = 1 / mpmath.sqrt(2 * nu)

    def density(w):
        return mpmath.exp(constant + (nu - 1) * mpmath.log(w) - half * w * w)

    def integrand(w):
        return density(w) * mpmath.erfc(sign * (t * w - delta) / mpmath.sqrt(mpf(2))) / 2

    if nu > 1000:  # bulk and edge together, in panels of the narrower of the two
        low, high = max(low, 1 - REACH * bulk), min(high, 1 + REACH * bulk)
        rest = (1 - REACH * bulk, low) if is_upper else (high, 1 + REACH * bulk)
        count = int((high - low) / (4 * min(bulk, 1 / t))) + 4
        more = panels(density, *rest, int((rest[1] - rest[0]) / (4 * bulk)) + 4) if rest[1] > rest[0] else 0
        return panels(integrand, low, high, count) + more
    rest = mpmath.gammainc(half, 0, half * low * low) if is_upper else mpmath.gammainc(half, half * high * high)
    return panels(integrand, low, high, 40) + rest / mpmath.gamma(half)


def cases():
    for nu, delta in ((1.0, 600.0), (1.0, 1e5), (1.0, 7e8), (2.0, 1e3), (2.0, 693147180.56), (4.0, 900.0), (4.5, 1e6), (9.0, 1500.0),
                      (29.0, 5e4), (99.0, 3e3), (99.0, 1e9), (999.0, 1e7)):
        for ratio in (0.4, 0.9, 1.0, 1.3, 4.0):
            yield "lower", delta * ratio, nu, delta
            yield "upper", delta * ratio, nu, delta
    for nu, delta in ((9999.0, 1e3), (1e6, 8e3), (1e6, 2.0), (1e6, 3e5), (1e8, 1e6), (1e9, 7e8), (1e9, 30.0), (1e12, 3.0), (1e12, 1e6)):
        for shift in (-5.0, -1.0, 0.4, 4.0):
            t = delta + shift * float(mpmath.sqrt(1 + delta * delta / (2 * nu)))
            if t > 0:
                yield "lower", t, nu, delta
                yield "upper", t, nu, delta


def line(case):
    kind, t, nu, delta = case
    return f"{kind},{t!r},{nu!r},{delta!r},{mpmath.nstr(tail(t, nu, delta, kind == 'upper'), 28)}"


def check(count):
    stored = [row for row in FILE.read_text().splitlines() if row and row[0] != "#"][1:]
    wrong = 0
    for row in random.Random(20260703).sample(stored, count):
        kind, t, nu, delta, value = row.split(",")
        again = mpf(line((kind, float(t), float(nu), float(delta))).split(",")[4])
        if abs(mpf(value) - again) > mpf(10) ** -20 * abs(again):
            wrong += 1
            print(f"stored {row}\nagain  {mpmath.nstr(again, 28)}")
    print(f"{count} lines recomputed, {wrong} differ")
    return 1 if wrong else 0


def main():
    if len(sys.argv) == 3 and sys.argv[1] == "--check":
        return check(int(sys.argv[2]))
    with FILE.open("w") as out:
        out.write(f"# made by reference_noncentral_t_far.py with mpmath {mpmath.__version__} at {mp.dps} digits\n"
                  "# t, degrees of freedom, noncentrality\nkind,x,a,b,value\n")
        for case in cases():
            value = line(case)
            if mpf(value.split(",")[4]) > mpf(10) ** -290:
                out.write(value + "\n")
                out.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
