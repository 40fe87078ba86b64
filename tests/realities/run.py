#!/usr/bin/env python3
"""Every row of docs/realities.md: its file is assessed, and compared where it has two designs; the caution codes the row names must be raised, the way (method) must be the
one named, and bounds must be those of independent.py (expected.json). Usage: run.py HOLDFAST"""
import json
import math
import pathlib
import re
import subprocess
import sys

HERE = pathlib.Path(__file__).parent
ROW = re.compile(r"^\|(.+)\|$")
FAMILIES = ("normal", "lognormal", "weibull")


def rows():
    for line in (HERE.parents[1] / "docs/realities.md").read_text().splitlines():
        match = ROW.match(line)
        if match and "realities/" in line:
            cells = [c.strip() for c in match.group(1).split("|")]
            yield re.search(r"realities/([\w-]+)\.json", cells[4]).group(1), re.findall(r"`([a-z_0-9]+)`", cells[3])


def check_bounds(name, design, expected, findings):
    for row in design["bounds"]:
        family = row["family"]
        if family not in FAMILIES or row["method"] == "stated_scatter":
            continue
        want, got = expected[family], row["value"]
        tolerance = expected["weibull_tolerance"] if family == "weibull" else 2e-6
        if family == "weibull" and expected["weibull"] is None and got is not None:
            continue  # first-rung failures: no second Weibull quadrature here; tests/strength compares two ways
        if (want is None) != (got is None):
            findings.append(f"{name} {family}: got {got}, expected {want}")
        elif want is not None and abs(got - want) > tolerance * max(abs(want), 100):
            findings.append(f"{name} {family}: got {got:.9g}, expected {want:.9g}, relative tolerance {tolerance:.2g}")
    batch = next((row["value"] for row in design["bounds"] if row["method"] == "batch"), None)
    if (batch is None) != (expected["batch"] is None) or batch and abs(batch - expected["batch"]) > 2e-6 * batch:
        findings.append(f"{name} batches: got {batch}, expected {expected['batch']}")
    extra = {"stated": ("governing", "value", 1e-9), "one_batch": ("one_batch", "value", expected.get("with_tolerance")), "with_void": ("sensitivity", "with_void", expected.get("with_tolerance")),
             "with_reused": ("sensitivity", "with_reused", expected.get("with_tolerance"))}
    for key, (part, field, tolerance) in extra.items():
        if key in expected and not math.isclose(design[part][field], expected[key], rel_tol=tolerance):
            findings.append(f"{name} {key}: got {design[part][field]}, expected {expected[key]}")


def check_cautions(name, design, expected, findings):
    """Numbers of cautions that independent.py knows too."""
    values = {c["code"]: c["values"] for c in design["cautions"]}
    known = {"trend": ("trend", "significance", 1e-9), "without_one": ("one_record", "without", expected.get("with_tolerance"))}
    for key, (code, field, tolerance) in known.items():
        if key in expected and not math.isclose(values[code][field], expected[key], rel_tol=tolerance):
            findings.append(f"{name} {code}: got {values[code][field]}, expected {expected[key]}")


def compared(program, name, result):
    """Cautions about the pairs of a file with several designs."""
    if len(result["designs"]) < 2:
        return []
    run = subprocess.run([program, "compare", "--json", f"{name}.json"], cwd=HERE, capture_output=True, text=True)
    return [caution for pair in json.loads(run.stdout)["pairs"] for caution in pair["cautions"]]


def main():
    program, findings, count = sys.argv[1], [], 0
    expected = json.loads((HERE / "expected.json").read_text())
    for name, codes in rows():
        count += 1
        run = subprocess.run([program, "assess", "--json", f"{name}.json"], cwd=HERE, capture_output=True, text=True)
        if run.returncode not in (0, 4):
            findings.append(f"{name}: exit {run.returncode}: {run.stderr}")
            continue
        result = json.loads(run.stdout)
        design = result["designs"][0]
        raised = {c["code"]: c["text"] for c in design["cautions"] + result["cautions"] + compared(program, name, result)}
        methods = {b["method"] for b in design["bounds"]} | {b["reason"] for b in design["bounds"] if b["value"] is None}
        for code in codes:
            if code not in raised and code not in methods:
                findings.append(f"{name}: {code} is neither raised nor used; raised: {', '.join(sorted(raised))}")
            elif code in raised and len(raised[code]) < 20:
                findings.append(f"{name}: {code} has no words")
        check_bounds(name, design, expected[name], findings)
        check_cautions(name, design, expected[name], findings)
    missing = {p.stem for p in HERE.glob("[0-9]*.json")} - {name for name, _ in rows()}
    findings += [f"{name}: has no row in docs/realities.md" for name in sorted(missing)]
    print("\n".join(findings + [f"realities: {count} rows, {len(findings)} findings"]))
    return 1 if findings or count < 20 else 0


sys.exit(main())
