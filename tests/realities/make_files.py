#!/usr/bin/env python3
"""Writes the campaign file of each row of docs/realities.md. Invented pulls of shade-sail corner fittings."""
import json
import math
import pathlib

HERE = pathlib.Path(__file__).parent
RIG = {"id": "beam", "records": "added", "tare": 25, "rating": 2500,
       "uncertainty": [{"source": "plates", "relative": 0.02, "kind": "tolerance"}]}
BATCHES = ["roll 1", "roll 2", "roll 3"]


def steps(*pairs):
    return [{"held": a, "failed": b} for a, b in pairs]


def held(*loads):
    return [{"held": a, "outcome": "held"} for a in loads]


PLAIN = [(820, 860), (860, 900), (780, 820), (900, 940), (860, 900), (820, 860), (940, 980), (860, 900), (780, 820), (900, 940)]

# Many alike and a long tail of strong ones, in steps of 20: the quantiles of x = 500·(−ln u)^(−1/6).
SKEWED = [20 * int(25 * (-math.log((i + 0.6) / 40.2)) ** (-1 / 6)) for i in range(40)]

ROWS = {
    "01-all-in-one-step": steps(*[(860, 900)] * 5),
    "02-first-rung": [{"failed": 700}, {"held": 0, "failed": 700}] + steps(*PLAIN[:6]),
    "03-ran-out-some": steps(*PLAIN[:6]) + held(960, 960),
    "04-ran-out-all": held(960, 960, 960, 960, 920),
    "05-rig-broke": steps(*PLAIN[:7]) + [{"held": 880, "outcome": "rig", "note": "shackle opened"}],
    "06-one-part": steps(PLAIN[0]),
    "07-two-parts": steps(PLAIN[0], PLAIN[3]),
    "08-three-parts": steps(PLAIN[0], PLAIN[3], PLAIN[6]),
    "09-families-differ": steps((820, 860), (700, 740), (980, 1020), (860, 900)),
    "10-outlier": steps(*PLAIN[:7]) + steps((420, 460)),
    "11-batches-differ": steps(*[(820 + 40 * (i % 3), 860 + 40 * (i % 3)) for i in range(8)]) +
                         steps(*[(1020 + 40 * (i % 3), 1060 + 40 * (i % 3)) for i in range(8)]),
    "12-tare-zero": steps(*PLAIN[:6]),
    "13-mixed-units": [{"held": "84 kg", "failed": "88 kg"}, {"held": "190 lb", "failed": "200 lb"}] + steps(*PLAIN[:5]),
    "14-pulled-twice": steps(*PLAIN[:6]) + [{"held": 620, "failed": 660, "reused": True, "note": "was loaded to 600 the day before"}],
    "15-dropped-step": steps(*PLAIN[:6]) + [{"held": 860, "failed": 900, "dropped": True}],
    "16-stepped-and-continuous": steps(*PLAIN[:5]) + [{"peak": 905.3}, {"peak": 871.9}],
    "17-above-rating": steps(*PLAIN[:6]),
    "18-high-scatter": steps((420, 460), (900, 940), (640, 680), (1180, 1220), (760, 800), (520, 560)),
    "19-one-failed": steps(PLAIN[0]) + held(960, 960, 960),
    "20-one-step-and-below": steps((860, 900), (860, 900)) + [{"held": 0, "failed": 700}],
    "21-void": steps(*PLAIN[:6]) + [{"held": 420, "failed": 460, "outcome": "void", "note": "hook sat on the seam, seen on the film"}],
    "22-one-part-stated": steps(PLAIN[0]),
    "23-two-parts-one-run-out": steps(PLAIN[0]) + held(960),
    "24-another-law-fits": steps(*[(a, a + 20) for a in SKEWED if a < 1000]) + held(*[1000 for a in SKEWED if a >= 1000]),
    "25-scatter-contradicted": steps((400, 440), (800, 840), (600, 640)),
    "26-batches-of-two": [{"peak": load} for load in (900, 1000, 1100, 910, 1010, 1110)],
    "27-weaker-and-weaker": [{**pull, "order": i + 1} for i, pull in
                             enumerate(steps((940, 980), (900, 940), (940, 980), (860, 900), (860, 900), (820, 860), (820, 860), (780, 820)))],
    "28-failed-in-the-dwell": [{**pull, "phase": "dwell" if i in (1, 3, 4) else "adding"} for i, pull in enumerate(steps(*PLAIN[:6]))],
    "29-one-in-the-dwell": [{**pull, "phase": "dwell" if i == 2 else "adding"} for i, pull in enumerate(steps(*PLAIN[:6]))],
    "30-one-record-without-its-step": steps(*PLAIN[:6]) + steps((1, 840)),
    "31-scatter-contradicted-nothing-else": steps((400, 440)) + held(900),
    "32-earlier-designs": steps(*PLAIN[:3]),
    "33-one-batch-against-one": steps(*PLAIN[:5]),
    "34-one-batch-between-stated": steps(*PLAIN[:6]),
    "35-more-parts-than-the-stated-scatter-rests-on": steps(*PLAIN, *PLAIN[:3]),
}


