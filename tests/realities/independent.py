#!/usr/bin/env python3
"""The bounds of the realities by other means: scipy's distributions and quadrature, none of Holdfast's code.
independent.py writes expected.json; independent.py --check recomputes it and compares; --fresh only sees that nothing was changed since."""
import itertools
import json
import math
import pathlib
import sys

import numpy
from scipy import integrate, optimize, special, stats

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "tools"))
from stamp import check_stamp, write_stamp

HERE = pathlib.Path(__file__).parent
KG, LB = 9.80665, 0.45359237 * 9.80665
P, C = 0.90, 0.95
Z = stats.norm.ppf(P)


def newton(value):
    if isinstance(value, str):
        number, unit = value.split()
        return float(number) * {"kg": KG, "lb": LB}[unit]
    return value


def observations(data, with_void=False, with_reused=False):
    tare = data["rig"]["tare"]
    out = {"closed": [], "exact": [], "above": [], "below": [], "of closed": [], "of exact": []}
    for s in data["designs"][0]["specimens"]:
        if s.get("reused") and not with_reused or s.get("outcome") == "void" and not with_void:
            continue
        if "peak" in s:
            out["exact"].append(newton(s["peak"]))
            out["of exact"].append(s.get("batch"))
        elif s.get("outcome") in ("held", "rig"):
            out["above"].append(newton(s["held"]) + tare)
        elif s.get("held", 0) == 0:
            out["below"].append(newton(s["failed"]) + tare)
        else:
            out["of closed"].append(s.get("batch"))
            out["closed"].append((newton(s["held"]) + tare, newton(s["failed"]) + tare, 2 if s.get("dropped") else 1))
    return out


def mids(obs, log):
    f = math.log if log else float
    y = [0.5 * (f(a) + f(b)) for a, b, _ in obs["closed"]] + [f(x) for x in obs["exact"]]
    w = [(f(b) - f(a)) * times for a, b, times in obs["closed"]]
    h = math.sqrt(sum(x * x for x in w) / len(w)) if w else 0.0
    return numpy.array(y), h, [f(x) for x in obs["above"]], [f(x) for x in obs["below"]]


def normal_like(y, above, below):
    """ML and lower limit of q = m - Z s under prior 1/s, by adaptive quadrature over u = ln s and m."""
    d = len(y)

    def loglik(m, s):
        v = -d * math.log(s) - ((y - m) ** 2).sum() / (2 * s * s)
        return v + sum(stats.norm.logcdf((m - a) / s) for a in above) + sum(stats.norm.logcdf((b - m) / s) for b in below)

    sd = max(y.std(), 1e-3 * abs(y.mean()))
    best = optimize.minimize(lambda t: -loglik(t[0], math.exp(t[1])), [y.mean(), math.log(sd)], method="Nelder-Mead",
                             options={"xatol": 1e-11, "fatol": 1e-13, "maxiter": 20000})
    m0, u0 = best.x
    s0 = math.exp(u0)
    top = -best.fun
    us = numpy.arange(u0 - 3.5, u0 + (28.0 if d == 2 else 18.0 / (d - 1) + 6), 0.02)
    nodes, weights = numpy.polynomial.legendre.leggauss(120)
    rows = []
    for u in us:
        s = math.exp(u)
        width = 9 * s / math.sqrt(d) + 4 * s
        m = m0 + width * nodes
        v = -d * u - (((y[:, None] - m) ** 2).sum(axis=0)) / (2 * s * s)
        for a in above:
            v = v + stats.norm.logcdf((m - a) / s)
        for b in below:
            v = v + stats.norm.logcdf((b - m) / s)
        rows.append((s, m0 - width, m0 + width, numpy.exp(v - top)))

    def mass(s, low, high, limit):
        end = min(limit, high)
        if end <= low:
            return 0.0
        half, mid = 0.5 * (end - low), 0.5 * (end + low)
        m = mid + half * nodes
        v = -d * math.log(s) - (((y[:, None] - m) ** 2).sum(axis=0)) / (2 * s * s)
        for a in above:
            v = v + stats.norm.logcdf((m - a) / s)
        for b in below:
            v = v + stats.norm.logcdf((b - m) / s)
        return half * float((weights * numpy.exp(v - top)).sum())

    total = sum(mass(s, low, high, math.inf) for s, low, high, _ in rows)
    limit = optimize.brentq(lambda x: sum(mass(s, low, high, x + Z * s) for s, low, high, _ in rows) / total - (1 - C),
                            m0 - 200 * s0, m0, xtol=1e-9 * s0)
    return m0, s0 * math.sqrt(d / (d - 1)), limit


