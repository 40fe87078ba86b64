#!/usr/bin/env python3
"""Writes the campaign files of this folder. Invented pulls of shade-sail corner fittings."""
import json
import math
import pathlib
import random

HERE = pathlib.Path(__file__).parent / "campaigns"
RIG = {"id": "beam", "records": "total", "rating": 2500, "uncertainty": [{"source": "plates", "relative": 0.02, "kind": "tolerance"}]}
GOAL = {"content": 0.90, "confidence": 0.95, "design_factor": 3}


def steps(*pairs, **more):
    return [{"held": a, "failed": b, **more} for a, b in pairs]


def on_ladder(loads, rungs):
    """The steps these strengths show on a ladder."""
    out = []
    for load in loads:
        held = max(r for r in rungs if r < load)
        out.append((held, min(r for r in rungs if r >= load)))
    return steps(*out)


def held(*loads):
    return [{"held": a, "outcome": "held"} for a in loads]


def strengths(mean, cv, n, seed):
    rng = random.Random(seed)
    s = math.sqrt(math.log(1 + cv * cv))
    return [mean * math.exp(s * rng.gauss(0, 1)) for _ in range(n)]


def in_batches(mean, between, within, batches, n, seed):
    """Pull i is of batch i modulo `batches`, as campaign() names them."""
    rng = random.Random(seed)
    shift = [between * rng.gauss(0, 1) for _ in range(batches)]
    return on_ladder([mean * math.exp(shift[i % batches] + within * rng.gauss(0, 1)) for i in range(n)], FINE)


FINE = list(range(400, 1600, 25))
A7 = [(820, 860), (860, 900), (780, 820), (900, 940), (860, 900), (820, 860), (940, 980)]

ROWS = {
    # one pull of each: nothing can be said, or what a stated scatter makes of it
    "one-each": {"designs": {"ring": steps((840, 880)), "eyelet": steps((680, 720))}},
    "one-each-stated": {"designs": {"ring": steps((840, 880)), "eyelet": steps((560, 600))},
                        "scatter": {"cv": 0.08, "degrees_of_freedom": 24, "source": "earlier fittings of the same maker"}},
    "one-against-many": {"designs": {"ring": steps(*A7), "eyelet": steps((560, 600))},
                         "scatter_of": {"eyelet": {"cv": 0.08, "degrees_of_freedom": "assumed", "source": "the maker's word"}}},
    # a design of which none failed
    "all-run-out": {"designs": {"plate": held(1100, 1100, 1100, 1100, 1060), "eyelet": on_ladder(strengths(720, 0.08, 8, 3), FINE)}},
    "first-rung": {"designs": {"ring": steps(*A7), "eyelet": [{"failed": 700}] + steps((700, 740), (740, 780), (700, 740), (780, 820))}},
    # three parts each: relabeling can never reach 5 %
    # no one ratio is the likeliest: a design that broke wholly at its first load, and two that one strength each at a rung would explain
    "broke-at-once": {"designs": {"ring": [{"failed": 700}] * 3, "eyelet": [{"failed": 640}] * 2 + steps((720, 800), (720, 800), (800, 880), (800, 880))}},
    "levelled": {"designs": {"ring": steps(*[(700, 760)] * 6, (760, 820)), "eyelet": steps(*[(820, 840)] * 3) + held(840, 840)}},
    "three-each": {"no_batches": True, "designs": {"ring": steps((840, 880), (880, 920), (920, 960)), "eyelet": steps((640, 680), (680, 720), (720, 760))}},
    # two ladders, with and without a plan that names them
    "two-ladders": {"no_batches": True, "designs": {"ring": on_ladder(strengths(900, 0.1, 8, 5), list(range(400, 1600, 60))),
                                "eyelet": on_ladder(strengths(820, 0.1, 7, 6), list(range(400, 1600, 40)))},
                    "ladders": {"ring": list(range(400, 1600, 60)), "eyelet": list(range(400, 1600, 40))}},
    "two-ladders-no-plan": {"no_batches": True, "designs": {"ring": on_ladder(strengths(900, 0.1, 8, 5), list(range(400, 1600, 60))),
                                        "eyelet": on_ladder(strengths(820, 0.1, 7, 6), list(range(400, 1600, 40)))}},
    # scatters that differ more than 2:1, the smaller group scattering more
    "small-scatters": {"no_batches": True, "designs": {"ring": on_ladder(strengths(900, 0.04, 9, 7), FINE), "eyelet": on_ladder(strengths(860, 0.2, 4, 8), FINE)}},
    # nearly the same, many pulls, read on a scale
    "same": {"designs": {"ring": [{"peak": round(x, 1)} for x in strengths(900, 0.05, 24, 9)],
                         "eyelet": [{"peak": round(x, 1)} for x in strengths(905, 0.05, 24, 10)]}},
    # four designs: pairs, groups, league
    "four": {"no_batches": True, "designs": {"ring": on_ladder(strengths(900, 0.07, 8, 11), FINE), "eyelet": on_ladder(strengths(840, 0.07, 8, 12), FINE),
                         "plate": on_ladder(strengths(960, 0.2, 8, 13), FINE), "knot": on_ladder(strengths(620, 0.1, 6, 14), FINE)}},
    # batches that differ more than the designs: twelve parts each tell them apart, four batches each do not; two batches against five; one each
    "batches": {"batches": {"ring": 4, "eyelet": 4}, "designs": {"ring": in_batches(900, 0.09, 0.04, 4, 12, 41), "eyelet": in_batches(800, 0.09, 0.04, 4, 12, 43)}},
    "few-batches": {"batches": {"ring": 2, "eyelet": 5}, "designs": {"ring": in_batches(900, 0.03, 0.05, 2, 6, 43), "eyelet": in_batches(720, 0.03, 0.05, 5, 10, 44)}},
    "one-batch-each": {"batches": {"ring": 1, "eyelet": 1}, "designs": {"ring": on_ladder(strengths(900, 0.06, 6, 45), FINE),
                                                                       "eyelet": on_ladder(strengths(820, 0.06, 6, 46), FINE)}},
    # pulled against each other
    "six-of-six": {"designs": {"ring": [], "eyelet": []}, "head_to_head": ["second"] * 6},
    "five-of-five": {"designs": {"ring": [], "eyelet": []}, "head_to_head": ["second"] * 5 + ["both"]},
    "turned": {"designs": {"ring": [], "eyelet": []}, "head_to_head": ["second", "second", "first"], "turned": ["first", "first", "both"]},
}


