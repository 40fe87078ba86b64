#!/usr/bin/env python3
"""30-digit reference values for holdfast/numeric/special.h, made with mpmath.

    /usr/bin/python3 reference_special.py            writes reference_special.csv
    /usr/bin/python3 reference_special.py --check N  recomputes N random lines and compares

Every argument is the double that is printed; the value is for exactly that double. Incomplete beta and
gamma functions are power series with positive terms (the library uses continued fractions and Loader's form as
well), complements carry extra digits; quantiles are solved to 33 digits.
"""
import pathlib
import random
import sys

import mpmath
from mpmath import mp, mpf

mp.dps = 80
FILE = pathlib.Path(__file__).with_name("reference_special.csv")


def normal_lower(z):
    return mpmath.erfc(-z / mpmath.sqrt(2)) / 2


def positive_series(first, ratio):
    """first·(1 + r(0) + r(0)·r(1) + …), all terms positive."""
    total = term = mpf(1)
    n = 0
    while term > total * mpf(10) ** (-mp.dps - 10):
        term *= ratio(n)
        total += term
        n += 1
    return first * total


def complement(lower):
    """1 − lower() with enough digits that 30 are left."""
    for digits in (mp.dps, 200, 400, 800):
        with mp.workdps(digits):
            upper = 1 - lower()
            if upper > mpf(10) ** (35 - digits):
                return upper
    raise ArithmeticError("tail too small")


def beta_series(x, y, a, b):
    front = mpmath.exp(a * mpmath.log(x) + b * mpmath.log(y) + mpmath.loggamma(a + b) - mpmath.loggamma(a + 1) - mpmath.loggamma(b))
    return positive_series(front, lambda n: (a + b + n) / (a + 1 + n) * x)


def beta_tail(x, y, a, b):
    """∫ over [0, x] of the beta density, y = 1 − x, by the shorter of the two series."""
    n = a + b
    if (x < 0.5 and x * n < a + 60) or (x * n < a and not (y < 0.5 and y * n < b + 60)):
        return beta_series(x, y, a, b)
    return complement(lambda: beta_series(y, x, b, a))


def beta_lower(x, a, b):
    return beta_tail(x, 1 - x, a, b)


def beta_upper(x, a, b):
    return beta_tail(1 - x, x, b, a)


def gamma_series(a, x):
    front = mpmath.exp(a * mpmath.log(x) - x - mpmath.loggamma(a + 1))
    return positive_series(front, lambda n: x / (a + 1 + n))


def gamma_lower(a, x):
    return gamma_series(a, x)


def gamma_upper(a, x):
    return complement(lambda: gamma_series(a, x))


def t_upper(t, nu):
    sum_ = nu + t * t
    half = beta_tail(nu / sum_, t * t / sum_, nu / 2, mpf(1) / 2) / 2
    return half if t >= 0 else 1 - half


def solve(function, p, low, high):
    """x in [low, high] with function(x) = p: bisection, then the Illinois variant of regula falsi."""
    target = lambda x: mpmath.log(function(x) / p)
    low, high = mpf(low), mpf(high)
    at_low, at_high = target(low), target(high)
    for k in range(200):
        if k < 8:
            x = mpmath.sqrt(low * high) if low > 0 else (low + high) / 2
        else:
            x = (low * at_high - high * at_low) / (at_high - at_low)
        at = target(x)
        if abs(at) < mpf(10) ** -33 or abs(high - low) < mpf(10) ** -36 * abs(x):
            return x
        if (at > 0) == (at_high > 0):
            at_low *= mpf(1) / 2 if k > 8 and last == 1 else 1
            high, at_high, last = x, at, 1
        else:
            at_high *= mpf(1) / 2 if k > 8 and last == -1 else 1
            low, at_low, last = x, at, -1
    raise ArithmeticError("no root")


def normal_quantile_lower(p):
    if p == mpf(1) / 2:
        return mpf(0)
    return solve(normal_lower, p, -40, -mpf(10) ** -9) if p < 0.5 else -solve(normal_lower, 1 - p, -40, -mpf(10) ** -9)


def binomial_sum(first, last, n, p):
    return sum(mpmath.binomial(int(n), k) * p**k * (1 - p) ** (int(n) - k) for k in range(int(first), int(last) + 1))