def normal_bound(obs, log):
    y, h, above, below = mids(obs, log)
    d = len(y)
    if d < 2:
        return None
    equal = numpy.ptp(y) == 0
    if equal and below:
        return None
    if not above and not below or equal:
        m, s = y.mean(), 0.0 if equal else y.std(ddof=1)
        k = stats.nct.ppf(C, d - 1, Z * math.sqrt(d)) / math.sqrt(d)
    else:
        m, s, limit = normal_like(y, above, below)
        k = (m - limit) / s
    value = m - k * math.sqrt(s * s + h * h / 8)
    return math.exp(value) if log else value


def weibull_ml(y):
    def f(b):
        e = numpy.exp(b * (y - y.max()))
        return (y * e).sum() / e.sum() - y.mean() - 1 / b

    b = optimize.brentq(f, 1e-3, 1e5, xtol=1e-13)
    return y.max() + math.log(numpy.exp(b * (y - y.max())).mean()) / b, 1 / b


def weibull_w(n, samples=400000):
    rng = numpy.random.default_rng(20260000 + n)
    y = numpy.log(rng.exponential(size=(samples, n)))
    top = y.max(1)
    y = y - top[:, None]
    b = 1.28 / y.std(axis=1, ddof=1)
    for _ in range(60):
        e = numpy.exp(b[:, None] * y)
        s0, s1, s2 = e.sum(1), (y * e).sum(1), (y * y * e).sum(1)
        g = s1 / s0 - y.mean(1) - 1 / b
        step = g / (s2 / s0 - (s1 / s0) ** 2 + 1 / b ** 2)
        b = numpy.maximum(b - step, 0.2 * b)
    m = top + numpy.log(numpy.exp(b[:, None] * y).mean(1)) / b
    return float(numpy.quantile((m - math.log(-math.log(P))) * b, C))


def weibull_open(y, above):
    """Lawless's one-dimensional integral, by scipy's adaptive quadrature."""
    d, everything = len(y), numpy.concatenate([y, above])
    top = everything.max()

    def loglik(t):
        m, s = t[0], math.exp(t[1])
        return -(-d * math.log(s) + ((y - m) / s).sum() - numpy.exp((everything - m) / s).sum())

    best = optimize.minimize(loglik, [y.mean() + 0.5 * y.std(), math.log(y.std())], method="Nelder-Mead",
                             options={"xatol": 1e-12, "fatol": 1e-13, "maxiter": 20000})
    m0, s0 = best.x[0], math.exp(best.x[1])

    def logweight(u):
        s = math.exp(u)
        return -(d - 1) * u + ((y - top) / s).sum() - d * math.log(numpy.exp((everything - top) / s).sum())

    peak = max(logweight(u) for u in numpy.linspace(math.log(s0) - 4, math.log(s0) + 4, 400))
    low, high = math.log(s0) - 4, math.log(s0) + 40

    def gamma_tail(u, x):
        s = math.exp(u)
        g = numpy.exp((everything - top) / s).sum() * math.exp(min((top - x) / s, 690)) * -math.log(P)
        return math.exp(logweight(u) - peak) * special.gammaincc(d, g)

    def quad(f):
        points = numpy.linspace(low, high, 60)
        return sum(integrate.quad(f, a, b, epsabs=1e-13, epsrel=1e-11)[0] for a, b in zip(points[:-1], points[1:]))

    total = quad(lambda u: math.exp(logweight(u) - peak))
    limit = optimize.brentq(lambda x: quad(lambda u: gamma_tail(u, x)) / total - (1 - C), m0 - 120 * s0, m0, xtol=1e-9)
    return m0, s0, limit


def weibull_bound(obs):
    """(value, relative tolerance)"""
    y, h, above, below = mids(obs, True)
    d = len(y)
    if d < 2 or below:
        return None
    equal = numpy.ptp(y) == 0
    if (above or d == 2) and not equal:  # two values have one shape only: there the conditional answer is the factor
        m, s, limit = weibull_open(y, numpy.array(above))
        k, tolerance = (m - limit) / s, 2e-6
    else:
        m, s = (y[0], 0.0) if equal else weibull_ml(y)
        k = weibull_w(d)
        tolerance = 0.01 * k * math.sqrt(s * s + h * h / 12)  # 1 % of the factor: its own simulation error
    return math.exp(m - k * math.sqrt(s * s + h * h / 12)), tolerance