def two_ended():
    """Straps with a ring at both ends: the weaker breaks. And three with an eyelet at the other end, one of which does not say which broke."""
    out = []
    rng = random.Random(21)
    for i in range(14):
        ends = [900 * math.exp(0.1 * rng.gauss(0, 1)) for _ in range(2)]
        pull = on_ladder([min(ends)], FINE)[0]
        out.append({**pull, "ends": ["ring", "ring"], "broke": 1 if ends[0] < ends[1] else 2, "mode": "stitch" if i % 3 else "webbing"})
    out += [{"held": 925, "outcome": "held", "ends": ["ring", "ring"]},
            {**steps((700, 725))[0], "ends": ["ring", "eyelet"], "broke": 2},
            {**steps((675, 700))[0], "ends": ["eyelet", "ring"], "broke": 1},
            {**steps((750, 775))[0], "ends": ["ring", "eyelet"]}]
    return {"designs": {"ring": out, "eyelet": on_ladder(strengths(720, 0.08, 6, 22), FINE)}}


def modes():
    """Three ways of failing, one of them seen once, one failure without a note."""
    out = on_ladder(strengths(900, 0.09, 12, 31), FINE)
    for pull, mode in zip(out, ["stitch", "cloth", "stitch", "stitch", "ring bent", "cloth", "stitch", None, "cloth", "stitch", "stitch", "cloth"]):
        if mode:
            pull["mode"] = mode
    return {"designs": {"ring": out + held(1000), "eyelet": on_ladder(strengths(720, 0.08, 6, 32), FINE)}}


def campaign(name, row):
    designs = []
    for id, pulls in row["designs"].items():
        batches = row.get("batches", {}).get(id, 0 if "no_batches" in row else 3)
        design = {"id": id, "name": {"ring": "sewn ring", "eyelet": "pressed eyelet", "plate": "clamped plate", "knot": "tied corner"}[id],
                  "specimens": [{"id": f"{id}-{i + 1:02d}", **({"batch": f"batch {i % batches + 1}"} if batches else {}), **pull} for i, pull in enumerate(pulls)]}
        scatter = row.get("scatter") or row.get("scatter_of", {}).get(id)
        if scatter:
            design["scatter"] = scatter
        designs.append(design)
    data = {"format": "holdfast-campaign/1", "title": name.replace("-", " "), "unit": "N", "rig": RIG, "goal": GOAL,
            "info": {"about": "invented data"}, "designs": designs}
    fights = [{"first": "ring", "second": "eyelet", "broke": b} for b in row.get("head_to_head", [])]
    fights += [{"first": "eyelet", "second": "ring", "broke": b} for b in row.get("turned", [])]
    if fights:
        data["head_to_head"] = fights
    if "ladders" in row:
        data["plan"] = {"seed": 1, "made": "2026-05-01", "ladders": {id: [{"load": r} for r in rungs] for id, rungs in row["ladders"].items()}}
    return data


for name, row in {**ROWS, "two-ended": two_ended(), "modes": modes()}.items():
    (HERE / f"{name}.json").write_text(json.dumps(campaign(name, row), indent=1, ensure_ascii=False) + "\n")
