#!/usr/bin/env python3
"""Fits against a likelihood written out here and climbed by scipy's simplex search, which knows no derivative.

Takes harsher samples than compare_survreg.R: loads from millionths to thousand millions, scatter from 0.1 % to beyond 100 %,
steps from a millionth of the scatter to three times it.  usage: compare_scipy.py path/to/fit_driver
"""
import subprocess
import sys

import numpy as np
from scipy import optimize, stats

SEED = 20260503
PER_KIND = 8
TOLERANCE = 1e-6  # methods.md 9
KINDS = ("exact", "narrow", "stepped", "coarse", "above", "below", "both")
STEP = {"narrow": (1e-6, 1e-3), "stepped": (0.05, 1.0), "coarse": (1.0, 3.0)}
LAWS = {"normal": stats.norm, "lognormal": stats.norm, "weibull": stats.gumbel_l}
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)


def draw(random, family, kind):
    n = int(round(np.exp(random.uniform(np.log(3), np.log(200)))))
    size = np.exp(random.uniform(np.log(1e-6), np.log(1e9)))
    cv = np.exp(random.uniform(np.log(0.001), np.log(0.25 if family == "normal" else 1.5)))
    z = LAWS[family].rvs(size=n, random_state=random)
    x = size * np.maximum(1 + cv * z, 0.01) if family == "normal" else size * np.exp(cv * z)
    return pull(random, x, kind)


def pull(random, x, kind):
    low, high = x.copy(), x.copy()
    if kind == "exact":
        return low, high
    span = STEP.get(kind, STEP["stepped"])
    step = x.std() * np.exp(random.uniform(np.log(span[0]), np.log(span[1])))
    start = random.uniform() * step
    rung = np.ceil((x - start) / step)
    low, high = np.maximum(start + step * (rung - 1), 0), start + step * rung
    if kind in ("above", "both"):
        limit = np.quantile(x, random.uniform(0.3, 0.9))
        low[x > limit], high[x > limit] = limit, np.inf
    if kind in ("below", "both"):
        first = np.quantile(x, random.uniform(0.02, 0.4))
        weak = x <= first
        high[weak], low[weak] = np.minimum(high[weak], first), 0
    return low, high


def usable(random, family, kind):
    """With open ends alone the likelihood may rise without end as s grows; two failures between two loads rule that out."""
    while True:
        low, high = draw(random, family, kind)
        if np.count_nonzero((low > 0) & np.isfinite(high)) >= 2:
            return low, high


def log_interval(law, a, b):
    """ln P(a < Z <= b), by quadrature of the density where the ends are near, by the better tail elsewhere."""
    out = np.empty(len(a))
    near = b - a < 0.5
    half, middle = 0.5 * (b[near] - a[near]), 0.5 * (b[near] + a[near])
    if half.size:
        density = law.logpdf(middle[:, None] + half[:, None] * NODES)
        top = density.max(axis=1)
        out[near] = top + np.log(half * (np.exp(density - top[:, None]) @ WEIGHTS))
    a, b = a[~near], b[~near]
    upper = law.sf(a) < 0.5
    large = np.where(upper, law.logsf(a), law.logcdf(b))
    small = np.where(upper, law.logsf(b), law.logcdf(a))
    out[~near] = large + np.log1p(-np.exp(small - large))
    return out


def minus_log_likelihood(point, law, low, high, logs):
    m, s = point[0], np.exp(point[1])
    exact = low == high
    z = (low[exact] - m) / s
    value = law.logpdf(z).sum() - exact.sum() * point[1] - (low[exact].sum() if logs else 0.0)
    return -value - log_interval(law, (low[~exact] - m) / s, (high[~exact] - m) / s).sum()


def polish(function, point):
    """Newton's method on differences of fourth order: a flat top hides the last digits from a search that only sees values."""
    step = 2e-3 * np.exp(min(point[1], 0))
    offsets, first = np.array([-2, -1, 1, 2]) * step, np.array([1, -8, 8, -1]) / (12 * step)

    def gradient(at):
        return np.array([sum(w * function(at + o * axis) for w, o in zip(first, offsets)) for axis in np.eye(2)])

    for _ in range(4):
        hessian = np.array([sum(w * gradient(point + o * axis) for w, o in zip(first, offsets)) for axis in np.eye(2)])
        point = point - np.linalg.solve(hessian, gradient(point))
    return point


def climb(family, low, high):
    law, logs = LAWS[family], family != "normal"
    with np.errstate(all="ignore"):
        if logs:
            low, high = np.log(low), np.log(high)
        known = np.where(np.isfinite(high), high, low)
        center, scale = known.mean(), max(known.std(), 1e-12)
        low, high = (low - center) / scale, (high - center) / scale
        arguments = (law, low, high, False)
        best = np.zeros(2)
        for size in (0.7, 0.05):
            simplex = best + size * np.array([[0, 0], [1, 0.3], [-0.4, 1]])
            best = optimize.minimize(minus_log_likelihood, best, arguments, "Nelder-Mead", options={
                "initial_simplex": simplex, "xatol": 1e-5, "fatol": 1e-10, "maxiter": 4000, "maxfev": 8000}).x
        best = polish(lambda point: minus_log_likelihood(point, *arguments), best)
        top = -minus_log_likelihood(best, *arguments)
    exact = low == high
    jacobian = exact.sum() * np.log(scale)
    if logs:
        jacobian += (center + scale * low[exact]).sum()
    return center + scale * best[0], scale * np.exp(best[1]), top - jacobian


def main():
    random = np.random.default_rng(SEED)
    samples = [(f, k, *usable(random, f, k)) for f in LAWS for k in KINDS for _ in range(PER_KIND)]
    lines = []
    for family, _, low, high in samples:
        lines.append(f"{family} {len(low)}")
        lines += [f"{a!r} {b!r}" for a, b in zip(low.tolist(), high.tolist())]
    answers = subprocess.run(sys.argv[1:2], input="\n".join(lines), capture_output=True, text=True, check=True).stdout.split("\n")
    compared = without = wrong = 0
    worst = np.zeros(3)
    for (family, kind, low, high), answer in zip(samples, answers, strict=False):
        words = answer.split()
        if words[5] != "converged":
            without += 1
            wrong += words[5] == "not_converged"
            print(f"{family} {kind}, {len(low)} parts: {words[5]}")
            continue
        got = np.array([float(words[0]), float(words[1]), float(words[4])])
        expected = np.array(climb(family, low, high))
        scale = np.array([max(abs(expected[0]), expected[1]), expected[1], max(abs(expected[2]), 1.0)])
        error = np.abs(got - expected) / scale
        worst, compared = np.maximum(worst, error), compared + 1
        if not (error <= TOLERANCE).all():
            wrong += 1
            print(f"{family} {kind}, {len(low)} parts: holdfast {got}, scipy {expected}, relative {error}")
    print(f"worst relative errors: m {worst[0]:.2g}, s {worst[1]:.2g}, log-likelihood {worst[2]:.2g}")
    print(f"{len(samples)} samples: {compared} compared, {without} without a maximum, {wrong} differ")
    return 1 if wrong or compared < 0.9 * len(samples) or compared == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
