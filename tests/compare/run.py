#!/usr/bin/env python3
"""Comparisons of the demo campaign and of the files in campaigns/: every number that independent.py computed must come out, cautions must be
raised where their cause is, the order of the designs and the number of threads must not matter. Usage: run.py HOLDFAST"""
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile

from scipy import stats

HERE = pathlib.Path(__file__).parent
DEMO = HERE.parents[1] / "datasets/shade-sail.json"
PROGRAM = sys.argv[1]
findings, numbers = [], 0


def run(data, *options):
    """(exit code, JSON, bytes) of the comparison of a file or of data."""
    text = data.read_bytes() if isinstance(data, pathlib.Path) else json.dumps(data).encode()
    done = subprocess.run([PROGRAM, "compare", "-", *options, "--json"], input=text, capture_output=True)
    return done.returncode, json.loads(done.stdout) if done.stdout else None, done.stdout


def check(where, expected, found):
    """Expected numbers are [value, relative tolerance]."""
    global numbers
    if isinstance(expected, dict):
        for key, value in expected.items():
            check(f"{where} {key}", value, found.get(key) if isinstance(found, dict) else None)
    elif isinstance(expected, list) and len(expected) == 2 and all(isinstance(x, (int, float)) for x in expected):
        numbers += 1
        value, tolerance = expected
        if found is None or abs(found - value) > tolerance * abs(value) + (1e-12 if tolerance else 0):
            findings.append(f"{where}: found {found}, expected {value} within {tolerance}")
    elif isinstance(expected, list):
        for i, value in enumerate(expected):
            check(f"{where}[{i}]", value, found[i])
    elif found != expected:
        findings.append(f"{where}: found {found!r}, expected {expected!r}")


def claim(true, what):
    if not true:
        findings.append(what)


def path_of(name):
    return DEMO if name == DEMO.stem else HERE / "campaigns" / f"{name}.json"


def codes(result):
    lists = [result["cautions"]] + [x["cautions"] for x in result["pairs"] + result["designs"]]
    for caution in [c for one in lists for c in one]:
        claim(len(caution["text"]) > 20 and caution["title"], f"{caution['code']}: no words")
    return {c["code"] for one in lists for c in one}


def check_expected():
    for name, row in json.loads((HERE / "expected.json").read_text()).items():
        code, found, _ = run(path_of(name), *row["options"])
        for pair, expected in zip(found["pairs"], row.get("pairs", [])):
            check(f"{name} {expected['a']}:{expected['b']}", expected, pair)
        designs = {d["id"]: d for d in found["designs"]}
        for expected in row.get("designs", []):
            design = designs[expected["id"]]
            check(f"{name} {expected['id']} bound", expected["bound"], design["bound"])
            check(f"{name} {expected['id']} modes", expected.get("modes", {}), design["modes"])
            for k, bound in enumerate(expected.get("in_a_row", []) if "two_ended" in design else []):
                check(f"{name} {expected['id']}, {k + 1} in a row", bound, design["two_ended"]["in_a_row"][k]["bound"])
        if row.get("league"):
            check(f"{name} league", row["league"], [x for x in found["league"] if designs[x]["bound"] is not None])
        if "head_to_head" in row:
            check(f"{name} head to head", row["head_to_head"], found["head_to_head"][0])
        any_p = any("p" in p for p in row.get("pairs", []))
        claim(code == (0 if any_p or "head_to_head" in row else 4), f"{name}: exit code {code}")


# Cautions and refusals that a cause must raise.
RAISED = {"one-each-stated": {"stated_scatter_pair"}, "one-against-many": {"stated_scatter_pair"}, "all-run-out": {"all_run_out", "open_common_scatter"},
          "first-rung": {"first_rung", "open_common_scatter"}, "three-each": {"p_floor"}, "two-ladders": {"ladders_coarsened"},
          "two-ladders-no-plan": {"ladders_coarsened"}, "small-scatters": {"small_group_scatters", "scatter_apart"}, "four": {"scatter_apart"},
          "one-batch-each": {"pair_of_parts", "one_batch"}, "few-batches": {"batch_counts_apart"}, "batches": {"batches_differ"},
          "two-ended": {"two_ended", "end_not_stated"}, "modes": {"mode_not_stated", "mode_not_fitted", "run_outs"},
          "shade-sail": {"run_outs", "rig_failure", "open_common_scatter", "scatter_apart_open", "pair_of_parts"}}