def stated(obs, cv):
    """Assumed scatter: the lower of the normal and the Weibull bound, on the loads held."""
    shape = 1 / optimize.brentq(lambda i: special.gamma(1 + 2 * i) / special.gamma(1 + i) ** 2 - 1 - cv * cv, 1e-4, 2)
    ends = numpy.array([a for a, _, _ in obs["closed"]] + obs["above"])
    failed = len(obs["closed"])
    scale = (2 * (ends ** shape).sum() / stats.chi2.ppf(C, 2 * failed)) ** (1 / shape)
    normal = ends.mean() * (1 - cv * (Z + stats.norm.ppf(C) / math.sqrt(len(ends))))
    return min(normal, scale * (-math.log(P)) ** (1 / shape))


# With the void pull counted in, these reject the Weibull law: the lower of its bound and the one for a wide class of laws would lead.
REJECTED_WITH_VOID = {"21-void"}


def hanson_koopmans(obs, content=0.9, confidence=0.95):
    """Bound for a wide class of laws from the lowest and the r-th, seven parts: r = 5 (MIL-HDBK-17-1F table 8.5.14, from memory). The factor k is
    where P(x_1/x_r)^k lies low enough: given the r-th of n uniforms U, the smallest is below (tail/U)^(1/k) U with its chance."""
    pulls = obs["closed"]
    n, r, tail = len(pulls), 5, 1 - content
    assert n == 7
    lower, upper = min(o[0] for o in pulls), sorted(o[1] for o in pulls)[r - 1]

    def missed(k):
        density = lambda u: stats.beta.pdf(u, r, n - r + 1) * (1 - (1 - (tail / u) ** (1 / k)) ** (r - 1))
        return integrate.quad(density, tail, 1, epsabs=1e-12)[0] + stats.beta.cdf(tail, r, n - r + 1) - confidence
    k = optimize.brentq(missed, 1 + 1e-9, 100, xtol=1e-12)
    return upper * (lower / upper) ** k


def batch_bound(obs):
    """From the means of the batches on ln load, 90/95 (Mee and Owen 1983); None with open pulls, one batch, or a part that names none."""
    y, h, above, below = mids(obs, True)
    batches = obs["of closed"] + obs["of exact"]
    if above or below or len(set(batches)) < 2 or None in batches:
        return None
    groups = [y[[b == name for b in batches]] for name in sorted(set(batches))]
    b, e, inverse = len(groups), len(y) - len(groups), numpy.mean([1 / len(g) for g in groups])
    between = numpy.var([g.mean() for g in groups], ddof=1)
    within = sum(((g - g.mean()) ** 2).sum() for g in groups) / e if e else 0
    ratio = math.inf
    if within > 0:
        ratio = max(0, stats.f.ppf(0.85, e, b - 1) * between / within - inverse)
    share = 1 if math.isinf(ratio) else ratio / (1 + ratio)
    a = share + (1 - share) * inverse
    freedom = 1 / (a ** 2 / (b - 1) + (((1 - inverse) * (1 - share)) ** 2 / e if e else 0))
    root = math.sqrt(b / a)
    k = optimize.brentq(lambda k: stats.nct.cdf(k * root, freedom, stats.norm.ppf(0.9) * root) - 0.95, 1, 200, xtol=1e-12)
    s = math.sqrt(between + (1 - inverse) * within)
    return math.exp(numpy.mean([g.mean() for g in groups]) - k * math.sqrt(s * s + h * h / 8))


def lower(obs, bound):
    by_batches = batch_bound(obs)
    return bound if by_batches is None else min(bound, by_batches)


def trend(obs):
    """Share of all orders of the middles of ln load whose slope is as steep as that of the order in the file."""
    y = numpy.log([0.5 * (a + b) for a, b, _ in obs["closed"]])
    place = numpy.arange(len(y)) - (len(y) - 1) / 2
    seen = abs(place @ y)
    steep = [abs(place @ numpy.array(order)) >= seen * (1 - 1e-9) for order in itertools.permutations(y)]
    return sum(steep) / len(steep)


