#!/usr/bin/env python3
"""Whoever has only the printed page and a calculator arrives at the same working load.

Thousands of invented designs (0.01 N to 10 MN, stepped, continuous, unfinished, every law, every unit) go through the program; each
printed sum is read back from the text and redone with plain doubles. Every result must lie within one unit of its last printed digit,
every line must start with what the line before printed, and the rating must be the last result rounded down.
The same files in JSON: no key twice, no null without its reason, and the rating agrees.  usage: printed_sums.py path/to/holdfast
"""
import ast
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile
from decimal import ROUND_DOWN, ROUND_FLOOR, Decimal

SEED = 20260522
FILES, DESIGNS = 12, 220
FAMILIES = ("auto", "normal", "lognormal", "weibull")
UNITS = ("N", "N", "kN", "daN", "MN", "kgf", "lbf", "kg", "lb", "g", "t", "st", "oz")
LEAST_SUMS = 1500
COLUMNS = 80
MOST_SHOWN = 40
NUMBER = r"\d+(?:\.\d+)?(?:e[+-]?\d+)?"


def pull(draw, x, step, offset, kind):
    if kind == "exact" or (kind == "mixed" and draw.random() < 0.5):
        return {"peak": x}
    rung = math.ceil((x - offset) / step)
    low, high = offset + step * (rung - 1), offset + step * rung
    return {"held": low, "failed": high} if low > 0 else {"failed": high}


def design(draw, number):
    n, size, cv = draw.randint(2, 9), 10 ** draw.uniform(-2, 7), 10 ** draw.uniform(-2.5, -0.4)
    kind = draw.choice(("exact", "stepped", "stepped", "open", "mixed"))
    x = [size * math.exp(cv * draw.gauss(0, 1)) for _ in range(n)]
    step = size * cv * draw.uniform(0.2, 2.0)
    offset = step * draw.random()
    pulls = [pull(draw, value, step, offset, kind) for value in x]
    if kind == "open" and n >= 4:
        for i in draw.sample(range(n), draw.randint(1, n - 3)):
            pulls[i] = {"held": 0.97 * x[i], "outcome": draw.choice(("held", "rig"))}
    factor = draw.choice((1, 1.5, 2, 3, 5, 7, 10, round(draw.uniform(1, 9), draw.randint(1, 4))))
    goal = {"content": draw.choice((0.9, 0.9, 0.95, 0.99, 0.8)), "confidence": draw.choice((0.95, 0.9)), "design_factor": factor}
    if draw.random() < 0.3:
        goal["use_factors"] = [{"reason": "wet cloth", "factor": round(draw.uniform(1, 2), 2)}]
    if draw.random() < 0.3:
        goal["service_load"], goal["required_bound"] = size / 10, size / 2
    if draw.random() < 0.25:
        goal["set_factor"] = 1.5
        for entry in pulls:
            if "failed" in entry and "held" in entry:
                entry["set_held"], entry["set_seen"] = 0.7 * entry["held"], 0.75 * entry["held"]
    specimens = [{"id": f"d{number}-{i}", **entry} for i, entry in enumerate(pulls)]
    return {"id": f"d{number}", "goal": goal, "specimens": specimens}


def campaign(draw):
    lines = [{"source": "plates", "relative": 10 ** draw.uniform(-4, -0.7), "kind": draw.choice(("tolerance", "standard", "expanded"))}]
    rig = {"id": "beam", "records": "total"}
    if draw.random() < 0.75:
        rig["uncertainty"] = lines
    return {"format": "holdfast-campaign/1", "title": "Invented corner fittings", "unit": "N", "rig": rig,
            "designs": [design(draw, i) for i in range(DESIGNS)]}


def run(program, path, *options):
    done = subprocess.run([program, "assess", path, *options], capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1, 4):
        raise SystemExit(f"exit {done.returncode} for {options}: {done.stderr[:2000]}")
    return done.stdout


def evaluate(expression):
    """The printed expression with plain doubles; the tree may hold nothing but numbers and the calculator's keys."""
    text = expression.replace(" ", "").replace("−", "-").replace("×", "*").replace("÷", "/").replace("²", "**2")
    text = text.replace("√(", "root(").replace("e^(", "exp(").replace("^", "**")
    known = {"root": math.sqrt, "exp": math.exp}

    def value(node):
        if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
            return float(node.value)
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return -value(node.operand)
        if isinstance(node, ast.Call) and node.func.id in known and len(node.args) == 1:
            return known[node.func.id](value(node.args[0]))
        if isinstance(node, ast.BinOp):
            a, b = value(node.left), value(node.right)
            return {ast.Add: lambda: a + b, ast.Sub: lambda: a - b, ast.Mult: lambda: a * b, ast.Div: lambda: a / b,
                    ast.Pow: lambda: a**b}[type(node.op)]()
        raise ValueError(f"{expression}: {ast.dump(node)}")

    return value(ast.parse(text, mode="eval").body)


def three_down(text):
    """Rounded down to three figures, in decimal arithmetic on the printed digits."""
    number = Decimal(text)
    if number == 0:
        return number
    return number.quantize(Decimal(1).scaleb(number.adjusted() - 2), ROUND_DOWN if number > 0 else ROUND_FLOOR)