def check_batches():
    """Batch means decide only where every part of both designs states its batch, both have two, and no pull is open; and where they do, twelve parts
    that would be called different are not."""
    data = json.loads(path_of("batches").read_text())
    pair = run(data)[1]["pairs"][0]
    claim(pair["verdict"] == "cannot_tell" and pair["batches"]["p_by_parts"] < 0.05 < pair["p"], f"batches: {pair['verdict']}, {pair['batches']}, p {pair['p']}")
    eyelet = data["designs"][1]["specimens"]
    changes = {"one states none": lambda: eyelet[0].pop("batch"), "all of one": lambda: [s.update(batch="A") for s in eyelet],
               "one did not break": lambda: (eyelet[0].pop("failed"), eyelet[0].update(outcome="held"))}
    for what, change in changes.items():
        kept = json.loads(json.dumps(eyelet))
        change()
        other = run(data)[1]["pairs"][0]
        claim(other["method"] != "batch_means" and "batches" not in other, f"batches, {what}: {other['method']}")
        claim("pair_of_parts" in {c["code"] for c in other["cautions"]}, f"batches, {what}: no caution")
        eyelet[:] = kept


def check_cautions():
    for name, wanted in RAISED.items():
        raised = codes(run(path_of(name))[1])
        claim(wanted <= raised, f"{name}: {wanted - raised} not raised, only {raised}")
    raised = codes(run(DEMO)[1])
    claim(not raised & {"ladders_coarsened", "p_floor", "not_interleaved", "one_batch"}, f"shade-sail: without cause {raised}")


def check_open_ratio():
    """Where no one ratio is the likeliest none is named: null with a reason in JSON, a dash in the table, no mark in the chart."""
    for name, verdict in (("broke-at-once", "cannot_tell"), ("levelled", "b_stronger")):
        code, found, _ = run(path_of(name))
        pair = found["pairs"][0]
        claim(code == 0 and pair["method"] == "likelihood" and pair["verdict"] == verdict, f"{name}: {code} {pair['method']} {pair['verdict']}")
        claim(pair["ratio"] is None and pair["ratio_reason"] == "open", f"{name}: ratio {pair['ratio']}, {pair.get('ratio_reason')}")
        claim(0 < pair["p"] < 1 and pair["high"] is not None, f"{name}: p {pair['p']}, high {pair['high']}")
        path = str(path_of(name))
        text = subprocess.run([PROGRAM, "compare", path, "--full"], capture_output=True, text=True).stdout
        row = [line.split() for line in text.splitlines() if line.startswith("ring : eyelet")]
        claim(row and row[0][3] == "-", f"{name}: {row[:1]} in the table, expected a dash for the ratio")
        claim("nan" not in text.lower(), f"{name}: a number that is none in the text")
        for words in (["chart", "ratios", path], ["report", path, "-o", "-"], ["notebook", path, "-o", "-"]):
            done = subprocess.run([PROGRAM, *words], capture_output=True, text=True)
            claim(words[0] != "chart" or "no one ratio is the likeliest" in done.stdout, f"{name}: the chart does not say why there is no mark")
            claim(done.returncode in (0, 1) and not re.search(r"\bnan\b", done.stdout, re.I), f"{name} {words[0]}: exit {done.returncode}, {done.stderr[-200:]}")


def check_zero_scatter():
    """All pulls of one design alike: no ratio of scatters, words for it."""
    pulls = {"ring": [840] * 5, "eyelet": [702, 655, 641, 717, 610]}
    data = {"format": "holdfast-campaign/1", "title": "Alike (invented)", "rig": {"records": "total"}, "designs": [
        {"id": name, "specimens": [{"id": f"{name}-{i}", "peak": load} for i, load in enumerate(loads)]} for name, loads in pulls.items()]}
    path = pathlib.Path(tempfile.mkdtemp()) / "alike.json"
    path.write_text(json.dumps(data))
    for words in (["compare", "--full"], ["compare", "--json"], ["report", "-o", "-"], ["report", "--format", "md", "-o", "-"], ["notebook", "-o", "-"]):
        out = subprocess.run([PROGRAM, words[0], str(path), *words[1:]], capture_output=True, text=True).stdout
        claim(not re.search(r"\b(inf|infinity)\s+times", out, re.I), f"zero scatter {words}: infinitely many times")
        claim("all pulls of ring are alike" in re.sub(r"\s+", " ", out), f"zero scatter {words}: not said in words")


def turned(data):
    return {**data, "designs": data["designs"][::-1]}


