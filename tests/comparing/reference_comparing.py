"""Independent answers for test_reference.c, written to reference_comparing.txt beside this script.

scipy does Welch, Brunner-Munzel, Levene and the studentised range; relabelings are
counted here by brute force; R does Holm, the Hodges-Lehmann interval and the location-scale regressions.
Usage: /usr/bin/python3 reference_comparing.py          writes the file
       /usr/bin/python3 reference_comparing.py --check  recomputes and compares with the file
Line: kind | first numbers | second numbers | expected numbers
"""
import itertools
import pathlib
import subprocess
import sys

import numpy
from scipy import stats

HERE = pathlib.Path(__file__).parent
TARGET = HERE / "reference_comparing.txt"
ALLOWED = 1e-6  # between two runs, relative: R's optimiser stops there


def text(values):
    return " ".join(repr(float(v)) for v in numpy.atleast_1d(values))


def line(kind, first, second, expected):
    return f"{kind} | {text(first)} | {text(second)} | {text(expected)}"


def samples(random):
    """Pairs of ln loads: equal and unequal n and scatter, some rounded so that ties occur."""
    for n_a, n_b, shift, ratio, digits in [(3, 3, 0.1, 1, None), (4, 5, 0.05, 1, None), (5, 5, 0.2, 2, None), (6, 9, 0.0, 0.5, None),
                                            (10, 10, 0.08, 1, None), (8, 4, 0.15, 3, 2), (7, 7, 0.02, 1, 2), (5, 6, 0.3, 1, 1)]:
        a = random.normal(6.6 + shift, 0.12, n_a)
        b = random.normal(6.6, 0.12 * ratio, n_b)
        yield (a, b) if digits is None else (a.round(digits), b.round(digits))


def welch(a, b):
    result = stats.ttest_ind(a, b, equal_var=False)
    va, vb = a.var(ddof=1) / len(a), b.var(ddof=1) / len(b)
    nu = (va + vb) ** 2 / (va**2 / (len(a) - 1) + vb**2 / (len(b) - 1))
    half = stats.t.ppf(0.975, nu) * (va + vb) ** 0.5
    d = a.mean() - b.mean()
    return [result.statistic, nu, result.pvalue, d - half, d + half]


def permutation(a, b):
    """Share of all relabelings whose studentised difference is at least as extreme."""
    pool = numpy.concatenate([a, b])
    everything = frozenset(range(len(pool)))

    def statistic(chosen):
        x, y = pool[list(chosen)], pool[list(everything - set(chosen))]
        below = x.var(ddof=1) / len(x) + y.var(ddof=1) / len(y)
        d = x.mean() - y.mean()
        return abs(d) / below**0.5
    observed = statistic(range(len(a)))
    found = [statistic(c) for c in itertools.combinations(range(len(pool)), len(a))]
    extreme = sum(f >= observed * (1 - 1e-10) for f in found)
    top = sum(f >= max(found) * (1 - 1e-10) for f in found)
    return [extreme / len(found), top / len(found)]


def from_scipy():
    random = numpy.random.default_rng(20260501)
    for a, b in samples(random):
        yield line("welch", a, b, welch(a, b))
        munzel = stats.brunnermunzel(b, a)
        chance = numpy.mean([(x > y) + 0.5 * (x == y) for x in a for y in b])
        yield line("munzel", a, b, [chance, munzel.statistic, munzel.pvalue])
        yield line("levene", a, b, list(stats.levene(a, b, center="median")))
        if len(a) + len(b) <= 15:
            yield line("permutation", a, b, permutation(a, b))
    for k in (2, 3, 6, 15, 40):
        for nu in (1, 2, 3.7, 8, 25.5, 400, numpy.inf):
            for q in (0.3, 2.1, 4.2, 9.5):
                upper = stats.studentized_range.sf(q, k, min(nu, 1e6)) if numpy.isfinite(nu) else stats.studentized_range.sf(q, k, numpy.inf)
                if 1e-6 < upper:
                    yield line("range", [q, k, nu], [], [upper])


R_SCRIPT = r'''
suppressPackageStartupMessages(library(survival))
options(digits = 17)
text <- function(x) paste(sprintf("%.17g", x), collapse = " ")
line <- function(kind, a, b, e) cat(kind, " | ", text(a), " | ", text(b), " | ", text(e), "\n", sep = "")
set.seed(20260503) # with 20260502 survreg stops short of the maximum of one common fit, 3.8 below ours in ln likelihood
for (n in c(1, 3, 6, 15)) { p <- runif(n)^3; if (n > 3) p[2] <- p[4]; line("holm", p, numeric(0), p.adjust(p, "holm")) }
# Stepped pulls with run-outs: lower and upper ends in turn, upper Inf when whole.
control <- survreg.control(rel.tolerance = 1e-12, maxiter = 200)
for (i in 1:6) {
  pulls <- function(n, m, top) { y <- exp(rnorm(n, m, 0.16)); low <- floor(y / 20) * 20; up <- low + 20; up[low >= top] <- Inf; low <- pmin(low, top); rbind(low, up) }
  a <- pulls(6 + i, 6.75, 960); b <- pulls(12 - i, 6.6, 900)
  d <- data.frame(low = c(a[1, ], b[1, ]), up = c(a[2, ], b[2, ]), g = rep(c(1, 0), c(ncol(a), ncol(b))))
  y <- with(d, Surv(low, ifelse(is.finite(up), up, NA), type = "interval2"))
  for (dist in c("lognormal", "weibull")) {
    free <- survreg(y ~ g, d, dist = dist, control = control); none <- survreg(y ~ 1, d, dist = dist, control = control)
    line(paste0("common_", dist), as.vector(a), as.vector(b), c(coef(free)[2], free$scale, free$loglik[2], 2 * (free$loglik[2] - none$loglik[2])))
    free <- survreg(y ~ g + strata(g), d, dist = dist, control = control); none <- survreg(y ~ strata(g), d, dist = dist, control = control)
    line(paste0("separate_", dist), as.vector(a), as.vector(b), c(coef(free)[2], free$scale[2], free$loglik[2], 2 * (free$loglik[2] - none$loglik[2])))
  }
}
'''


def from_r():
    run = subprocess.run(["Rscript", "-e", R_SCRIPT], capture_output=True, text=True, check=True)
    return [part.rstrip() for part in run.stdout.splitlines() if "|" in part]


def agree(old, new):
    kinds = old.split("|")[0] == new.split("|")[0]
    x = [float(v) for part in old.split("|")[1:] for v in part.split()]
    y = [float(v) for part in new.split("|")[1:] for v in part.split()]
    return kinds and len(x) == len(y) and all(a == b or (a != a and b != b) or abs(a - b) <= ALLOWED * abs(a) + 1e-9 for a, b in zip(x, y))


def main():
    lines = list(from_scipy()) + from_r()
    if "--check" not in sys.argv:
        TARGET.write_text("# Written by reference_comparing.py; do not edit.\n" + "\n".join(lines) + "\n")
        return 0
    old = [part for part in TARGET.read_text().splitlines() if not part.startswith("#")]
    bad = [n for n, pair in enumerate(zip(old, lines), 2) if not agree(*pair)]
    print(f"{len(old)} lines, {len(lines)} recomputed, differing: {bad}")
    return 1 if bad or len(old) != len(lines) else 0


if __name__ == "__main__":
    sys.exit(main())
