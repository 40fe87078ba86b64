#!/usr/bin/env python3
"""Bounds with run-outs and first-rung failures against a quadrature of its own (methods.md 3, "Open observations").

The posterior of (m, s) with prior density 1/s, failures at their middles as exact, open ends through survival and distribution
terms, is laid on a grid of ln s (trapezoid) and m (cubic splines, integrated exactly); L is the lower 1 - C quantile of m + z s.
usage: conditional_bound.py path/to/holdfast
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from scipy import interpolate, optimize, stats

sys.path.insert(0, str(pathlib.Path(__file__).parent))
from compare_scipy import LAWS, polish  # noqa: E402

SEED = 20260519
CAMPAIGNS = 16
TOLERANCE = 1e-5
COARSE, FINE = 500, 1500
NOTHING = 34  # exp(-34) of the largest value
GOALS = [(0.90, 0.95), (0.99, 0.95), (0.95, 0.90), (0.95, 0.75)]


def draw(random, number):
    """One design: (what stands in the file, failures as (low, high), loads held, loads broken at or below)."""
    n = int(random.integers(3, 9))
    x = np.sort(random.uniform(200, 4000) * np.exp(random.uniform(0.03, 0.22) * stats.norm.rvs(size=n, random_state=random)))
    step = 0.0 if number % 4 == 0 else x.std() * random.uniform(0.15, 1.1)
    above = int(random.integers(0, max(n - 2, 1))) if number % 3 else 0
    below = 1 if number % 3 != 1 and n - above >= 3 else 0
    if above + below == 0:
        below = 1 if n >= 3 else 0
    failed = x[below:n - above]
    if step:
        start = random.uniform(0, step)
        rung = np.ceil((failed - start) / step)
        failed = [(start + step * (r - 1), start + step * r) for r in rung]
    else:
        failed = [(value, value) for value in failed]
    held = [float(random.uniform(0.9, 1.0) * value) for value in x[n - above:]]
    first = [float(random.uniform(1.0, 1.05) * value) for value in x[:below]]
    mids = {0.5 * (a + b) for a, b in failed}
    return (failed, held, first) if len(failed) >= 2 and len(mids) >= 2 and all(a > 0 for a, _ in failed) else draw(random, number)


def campaign(failed, held, first, goal):
    pulls = [{"peak": a} if a == b else {"held": a, "failed": b} for a, b in failed]
    pulls += [{"held": value, "outcome": "held"} for value in held] + [{"failed": value} for value in first]
    specimens = [{"id": f"p{i}", **pull} for i, pull in enumerate(pulls)]
    return {"format": "holdfast-campaign/1", "unit": "N", "rig": {"id": "beam", "records": "total"},
            "goal": {"content": goal[0], "confidence": goal[1], "design_factor": 3}, "designs": [{"id": "ring", "specimens": specimens}]}


def assess(program, data):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "campaign.json"
        path.write_text(json.dumps(data))
        run = subprocess.run([program, "assess", "--json", str(path)], capture_output=True, text=True, check=False)
    if run.returncode not in (0, 1, 4):
        raise RuntimeError(f"exit {run.returncode}: {run.stderr}")
    return {bound["family"]: bound for bound in json.loads(run.stdout)["designs"][0]["bounds"] if bound["family"] in LAWS}


def log_likelihood(law, y, above, below, m, s):
    m = np.atleast_1d(m)
    value = law.logpdf((y[:, None] - m) / s).sum(axis=0) - len(y) * np.log(s)
    if len(above):
        value = value + law.logsf((above[:, None] - m) / s).sum(axis=0)
    if len(below):
        value = value + law.logcdf((below[:, None] - m) / s).sum(axis=0)
    return value


def maximum(law, y, above, below):
    scale, center = y.std(), y.mean()

    def minus(point):
        return -float(log_likelihood(law, y, above, below, center + scale * point[0], scale * np.exp(point[1]))[0])

    best = optimize.minimize(minus, [0.0, 0.0], method="Nelder-Mead", options={"xatol": 1e-5, "fatol": 1e-9, "maxiter": 4000}).x
    best = polish(minus, best)
    return center + scale * best[0], scale * np.exp(best[1])


def slice_of(function, low, high):
    """The likelihood over m at one s: (its largest logarithm, grid, integral spline of exp(value - largest))."""
    for points in (COARSE, COARSE, FINE):
        grid = np.linspace(low, high, points)
        with np.errstate(all="ignore"):
            value = function(grid)
        value = np.where(np.isnan(value), -np.inf, value)
        top = value.max()
        if not np.isfinite(top):
            return None
        inside = np.nonzero(value > top - NOTHING)[0]
        low, high = grid[max(inside[0] - 1, 0)], grid[min(inside[-1] + 1, points - 1)]
    return top, grid, interpolate.CubicSpline(grid, np.exp(value - top)).antiderivative()


def limit(law, y, above, below, m, s, z, target):
    """x with P(m + z s <= x) = target."""
    ends = np.concatenate([y, above, below])
    slices = []
    for direction in (-1, 1):
        peak = -np.inf
        for i in range(0 if direction > 0 else 1, 900):
            spread = s * np.exp(direction * 0.08 * i)
            found = slice_of(lambda grid, at=spread: log_likelihood(law, y, above, below, grid, at), ends.min() - 60 * spread,
                             ends.max() + 60 * spread)
            if found is None:
                break
            top, grid, integral = found
            mass = top + np.log(integral(grid[-1]))  # d(ln s): the prior 1/s is flat there
            slices.append((spread, mass, grid, integral, integral(grid[-1])))
            peak = max(peak, mass)
            if mass < peak - NOTHING:
                break
    peak = max(part[1] for part in slices)
    shares = np.array([np.exp(part[1] - peak) for part in slices])
    shares /= shares.sum()

    def excess(x):
        below_x = [float(integral(np.clip(x - z * spread, grid[0], grid[-1]))) / whole for spread, _, grid, integral, whole in slices]
        return float(shares @ below_x) - target

    low, high = m + 3 * z * s, m
    while excess(low) > 0:
        low = m + 2 * (low - m)
    return optimize.brentq(excess, low, high, xtol=1e-12 * s, rtol=1e-14)


def expected_bound(family, failed, held, first, goal):
    law, work = LAWS[family], (lambda v: v) if family == "normal" else np.log
    low, high = work(np.array([a for a, _ in failed])), work(np.array([b for _, b in failed]))
    y, above, below = 0.5 * (low + high), work(np.array(held)), work(np.array(first))
    m, s = maximum(law, y, above, below)
    q = limit(law, y, above, below, m, s, law.isf(goal[0]), 1 - goal[1])
    s *= 1 if family == "weibull" else np.sqrt(len(y) / (len(y) - 1))
    h = np.sqrt(np.mean((high - low) ** 2)) if (high > low).any() else 0.0
    steps = h**2 / (12 if family == "weibull" else 8)
    return {"k": (m - q) / s, "m": m, "s": s, "h": h, "bound": m - (m - q) / s * np.sqrt(s**2 + steps)}


def compare(got, expected, about):
    """Everything on the working scale: exp of a bound 100 s below the middle would only magnify the last digits of k."""
    if got["method"] != "conditional":
        print(f"{about}: method {got['method']}, expected conditional")
        return np.inf
    got = {**got, "bound": got["value"] if got["family"] == "normal" else np.log(got["value"])}
    scale = {key: max(abs(value), expected["s"]) for key, value in expected.items()}
    errors = {key: abs(got[key] - value) / scale[key] for key, value in expected.items()}
    if not all(error <= TOLERANCE for error in errors.values()):
        print(f"{about}: holdfast {({key: got[key] for key in expected})}, quadrature {expected}")
    return max(errors.values())


def main():
    random = np.random.default_rng(SEED)
    compared = wrong = first_rung = run_out = 0
    worst = dict.fromkeys(LAWS, 0.0)
    for number in range(CAMPAIGNS):
        failed, held, first = draw(random, number)
        goal = GOALS[number % len(GOALS)]
        bounds = assess(sys.argv[1], campaign(failed, held, first, goal))
        for family in LAWS:
            about = f"campaign {number}, {family}, {len(failed)} failed, {len(held)} held, {len(first)} first rung, {goal}"
            error = compare(bounds[family], expected_bound(family, failed, held, first, goal), about)
            compared, worst[family] = compared + 1, max(worst[family], error)
            wrong += not error <= TOLERANCE
            first_rung, run_out = first_rung + bool(first), run_out + bool(held)
    print("worst relative errors:", ", ".join(f"{family} {error:.2g}" for family, error in worst.items()))
    print(f"{compared} bounds compared, {first_rung} with first-rung failures, {run_out} with run-outs, {wrong} differ")
    return 1 if wrong or compared < 3 * CAMPAIGNS or first_rung < 12 or run_out < 12 else 0


if __name__ == "__main__":
    sys.exit(main())
