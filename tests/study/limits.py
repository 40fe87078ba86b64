#!/usr/bin/env python3
"""Each number of src/study/limits.h from both sides: campaigns whose measure, taken here from their pulls or from the result's own figures, lies within
a few per cent below and above the number, and the caution (or the answer) that must be on one side alone.

The numbers stand here once more, by hand: own choices and sources as limits.h names them. mutate_limits.py shows that each can fail.
usage: limits.py HOLDFAST"""
import json
import math
import pathlib
import statistics
import subprocess
import sys
import tempfile

NEAR = 0.05  # how close to the number a campaign must come on either side
SAME = 1e-9
LAWS = ("normal", "lognormal", "weibull")


def standard(count):
    """Values with mean 0 and standard deviation 1, neither even nor symmetric."""
    values = [math.sin(2.4 * i) + 0.11 * i for i in range(count)]
    mean, deviation = statistics.mean(values), statistics.stdev(values)
    return [(value - mean) / deviation for value in values]


def readings(loads, **more):
    return [{"peak": round(load, 6), **more} for load in loads]


def steps(middles, width):
    return [{"held": round(x - width / 2, 6), "failed": round(x + width / 2, 6)} for x in middles]


def design(name, pulls, **more):
    return {"id": name, "name": name, "specimens": [{"id": f"{name}-{i:02d}", **pull} for i, pull in enumerate(pulls)], **more}


class Bench:
    def __init__(self, program, folder):
        self.program, self.file = program, pathlib.Path(folder) / "campaign.json"

    def result(self, command, *designs, **goal):
        goal = {"content": 0.9, "confidence": 0.95} | goal
        self.file.write_text(json.dumps({"format": "holdfast-campaign/2", "title": "Limits (invented)", "unit": "N", "rig": {"records": "total"}, "goal": goal,
                                         "designs": list(designs)}))
        run = subprocess.run([self.program, command, self.file, "--format", "json"], capture_output=True, text=True)
        assert run.returncode in (0, 1), run.stderr
        return json.loads(run.stdout)

    def assess(self, pulls, **more):
        goal = more.pop("goal", {})
        return self.result("assess", design("a", pulls, **more), **goal)["designs"][0]

    def compare(self, first, second):
        return self.result("compare", design("a", first), design("b", second))

    def plan(self, *words):
        run = subprocess.run([self.program, "plan", "--json", *map(str, words)], capture_output=True, text=True)
        assert run.returncode in (0, 1), run.stderr
        return json.loads(run.stdout)


def codes(one):
    return {caution["code"] for caution in one["cautions"]}


# --- One design: (measure, present) at points of which some lie close below the number and some close above -----------------------


def high_scatter(bench):
    for cv in (0.245, 0.2499, 0.2501, 0.255):
        yield cv, "high_scatter" in codes(bench.assess(readings(1000 * (1 + cv * z) for z in standard(10))))


def coarse_step(bench):
    for ratio in (0.97, 0.999, 1.001, 1.03):
        yield ratio, "coarse_step" in codes(bench.assess(steps([1000 + 40 * z for z in standard(10)], 40 * ratio)))


def families_apart(bench):
    for cv in [0.12 + 0.003 * i for i in range(30)]:
        one = bench.assess(readings(1000 * (1 + cv * z) for z in standard(10)))
        values = [bound["value"] for bound in one["bounds"] if bound["family"] in LAWS and bound["method"] == "factor"]
        apart = (max(values) - min(values)) / max(values)
        if abs(apart / 0.10 - 1) < 2 * NEAR:
            yield apart, "families_differ" in codes(one)


def no_support(bench):
    """Right-skewed readings and one that stayed whole, so that no test of a law is there; the Weibull law governs and falls behind."""
    for skew in [0.56 + 0.02 * i for i in range(10)]:
        loads = sorted(600 + 100 * math.exp(skew * z) for z in standard(20))
        one = bench.assess([*readings(loads[:-1]), {"peak": round(loads[-1], 6), "outcome": "held"}])
        fits = {fit["family"]: fit["log_likelihood"] for fit in one["fits"] if fit["converged"]}
        if len(fits) == 3 and one["governing"]["family"] == "weibull" and abs((max(fits.values()) - fits["weibull"]) / 5 - 1) < 3 * NEAR:
            yield max(fits.values()) - fits["weibull"], "law_unlikely" in codes(one)


def unlikely(bench):
    """One of two parts broken below the bound of a scatter that they contradict: by chance 1 − P² of the time, P the content. The other stayed whole, so that
    they give no bound of their own."""
    for content in (0.974, 0.9746, 0.9748, 0.976):
        one = bench.assess([{"held": 400, "failed": 440}, {"held": 2000, "outcome": "held"}], goal={"content": content},
                           scatter={"cv": 0.12, "degrees_of_freedom": "assumed", "source": "invented"})
        assert one["governing"]["value"] > 440, one["governing"]
        yield 1 - content**2, "above_broken" in codes(one)