def last_digit(text):
    return float(Decimal(1).scaleb(Decimal(text).as_tuple().exponent))


def sums_of(lines):
    """The indented lines under "The sum", with their turnovers joined."""
    out, inside = [], False
    for line in lines:
        if line.startswith("The sum") or line.startswith("The set sum") or re.match(r"The .*sum", line):
            inside = True
        elif inside and line.startswith("    ") and out:
            out[-1] += " " + line.strip()
        elif inside and line.startswith("  "):
            out.append(line.strip())
        else:
            inside = False
    return out


class Page:
    """One design's part of the text, checked line by line."""

    def __init__(self, name, lines):
        self.name, self.lines, self.mistakes, self.redone, self.rated = name, lines, [], 0, None

    def complain(self, line, why):
        self.mistakes.append(f"{self.name}: {why}: {line}")

    def check(self):
        for line in self.lines:
            if len(line) > COLUMNS:
                self.complain(line, f"{len(line)} columns")
        previous = None
        for line in sums_of(self.lines):
            rounded = re.fullmatch(r"rounded down to three figures: (" + NUMBER + r") \S+", line)
            if rounded:
                self.rated = Decimal(rounded[1])
                if previous is None or three_down(previous) != self.rated:
                    self.complain(line, f"rounding {previous} down gives {previous and three_down(previous)}")
                continue
            match = re.fullmatch(r"(bound|set bound)? ?(?:=|[^=:]+:) (.+?)(, not below 0,)? = (−?" + NUMBER + r") \S+", line)
            if not match:
                if not re.fullmatch(r"(set )?bound = " + NUMBER + r" \S+, no\. \d+ from below of \d+ loads", line):
                    self.complain(line, "cannot be read")
                previous = re.search(NUMBER, line)[0]
                continue
            name, expression, floor, result = match.groups()
            if not name and previous and not expression.startswith(re.sub("^-", "−", previous)):
                self.complain(line, f"does not go on from {previous}")
            result = result.replace("−", "-")
            value = evaluate(expression)
            if floor:
                value = max(value, 0.0)
            if not abs(value - float(result)) <= last_digit(result) * (1 + 1e-9):
                self.complain(line, f"redone gives {value!r}")
            self.redone, previous = self.redone + 1, result
        answer = re.search(r"(?:work with at most|gives a working load of) (" + NUMBER + r")", " ".join(self.lines[:3]))
        if (answer is None) != (self.rated is None) or (answer and Decimal(answer[1]) != self.rated):
            self.complain(self.lines[0], f"the answer is not the end of the sum, {self.rated}")
        return self


def pages(text):
    lines = text.split("\n")
    starts = [(i, m[1]) for i, line in enumerate(lines) if (m := re.match(r"(d\d+): ", line))]
    ends = [i for i, _ in starts[1:]] + [len(lines)]
    return {name: Page(name, lines[i:end]).check() for (i, name), end in zip(starts, ends, strict=True)}


def no_twice(pairs):
    keys = [key for key, _ in pairs]
    if len(keys) != len(set(keys)):
        raise SystemExit(f"JSON holds a key twice: {sorted(keys)}")
    for key, value in pairs:
        if value is None and not ("reason" in keys or key + "_reason" in keys):
            raise SystemExit(f"JSON: {key} is null without a reason beside it: {keys}")
        if isinstance(value, float) and not math.isfinite(value):
            raise SystemExit(f"JSON: {key} is {value}")
    return dict(pairs)


def main():
    program, draw = sys.argv[1], random.Random(SEED)
    seen = rated = redone = compared = 0
    mistakes = []
    with tempfile.TemporaryDirectory() as folder:
        path = str(pathlib.Path(folder) / "campaign.json")
        for number in range(FILES):
            pathlib.Path(path).write_text(json.dumps(campaign(draw)))
            options = ["--family", FAMILIES[number % len(FAMILIES)], "--unit", draw.choice(UNITS)]
            found = pages(run(program, path, "--full", *options))
            data = json.loads(run(program, path, *options, "--json"), object_pairs_hook=no_twice)
            for entry in data["designs"]:
                page, load = found[entry["id"]], entry["working_load"]
                page.mistakes = [f"file {number} {options} {m}" for m in page.mistakes]
                if (load["value"] is None) != (page.rated is None) or (page.rated is not None and float(page.rated) != load["value"]):
                    page.complain(options, f"JSON gives {load['value']!r}, the text {page.rated}")
                if load["value"] is not None and not load["value"] <= load["unrounded"] * (1 + 1e-15) < load["value"] * 1.0101:
                    page.complain(options, f"{load['unrounded']!r} is rounded to {load['value']!r}")
                seen, compared, redone = seen + 1, compared + (page.rated is not None), redone + page.redone
                mistakes += page.mistakes
    print("\n".join(mistakes[:MOST_SHOWN]))
    print(f"{seen} designs, {compared} with a working load, {redone} sums redone, {len(mistakes)} mistakes")
    return 1 if mistakes or redone < LEAST_SUMS or seen != FILES * DESIGNS else 0


if __name__ == "__main__":
    sys.exit(main())