EARLIER = [{"source": "rings of spring, 5 parts", "cv": 0.062, "degrees_of_freedom": 4, "step": 0.05},
           {"source": "rings of summer, 10 parts", "cv": 0.110, "degrees_of_freedom": 9},
           {"source": "rings of autumn, 4 parts", "cv": 0.191, "degrees_of_freedom": 3, "step": 0.1},
           {"source": "rings of winter, 8 parts", "cv": 0.043, "degrees_of_freedom": 7},
           {"source": "rings of the year before, 6 parts", "cv": 0.088, "degrees_of_freedom": 5, "step": 0.04}]


def eyelet():
    pulls = steps((700, 740), (660, 700), (740, 780), (700, 740), (780, 820))
    return {"id": "eyelet", "name": "pressed eyelet",
            "specimens": [{"id": f"eyelet-{i + 1:02d}", "batch": "press day 1", **pull} for i, pull in enumerate(pulls)]}


def campaign(name, pulls):
    rig = dict(RIG)
    if name.startswith("12"):
        rig["tare"] = 0
    if name.startswith("17"):
        rig["rating"] = 900
    design = {"id": "ring", "name": "sewn ring", "specimens": []}
    if name.startswith(("22", "23", "25", "31")):
        design["scatter"] = {"cv": 0.12, "degrees_of_freedom": "assumed", "source": "earlier rings of the same maker"}
    if name.startswith("35"):
        design["scatter"] = {"cv": 0.08, "degrees_of_freedom": 2, "source": "three rings of the year before"}
    if name.startswith("34"):
        design["between_batches"] = {"cv": 0.05, "source": "twelve deliveries of the year before"}
    if name.startswith("32"):
        design["kind"], design["scatter"] = "sewn ring", {"past": EARLIER}
    for i, pull in enumerate(pulls):
        batch = BATCHES[i // 8 if name.startswith("11") else 0 if name.startswith(("33", "34")) else i % 3]
        design["specimens"].append({"id": f"ring-{i + 1:02d}", "batch": batch, **pull})
    return {"format": "holdfast-campaign/2" if name.startswith(("32", "34")) else "holdfast-campaign/1", "title": name[3:].replace("-", " "), "unit": "N", "rig": rig,
            "goal": {"content": 0.90, "confidence": 0.95, "design_factor": 3}, "info": {"about": "invented data"},
            "designs": [design] + ([eyelet()] if name.startswith("33") else [])}


for name, pulls in ROWS.items():
    (HERE / f"{name}.json").write_text(json.dumps(campaign(name, pulls), indent=1, ensure_ascii=False) + "\n")
