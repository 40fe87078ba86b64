#!/usr/bin/env python3
"""Tolerance factors of `holdfast factor --json` against programs of other people and a simulation of its own.

Weibull: samples drawn and fitted here with numpy; both standard errors decide what "the same" means.
Normal: scipy's noncentral t, where it is good (small noncentrality).  usage: weibull_factor.py path/to/holdfast
"""
import json
import subprocess
import sys

import numpy as np
from scipy import optimize, stats

SEED = 20260512
DEVIATIONS = 4.5  # combined standard errors; about 1 in 150 000 for each comparison
SAMPLES = {2: 6_000_000, 3: 800_000, 7: 700_000, 45: 250_000, 70: 150_000, 150: 70_000, 400: 25_000}
ON_GRID = [(0.90, 0.95), (0.99, 0.95), (0.95, 0.75), (0.95, 0.90)]
BETWEEN = [(0.93, 0.95), (0.97, 0.85), (0.90, 0.965), (0.985, 0.82), (0.78, 0.63)]
OUTSIDE = [(0.90, 0.9995)]  # from the fewer samples of the tail
OUTSIDE_SIZES = (3, 7)
CHUNK = 4_000_000


def factor(program, family, n, content, confidence):
    command = [program, "factor", "--json", "--family", family, "--n", str(n), "--content", repr(content), "--confidence", repr(confidence)]
    answer = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return json.loads(answer)


def estimates(y):
    """Maximum likelihood of many samples (rows) at once: safeguarded Newton in b = 1/s."""
    x = y - y.max(axis=1, keepdims=True)
    mean, b = x.mean(axis=1), 1.28 / np.maximum(x.std(axis=1), 1e-300)
    for _ in range(60):
        e = np.exp(b[:, None] * x)
        total = e.sum(axis=1)
        first = (x * e).sum(axis=1) / total
        second = (x * x * e).sum(axis=1) / total
        step = (first - mean - 1 / b) / (second - first**2 + 1 / b**2)
        step = np.clip(step, -2 * b, 0.7 * b)
        b = b - step
        if (np.abs(step) < 1e-12 * b).all():
            break
    else:
        raise RuntimeError("Newton did not settle")
    return y.max(axis=1) + np.log(np.exp(b[:, None] * x).mean(axis=1)) / b, 1 / b


def pivots(random, n, count):
    if n == 2:  # two values have one shape: fit it once, then stretch it
        m, s = estimates(np.array([[0.0, 1.0]]))
        y = np.sort(stats.gumbel_l.rvs(size=(count, 2), random_state=random), axis=1)
        width = y[:, 1] - y[:, 0]
        return y[:, 0] + m[0] * width, s[0] * width
    rows = max(CHUNK // n, 1)
    parts = [estimates(np.log(random.standard_exponential((min(rows, count - at), n)))) for at in range(0, count, rows)]
    return np.concatenate([p[0] for p in parts]), np.concatenate([p[1] for p in parts])


def quantile(values, confidence):
    """Sample quantile and its standard error from the order statistics around it."""
    values, size = np.sort(values), len(values)
    spread = np.sqrt(confidence * (1 - confidence) / size)
    low, high = (values[int((confidence + side * spread) * size)] for side in (-1, 1))
    return values[int(confidence * size)], 0.5 * (high - low)


def check_weibull(program):
    random = np.random.default_rng(SEED)
    compared = wrong = 0
    worst = widest = 0.0
    for n, count in SAMPLES.items():
        m, s = pivots(random, n, count)
        for content, confidence in ON_GRID + BETWEEN + (OUTSIDE if n in OUTSIDE_SIZES else []):
            expected, error = quantile((m - np.log(-np.log(content))) / s, confidence)
            got = factor(program, "weibull", n, content, confidence)
            allowed = DEVIATIONS * np.hypot(error, got["standard_error"])
            share = abs(got["k"] - expected) / np.hypot(error, got["standard_error"])
            compared, worst, widest = compared + 1, max(worst, share), max(widest, allowed / expected)
            if not abs(got["k"] - expected) <= allowed:
                wrong += 1
                print(f"weibull n {n}, {content}/{confidence}: holdfast {got['k']:.6g} ± {got['standard_error']:.2g}, "
                      f"simulation {expected:.6g} ± {error:.2g}")
    print(f"weibull: {compared} factors compared, {wrong} differ; worst {worst:.2f} standard errors, widest allowance {widest:.2%}")
    return compared, wrong


def check_normal(program):
    compared = wrong = 0
    worst = 0.0
    for n in (2, 3, 5, 10, 28, 60):
        for content in (0.75, 0.90, 0.95, 0.99):
            shift = stats.norm.ppf(content) * np.sqrt(n)
            if shift > 15:
                continue
            for confidence in (0.5, 0.75, 0.95, 0.99):
                got = factor(program, "normal", n, content, confidence)["k"]
                with np.errstate(all="ignore"):
                    root = optimize.brentq(lambda t: stats.nct.cdf(t, n - 1, shift) - confidence, 1e-3, 5000, xtol=1e-13, rtol=1e-14)
                expected = root / np.sqrt(n)
                error = abs(got - expected) / expected
                compared, worst = compared + 1, max(worst, error)
                if not error <= 1e-8:  # methods.md 9
                    wrong += 1
                    print(f"normal n {n}, {content}/{confidence}: holdfast {got!r}, scipy {expected!r}")
    print(f"normal: {compared} factors compared, {wrong} differ; worst relative error {worst:.2g}")
    return compared, wrong


def main():
    weibull, normal = check_weibull(sys.argv[1]), check_normal(sys.argv[1])
    return 1 if weibull[1] or normal[1] or weibull[0] < 60 or normal[0] < 80 else 0


if __name__ == "__main__":
    sys.exit(main())