def few_failures(bench):
    for parts in (9, 10):
        yield parts, "few_parts" not in codes(bench.assess(readings(1000 + 50 * z for z in standard(parts))))


def rig_share(bench):
    for rig, parts in ((4, 21), (5, 25), (6, 29)):
        pulls = steps([1000 + 60 * z for z in standard(parts - rig)], 20) + [{"held": 940 + i, "outcome": "rig"} for i in range(rig)]
        yield rig / parts, "rig_failures" in codes(bench.assess(pulls))


def dwell_share(bench):
    for dwell, parts in ((4, 21), (5, 25), (6, 29)):
        pulls = steps([1000 + 60 * z for z in standard(parts)], 20)
        for i, pull in enumerate(pulls):
            pull["phase"] = "dwell" if i < dwell else "adding"
        yield dwell / parts, "dwell_failures" in codes(bench.assess(pulls))


def few_batches(bench):
    for batches in (2, 3):
        pulls = readings(1000 + 50 * z for z in standard(12))
        for i, pull in enumerate(pulls):
            pull["batch"] = f"b{i % batches}"
        yield batches, "few_batches" not in codes(bench.assess(pulls))


def modes_apart(bench):
    """Two ways of failing: the bound by them beside the undivided one."""
    for spread in range(14, 40, 2):
        loads = [1000 + spread * z for z in standard(6)]
        pulls = [{"peak": round(load, 6), "mode": "seam" if i % 2 else "ring"} for i, load in enumerate(loads)]
        file = bench.result("compare", design("a", pulls), design("b", pulls))
        modes = file["designs"][0]["modes"]
        one = bench.assess(pulls)
        undivided = next(bound["value"] for bound in one["bounds"] if bound["family"] == "weibull")
        share = modes["bound"] / undivided
        if abs(share / 0.75 - 1) < 3 * NEAR:
            yield share, not codes(one) & {"modes_lower", "modes_not_covering"}


def one_record_gain(bench):
    """A record that lies low: what the bound gains without it."""
    loads = [1000 + 70 * z for z in standard(4)]
    whole = bench.assess(readings(loads))["governing"]["value"]
    for weak in range(720, 560, -5):
        one = bench.assess(readings([*loads, weak]))
        gain = whole / one["governing"]["value"]
        if abs(gain / 1.5 - 1) < NEAR and one["governing"]["reason"] == "weibull_rule":
            yield gain, "one_record" in codes(one)


def one_record_parts(bench):
    for parts in (4, 5):
        loads = [1000 + 20 * z for z in standard(parts - 1)]
        yield parts, "one_record" in codes(bench.assess(readings([*loads, 500])))


def weak_kind_share(bench):
    """The share itself is told, and so is the chance to miss it."""
    for parts in (5, 12):
        told = next(caution for caution in bench.assess(readings(1000 + 50 * z for z in standard(parts)))["cautions"] if caution["code"] == "weak_kind")
        assert math.isclose(told["values"]["share"], 0.15) and math.isclose(told["values"]["chance"], 0.85 ** parts), told
        yield parts, parts == 12


def weak_kind_chance(bench):
    """0.85^18 = 0.0536, 0.85^19 = 0.0456."""
    for parts in (18, 19):
        yield 0.85 ** parts, "weak_kind" in codes(bench.assess(readings(1000 + 50 * z for z in standard(parts))))


def tail_content(bench):
    for content in (0.985, 0.9899, 0.99):
        yield content, "leans_on_tail" in codes(bench.assess(readings(1000 + 50 * z for z in standard(10)), goal={"content": content}))


def looks_widest_step(bench):
    for ratio in (1.97, 1.999, 2.001, 2.03):
        one = bench.assess(steps([1000 + 40 * z for z in standard(10)], 40 * ratio), goal={"looks": [5, 10]})
        yield ratio, "looks_unproven" in codes(one)


# --- Two designs ---------------------------------------------------------------------------------------------------------------------


def all_codes(result):
    return codes(result).union(*(codes(one) for key in ("designs", "pairs") for one in result[key]))


def scatter_apart(bench):
    for ratio in (1.96, 1.999, 2.001, 2.04):
        logs = [math.log(1000) + 0.04 * z for z in standard(10)]
        wide = [math.log(1300) + 0.04 * ratio * z for z in standard(10)]
        yield ratio, "scatter_apart" in all_codes(bench.compare(readings(map(math.exp, logs)), readings(map(math.exp, wide))))


def counts_apart(bench):
    """The smaller group scatters more."""
    for parts in (19, 20):
        few = readings(1000 + 60 * z for z in standard(10))
        yield parts / 10, "small_group_scatters" in all_codes(bench.compare(few, readings(1300 + 40 * z for z in standard(parts))))


def wide_step(bench):
    for ratio in (1.97, 1.999, 2.001, 2.03):
        pulls = steps([1000 + 40 * z for z in standard(10)], 40 * ratio)
        yield ratio, "wide_steps" in all_codes(bench.compare(pulls, steps([1300 + 40 * z for z in standard(10)], 20)))