def check_swap():
    """The designs in the other order: ratio and interval turn over, p stays."""
    for path in [DEMO] + sorted((HERE / "campaigns").glob("*.json")):
        data = json.loads(path.read_text())
        one, two = run(data)[1], run(turned(data))[1]
        pairs = {(p["a"], p["b"]): p for p in two["pairs"]}
        other = {"a_stronger": "b_stronger", "b_stronger": "a_stronger", "cannot_tell": "cannot_tell", "same_within": "same_within"}
        for p in one["pairs"]:
            q, where = pairs[p["b"], p["a"]], f"{path.stem} turned {p['a']}:{p['b']}"
            check(where, {"verdict": other[p["verdict"]]}, q)
            for key in ("p", "p_adjusted", "p_permutation", "p_floor", "smallest_visible_ratio", "p_scatter"):
                claim(p[key] == q[key], f"{where} {key}: {p[key]} and {q[key]}")
            for key, turned_key in (("ratio", "ratio"), ("low", "high"), ("high", "low")):
                if p[key] and q[turned_key]:
                    check(f"{where} {key}", [1 / p[key], 1e-15], q[turned_key])
        check(f"{path.stem} turned league", [x for x in one["league"]], [x for x in two["league"]] if one["designs"][0]["bound"] else one["league"])


def check_threads():
    for path in (DEMO, HERE / "campaigns/four.json", HERE / "campaigns/modes.json"):
        outputs = {run(path, "--threads", n)[2] for n in ("1", "2", "5")}
        claim(len(outputs) == 1, f"{path.stem}: other bits with other threads")
    many = {"format": "holdfast-campaign/1", "rig": {"id": "scale"}, "designs": [
        {"id": name, "specimens": [{"id": f"{name}{i}", "peak": 800 + shift + (i * 37) % 101} for i in range(30)]} for name, shift in (("a", 0), ("b", 9))]}
    results = [run(many, "--threads", n) for n in ("1", "3")]
    claim(results[0][2] == results[1][2] and not results[0][1]["pairs"][0]["relabeling"]["all"], "drawn relabelings: other bits with other threads")


def stated(sample_a, sample_b, cv_a, nu_a, cv_b, nu_b):
    """Interval of the ratio from lower ends against upper ends, p of the nearest pair of means."""
    def ends(sample):
        return [sum(math.log(x[i]) for x in sample) / len(sample) for i in (0, 1)]

    (low_a, high_a), (low_b, high_b) = ends(sample_a), ends(sample_b)
    part = [math.log1p(cv * cv) / len(s) for cv, s in ((cv_a, sample_a), (cv_b, sample_b))]
    spread = sum(p * p / nu for p, nu in zip(part, (nu_a, nu_b)))
    nu, se = (sum(part) ** 2 / spread if spread else math.inf), math.sqrt(sum(part))
    half = stats.t.isf(0.025, nu) * se
    near = max(low_a - high_b, 0) if low_a > high_b else 0
    return {"low": [math.exp(low_a - high_b - half), 1e-7], "high": [math.exp(high_a - low_b + half), 1e-7], "p": [2 * stats.t.sf(near / se, nu), 1e-7],
            "method": "stated_scatter", "verdict": "a_stronger"}


def check_stated():
    check("one-each-stated", stated([(840, 880)], [(560, 600)], 0.08, 24, 0.08, 24), run(path_of("one-each-stated"))[1]["pairs"][0])
    ring = [(820, 860), (860, 900), (780, 820), (900, 940), (860, 900), (820, 860), (940, 980)]
    y = [0.5 * (math.log(a) + math.log(b)) for a, b in ring]
    mean = sum(y) / 7
    v = sum((x - mean) ** 2 for x in y) / 6 + sum(math.log(b / a) ** 2 for a, b in ring) / 7 / 8
    check("one-against-many", stated(ring, [(560, 600)], math.sqrt(math.expm1(v)), 6, 0.08, math.inf), run(path_of("one-against-many"))[1]["pairs"][0])
    code, found, _ = run(path_of("one-each"))
    check("one-each", {"p": None, "ratio": None, "verdict": "cannot_tell", "reason": "one_part"}, found["pairs"][0])
    claim(code == 4, f"one-each: exit {code}")


def check_two_ended():
    """The naive reading is lower; the single fitting's bound is above that of two in a row, and so on."""
    ring = {d["id"]: d for d in run(path_of("two-ended"))[1]["designs"]}["ring"]["two_ended"]
    check("two-ended", {"parts": 17, "fittings": 32, "broke": 14, "whole": 18}, ring)
    claim(ring["naive_median"] < ring["median"] * math.exp(-0.2 * ring["scatter"]), f"two-ended: naive {ring['naive_median']}, {ring['median']}")
    bounds = [row["bound"] for row in ring["in_a_row"]]
    claim(bounds == sorted(bounds, reverse=True) and len(set(bounds)) == 4, f"two-ended: in a row {bounds}")