def earlier(obs, past):
    """The rule for a library of earlier designs (docs/methods.md), all failed in steps."""
    shape_of = lambda cv: optimize.brentq(lambda b: special.gamma(1 + 2 / b) / special.gamma(1 + 1 / b) ** 2 - 1 - cv * cv, 0.6, 1e3, xtol=1e-13)
    s = numpy.array([math.hypot(math.pi / math.sqrt(6) / shape_of(one["cv"]), one.get("step", 0) / math.sqrt(8)) for one in past])
    nu = numpy.array([one["degrees_of_freedom"] for one in past], float)
    e = numpy.log(s * s) - special.digamma(nu / 2) + numpy.log(nu / 2)
    excess = e.var(ddof=1) - special.polygamma(1, nu / 2).mean()
    degrees = len(past)
    if excess > 0:
        degrees = min(degrees, 2 * optimize.brentq(lambda x: special.polygamma(1, x) - excess, 1e-3, 1e6))
    s0 = math.sqrt(nu @ (s * s) / nu.sum())
    y = numpy.array([0.5 * (math.log(a) + math.log(b)) for a, b, _ in obs["closed"]])
    h2 = numpy.mean([math.log(b / a) ** 2 for a, b, _ in obs["closed"]])
    n, own = len(y), (len(y) - 1) / 2.2
    content, confidence = 0.90, 0.95
    zeta = max(stats.norm.ppf(content), -(math.log(-math.log(content)) + 0.5772156649015329) * math.sqrt(6) / math.pi)
    k = stats.nct.ppf(confidence, degrees + own, zeta * math.sqrt(n)) / math.sqrt(n)
    s2 = (degrees * s0**2 + own * y.var(ddof=1)) / (degrees + own)
    return math.exp(y.mean() - k * math.sqrt(s2 + h2 / 8))


def compute():
    out = {}
    for path in sorted(HERE.glob("[0-9]*.json")):
        data = json.loads(path.read_text())
        obs = observations(data)
        row = {"normal": normal_bound(obs, False), "lognormal": normal_bound(obs, True)}
        weibull = weibull_bound(obs)
        row["batch"] = batch_bound(obs)
        row["weibull"], row["weibull_tolerance"] = weibull if weibull else (None, None)
        if "scatter" in data["designs"][0]:
            if "past" in data["designs"][0]["scatter"]:
                row["stated"] = earlier(obs, data["designs"][0]["scatter"]["past"])
            elif not path.stem.startswith(("25", "35")):  # where it does not govern
                row["stated"] = stated(obs, data["designs"][0]["scatter"]["cv"])
        if any(s.get("outcome") == "void" for s in data["designs"][0]["specimens"]):
            row["with_void"], row["with_tolerance"] = weibull_bound(observations(data, with_void=True))
            if path.stem in REJECTED_WITH_VOID:
                row["with_void"] = min(row["with_void"], hanson_koopmans(observations(data, with_void=True)))
        if any(s.get("reused") for s in data["designs"][0]["specimens"]):
            row["with_reused"], row["with_tolerance"] = weibull_bound(observations(data, with_reused=True))
        for key, with_more in (("with_void", {"with_void": True}), ("with_reused", {"with_reused": True})):
            if key in row:
                row[key] = lower(observations(data, **with_more), row[key])
        if "between_batches" in data["designs"][0]:
            y, cv = mids(obs, True)[0], data["designs"][0]["between_batches"]["cv"]
            between = (stats.norm.ppf(0.90) + stats.norm.ppf(0.95)) * math.sqrt(math.log1p(cv * cv))
            row["one_batch"] = math.exp(y.mean() - math.hypot(y.mean() - math.log(weibull[0]), between))
            row["with_tolerance"] = weibull[1]
        if path.stem.startswith("27"):
            row["trend"] = trend(obs)
        if path.stem.startswith("30"):
            fewer = {**obs, "closed": obs["closed"][:-1], "of closed": obs["of closed"][:-1]}
            row["without_one"], row["with_tolerance"] = weibull_bound(fewer)
            row["without_one"] = lower(fewer, row["without_one"])
        out[path.stem] = row
    return out


def main():
    expected, inputs = HERE / "expected.json", [__file__, *sorted(HERE.glob("[0-9]*.json"))]
    if "--fresh" in sys.argv:
        return check_stamp(expected, inputs)
    now = compute()
    if "--check" not in sys.argv:
        expected.write_text(json.dumps(now, indent=1) + "\n")
        write_stamp(expected, inputs)
        return 0
    bad = 0
    for name, row in json.loads(expected.read_text()).items():
        for key, value in row.items():
            if value is not None and abs(now[name][key] - value) > 1e-9 * abs(value):
                print(f"{name} {key}: {now[name][key]!r}, expected.json has {value!r}")
                bad += 1
    print(f"independent: {len(now)} rows, {bad} differences")
    return 1 if bad else 0


sys.exit(main())