def wide_step_parts(bench):
    for parts in (4, 5):
        pulls = steps([1000 + 40 * z for z in standard(parts)], 120)
        yield parts, "wide_steps" in all_codes(bench.compare(pulls, steps([1300 + 40 * z for z in standard(10)], 20)))


# --- The answer ----------------------------------------------------------------------------------------------------------------------


def useful_parts(bench):
    for parts in (4, 5):
        one = bench.assess(readings(1000 + 50 * z for z in standard(parts)), goal={"design_factor": 3})
        yield parts, one["answer"]["next"] != "pull_more"


def rounded_down(value, figures):
    unit = 10.0 ** (math.floor(math.log10(value)) - figures + 1)
    return unit * math.floor(value / unit * (1 + 1e-12))


def figures(bench):
    one = bench.assess(readings(1240 + 50 * z for z in standard(10)), goal={"design_factor": 3})
    load, answer = one["working_load"]["unrounded"], one["answer"]
    assert math.isclose(answer["working_load"], rounded_down(load, 3)) and not math.isclose(rounded_down(load, 4), rounded_down(load, 3)), load
    mass = answer["working_load"] / 9.80665
    assert math.isclose(answer["working_load_mass"], rounded_down(mass, 3)) and not math.isclose(rounded_down(mass, 4), rounded_down(mass, 3)), mass
    return ()


def replicates(bench):
    """No test of a law may take more samples than stated, and one that does not stop early takes all."""
    taken = [fit["anderson_darling"]["replicates"] for skew in (0, 0.3, 0.6, 0.9)
             for fit in bench.assess(steps([1000 + 60 * z + 40 * skew * z * z for z in standard(12)], 20))["fits"]]
    assert max(taken) == 2000, taken
    return ()


# --- A plan: the measure is the plan's own figure, the number the one by which its caution is raised -----------------------------------


def luck(bench):
    """What one test in ten falls short of the bound that is expected, as a share of it."""
    for cv in (0.085, 0.09, 0.095, 0.1, 0.105):
        plan = bench.plan("--mean", 1000, "--cv", cv, "--max-n", 3)
        row = next(row for row in plan["samples"] if row["n"] == plan["recommended"])
        yield 1 - row["low"] / row["expected_bound"], "plan_luck" in codes(plan)


def over_rating(bench):
    for rating in range(1180, 1260, 2):
        plan = bench.plan("--mean", 1000, "--cv", 0.1, "--step", 10, "--tare", 10, "--rating", rating)
        yield plan["risk"]["over_rating"], "strength_over_rating" in codes(plan)


def often_open(bench):
    for tare in range(6, 22):
        plan = bench.plan("--mean", 1000, "--cv", 0.1, "--tare", tare, "--weights", "117x10N")
        yield plan["risk"]["run_out"], "plan_run_out" in codes(plan)


# Above the number the caution is there (or, with "from", at it too); the campaigns must come close on both sides.
LIMITS = {high_scatter: 0.25, coarse_step: 1.0, families_apart: 0.10, no_support: 5, rig_share: 0.20, dwell_share: 0.20, one_record_gain: 1.5,
          looks_widest_step: 2, scatter_apart: 2, wide_step: 2, luck: 0.5, over_rating: 0.001, often_open: 0.01}
FROM = {few_failures: 10, few_batches: 3, modes_apart: 0.75, one_record_parts: 5, weak_kind_share: 6, weak_kind_chance: 0.05, tail_content: 0.99,
        counts_apart: 2, wide_step_parts: 5, useful_parts: 5, unlikely: 0.05}


def check(limit, number, at_it, bench, findings):
    points = list(limit(bench))
    above = [x for x, _ in points if x > number * (1 + SAME) or (at_it and math.isclose(x, number))]
    below = [x for x, _ in points if x not in above]
    whole = all(float(x).is_integer() for x, _ in points)
    if not below or not above or not (whole or (max(below) > number * (1 - 2 * NEAR) and min(above) < number * (1 + 2 * NEAR))):
        findings.append(f"{limit.__name__}: no campaign close to {number} on both sides: {sorted(x for x, _ in points)}")
    for x, there in points:
        if there != (x > number * (1 + SAME) or (at_it and math.isclose(x, number))):
            findings.append(f"{limit.__name__}: at {x:.6g}, limit {number}: {'there' if there else 'not there'}")


def main():
    findings = []
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(sys.argv[1], folder)
        for limits, at_it in ((LIMITS, False), (FROM, True)):
            for limit, number in limits.items():
                check(limit, number, at_it, bench, findings)
        for one in (figures, replicates):
            try:
                one(bench)
            except AssertionError as error:
                findings.append(f"{one.__name__}: {error}")
    print("\n".join([*findings, f"limits: {len(LIMITS) + len(FROM) + 2} numbers, {len(findings)} findings"]))
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
