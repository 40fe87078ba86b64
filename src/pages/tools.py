import math
import random
import re
from statistics import NormalDist

TOLERANCE = 1e-6  # of every comparison that has no chance in it


def shown(text, most=40):
    """A name from the file, fit for one line of a table."""
    plain = "".join(c if c.isprintable() else "?" for c in str(text))
    return plain if len(plain) <= most else plain[:most - 1] + "…"


class Check:
    """Numbers worked out here beside the ones Holdfast printed.
    done() prints them and stops the notebook where two differ."""

    def __init__(self, title):
        self.title, self.rows = shown(title, 100), []

    def number(self, what, here, holdfast, scale=0.0,
               tolerance=TOLERANCE):
        """scale: what a difference is measured against where the
        number itself may lie near 0."""
        if here == holdfast:
            difference = 0.0
        elif here is None or holdfast is None:
            difference = math.inf
        else:
            difference = abs(here - holdfast)
            difference /= max(abs(holdfast), scale, 1e-300)
        self.rows.append((what, here, holdfast, difference,
                          tolerance))

    def same(self, what, here, holdfast):
        difference = 0.0 if here == holdfast else math.inf
        self.rows.append((what, here, holdfast, difference, 0.0))

    def done(self):
        print(self.title)
        print(f"  {'':31} {'here':>14} {'Holdfast':>14}  differ by")
        for what, here, holdfast, difference, tolerance in self.rows:
            cells = [f"{x:14.9g}" if isinstance(x, float)
                     else f"{shown(x, 14):>14}"
                     for x in (here, holdfast)]
            word = "equal" if difference == 0 else f"{difference:.1e}"
            cells = f"{cells[0]} {cells[1]}  {word}"
            print(f"  {shown(what, 31):31} {cells}")
        for what, here, holdfast, difference, tolerance in self.rows:
            words = f"{what}: {here} here, {holdfast} by Holdfast"
            assert difference <= tolerance, f"{self.title}: {words}"


def solve(function, low, high):
    """The root between low and high of a function that changes sign
    there: false position (Illinois rule), then halving."""
    at_low, at_high = function(low), function(high)
    assert at_low * at_high <= 0, "no change of sign"
    for step in range(200):
        least = 4e-16 * (abs(low) + abs(high))
        if at_low == 0 or high - low <= least:
            return low
        middle = 0.5 * (low + high)
        if step % 3:
            crossing = low * at_high - high * at_low
            crossing /= at_high - at_low
            middle = crossing if low < crossing < high else middle
        value = function(middle)
        if value == 0:
            return middle
        if (value > 0) == (at_high > 0):
            high, at_high = middle, value
            at_low *= 0.5 if step % 3 == 2 else 1
        else:
            low, at_low = middle, value
            at_high *= 0.5 if step % 3 == 2 else 1
    return 0.5 * (low + high)


def gauss_legendre(count):
    """Nodes and weights on [-1, 1], by Newton's method on the
    Legendre polynomial."""
    nodes, weights = [], []
    for i in range(count):
        x = math.cos(math.pi * (i + 0.75) / (count + 0.5))
        for _ in range(100):
            p, before = 1.0, 0.0
            for j in range(1, count + 1):
                p, before = (((2 * j - 1) * x * p
                              - (j - 1) * before) / j, p)
            slope = count * (x * p - before) / (x * x - 1)
            step = p / slope
            x -= step
            if abs(step) < 1e-15:
                break
        nodes.append(x)
        weights.append(2 / ((1 - x * x) * slope * slope))
    return nodes, weights


NODES, WEIGHTS = gauss_legendre(40)


def integrate(function, low, high):
    """40-point Gauss-Legendre."""
    half, middle = 0.5 * (high - low), 0.5 * (high + low)
    return half * sum(w * function(middle + half * x)
                      for x, w in zip(NODES, WEIGHTS))
