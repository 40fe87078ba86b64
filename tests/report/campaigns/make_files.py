#!/usr/bin/env python3
"""Writes the campaigns beside it that raise what no other campaign of the tests does. Invented pulls."""
import json
import math
import pathlib

HERE = pathlib.Path(__file__).parent
def steps(*pairs): return [{"held": a, "failed": b} for a, b in pairs]
def peaks(*loads): return [{"peak": x} for x in loads]
def design(id, pulls, **more):
    parts = [{"id": f"{id}-{i + 1:02d}", "batch": f"roll {i % 3 + 1}", **p} for i, p in enumerate(pulls)]
    return {"id": id, **more, "specimens": parts}
UNC = [{"source": "plates", "relative": 0.02, "kind": "tolerance"}]
def write(name, title, goal, designs, rig=None, **more):
    data = {"format": "holdfast-campaign/1", "title": title, "unit": "N", "rig": {"id": "beam", "records": "added", "tare": 25, "rating": 5000, "uncertainty": UNC, **(rig or {})},
            "goal": goal, "info": {"about": "invented data"}, **more, "designs": designs}
    (HERE / name).write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n")
PLAIN = [(820, 860), (860, 900), (780, 820), (900, 940), (860, 900), (820, 860)]
G = {"content": 0.90, "confidence": 0.95, "design_factor": 3}
SKEWED = [20 * int(25 * (-math.log((i + 0.6) / 40.2)) ** (-1 / 6)) for i in range(40)]
write("laws.json", "laws chosen, stated and rejected (invented)", G, [
    design("chosen", [{**p, "batch": "roll 1"} for p in steps(*PLAIN)], family="lognormal"),
    design("stated", [{**p, "batch": "roll 1"} for p in steps(*PLAIN)], family="lognormal", family_reason="earlier parts of this maker"),
    design("wrong", peaks(*[1.0 * x for x in SKEWED]), family="normal", family_reason="it was so with others"),
    design("tail", [{**p, "batch": "roll 1"} for p in peaks(*([400 + i for i in range(6)] + [900 + 2 * i for i in range(30)]))], goal={"content": 0.99, "confidence": 0.95}),
    design("timber", steps(*PLAIN), goal={"content": 0.95, "confidence": 0.75}),
    design("above", steps((400, 440)) + [{"held": 2000, "outcome": "held"}], goal={"content": 0.99, "confidence": 0.95}, scatter={"cv": 0.12, "degrees_of_freedom": "assumed", "source": "a guess"}),
    design("weak", steps(*PLAIN), goal={"service_load": 500}),
])
write("loads.json", "loads, rungs and order (invented)", {"content": 0.90, "confidence": 0.95}, [
    design("heavy", [{**p, "order": 1 + min(i, 4)} for i, p in enumerate(steps((820, 860), (860, 900), (780, 820), (900, 940), (815, 860), (1200, 1240)))]),
    design("later", [{**p, "order": 10 + i} for i, p in enumerate(steps(*PLAIN))] + [{"failed": 860, "reused": True, "order": 16}, {"outcome": "planned"}]),
    design("rig", steps(*PLAIN[:4]) + [{"held": 800, "outcome": "rig"}, {"held": 840, "outcome": "rig"}]),
    design("moved", [{**p, "set_held": 300, "set_seen": 340} for p in steps(*PLAIN)]),
    design("kept", [{**p, "set_held": 300} for p in steps(*PLAIN)], goal={"design_factor": 3, "set_factor": 1.5}),
], weights=[{"load": "10 kg", "count": 8}, {"load": "5 kg", "count": 1}], plan={"ladders": {"heavy": [{"load": 400, "weights": "1x1kg"}], "later": [{"load": x} for x in range(700, 1000, 20)]}})

MODES = [(800, 840, "slip"), (860, 900, "tear"), (780, 820, "slip"), (1100, 1140, "tear"), (820, 860, "slip"), (1240, 1280, "tear"), (900, 940, "slip"), (1180, 1220, "tear")]
write("pairs.json", "pairs, ends and ways of failing (invented)", G, [
    design("plate", [{"held": a, "failed": b, "mode": m} for a, b, m in MODES]),
    design("a", peaks(800, 820, 840, 790, 830)), design("b", peaks(832, 850, 858, 826, 844)), design("c", peaks(815, 838, 845, 806, 827)),
    design("eye", [{"held": a, "failed": b, "ends": ["eye", "eye"], "broke": 1 + i % 2, "set_held": 300, "set_seen": 340} for i, (a, b) in enumerate(PLAIN)]),
])
write("nothing.json", "a reading of almost nothing (invented)", G, [design("nothing", peaks(1e-308, 300, 310))])
write("many_modes.json", "more ways of failing than can be told apart (invented)", G, [design("cord", [{**p, "mode": f"way {i}"} for i, p in enumerate(steps(*PLAIN * 6))])])