def beta_bracket(a, b):
    mean = a / (a + b)
    spread = 9 * mpmath.sqrt(mean * (1 - mean) / (a + b + 1))
    return max(mean - spread, mpf(10) ** -20), min(mean + spread, 1 - mpf(10) ** -20)


def chi2_bracket(nu):
    spread = 8 * mpmath.sqrt(2 * nu)
    return max(nu - spread, mpf(10) ** -25), nu + spread + 60


FUNCTIONS = {
    "normal_lower": normal_lower,
    "normal_upper": lambda z: normal_lower(-z),
    "normal_log_lower": lambda z: mpmath.log(normal_lower(z)) if z < 5 else mpmath.log1p(-normal_lower(-z)),
    "normal_quantile_lower": normal_quantile_lower,
    "normal_quantile_upper": lambda p: -normal_quantile_lower(p),
    "sev_lower": lambda z: -mpmath.expm1(-mpmath.exp(z)),
    "sev_upper": lambda z: mpmath.exp(-mpmath.exp(z)),
    "sev_log_lower": lambda z: mpmath.log(-mpmath.expm1(-mpmath.exp(z))),
    "sev_quantile_lower": lambda p: mpmath.log(-mpmath.log1p(-p)),
    "sev_quantile_upper": lambda p: mpmath.log(-mpmath.log(p)),
    "t_lower": lambda t, nu: t_upper(-t, nu),
    "t_upper": t_upper,
    "t_quantile_upper": lambda p, nu: solve(lambda t: t_upper(t, nu), p, 1e-6, 4 * (1 / p) ** (1 / nu) * mpmath.sqrt(nu)),
    "chi2_lower": lambda x, nu: gamma_lower(nu / 2, x / 2),
    "chi2_upper": lambda x, nu: gamma_upper(nu / 2, x / 2),
    "chi2_quantile_lower": lambda p, nu: solve(lambda x: gamma_lower(nu / 2, x / 2), p, *chi2_bracket(nu)),
    "chi2_quantile_upper": lambda p, nu: solve(lambda x: gamma_upper(nu / 2, x / 2), p, *chi2_bracket(nu)),
    "f_upper": lambda x, a, b: beta_tail(b / (b + a * x), a * x / (b + a * x), b / 2, a / 2),
    "gamma_lower": gamma_lower,
    "gamma_upper": gamma_upper,
    "gamma_quantile_lower": lambda p, a: solve(lambda x: gamma_lower(a, x), p, *(v / 2 for v in chi2_bracket(2 * a))),
    "log_gamma": mpmath.loggamma,
    "beta_lower": beta_lower,
    "beta_upper": beta_upper,
    "beta_quantile_lower": lambda p, a, b: solve(lambda x: beta_lower(x, a, b), p, *beta_bracket(a, b)),
    "binomial_at_least": lambda r, n, p: binomial_sum(r, n, n, p),
    "binomial_at_most": lambda r, n, p: binomial_sum(0, r, n, p),
}