def check_two_ended_assessed():
    """assess, compare and the reading of one fitting as one part: the first two agree on one fitting, the third is lower and nowhere."""
    data = json.loads(path_of("two-ended").read_text())

    def assessed(campaign):
        done = subprocess.run([PROGRAM, "assess", "-", "--json"], input=json.dumps(campaign).encode(), capture_output=True)
        return {d["id"]: d for d in json.loads(done.stdout)["designs"]}

    found = assessed(data)["ring"]
    compared = {d["id"]: d for d in run(data)[1]["designs"]}["ring"]
    check("two-ended assessed", {"value": [compared["bound"], 1e-12]}, found["governing"])
    check("two-ended assessed", compared["two_ended"], found["two_ended"])
    check("two-ended counts", {"used": 32, "failed": 14}, found["counts"])
    claim({"two_ended", "end_not_stated"} <= {c["code"] for c in found["cautions"]}, "two-ended: assess has no caution")
    claim(not {"run_outs", "rig_failures"} & {c["code"] for c in found["cautions"]}, "two-ended: an unbroken end is called a run-out")
    for design in data["designs"]:
        design["specimens"] = [s for s in design["specimens"] if s.get("ends", ["ring", "ring"]) == ["ring", "ring"] and design["id"] == "ring"]
        for s in design["specimens"]:
            s.pop("ends", None), s.pop("broke", None)
    naive = assessed(data)["ring"]
    claim("two_ended" not in naive and naive["middles"]["mean"] < found["two_ended"]["median"], "two-ended: the naive mean is not lower")


def check_fitted_chance():
    """With unfinished pulls: the chance by the fitted lognormal laws, each its own scatter, lies between what the pulls surely and possibly show."""
    data = json.loads(DEMO.read_text())
    seen = 0
    for pair in run(data)[1]["pairs"]:
        own, chance = pair["separate_scatter"], pair["outlasts"]
        claim((chance["chance"] is None) != (chance["fitted"] is None), f"{pair['a']}:{pair['b']}: one of chance and fitted")
        if chance["fitted"] is None:
            continue
        seen += 1
        z = math.log(own["ratio"]) / math.hypot(own["scatter_a"], own["scatter_b"])
        check(f"{pair['a']}:{pair['b']} fitted chance", [stats.norm.cdf(z), 1e-9], chance["fitted"])
    claim(seen == 2, "two pairs of the demo have unfinished pulls")


def check_options():
    data = json.loads(DEMO.read_text())
    code, two, _ = run(DEMO, "plate", "ring")
    check("named", {"a": "plate", "b": "ring", "verdict": "a_stronger"}, two["pairs"][0])
    claim(len(two["pairs"]) == 1 and two["pairs"][0]["p"] == two["pairs"][0]["p_adjusted"], "named: one pair is not adjusted")
    code, strict, _ = run(DEMO, "--level", "0.0000001")
    claim(code == 0 and all(p["verdict"] == "cannot_tell" for p in strict["pairs"]) and len(strict["groups"]) == 1, "level 1e-7 still tells apart")
    narrow, wide = run(DEMO, "--content", "0.8")[1]["designs"][0]["bound"], run(DEMO, "--content", "0.99")[1]["designs"][0]["bound"]
    claim(narrow > wide, "content 0.8 gives no higher bound than 0.99")
    kilo = run(DEMO, "--unit", "kN")[1]["designs"][0]["bound"]
    check("kN", [run(DEMO)[1]["designs"][0]["bound"] / 1000, 1e-12], kilo)
    in_order = json.loads(json.dumps(data))
    for i, design in enumerate(in_order["designs"]):
        for j, specimen in enumerate(design["specimens"]):
            specimen["order"] = 100 * i + j + 1
            specimen.pop("date", None)
    claim("not_interleaved" in codes(run(in_order)[1]), "designs pulled one after the other raise nothing")


check_expected()
check_cautions()
check_batches()
check_open_ratio()
check_zero_scatter()
check_swap()
check_threads()
check_stated()
check_two_ended()
check_two_ended_assessed()
check_fitted_chance()
check_options()
print("\n".join(findings + [f"compare: {numbers} numbers, {len(findings)} findings"]))
sys.exit(1 if findings or numbers < 200 else 0)
