#!/usr/bin/env python3
"""Extreme but valid input: bounded in time and memory, and answered or refused in words. Usage: run.py HOLDFAST

Loads from 1e-308 to 1e308 go through every command; no number may come out as nan or inf, and no exit code but 0, 1, 3, 4 (2 where the
plan refuses). A sanitizer's word on standard error is a finding too."""
import json
import os
import random
import re
import resource
import subprocess
import sys
import tempfile
import time

PROGRAM = os.path.abspath(sys.argv[1])
CHARTS = ("pulls", "steps", "probability", "ratios", "league", "modes")
OF_PLANS = ("bound", "ladder", "step")  # they look at the guess more than at the pulls, and simulate: for the widest span only
MEMORY = 60 * 1024  # kilobytes, of a comparison of fifty designs
SECONDS = 20  # of processor time, for a hundred thousand stepped pulls: tells what grows too fast (it once took 44) from a slow machine
findings, runs = [], 0


def run(where, *words, allowed=(0, 1, 2, 3, 4)):
    global runs
    runs += 1
    began = time.monotonic()
    try:
        done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, timeout=240)
    except subprocess.TimeoutExpired:
        findings.append(f"{where}: {' '.join(words)} does not end")
        return ""
    if done.returncode not in allowed or "runtime error" in done.stderr or "Sanitizer" in done.stderr:
        findings.append(f"{where}: {' '.join(words)}: exit {done.returncode}: {done.stderr[:300]}")
    if "--verbose" in sys.argv:
        print(f"{where}: {words[0]} {words[1][:12]}: exit {done.returncode}, {time.monotonic() - began:.1f} s {done.stderr[:80]!r}", flush=True)
    return done.stdout


def campaign(designs, **more):
    return {"format": "holdfast-campaign/1", "rig": {"records": "total"}, "designs": designs, **more}


def design(name, pulls, **more):
    return {"id": name, "specimens": [{"id": f"{name}-{i}", **pull} for i, pull in enumerate(pulls)], **more}


def write(folder, name, data):
    path = os.path.join(folder, name)
    with open(path, "w") as out:
        json.dump(data, out)
    return path


def spans():
    """Pulls whose loads lie as far apart, or as near, as numbers allow."""
    yield "tiny beside usual", [{"peak": 1e-308}, {"peak": 300}, {"peak": 310}]
    yield "tiny", [{"peak": p * 1e-308} for p in (3, 3.1, 3.3, 3.2)]
    yield "below normal numbers", [{"peak": p} for p in (5e-324, 1e-323, 2e-323)]
    yield "huge", [{"peak": p * 1e11} for p in (9, 9.1, 9.3, 9.2)]
    yield "from end to end", [{"peak": 1e-308}, {"peak": 1}, {"peak": 1e12}]
    yield "more than any rig", [{"peak": 1e308}, {"peak": 300}, {"peak": 310}]
    yield "tiny steps", [{"held": 1e-308, "failed": 2e-308}, {"held": 2e-308, "failed": 3e-308}, {"held": 3e-308, "failed": 4e-308}]
    yield "huge steps", [{"held": 1e11, "failed": 1e12}, {"held": 1e10, "failed": 1e11}, {"held": 1e12, "outcome": "held"}]
    yield "last digits", [{"peak": 300}, {"peak": 300.00000000000006}, {"peak": 300.0000000000001}]


def through_all(folder, name, pulls):
    path = write(folder, "c.json", campaign([design("a", pulls), design("b", [{"peak": 320}, {"peak": 330}, {"peak": 300}])]))
    for words in (["check"], ["assess"], ["assess", "--json"], ["compare"], ["compare", "--json"], ["report"], ["notebook"],
                  ["plan", "next", "--design", "a"]):
        out = run(name, *(words[:2] if words[0] == "plan" else words[:1]), path, *(words[2:] if words[0] == "plan" else words[1:]))
        if "--json" in words and out:
            json.loads(out, parse_constant=lambda word: findings.append(f"{name}: {words}: {word}"))
    for kind in CHARTS + (OF_PLANS if name == "from end to end" else ()):
        picture = run(name, "chart", kind, path, *(["--design", "a"] if kind in ("pulls", "steps", "probability") else []))
        if re.search(r'="[^"]*\b-?(nan|inf)\b', picture):
            findings.append(f"{name}: chart {kind}: a number that is none")