def cases():
    z = [-37.0, -20.5, -8.0, -5.0, -4.0, -3.0, -2.25, -1.0, -0.3, -1e-5, 0.0, 1e-9, 0.5, 1.0, 1.7, 2.5, 4.0, 6.0, 8.2]
    tails = [1e-300, 1e-50, 1e-15, 1e-9, 1e-5, 0.0001, 0.01, 0.05, 0.074, 0.076, 0.1, 0.3, 0.4999, 0.50001, 0.75]
    tails += [0.9, 0.95, 0.99, 0.9999, 0.99999, 0.999999999]
    for x in z:
        for name in ("normal_lower", "normal_upper", "normal_log_lower"):
            yield name, x
    yield "normal_log_lower", -39.5
    yield "normal_log_lower", -200.0
    for x in (-60.0, -31.0, -29.0, -10.0, -3.0, -1.0, -0.1, 0.0, 0.5, 1.5, 3.0, 6.0):
        for name in ("sev_lower", "sev_upper", "sev_log_lower"):
            yield name, x
    for p in tails:
        for name in ("normal_quantile_lower", "normal_quantile_upper", "sev_quantile_lower", "sev_quantile_upper"):
            yield name, p
    for nu in (1.0, 2.0, 3.5, 9.0, 42.0, 99.0, 999.0, 9999.0):
        for t in (-50.0, -4.0, -1.0, -0.01, 0.3, 1.2, 2.5, 6.0, 30.0):
            yield "t_lower", t, nu
            yield "t_upper", t, nu
        for p in (1e-12, 1e-5, 0.0005, 0.005, 0.05, 0.1, 0.26, 0.4, 0.499):
            yield "t_quantile_upper", p, nu
        for ratio in (0.02, 0.4, 0.9, 1.0, 1.15, 2.0, 6.0) if nu < 500 else (0.9, 0.97, 1.0, 1.05, 1.2):
            yield "chi2_lower", nu * ratio, nu
            yield "chi2_upper", nu * ratio, nu
        for p in (1e-10, 1e-4, 0.025, 0.1, 0.5, 0.75, 0.95, 0.9999):
            yield "chi2_quantile_lower", p, nu
            yield "chi2_quantile_upper", p, nu
        for nu2 in (1.0, 4.0, 57.0, 2000.0):
            for x in (0.1, 1.0, 2.7, 9.0) if nu < 50 and nu2 < 100 else (0.6, 1.0, 1.3):
                yield "f_upper", x, nu, nu2
    for a in (0.01, 0.5, 1.0, 7.25, 60.0, 5000.0):
        for ratio in (0.01, 0.7, 1.0, 1.3, 3.0) if a < 500 else (0.8, 0.95, 1.0, 1.1):
            yield "gamma_lower", a, a * ratio
            yield "gamma_upper", a, a * ratio
        for p in (0.001, 0.2, 0.9, 0.999):
            yield "gamma_quantile_lower", p, max(a, 0.5)
    for x in (1e-6, 0.5, 0.99, 1.0, 1.01, 2.0, 2.02, 3.5, 15.9, 16.1, 500.5, 1e6):
        yield "log_gamma", x
    for a, b in ((0.5, 0.5), (1.0, 7.0), (2.0, 30.0), (29.0, 1.0), (5.5, 3.0), (400.0, 20.0), (5000.0, 0.5), (3000.0, 7000.0)):
        mean = a / (a + b)
        for odds in (0.05, 0.5, 0.95, 1.0, 1.1, 3.0, 50.0) if a + b < 500 else (0.9, 0.97, 1.0, 1.04, 1.1):
            x = mean * odds / (mean * odds + 1 - mean)
            yield "beta_lower", x, a, b
            yield "beta_upper", x, a, b
        for p in (1e-8, 0.001, 0.05, 0.3, 0.5, 0.9, 0.99):
            yield "beta_quantile_lower", p, a, b
    for n in (1.0, 2.0, 5.0, 29.0, 58.0, 300.0):
        for p in (0.001, 0.1, 0.5, 0.9):
            for r in sorted({1.0, 2.0, float(round(n / 3)), float(round(0.9 * n)), n} & {float(i) for i in range(1, int(n) + 1)}):
                yield "binomial_at_least", r, n, p
                if r < n:
                    yield "binomial_at_most", r, n, p


def line(case):
    name, arguments = case[0], case[1:]
    value = FUNCTIONS[name](*(mpf(a) for a in arguments))
    fields = [name] + [repr(a) for a in arguments] + [""] * (3 - len(arguments))
    return ",".join(fields + [mpmath.nstr(value.real, 30)])


def check(count):
    stored = [row for row in FILE.read_text().splitlines() if row and row[0] != "#"][1:]
    wrong = 0
    for row in random.Random(20260501).sample(stored, count):
        fields = row.split(",")
        again = line([fields[0]] + [float(a) for a in fields[1:4] if a])
        old, new = mpf(fields[4]), mpf(again.split(",")[4])
        if abs(old - new) > mpf(10) ** -25 * abs(new):
            wrong += 1
            print(f"stored {row}\nagain  {again}")
    print(f"{count} lines recomputed, {wrong} differ")
    return 1 if wrong else 0


def main():
    if len(sys.argv) == 3 and sys.argv[1] == "--check":
        return check(int(sys.argv[2]))
    head = f"# made by reference_special.py with mpmath {mpmath.__version__} at {mp.dps} digits\nfunction,x,a,b,value\n"
    with FILE.open("w") as out:
        out.write(head)
        for case in cases():
            out.write(line(case) + "\n")
            out.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