def plans():
    for words in (["--mean", "900", "--cv", "1e-9", "--tare", "0", "--max-n", "3"], ["--mean", "1e-300", "--cv", "0.1", "--max-n", "4"],
                  ["--mean", "1e300", "--cv", "0.1", "--max-n", "4"], ["--mean", "900", "--cv", "1e-300", "--max-n", "3"],
                  ["--mean", "900", "--cv", "1", "--max-n", "3"]):
        run("plan", "plan", *words)
    out = run("plan of next to no scatter", "plan", "--mean", "900", "--cv", "1e-9", "--max-n", "3", "--json", allowed=(0,))
    if out and not 899 < json.loads(out)["samples"][0]["expected_bound"] < 900.001:
        findings.append("plan: next to no scatter, and yet another bound than the mean")


def measured(where, *words):
    """Peak memory in kilobytes and seconds of processor time."""
    child = subprocess.Popen([PROGRAM, *words], stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        findings.append(f"{where}: exit {os.waitstatus_to_exitcode(status)}")
    return usage.ru_maxrss, usage.ru_utime + usage.ru_stime


def large(folder):
    draw = random.Random(20261130)
    fifty = [design(f"d{i}", [{"peak": draw.gauss(900 + i, 60), "mode": draw.choice(("tear", "slip"))} for _ in range(4)]) for i in range(50)]
    memory, _ = measured("fifty designs", "compare", write(folder, "fifty.json", campaign(fifty)), "--json")
    pulls = [{"held": 25 * (x // 25), "failed": 25 * (x // 25) + 25} for x in (draw.gauss(900, 70) for _ in range(100000))]
    _, seconds = measured("a hundred thousand", "assess", write(folder, "many.json", campaign([design("a", pulls)])), "--json")
    print(f"fifty designs: {memory / 1024:.0f} MB; a hundred thousand stepped pulls: {seconds:.2f} s")
    if memory > MEMORY:
        findings.append(f"fifty designs take {memory} kB, at most {MEMORY} expected")
    if seconds > SECONDS:
        findings.append(f"a hundred thousand pulls take {seconds:.2f} s, at most {SECONDS} expected")


def judged(folder):
    path = write(folder, "j.json", campaign([design("a", [{"peak": 300}, {"peak": 310}, {"peak": 320}])]))
    answer = json.loads(run("margin", "assess", path, "--json"))["designs"][0]["answer"]
    if answer["service"] != "not_stated" or answer["required"] != "not_stated":
        findings.append(f"something is met where nothing was asked: {answer}")


def many_ways(folder):
    pulls = [{"peak": 300 + 3 * i, "mode": f"way {i}"} for i in range(33)]
    path = write(folder, "w.json", campaign([design("a", pulls), design("b", [{"peak": 320}, {"peak": 330}])]))
    for command in ("assess", "compare", "report"):
        if "33 ways of failing are named, more than the 32" not in " ".join(run("ways", command, path, *(() if command == "report" else ("--full",))).split()):
            findings.append(f"{command}: 33 ways of failing are left out in silence")


with tempfile.TemporaryDirectory() as scratch:
    for span, loads in spans():
        through_all(scratch, span, loads)
    plans()
    judged(scratch)
    many_ways(scratch)
    if "--quick" not in sys.argv:
        large(scratch)
print("\n".join(findings))
print(f"{runs} runs, {len(findings)} findings")
sys.exit(1 if findings else 0)
